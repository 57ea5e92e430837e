//! The lots of a sowing: its parts, each sown, moved on or out some days after the first.

use egui::Ui;

use crate::season::{Delays, Lot, LotId};
use crate::words::{fields, sowing as said, sowings};

use super::editor::Editor;
use crate::window::kit::{Field, drop_down_ui, remove_at, small_button_ui};
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
            let next = Lot { later: last.later.saturating_add(7), delays: last.delays, ..Lot::new(id) };
            editor.choose(|sowing| sowing.lots.push(next));
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
    let mut choices = said::delays(editor.scene.season.settings().potting).to_vec();
    choices.retain(|(delays, _)| *delays != Delays::Sowing || editor.sowing.begun.is_none());
    if lot.later > 0
        && let Some(delays) = drop_down_ui(ui, &said::which(said::WHAT_IS_LATER, at), 130.0, lot.delays, &choices)
    {
        editor.choose(|sowing| {
            if let Some(lot) = sowing.lots.get_mut(at) {
                lot.delays = delays;
            }
        });
    }
    let course = editor.scene.forecast.courses_of(editor.sowing.id).find(|course| course.lot == lot.id);
    if let Some(course) = course.filter(|_| number > 1) {
        ui.label(sowings::go_out(course.go_out, editor.sowing.plants_wanted()));
    }
    if number > 1 && small_button_ui(ui, fields::REMOVE, &said::remove_lot(at)) {
        editor.choose(|sowing| remove_at(&mut sowing.lots, at));
        editor.close_up(at, number, |at| [said::SHARE, said::LATER].map(|label| said::which(label, at)));
    }
}
