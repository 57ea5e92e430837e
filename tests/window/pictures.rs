//! Pictures of the window, held against those that were looked at; our own output, not an outside
//! truth. `UPDATE_SNAPSHOTS=1` draws them anew.

use egui_kittest::SnapshotOptions;

use egui::Theme;
use egui_kittest::kittest::Queryable as _;
use flatwright::words;

use crate::{day, go, placed_on};

fn strictly() -> SnapshotOptions {
    SnapshotOptions::default()
}

#[test]
fn the_shelves_in_april_by_day() {
    let mut window = placed_on(day(4, 22));
    window.ctx.set_theme(Theme::Light);
    window.run();
    window.snapshot_options("april_light", &strictly());
}

#[test]
fn the_shelves_in_april_by_night() {
    let mut window = placed_on(day(4, 22));
    window.ctx.set_theme(Theme::Dark);
    window.run();
    window.snapshot_options("april_dark", &strictly());
}

/// The rows of the plan on the axis of the weeks, with one of them told.
fn the_plan(theme: Theme, picture: &str) {
    let mut window = placed_on(day(4, 22));
    window.ctx.set_theme(theme);
    go(&mut window, words::plan::PAGE);
    window.get_by_label(words::plan::ROWS).focus();
    window.run();
    for _ in 0..4 {
        window.key_press(egui::Key::ArrowDown);
        window.run();
    }
    crate::wait_until(&mut window, |app| app.chance().is_some());
    window.snapshot_options(picture, &strictly());
}

#[test]
fn the_plan_by_day() {
    the_plan(Theme::Light, "plan_light");
}

#[test]
fn the_plan_by_night() {
    the_plan(Theme::Dark, "plan_dark");
}

#[test]
fn the_work_of_a_week() {
    let mut window = placed_on(day(4, 14));
    window.ctx.set_theme(Theme::Light);
    go(&mut window, words::jobs::PAGE);
    crate::wait_until(&mut window, |app| app.chance().is_some());
    window.snapshot_options("work_light", &strictly());
}
