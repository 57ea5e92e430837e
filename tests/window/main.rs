//! The real window, driven by the names of what is drawn.

mod drag;
mod files;
mod view;

use std::time::{Duration, Instant};

use chrono::NaiveDate;
use egui::{Pos2, Rect, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{Spot, TrayKey};
use flatwright::store;
use flatwright::window::App;

pub(crate) type Window = Harness<'static, App>;

pub(crate) fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).expect("a day of the sample's year")
}

/// The sample season on that day; the work on the outlook may still go on.
pub(crate) fn window_on(today: NaiveDate) -> Window {
    let mut window =
        Harness::builder().with_size(vec2(1280.0, 800.0)).build_eframe(move |_| App::new(store::sample(), None, today));
    window.run();
    window
}

/// Draws until the outlook is there; the thread that works on it wakes the window.
pub(crate) fn wait(window: &mut Window) {
    let deadline = Instant::now() + Duration::from_mins(4);
    while window.state().outlook().is_none() {
        assert!(Instant::now() < deadline, "the outlook did not come");
        window.step();
        std::thread::yield_now();
    }
    window.run();
}

/// The sample with every tray on its found spot.
pub(crate) fn placed_on(today: NaiveDate) -> Window {
    let mut window = window_on(today);
    wait(&mut window);
    window.get_by_label("Find spots").click();
    window.run();
    wait(&mut window);
    window
}

pub(crate) fn rect(window: &Window, name: &str) -> Rect {
    window.get_by_label_contains(name).rect()
}

pub(crate) fn drag(window: &mut Window, from: Pos2, to: Pos2) {
    take(window, from, to);
    window.drop_at(to);
    window.run();
}

/// Picks up and carries, without letting go.
pub(crate) fn take(window: &mut Window, from: Pos2, to: Pos2) {
    window.hover_at(from);
    window.run();
    window.drag_at(from);
    window.run();
    for step in [0.2, 0.6, 1.0] {
        window.hover_at(from + (to - from) * step);
        window.run();
    }
}

pub(crate) fn tray(window: &Window, mark: &str) -> TrayKey {
    let marks = &window.state().forecast().marks;
    *marks.iter().find(|(_, known)| *known == mark).expect("a tray with that mark").0
}

pub(crate) fn spot(window: &Window, mark: &str) -> Option<Spot> {
    let tray = tray(window, mark);
    window.state().history().season().spots_of(tray).last().copied()
}
