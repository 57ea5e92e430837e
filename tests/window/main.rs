//! The real window, driven by the names of what is drawn.

mod can_wait;
mod carries;
mod cautions;
mod chance;
mod containers;
mod context;
mod crops;
mod days;
mod desktop;
mod dialogs;
mod display;
mod drag;
mod ends;
mod fields;
mod files;
mod find_spots;
mod floor;
mod frost;
mod guests;
mod hand;
mod hands;
mod keeping;
mod keyboard;
mod leaving;
mod make_room;
mod measures;
mod middle;
mod middle_of_the_year;
mod next_year;
mod numbers;
mod open;
mod pages;
mod past_and_to_come;
#[cfg(feature = "pictures")]
mod pictures;
mod places;
mod plan;
mod records;
mod room;
mod rooms;
mod scale;
mod settled;
mod small_lots;
mod sowing_table;
mod sowings;
mod start;
mod states;
mod stops;
mod supplies;
mod undo;
mod view;
mod what_if;
mod work;
mod worth_a_look;

use std::path::Path;
use std::sync::{Arc, mpsc};
use std::time::Duration;

use chrono::NaiveDate;
use egui::{Pos2, Rect, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, HarnessBuilder};
use flatwright::season::{EditLabel, Op, Spot, TrayKey};
use flatwright::store;
use flatwright::window::App;
use flatwright::words;

use desktop::Fake;

/// Longer than any work of the tests takes.
const PATIENCE: Duration = Duration::from_mins(4);

/// Frames in a row that a window may ask for: far more than one that comes to rest, as a worker that ends, a
/// file that is looked at and an animation each ask for a few of their own.
const FRAMES: u64 = 400;

pub(crate) type Window = Harness<'static, App>;

/// Every window of the tests is made of this.
pub(crate) fn sized(width: f32, height: f32) -> HarnessBuilder<App> {
    Harness::builder().with_max_steps(FRAMES).with_size(vec2(width, height))
}

pub(crate) fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).expect("a day of the sample's year")
}

/// The sample season with nothing in its place yet, on that day; the work on the outlook may still
/// go on.
pub(crate) fn window_on(today: NaiveDate) -> Window {
    let mut season = store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| App::new(season, None, today));
    window.run();
    window
}

/// The same on a desktop of ours, with the season in `path` or in no file.
pub(crate) fn window_beside(desktop: &Fake, path: Option<&Path>) -> Window {
    let season = path.map_or_else(store::sample, |path| store::load(path).expect("a season of the test's own"));
    let (desktop, path) = (Arc::new(desktop.clone()), path.map(Path::to_owned));
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| App::new(season, path, day(2, 1)).on(desktop));
    window.run();
    window
}

/// Clicks what is called so.
pub(crate) fn press(window: &mut Window, name: &str) {
    window.get_by_label(name).click();
    window.run();
}

/// A command of the menu, by mouse.
pub(crate) fn menu(window: &mut Window, menu: &str, name: &str) {
    press(window, menu);
    window.get_by_label_contains(name).click();
    window.run();
}

/// To a page by its name, wherever it is found: a tab, a part of the library, a menu.
pub(crate) fn go(window: &mut Window, name: &str) {
    use egui::Role;
    if [words::crops::PAGE, words::containers::PAGE].contains(&name) {
        window.get_by_role_and_label(Role::Tab, words::menu::LIBRARY).click();
        hand::settle(window);
        window.get_by_role_and_label(Role::Button, name).click();
    } else if let Some(tab) = window.query_by_role_and_label(Role::Tab, name) {
        tab.click();
    } else {
        let questions = [
            words::menu::WORTH_A_LOOK,
            words::ways_out::OPEN,
            words::what_if::OPEN,
            words::can_wait::OPEN,
            words::carries::OPEN,
        ];
        let menu = if questions.contains(&name) { words::menu::QUESTIONS } else { words::menu::SEASON };
        window.get_by_role_and_label(Role::Button, menu).click();
        hand::settle(window);
        let found = window.query_all_by_label_contains(name).last();
        found.expect("an item of the menu").click();
    }
    hand::settle(window);
}

/// What the bar leads to: the names of its pages as they stand now.
pub(crate) fn tabs(window: &Window) -> Vec<String> {
    let tabs = window.query_all_by_role(egui::Role::Tab);
    tabs.filter_map(|tab| tab.accesskit_node().label()).collect()
}

/// Empties the field that is called so, and writes in it.
pub(crate) fn write(window: &mut Window, field: &str, text: &str) {
    window.get_by_role_and_label(egui::Role::TextInput, field).focus();
    window.run();
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    window.run();
    window.get_by_role_and_label(egui::Role::TextInput, field).type_text(text);
    window.run();
}

/// Draws until the outlook is there; the thread that works on it wakes the window.
pub(crate) fn wait(window: &mut Window) {
    wait_until(window, |app| app.outlook().is_some());
}

pub(crate) fn wait_until(window: &mut Window, done: impl Fn(&App) -> bool) {
    until(window, |window| done(window.state()));
    window.run();
}

/// Draws when somebody asks for a frame, as a display would, until it is so.
pub(crate) fn until(window: &mut Window, done: impl Fn(&Window) -> bool) {
    let (wake, woken) = mpsc::channel();
    window.ctx.set_request_repaint_callback(move |asked| {
        wake.send(asked.delay).ok(); // nobody listens once the wait is over
    });
    // What was asked for before is drawn now.
    window.step();
    let mut frames = 0;
    while !done(window) {
        let delay = woken.recv_timeout(PATIENCE).expect("somebody wakes the window");
        // A step is a quarter of a second of the window's clock.
        if !delay.is_zero() && delay < PATIENCE {
            woken.recv_timeout(delay.min(Duration::from_millis(250))).ok(); // either will do
        }
        window.step();
        frames += 1;
        assert!(frames < 50_000, "frame after frame, and the work did not end");
    }
}

/// The sample with every tray on its found spot.
pub(crate) fn placed_on(today: NaiveDate) -> Window {
    let mut window = window_on(today);
    wait(&mut window);
    window.get_by_label(words::weeks::FIND_SPOTS).click();
    window.run();
    wait_until(&mut window, |app| app.history().undo_label() == Some(&EditLabel::FindSpots));
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
