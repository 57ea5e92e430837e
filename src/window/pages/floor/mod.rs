//! The floor of a place from above: racks where they stand, doors, and where no barrow comes. Racks in a list at the
//! left, the floor in the middle, figures at the right.

mod drawn;
mod fields;
mod hand;
mod list;
mod sheet;
mod state;

use egui::{Frame, Margin, Ui};

use crate::outlook::FloorOf;
use crate::words::{floor as said, shelves};

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, State, middle_ui, right_side_ui, side_ui, state_next_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::Palette;

pub(in crate::window) use state::FloorPage;

pub(in crate::window) fn floor_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let Some(place) = page.on(scene.season) else {
        middle_ui(ui, "floor", |ui| {
            if state_next_ui(ui, State::Empty, said::NO_PLACE, shelves::ADD_SHELVES) {
                actions.push(Action::Go(Go::Page(Page::Places)));
            }
        });
        return;
    };
    page.place = Some(place.id);
    page.chosen = page.chosen.filter(|rack| scene.season.rack(*rack).is_some_and(|rack| rack.place == place.id));
    let floor = FloorOf::of(scene.season, place.id);
    // the drawing wants its room even in the smallest window
    let room = (ui.available_width() - 360.0).max(360.0);
    side_ui(ui, "floor_racks", 210.0, 160.0..=room * 0.35, |ui| {
        list::listed_ui(ui, scene, page, (place, floor.as_ref()), actions);
    });
    right_side_ui(ui, "floor_figures", 330.0, 250.0..=room * 0.6, |ui| {
        fields::fields_ui(ui, scene, page, (place, floor.as_ref()), drafts, actions);
    });
    let frame = Frame::new().fill(Palette::of(ui).paper).inner_margin(Margin::symmetric(8, 6));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        if let Some(floor) = &floor {
            drawn::drawn_ui(ui, scene, page, (place, floor), actions);
            return;
        }
        title_ui(ui, &place.name);
        if state_next_ui(ui, State::Empty, said::NOT_DRAWN, said::DRAW) {
            actions.extend(fields::usual(scene, place));
        }
    });
}
