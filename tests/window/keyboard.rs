//! Letters on other layouts, and a plan laid out by keys alone.

use egui::{Event, Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};

use crate::{Window, day, spot, tray, wait, window_on};
use flatwright::words;

/// As the system names a key pressed with Control: by the layout, and by its place.
fn control(window: &mut Window, key: Key, place: Key) {
    let modifiers = Modifiers::COMMAND;
    for pressed in [true, false] {
        window.event(Event::Key { key, physical_key: Some(place), pressed, repeat: false, modifiers });
        window.run();
    }
}

fn place_one(window: &mut Window) {
    window.get_by_label_contains("Ge 1, ").click();
    window.run();
    window.get_by_label(words::tray::FIND_IT_A_SPOT).click();
    window.run();
    assert!(spot(window, "Ge 1").is_some());
}

/// Cyrillic and Greek layouts: a letter that is not Latin comes under its place. Where the layout
/// has a sign in a letter's place, the sign's name comes.
#[test]
fn letters_work_by_their_place_where_the_layout_has_no_latin_one() {
    for undo in [Key::Z, Key::Slash, Key::Quote, Key::Semicolon] {
        let mut window = window_on(day(2, 1));
        place_one(&mut window);
        control(&mut window, undo, Key::Z);
        assert_eq!(spot(&window, "Ge 1"), None, "{undo:?} where Z is");
    }
    for sign in [Key::Slash, Key::Quote, Key::Semicolon] {
        let mut window = window_on(day(2, 1));
        place_one(&mut window);
        control(&mut window, sign, Key::C);
        window.get_by_label("Copied 1 tray as a table");
        window.key_press(Key::Delete);
        window.run();
        assert_eq!(spot(&window, "Ge 1"), None);
        window.get_by_label_contains("Window rack, shelf 2, 48").focus();
        window.run();
        control(&mut window, sign, Key::V);
        assert!(spot(&window, "Ge 1").is_some(), "pasted with {sign:?} where V is");
        control(&mut window, sign, Key::A);
        assert_eq!(window.state().selected(), Some(tray(&window, "Ge 1")));
        control(&mut window, sign, Key::N);
        window.get_by_label(words::files::SAVE_CHANGES);
    }
}

#[test]
fn a_latin_layout_is_heard_by_its_letters_and_not_by_their_places() {
    let mut window = window_on(day(2, 1));
    place_one(&mut window);
    control(&mut window, Key::Y, Key::Z);
    assert!(spot(&window, "Ge 1").is_some(), "Y stands where Z does elsewhere: nothing to do again");
    control(&mut window, Key::Z, Key::Y);
    assert_eq!(spot(&window, "Ge 1"), None, "undone");
    control(&mut window, Key::Y, Key::Z);
    assert!(spot(&window, "Ge 1").is_some(), "done again");
}

/// By Tab alone, as often as it takes.
fn tab_to(window: &mut Window, name: &str) {
    for _ in 0..120 {
        if window.query_by_label_contains(name).is_some_and(|node| node.is_focused()) {
            return;
        }
        window.key_press(Key::Tab);
        window.run();
    }
    panic!("Tab never comes to {name}");
}

#[test]
fn a_plan_is_laid_out_by_keys_alone() {
    let mut window = window_on(day(2, 20));
    wait(&mut window);
    let number = window.state().forecast().on(day(2, 20)).count();
    assert!(number > 3, "something to lay out");
    tab_to(&mut window, &format!("No spot yet, {number} trays"));
    for left in (0..number).rev() {
        for key in [Key::ArrowDown, Key::Enter] {
            window.key_press(key);
            window.run();
        }
        window.get_by_label_contains(&format!("No spot yet, {left} tray"));
    }
    tab_to(&mut window, "Window rack, shelf 1, 48");
    window.key_press(Key::ArrowRight);
    window.run();
    let chosen = window.state().selected().expect("the first tray of the shelf");
    let mark = window.state().forecast().mark(chosen).to_owned();
    let before = spot(&window, &mark).expect("it was placed");
    // Enter gives the arrows to the tray; there is room towards the front, else to the right
    window.key_press(Key::Enter);
    window.run();
    for key in [Key::P, Key::R, Key::ArrowDown, Key::ArrowRight] {
        window.key_press(key);
        window.run();
    }
    let after = spot(&window, &mark).expect("it still stands");
    assert!(after.pinned);
    assert_ne!((after.x, after.y, after.quarter_turns), (before.x, before.y, before.quarter_turns));
}

#[test]
fn every_tray_is_a_node_with_name_place_days_and_action() {
    let mut window = window_on(day(2, 1));
    place_one(&mut window);
    let node = window.get_by_label_contains("Ge 1, Geraniums");
    let said = node.accesskit_node().label().unwrap_or_default();
    assert!(said.contains("on Window rack, shelf 1, 0 in from the left, 0 in from the back"), "place: {said}");
    assert!(said.contains(" – "), "days: {said}");
    for mark in ["Ge 2", "Ge 1"] {
        window.get_by_label_contains(&format!("{mark}, Geraniums")).click_accesskit();
        window.run();
        assert_eq!(window.state().selected(), Some(tray(&window, mark)));
    }
}

#[test]
fn everything_that_can_be_worked_has_a_name_on_every_page() {
    let mut window = window_on(day(4, 20));
    wait(&mut window);
    let pages: Vec<String> = crate::tabs(&window).into_iter().chain(crate::pages::OVER.map(str::to_owned)).collect();
    assert!(pages.len() > 12, "{pages:?}");
    for page in &pages {
        crate::go(&mut window, page);
        window.run();
        let mut seen = 0;
        for role in [
            Role::Button,
            Role::TextInput,
            Role::CheckBox,
            Role::RadioButton,
            Role::ComboBox,
            Role::Slider,
            Role::ListBox,
            Role::Tab,
        ] {
            for node in window.query_all_by_role(role) {
                let label = node.accesskit_node().label().unwrap_or_default();
                assert!(!label.trim().is_empty(), "a {role:?} without a name on {page}: {node:?}");
                seen += 1;
            }
        }
        assert!(seen > 8, "{page}: nothing but its tabs, {seen}");
    }
}
