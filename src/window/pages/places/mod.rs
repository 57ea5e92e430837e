//! The places page: where things can stand. Places with their racks on the left, what is chosen
//! or a form for a new rack in the middle, and on the right how many fit.

mod chosen;
mod list;

use egui::{RichText, ScrollArea, Ui};

use crate::season::RackId;
use crate::words::places as said;

use crate::window::action::Action;
use crate::window::how_many::{About, HowMany, how_many_ui};
use crate::window::kit::{Drafts, Owner, middle_ui, right_side_ui, side_ui};
use crate::window::new_rack::{RackForm, new_rack_ui};
use crate::window::scene::Scene;
use crate::window::shelves::one_shelf_ui;
use crate::window::space::{Space, space_ui};
use crate::window::state::ZoneInHand;
use crate::window::theme;

use chosen::Chosen;

/// What is typed for a new rack is kept under it.
const FORM: Owner = Owner::Form("rack");

/// What the page keeps between frames.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct PlacesPage {
    chosen: Chosen,
    rack: RackForm,
    zone: Option<ZoneInHand>,
    many: HowMany,
}

impl PlacesPage {
    pub(in crate::window) fn look_at(&mut self, space: Space) {
        self.chosen = Chosen::Of(space);
    }

    /// The form for a new place to harden off in; what was typed in it for another rack is given up.
    pub(in crate::window) fn add_hardening(&mut self, drafts: &mut Drafts) {
        drafts.forget_all(&FORM);
        (self.chosen, self.rack) = (Chosen::NewRack, RackForm::to_harden());
    }
}

pub(in crate::window) fn places_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut PlacesPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    if !page.chosen.is_there(scene.season) {
        page.chosen = Chosen::NewRack;
    }
    // The form in the middle wants its room even in the smallest window.
    let room = (ui.available_width() - 420.0).max(440.0);
    side_ui(ui, "places", 236.0, 180.0..=room * 0.4, |ui| {
        let list = ScrollArea::vertical().auto_shrink([false, false]);
        page.chosen = list.show(ui, |ui| list::listed_ui(ui, scene, page.chosen)).inner;
    });
    right_side_ui(ui, "how_many", 380.0, 260.0..=room * 0.6, |ui| {
        let shelf = if let Chosen::Of(Space::Shelf(id)) = page.chosen { scene.season.shelf(id) } else { None };
        if let Some(shelf) = shelf {
            ui.label(RichText::new(said::FROM_ABOVE).font(theme::strong(theme::HEAD_PT)));
            one_shelf_ui(ui, scene, shelf, &mut page.zone, actions);
            ui.add_space(6.0);
            ui.separator();
        }
        let first = |rack: RackId| scene.season.shelves_of(rack).first().copied();
        let sized = match page.chosen {
            Chosen::Of(Space::Rack(id)) => first(id),
            _ => shelf,
        };
        let in_unit = |shelf| said::shelf_size_in(shelf, scene.unit);
        let size = sized.map_or_else(|| page.rack.size(scene, &FORM, drafts), in_unit);
        how_many_ui(ui, scene, &mut page.many, drafts, &About { size, shelf });
    });
    middle_ui(ui, ("places", page.chosen), |ui| match page.chosen {
        Chosen::NewRack => new_rack_ui(ui, scene, &FORM, &mut page.rack, drafts, actions),
        Chosen::Of(space) => {
            let next = space_ui(ui, scene, space, drafts, actions);
            page.chosen = next.map_or(page.chosen, Chosen::Of);
        }
    });
}
