//! Pictures of the window, held against those that were looked at; our own output, not an outside
//! truth. `UPDATE_SNAPSHOTS=1` draws them anew.

use egui_kittest::SnapshotOptions;

use crate::{day, placed_on};

fn strictly() -> SnapshotOptions {
    SnapshotOptions::default()
}

#[test]
fn the_shelves_in_april_by_day() {
    let mut window = placed_on(day(4, 22));
    window.ctx.set_theme(egui::Theme::Light);
    window.run();
    window.snapshot_options("april_light", &strictly());
}

#[test]
fn the_shelves_in_april_by_night() {
    let mut window = placed_on(day(4, 22));
    window.ctx.set_theme(egui::Theme::Dark);
    window.run();
    window.snapshot_options("april_dark", &strictly());
}
