use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use flatwright::store;
use flatwright::words;

use crate::hand::ask_to_close;
use crate::{Window, day, drag, rect, spot, wait, window_on};

/// The sample with one tray moved.
fn changed() -> Window {
    let mut window = window_on(day(2, 1));
    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    drag(&mut window, from, to);
    wait(&mut window);
    window
}

#[test]
fn every_way_to_close_asks_about_unsaved_changes() {
    for by_key in [true, false] {
        let mut window = changed();
        if by_key {
            window.key_press_modifiers(Modifiers::COMMAND, Key::Q);
            window.run();
        } else {
            ask_to_close(&mut window);
        }
        window.get_by_label(words::files::SAVE_CHANGES);
        window.get_by_label(words::files::CANCEL).click();
        window.run();
        assert!(window.query_by_label(words::files::SAVE_CHANGES).is_none(), "by key: {by_key}");
        assert!(spot(&window, "Ge 1").is_some());
    }
}

#[test]
fn a_season_without_changes_closes_without_a_question() {
    let mut window = window_on(day(2, 1));
    ask_to_close(&mut window);
    assert!(window.query_by_label(words::files::SAVE_CHANGES).is_none());
}

#[test]
fn saving_says_where_and_what_was_saved_can_be_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    let mut window = changed();
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    window.run();
    let field = window.get_by_label(words::files::PATH);
    field.focus();
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.run();
    window.get_by_label(words::files::PATH).type_text(&path.display().to_string());
    window.run();
    window.get_by_label(words::files::SAVE).click();
    window.run();
    assert!(window.get_all_by_label_contains("Saved to").next().is_some());
    assert_eq!(store::load(&path).unwrap(), *window.state().history().season());
    ask_to_close(&mut window);
    assert!(window.query_by_label(words::files::SAVE_CHANGES).is_none());
}

#[test]
fn a_file_that_cannot_be_read_is_not_opened_in_silence() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("missing.ron");
    let mut window = window_on(day(2, 1));
    window.key_press_modifiers(Modifiers::COMMAND, Key::O);
    window.run();
    window.get_by_label(words::files::PATH).type_text(&path.display().to_string());
    window.run();
    window.key_press(Key::Enter);
    window.run();
    window.get_by_label_contains("Not opened");
    assert!(window.state().history().season().sowings().next().is_some(), "the season is still there");
}
