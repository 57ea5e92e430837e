//! What a shelf has given to others: what that overwrites is said before it is done.

use egui::{Button, ComboBox, Ui, vec2};

use crate::season::make::{ShelfPart, given, overwritten};
use crate::season::{RackId, Season, Shelf, ShelfId};
use crate::window::action::{Action, Go};
use crate::window::kit::{row_ui, soft_ui};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::places as said;

/// To which shelves, and what of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct To {
    /// All shelves of that rack.
    rack: RackId,
    sizes_alone: bool,
}

pub(super) fn copied_ui(ui: &mut Ui, scene: &Scene<'_>, shelf: &Shelf, actions: &mut Vec<Action>) {
    let season = scene.season;
    let targets: Vec<RackId> =
        season.racks().iter().map(|rack| rack.id).filter(|id| !others(season, shelf, *id).is_empty()).collect();
    let Some(first) = targets.iter().copied().find(|id| *id == shelf.rack).or(targets.first().copied()) else { return };
    ui.add_space(8.0);
    ui.label(theme::bold(said::GIVE_TO_OTHERS));
    // of this form alone, and nothing of the season
    let id = ui.scope_id().with(("given", shelf.id));
    let mut to = ui.data(|data| data.get_temp(id)).unwrap_or(To { rack: first, sizes_alone: true });
    if !targets.contains(&to.rack) {
        to.rack = first;
    }
    let name = |id: RackId| season.rack(id).map_or("", |rack| rack.name.as_str());
    row_ui(ui, said::GIVEN_TO, |ui, label| {
        let shown = said::shelves_of(name(to.rack), to.rack == shelf.rack);
        let choice = ComboBox::from_id_salt("given_to").width(160.0).selected_text(shown).truncate();
        let choice = choice.show_ui(ui, |ui| {
            for rack in &targets {
                let text = said::shelves_of(name(*rack), *rack == shelf.rack);
                ui.selectable_value(&mut to.rack, *rack, text);
            }
        });
        choice.response.labelled_by(label.id);
    });
    row_ui(ui, said::GIVEN, |ui, _| {
        ui.radio_value(&mut to.sizes_alone, true, said::ITS_SIZE);
        ui.radio_value(&mut to.sizes_alone, false, said::ALL_OF_IT);
    });
    ui.data_mut(|data| data.insert_temp(id, to));
    let parts = if to.sizes_alone { ShelfPart::SIZES } else { ShelfPart::ALL };
    let others = others(season, shelf, to.rack);
    let changes = overwritten(season, shelf, &others, parts);
    let told = said::what_is_overwritten(season, &changes, to.sizes_alone);
    soft_ui(ui, &told);
    row_ui(ui, "", |ui, _| {
        let button = Button::new(said::GIVE).min_size(vec2(72.0, 28.0));
        if ui.add_enabled(!changes.is_empty(), button).on_disabled_hover_text(&told).clicked() {
            actions.push(Action::edit(given(season, shelf, &others, parts)));
            actions.push(Action::Go(Go::Say(told)));
        }
    });
}

/// The shelves of that rack, but this one.
fn others(season: &Season, shelf: &Shelf, rack: RackId) -> Vec<ShelfId> {
    season.shelves_of(rack).into_iter().map(|other| other.id).filter(|id| *id != shelf.id).collect()
}
