//! The lots of a sowing: its parts, each sown some days after the first.

use egui::Ui;

use crate::season::{Lot, LotId};
use crate::words::{fields, sowing as said};

use super::editor::Editor;
use crate::window::kit::{Field, remove_at, small_button_ui};
use crate::window::theme;

pub(super) fn lots_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    ui.add_space(6.0);
    let lots = editor.sowing.lots.clone();
    // above them all, so that it stays below the pointer whatever it adds
    ui.horizontal(|ui| {
        ui.label(theme::bold(said::LOTS));
        if let Some(last) = lots.last()
            && small_button_ui(ui, said::ADD_LOT, said::ADD_LOT)
        {
            let id = LotId(editor.scene.season.next_id());
            editor.choose(|sowing| sowing.lots.push(Lot { id, share: 1, later: last.later.saturating_add(7) }));
        }
    });
    for (at, lot) in lots.iter().enumerate() {
        ui.horizontal_wrapped(|ui| lot_ui(ui, editor, at, lot, lots.len()));
    }
}

fn lot_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, lot: &Lot, number: usize) {
    let field = Field::new(said::which(said::SHARE, at), lot.share.to_string()).width(50.0);
    editor.whole_ui(ui, &field, |sowing, share| {
        if let Some(lot) = sowing.lots.get_mut(at) {
            lot.share = share;
        }
    });
    let field = Field::new(said::which(said::LATER, at), lot.later.to_string()).width(50.0);
    editor.whole_ui(ui, &field, |sowing, later| {
        if let Some(lot) = sowing.lots.get_mut(at) {
            lot.later = later;
        }
    });
    if number > 1 && small_button_ui(ui, fields::REMOVE, &said::remove_lot(at)) {
        editor.choose(|sowing| remove_at(&mut sowing.lots, at));
        editor.close_up(at, number, |at| [said::SHARE, said::LATER].map(|label| said::which(label, at)));
    }
}
