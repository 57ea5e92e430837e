//! Places, under each its racks, under each a button a shelf.

use egui::{Button, Ui, vec2};

use crate::season::{Rack, Shelf};
use crate::window::kit::{Named, Row, State, Stop, row_in_stop_ui, state_ui, stop_ui};
use crate::window::scene::Scene;
use crate::window::space::Space;
use crate::window::theme;
use crate::words::{menu, places as said};

use super::chosen::Chosen;

/// The one that is chosen afterwards.
pub(super) fn listed_ui(ui: &mut Ui, scene: &Scene<'_>, chosen: Chosen) -> Chosen {
    let next = stop_ui(ui, "places", menu::PLACES.trim_end_matches('…'), |ui, stop| rows_ui(ui, stop, scene, chosen));
    if scene.season.places().next().is_none() {
        ui.add_space(6.0);
        state_ui(ui, State::Empty, said::NONE_YET);
    }
    next.unwrap_or(chosen)
}

/// The one that was chosen now.
fn rows_ui(ui: &mut Ui, stop: &mut Stop, scene: &Scene<'_>, chosen: Chosen) -> Option<Chosen> {
    let season = scene.season;
    let mut next = None;
    let mut row_ui = |ui: &mut Ui, stop: &mut Stop, of: Chosen, indent: f32, text: &str, name: String| {
        ui.horizontal(|ui| {
            ui.add_space(indent);
            if row_in_stop_ui(ui, stop, &Row { name, ..Row::new(text, "") }, chosen == of) {
                next = Some(of);
            }
        });
    };
    let mut shelf = None;
    row_ui(ui, stop, Chosen::NewRack, 0.0, said::ADD_TITLE, said::ADD_ROW.to_owned());
    for place in season.places() {
        ui.add_space(4.0);
        let text = said::place_row(&place.name, place.role);
        let name = said::place_said(&place.name, place.role);
        row_ui(ui, stop, Chosen::Of(Space::Place(place.id)), 0.0, &text, name);
        for rack in season.racks().into_iter().filter(|rack| rack.place == place.id) {
            row_ui(ui, stop, Chosen::Of(Space::Rack(rack.id)), 12.0, &rack.name, said::rack_said(&rack.name));
            shelf = shelves_ui(ui, stop, rack, &season.shelves_of(rack.id), chosen).or(shelf);
        }
    }
    next.or(shelf)
}

/// The same among the shelves of a rack.
fn shelves_ui(ui: &mut Ui, stop: &mut Stop, rack: &Rack, shelves: &[&Shelf], chosen: Chosen) -> Option<Chosen> {
    let mut next = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.add_space(24.0);
        for shelf in shelves {
            let (of, name) = (Chosen::Of(Space::Shelf(shelf.id)), said::shelf_said(rack, shelf));
            let open = chosen == of;
            let button = Button::new(shelf.tier.to_string()).min_size(vec2(28.0, theme::TARGET_PT)).selected(open);
            if stop.row_ui(ui, button, Named { name: &name, hover: &name, chosen: Some(open) }) {
                next = Some(of);
            }
        }
    });
    next
}
