use egui_kittest::kittest::Queryable as _;
use flatwright::season::{EditLabel, Guest, Role, Season};
use flatwright::units::{DateSpan, Measure};

use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};
use crate::{Window, day};

fn guests(window: &Window) -> Vec<Guest> {
    season(window).guests().cloned().collect()
}

/// A lemon tree of 30 × 40 cm from 10 March to 20 May.
fn with_a_lemon() -> Window {
    let mut window = opened(Season::new("Test"), "Guests");
    field(&mut window, "What it is", "Lemon tree");
    field(&mut window, "Room for each", "30 x 40 cm");
    field(&mut window, "Height", "1 1/2 ft");
    field(&mut window, "Here from", "10 Mar 2027");
    field(&mut window, "Gone on", "20 May");
    press(&mut window, "Add guest");
    window
}

#[test]
fn a_guest_takes_room_between_two_dates() {
    let window = with_a_lemon();
    let [guest] = &guests(&window)[..] else { panic!("one guest") };
    assert_eq!((guest.name.as_str(), guest.number, guest.role, guest.light), ("Lemon tree", 1, Role::Growing, true));
    assert_eq!((guest.size.width.typed(), guest.size.depth.typed()), ("30 cm", "40 cm"));
    assert_eq!(guest.height.as_ref().map(Measure::typed), Some("1 1/2 ft"));
    assert_eq!(guest.span, DateSpan::new(day(3, 10), day(5, 20)).expect("a span"));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddGuest("Lemon tree".to_owned())));
    assert_eq!(window.state().forecast().on(day(5, 19)).count(), 1);
    assert_eq!(window.state().forecast().on(day(5, 20)).count(), 0, "it is gone on its last date");
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn a_guest_is_changed_duplicated_and_removed_each_in_one_step() {
    let mut window = with_a_lemon();
    press(&mut window, "1 × Lemon tree, 10 Mar – 19 May");
    field(&mut window, "How many", "3");
    choose(&mut window, "the place for hardening off");
    assert_eq!((guests(&window)[0].number, guests(&window)[0].role), (3, Role::Hardening));
    window.get_by_label("Drawing: 30 cm × 40 cm, 1 1/2 ft high");
    press(&mut window, "Duplicate");
    field(&mut window, "What it is", "Fig");
    let names: Vec<String> = guests(&window).iter().map(|guest| guest.name.clone()).collect();
    assert_eq!(names, ["Lemon tree", "Fig"]);
    press(&mut window, "Remove guest");
    assert_eq!(guests(&window).len(), 1);
    for left in [2, 2, 1] {
        undo(&mut window);
        assert_eq!(guests(&window).len(), left);
    }
    assert_eq!(guests(&window)[0].number, 3);
}

#[test]
fn what_is_no_size_date_or_number_stays_in_its_field_with_the_reason() {
    let mut window = with_a_lemon();
    press(&mut window, "1 × Lemon tree, 10 Mar – 19 May");
    let before = guests(&window);
    for (name, text, why) in [
        ("Room for each", "wide", "a size such as 48 x 18 in"),
        ("Room for each", "1 mm x 1 km", "the unit \"km\""),
        ("Room for each", "1 mm x 4 cm", "must be from 5"),
        ("How many", "2,5", "found \"2,5\"; write a whole number"),
        ("How many", "2.5", "found \"2.5\"; write a whole number"),
        ("How many", "0", "from 1 to 10000"),
        ("Here from", "31 April", "31 April"),
        ("Gone on", "1 Mar 2027", "must come after"),
        ("Gone on", "1 Mar 1900", "1900"),
        ("What it is", "", "a name is missing"),
        ("What it is", &"Ж".repeat(500), "500 characters long"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(guests(&window), before, "{name}: {text}");
        assert_eq!(value(&window, name), text);
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}: {why}");
        // another page and back: what was typed is still there
        window.get_by_role_and_label(egui::Role::Tab, "Shelves").click();
        settle(&mut window);
        window.get_by_role_and_label(egui::Role::Tab, "Guests").click();
        settle(&mut window);
        assert_eq!(value(&window, name), text);
        field(&mut window, name, &shown);
    }
    assert_eq!(guests(&window), before);
    field(&mut window, "Room for each", "2,5 × 4.5 in");
    assert_eq!(guests(&window)[0].size.width.value(), flatwright::units::Length::from_units(508_000));
    assert_eq!(value(&window, "Room for each"), "2,5 × 4.5 in");
}
