use egui_kittest::kittest::Queryable as _;
use flatwright::season::{EditLabel, Guest, Role, Season};
use flatwright::units::{DateSpan, Measure};
use flatwright::words::{self, fields::drawing, guests as said};

use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};
use crate::{Window, day};

fn guests(window: &Window) -> Vec<Guest> {
    season(window).guests().cloned().collect()
}

/// What its row in the list is called.
fn row(window: &Window) -> String {
    let guest = &guests(window)[0];
    format!("{}, {}", said::so_many(guest), words::span(guest.span))
}

/// A lemon tree of 30 × 40 cm from 10 March to 20 May.
fn with_a_lemon() -> Window {
    let mut window = opened(Season::new("Test"), words::menu::GUESTS);
    field(&mut window, said::NAME, "Lemon tree");
    field(&mut window, said::SIZE, "30 x 40 cm");
    field(&mut window, said::HEIGHT, "1 1/2 ft");
    field(&mut window, said::FROM, "10 Mar 2027");
    field(&mut window, said::UNTIL, "20 May");
    press(&mut window, said::ADD);
    window
}

#[test]
fn a_guest_takes_room_between_two_dates() {
    let window = with_a_lemon();
    let [guest] = &guests(&window)[..] else { panic!("one guest") };
    assert_eq!((guest.name.as_str(), guest.number, guest.role, guest.light), ("Lemon tree", 1, Role::Growing, true));
    assert_eq!((guest.size.width.typed(), guest.size.depth.typed()), ("30 cm", "40 cm"));
    assert_eq!(guest.height.as_ref().map(Measure::typed), Some("1 1/2 ft"));
    assert_eq!(row(&window), "1 × Lemon tree, 10 Mar – 19 May");
    assert_eq!(guest.span, DateSpan::new(day(3, 10), day(5, 20)).expect("a span"));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddGuest("Lemon tree".to_owned())));
    assert_eq!(window.state().forecast().on(day(5, 19)).count(), 1);
    assert_eq!(window.state().forecast().on(day(5, 20)).count(), 0, "it is gone on its last date");
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn a_guest_is_changed_duplicated_and_removed_each_in_one_step() {
    let mut window = with_a_lemon();
    let row = row(&window);
    press(&mut window, &row);
    field(&mut window, said::NUMBER, "3");
    choose(&mut window, said::ROLES[2].1);
    assert_eq!((guests(&window)[0].number, guests(&window)[0].role), (3, Role::Hardening));
    let lemon = &guests(&window)[0];
    window.get_by_label(&drawing(&lemon.size.width, &lemon.size.depth, lemon.height.as_ref(), None));
    press(&mut window, said::DUPLICATE);
    field(&mut window, said::NAME, "Fig");
    let names: Vec<String> = guests(&window).iter().map(|guest| guest.name.clone()).collect();
    assert_eq!(names, ["Lemon tree", "Fig"]);
    press(&mut window, said::REMOVE);
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
    let row = row(&window);
    press(&mut window, &row);
    let before = guests(&window);
    for (name, text, why) in [
        (said::SIZE, "wide", "a size such as 48 x 18 in"),
        (said::SIZE, "1 mm x 1 km", "the unit \"km\""),
        (said::SIZE, "1 mm x 4 cm", "must be from 5"),
        (said::NUMBER, "2,5", "found \"2,5\"; write a whole number"),
        (said::NUMBER, "2.5", "found \"2.5\"; write a whole number"),
        (said::NUMBER, "0", "from 1 to 10000"),
        (said::FROM, "31 April", "31 April"),
        (said::UNTIL, "1 Mar 2027", "must come after"),
        (said::UNTIL, "1 Mar 1900", "1900"),
        (said::NAME, "", "a name is missing"),
        (said::NAME, &"Ж".repeat(500), "500 characters long"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(guests(&window), before, "{name}: {text}");
        assert_eq!(value(&window, name), text);
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}: {why}");
        // another page and back: what was typed is still there
        crate::go(&mut window, words::menu::ROOM);
        settle(&mut window);
        crate::go(&mut window, words::menu::GUESTS);
        settle(&mut window);
        assert_eq!(value(&window, name), text);
        field(&mut window, name, &shown);
    }
    assert_eq!(guests(&window), before);
    field(&mut window, said::SIZE, "2,5 × 4.5 in");
    assert_eq!(guests(&window)[0].size.width.value(), flatwright::units::Length::from_units(508_000));
    assert_eq!(value(&window, said::SIZE), "2,5 × 4.5 in");
}

#[test]
fn a_date_has_one_text_and_a_day_without_its_year_is_the_nearest() {
    let mut window = with_a_lemon();
    let row = row(&window);
    press(&mut window, &row);
    assert_eq!((value(&window, said::FROM), value(&window, said::UNTIL)), ("10 Mar 2027".into(), "20 May 2027".into()));
    for (typed, from) in [("2027-02-28", "28 Feb 2027"), ("1 mar", "1 Mar 2027"), ("20 Dec", "20 Dec 2026")] {
        field(&mut window, said::FROM, typed);
        assert_eq!(value(&window, said::FROM), from, "{typed}");
    }
    field(&mut window, said::UNTIL, "3 Jan");
    assert_eq!(value(&window, said::UNTIL), "3 Jan 2027", "the first after it came");
}

#[test]
fn what_was_typed_is_given_up_with_escape_and_is_gone_with_its_season() {
    let mut window = with_a_lemon();
    let row = row(&window);
    press(&mut window, &row);
    field(&mut window, said::NUMBER, "many");
    assert_eq!(value(&window, said::NUMBER), "many");
    window.get_by_role_and_label(egui::Role::TextInput, said::NUMBER).focus();
    settle(&mut window);
    window.key_press(egui::Key::Escape);
    settle(&mut window);
    assert_eq!(value(&window, said::NUMBER), "1");
    undo(&mut window);
    field(&mut window, said::NUMBER, "many");
    window.get_by_label(words::menu::SEASON).click();
    settle(&mut window);
    window.get_by_label_contains(words::menu::NEW).click();
    settle(&mut window);
    crate::go(&mut window, words::menu::GUESTS);
    settle(&mut window);
    assert_eq!(value(&window, said::NUMBER), "1");
}

#[test]
fn what_a_guest_weighs_is_typed_or_goes_by_its_size() {
    let mut window = with_a_lemon();
    let row = row(&window);
    press(&mut window, &row);
    // as a flat of pots: 8 kg × 120,000 / 152,600
    let grams = |window: &Window| window.state().forecast().on(day(5, 1)).map(|stay| stay.grams).collect::<Vec<_>>();
    assert_eq!(grams(&window), [6_291]);
    field(&mut window, said::WEIGHT, "12,5 kg");
    assert_eq!((guests(&window)[0].grams, grams(&window)), (Some(12_500), vec![12_500]));
    assert_eq!(&saved_and_read(&window), season(&window));
    field(&mut window, said::WEIGHT, "heavy");
    window.get_by_label_contains("found \"heavy\"; write a weight from 0 to");
    assert_eq!(guests(&window)[0].grams, Some(12_500));
    field(&mut window, said::WEIGHT, "");
    assert_eq!((guests(&window)[0].grams, grams(&window)), (None, vec![6_291]));
    undo(&mut window);
    assert_eq!(guests(&window)[0].grams, Some(12_500));
}
