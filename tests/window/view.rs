use std::time::Duration;

use chrono::Days;
use egui::{Event, Key, Modifiers, ViewportId};
use egui_kittest::kittest::Queryable as _;
use flatwright::outlook::spot_of;
use flatwright::season::EditLabel;
use flatwright::words;

use crate::{day, placed_on, rect, wait, window_on};

#[test]
fn find_spots_takes_the_layout_over_in_one_undo_step() {
    let window = placed_on(day(4, 22));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::FindSpots));
    let (season, outlook) = (window.state().history().season(), window.state().outlook().expect("it was waited for"));
    assert!(!outlook.layout.is_empty());
    assert!(window.state().forecast().on(day(4, 22)).count() > 10, "a day on which much stands");
    for stay in window.state().forecast().on(day(4, 22)) {
        let key = stay.tray().expect("every stay is of a tray");
        let without = outlook.no_spot.iter().any(|(tray, span)| *tray == key && span.contains(day(4, 22)));
        let has = spot_of(season, stay, day(4, 22)).is_some();
        assert!(has || without, "{} has no spot though one was found", window.state().forecast().mark(key));
    }
}

#[test]
fn every_tray_of_the_day_and_every_shelf_has_a_name() {
    let window = placed_on(day(4, 22));
    let forecast = window.state().forecast();
    assert!(forecast.on(day(4, 22)).count() > 10, "a day on which much stands");
    for stay in forecast.on(day(4, 22)) {
        let mark = forecast.mark(stay.tray().expect("every stay is of a tray"));
        let found = window.query_all_by_label_contains(&format!("{mark}, ")).count();
        assert!(found > 0, "{mark} is not drawn under its name");
    }
    for shelf in ["Window rack, shelf 1, 48 × 24 in", "Door rack, shelf 3, 48", "Tall rack, shelf 4, 36"] {
        window.get_by_label_contains(shelf);
    }
    assert!(window.query_all_by_label_contains("worst day").count() > 10, "the weeks are named");
}

#[test]
fn the_point_under_the_pointer_stays_when_the_wheel_zooms() {
    let mut window = window_on(day(2, 1));
    let before = rect(&window, "Door rack, shelf 2,");
    let pointer = before.left_top() + before.size() * 0.3;
    window.hover_at(pointer);
    window.run();
    window.event(Event::Zoom(1.5));
    window.run();
    let after = rect(&window, "Door rack, shelf 2,");
    assert!((after.width() / before.width() - 1.5).abs() < 0.02, "{before:?} {after:?}");
    let there = after.left_top() + after.size() * 0.3;
    assert!(there.distance(pointer) < 1.0, "{there:?} {pointer:?}");
}

#[test]
fn the_hand_steps_by_keys_and_jumps_to_a_click() {
    let mut window = window_on(day(2, 1));
    wait(&mut window);
    window.get_by_label_contains("Day shown").focus();
    window.run();
    for (key, days) in [(Key::ArrowRight, 1), (Key::ArrowRight, 2), (Key::PageDown, 9), (Key::ArrowLeft, 8)] {
        window.key_press(key);
        window.run();
        assert_eq!(Some(window.state().day()), day(2, 1).checked_add_days(Days::new(days)), "{key:?}");
    }
    let week = window.get_by_label_contains("The week of 12 Apr").rect().center();
    crate::drag(&mut window, week, week + egui::vec2(1.0, 0.0));
    assert!((window.state().day() - day(4, 15)).num_days().abs() <= 3, "{}", window.state().day());
    // and from there it steps on, by a drag as by a click
    let dragged = window.state().day();
    window.key_press(Key::ArrowRight);
    window.run();
    assert_eq!(Some(window.state().day()), dragged.succ_opt());
    crate::go(&mut window, words::menu::PLACES);
    window.run();
    let week = window.get_by_label_contains("The week of 22 Mar").rect().center();
    window.hover_at(week);
    window.step();
    window.drag_at(week);
    window.step();
    window.drop_at(week);
    window.run();
    let clicked = window.state().day();
    window.key_press(Key::ArrowLeft);
    window.run();
    assert_eq!(Some(window.state().day()), clicked.pred_opt());
}

#[test]
fn the_crunch_sentence_goes_to_its_worst_day() {
    let mut window = window_on(day(2, 1));
    wait(&mut window);
    let worst = {
        let outlook = window.state().outlook().expect("it was waited for");
        outlook.worst().expect("the sample has one").1.worst_day
    };
    window.get_by_label_contains("6 trays short, ").click();
    window.run();
    window.get_by_label_contains("growing shelves (Community room): 34 wanted, room for 28").click();
    window.run();
    assert_eq!(window.state().day(), worst);
}

#[test]
fn millimetres_and_inches_are_a_choice() {
    let mut window = window_on(day(2, 1));
    window.get_by_label(words::menu::VIEW).click();
    window.run();
    window.get_by_label(words::menu::MILLIMETRES).click();
    window.run();
    window.get_by_label_contains("Window rack, shelf 1, 1219.2 × 609.6 mm");
}

#[test]
fn letters_in_a_field_are_not_shortcuts() {
    let mut window = window_on(day(2, 1));
    window.key_press_modifiers(Modifiers::COMMAND, Key::O);
    window.run();
    window.get_by_label(words::files::PATH).type_text("rp");
    window.run();
    window.key_press(Key::R);
    window.run();
    assert_eq!(window.state().history().undo_label(), None);
    window.get_by_label(words::files::PATH);
}

/// Frames that a window left alone asks for in a minute of its clock.
fn frames_of_a_minute(window: &mut crate::Window) -> u32 {
    let (mut clock, mut frames) = (Duration::ZERO, 0);
    loop {
        let out = window.output().viewport_output.get(&ViewportId::ROOT);
        let delay = out.map_or(Duration::MAX, |out| out.repaint_delay);
        clock = clock.saturating_add(delay.max(Duration::from_millis(16)));
        if clock > Duration::from_mins(1) {
            return frames;
        }
        window.step();
        frames += 1;
        if frames > 10_000 {
            return frames;
        }
    }
}

/// Of two minutes the quieter one: a worker that ends late may wake the window in the other.
fn frames_of_an_idle_minute(window: &mut crate::Window) -> u32 {
    [frames_of_a_minute(window), frames_of_a_minute(window)].into_iter().min().expect("two")
}

#[test]
fn an_idle_window_asks_for_no_frame_on_any_page() {
    let folder = tempfile::tempdir().unwrap();
    let fake = crate::desktop::Fake::new(folder.path(), crate::desktop::Dialogs::Cancel);
    let mut window = crate::window_beside(&fake, None);
    crate::wait_until(&mut window, |app| app.chance().is_some());
    let over = [words::menu::SOWINGS, words::menu::PLACES, words::menu::RECORDS, words::what_if::OPEN];
    for page in crate::tabs(&window).into_iter().chain(over.map(str::to_owned)) {
        crate::go(&mut window, &page);
        window.run();
        window.step();
        let found = frames_of_an_idle_minute(&mut window);
        assert!(found <= 2, "{page}: {found} frames");
    }
    // Something to be kept aside, and a field that is being written in.
    crate::go(&mut window, words::menu::START);
    crate::write(&mut window, "Name of the season", "Kept aside");
    window.key_press(Key::Enter);
    window.run();
    crate::wait_until(&mut window, |app| app.chance().is_some());
    window.get_by_label("Name of the season").focus();
    window.run();
    let found = frames_of_an_idle_minute(&mut window);
    assert!(found <= 2, "while a field waits: {found} frames");
}
