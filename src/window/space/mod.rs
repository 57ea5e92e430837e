//! Places, racks and shelves changed: their figures in fields. Lamps and mats are dragged where they are drawn, by
//! `shelves`.
//!
//! Beside the shelves as well as on the page of places: the one form of each.

mod chosen;
mod copied;
mod place;
mod rack;
mod shelf;

use egui::Ui;

use super::action::Action;
use super::kit::Drafts;
use super::scene::Scene;

pub(super) use chosen::Space;

/// The fields of what is looked at; gives what is to be looked at next.
pub(super) fn space_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    space: Space,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> Option<Space> {
    let season = scene.season;
    match space {
        Space::Place(id) => {
            if let Some(place) = season.place(id) {
                place::place_ui(ui, scene, drafts, place, actions);
            }
            None
        }
        Space::Rack(id) => season.rack(id).and_then(|rack| rack::rack_ui(ui, scene, drafts, rack, actions)),
        Space::Shelf(id) => season.shelf(id).and_then(|one| shelf::shelf_ui(ui, scene, drafts, one, actions)),
    }
}
