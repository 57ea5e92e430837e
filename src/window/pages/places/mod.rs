//! The places page: where things can stand. Places with their racks on the left, what is chosen
//! or a form for a new rack in the middle, and on the right how many fit.
//!
//! A field holds what is typed until the season takes it; see `window::fields`.

mod group;
mod shelf;
mod zones;

use egui::{Button, Frame, Margin, Panel, RichText, ScrollArea, Ui, vec2};

use crate::season::{PlaceId, RackId, ShelfId};

use crate::window::action::Action;
use crate::window::how_many::{HowMany, how_many_ui};
use crate::window::kit::old_fields::Drafts;
use crate::window::new_rack::{RackForm, add_ui, role_name};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

/// What the page knows beside the season; gone with it.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct PlacesView {
    chosen: Chosen,
    drafts: Drafts,
    form: RackForm,
    zone: Option<zones::InHand>,
    many: HowMany,
}

impl PlacesView {
    pub(in crate::window) fn look_at_rack(&mut self, rack: RackId) {
        self.chosen = Chosen::Rack(rack);
    }

    pub(in crate::window) fn look_at_shelf(&mut self, shelf: ShelfId) {
        self.chosen = Chosen::Shelf(shelf);
    }
}

/// What is shown in the middle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
enum Chosen {
    #[default]
    NewRack,
    Place(PlaceId),
    Rack(RackId),
    Shelf(ShelfId),
}

pub(in crate::window) fn places_ui(ui: &mut Ui, scene: &Scene<'_>, view: &mut PlacesView, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let season = scene.season;
    let there = match view.chosen {
        Chosen::NewRack => true,
        Chosen::Place(id) => season.place(id).is_some(),
        Chosen::Rack(id) => season.rack(id).is_some(),
        Chosen::Shelf(id) => season.shelf(id).is_some(),
    };
    if !there {
        view.chosen = Chosen::NewRack;
    }
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    // The form in the middle wants its room even in the smallest window.
    let room = (ui.available_width() - 420.0).max(440.0);
    let left = Panel::left("places").frame(side).default_size(236.0).size_range(180.0..=room * 0.4);
    left.show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| list_ui(ui, scene, view));
    });
    let right = Panel::right("how many").frame(side).default_size(380.0).size_range(260.0..=room * 0.6);
    right.show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            let shelf = if let Chosen::Shelf(id) = view.chosen { season.shelf(id) } else { None };
            if let Some(shelf) = shelf {
                ui.label(RichText::new("This shelf, from above").font(theme::strong(16.0)));
                zones::shelf_ui(ui, scene, shelf, &mut view.zone, actions);
                ui.add_space(6.0);
                ui.separator();
            }
            how_many_ui(ui, scene, &mut view.many, shelf);
        });
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(("places", view.chosen)).show(ui, |ui| {
            match view.chosen {
                Chosen::NewRack => add_ui(ui, scene, &mut view.form, actions),
                Chosen::Place(id) => {
                    if let Some(place) = season.place(id) {
                        group::place_ui(ui, scene, &mut view.drafts, place, actions);
                    }
                }
                Chosen::Rack(id) => {
                    if let Some(rack) = season.rack(id)
                        && let Some(chosen) = group::rack_ui(ui, scene, &mut view.drafts, rack, actions)
                    {
                        view.chosen = chosen;
                    }
                }
                Chosen::Shelf(id) => {
                    if let Some(one) = season.shelf(id)
                        && let Some(chosen) = shelf::shelf_ui(ui, scene, &mut view.drafts, one, actions)
                    {
                        view.chosen = chosen;
                    }
                }
            }
        });
    });
}

/// Places, under each its racks, under each a button a shelf.
fn list_ui(ui: &mut Ui, scene: &Scene<'_>, view: &mut PlacesView) {
    let season = scene.season;
    row_ui(ui, view, Chosen::NewRack, "Add a rack", "Add a rack: form", 0.0);
    for place in season.places() {
        ui.add_space(4.0);
        let role = role_name(place.role).to_lowercase();
        let name = format!("Place {}, {role}", place.name);
        row_ui(ui, view, Chosen::Place(place.id), &format!("{} · {role}", place.name), &name, 0.0);
        for rack in season.racks().into_iter().filter(|rack| rack.place == place.id) {
            row_ui(ui, view, Chosen::Rack(rack.id), &rack.name, &format!("Rack {}", rack.name), 12.0);
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                ui.add_space(24.0);
                for shelf in season.shelves_of(rack.id) {
                    let chosen = Chosen::Shelf(shelf.id);
                    let name = format!(
                        "{}, shelf {}, {} × {}",
                        rack.name,
                        shelf.tier,
                        shelf.width.typed(),
                        shelf.depth.typed()
                    );
                    let button = Button::new(shelf.tier.to_string()).min_size(vec2(28.0, theme::TARGET_PT));
                    choose_ui(ui, view, chosen, button, &name);
                }
            });
        }
    }
    if season.places().next().is_none() {
        ui.add_space(6.0);
        ui.label(RichText::new("Nothing is here yet").color(Palette::of(ui).soft_ink));
    }
}

fn row_ui(ui: &mut Ui, view: &mut PlacesView, chosen: Chosen, text: &str, name: &str, indent: f32) {
    ui.horizontal(|ui| {
        ui.add_space(indent);
        let width = ui.available_width();
        let button = Button::new(text).min_size(vec2(width, 28.0)).truncate().right_text("").frame_when_inactive(false);
        choose_ui(ui, view, chosen, button, name);
    });
}

fn choose_ui(ui: &mut Ui, view: &mut PlacesView, chosen: Chosen, button: Button<'_>, name: &str) {
    let open = view.chosen == chosen;
    let response = ui.add(button.selected(open)).on_hover_text(name);
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, open, name));
    if response.clicked() {
        view.chosen = chosen;
    }
}
