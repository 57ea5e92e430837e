//! `Ctrl+Z`: text in a field first, then the season, one named step at a time.

use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;

use crate::{Window, day, drag, rect, spot, wait, window_on, write};
use flatwright::words;

const NAME: &str = "Name of the season";

fn undo(window: &mut Window) {
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
}

fn name(window: &Window) -> String {
    window.state().history().season().name().to_owned()
}

fn written(window: &Window) -> String {
    window.get_by_role_and_label(Role::TextInput, NAME).value().unwrap_or_default()
}

fn move_to(window: &mut Window, shelf: &str) {
    let (from, to) = (rect(window, "Ge 1, ").center(), rect(window, shelf).center());
    drag(window, from, to);
}

/// Long enough for a pause in typing to count as one.
fn pause(window: &mut Window) {
    for _ in 0..8 {
        window.step();
    }
}

#[test]
fn dragging_writing_and_dragging_are_taken_back_one_by_one() {
    let mut window = window_on(day(2, 1));
    let before = name(&window);
    move_to(&mut window, "Window rack, shelf 1,");
    let first = spot(&window, "Ge 1").expect("it stands on a shelf");
    crate::go(&mut window, words::menu::START);
    write(&mut window, NAME, "Written");
    window.key_press(Key::Enter);
    window.run();
    crate::go(&mut window, words::menu::ROOM);
    wait(&mut window);
    move_to(&mut window, "Window rack, shelf 2,");
    assert_ne!(spot(&window, "Ge 1"), Some(first));
    crate::go(&mut window, words::menu::SOWINGS);
    undo(&mut window);
    window.get_by_label("Taken back: move of Ge 1");
    assert_eq!((spot(&window, "Ge 1"), name(&window)), (Some(first), "Written".to_owned()));
    crate::go(&mut window, words::menu::START);
    undo(&mut window);
    assert_eq!((spot(&window, "Ge 1"), name(&window)), (Some(first), before.clone()));
    crate::go(&mut window, words::menu::ROOM);
    undo(&mut window);
    assert_eq!((spot(&window, "Ge 1"), name(&window)), (None, before));
    assert_eq!(window.state().history().undo_label(), None);
}

#[test]
fn in_a_field_text_is_taken_back_until_it_is_used_up_and_then_the_season_by_name() {
    let mut window = window_on(day(2, 1));
    let before = name(&window);
    move_to(&mut window, "Window rack, shelf 1,");
    let first = spot(&window, "Ge 1").expect("it stands on a shelf");
    crate::go(&mut window, words::menu::START);
    window.get_by_role_and_label(Role::TextInput, NAME).focus();
    pause(&mut window);
    window.key_press(Key::End);
    pause(&mut window);
    window.get_by_role_and_label(Role::TextInput, NAME).type_text(", second");
    pause(&mut window);
    assert_eq!(written(&window), format!("{before}, second"));
    undo(&mut window);
    assert_eq!((written(&window), spot(&window, "Ge 1")), (before.clone(), Some(first)), "only the text went back");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Y);
    window.run();
    assert_eq!(written(&window), format!("{before}, second"));
    undo(&mut window);
    for _ in 0..3 {
        undo(&mut window);
    }
    assert_eq!((written(&window), spot(&window, "Ge 1")), (before, None));
    window.get_by_label("Taken back: placing of Ge 1");
}

/// The line kept the text that was added already, and gave it back in place of the sowing.
#[test]
fn after_a_sowing_was_added_ctrl_z_takes_the_sowing_back() {
    let mut window = window_on(day(2, 1));
    let before = window.state().history().season().sowings().count();
    crate::go(&mut window, words::menu::SOWINGS);
    let line = |window: &Window| {
        window.get_by_role_and_label(Role::TextInput, words::sowings::WHAT_TO_GROW).value().unwrap_or_default()
    };
    write(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato, out 16 May 2027");
    pause(&mut window);
    window.get_by_role_and_label(Role::Button, words::sowings::ADD).click();
    pause(&mut window);
    assert_eq!((window.state().history().season().sowings().count(), line(&window)), (before + 1, String::new()));
    undo(&mut window);
    assert_eq!((window.state().history().season().sowings().count(), line(&window)), (before, String::new()));
    assert!(window.query_by_label_contains("Taken back").is_some());
    // what is written now is taken back first
    write(&mut window, words::sowings::WHAT_TO_GROW, "6 basil");
    pause(&mut window);
    for _ in 0..3 {
        undo(&mut window);
    }
    assert_eq!(line(&window), "");
    assert_eq!(window.state().history().season().sowings().count(), before);
}

/// A field that was taken with Enter and is written in again knows its old text no more.
#[test]
fn what_a_field_gave_to_the_season_is_taken_back_in_the_season() {
    let mut window = window_on(day(2, 1));
    let before = name(&window);
    crate::go(&mut window, words::menu::START);
    write(&mut window, NAME, "Written");
    pause(&mut window);
    window.key_press(Key::Enter);
    window.run();
    window.get_by_role_and_label(Role::TextInput, NAME).focus();
    pause(&mut window);
    undo(&mut window);
    assert_eq!((name(&window), written(&window)), (before.clone(), before));
}

#[test]
fn what_was_written_is_not_lost_by_changing_the_page() {
    let mut window = window_on(day(2, 1));
    let before = name(&window);
    crate::go(&mut window, words::menu::START);
    window.get_by_role_and_label(Role::TextInput, NAME).focus();
    pause(&mut window);
    window.get_by_role_and_label(Role::TextInput, NAME).type_text("One");
    pause(&mut window);
    crate::go(&mut window, words::menu::SOWINGS);
    crate::go(&mut window, words::menu::START);
    assert_ne!(name(&window), before, "it was taken when the field was left");
    undo(&mut window);
    window.get_by_label("Taken back: new name");
    assert_eq!((name(&window), written(&window)), (before.clone(), before));
}
