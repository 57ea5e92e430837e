//! The last frost: its risk, a weather record, a typed table, and what moves.

use std::path::{Path, PathBuf};

use egui::accesskit::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::{Frost, FrostMethod, Op, Season, Settings};
use flatwright::window::Purpose;
use flatwright::words;
use flatwright::words::frost as said;

use crate::desktop::{Dialogs, Fake};
use crate::hand::{choose, field, page_of, press, season, settle, undo, value};
use crate::{Window, day, until, wait_until};

const TABLE: &str = "36 F: 50% 11 Apr, 10% 18 May\n32 F: 50% 10 Mar, 10% 22 Apr";

fn record() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/state-college.csv")
}

fn window(season: Season, desktop: Option<Fake>) -> Window {
    page_of(season, desktop, said::OPEN)
}

fn frost(window: &Window) -> Option<Frost> {
    season(window).settings().frost.clone()
}

fn with_frost(date: chrono::NaiveDate) -> Season {
    let mut season = flatwright::store::sample();
    let settings = Settings { frost: Some(Frost::on(date)), ..season.settings().clone() };
    season.apply(&Op::SetSettings(settings).into()).expect("a frost");
    season
}

/// Waits for the record that is being read.
fn read(window: &mut Window) {
    wait_until(window, |app| app.history().season().settings().frost.as_ref().is_some_and(|one| one.springs.is_some()));
    settle(window);
}

#[test]
fn a_day_of_ones_own_has_a_risk_and_a_temperature() {
    let mut window = window(Season::new("Test"), None);
    window.get_by_label_contains("Not known yet");
    assert!(window.query_by_label(said::AS_COLD_AS).is_none(), "of a frost that is not known");
    field(&mut window, said::DAY, "9 May");
    assert_eq!(frost(&window), Some(Frost::on(day(5, 9))));
    field(&mut window, said::RISK, "1");
    field(&mut window, said::AS_COLD_AS, "36 F");
    let now = frost(&window).expect("a frost");
    assert_eq!((now.date, now.later_in_ten, now.temperature.typed()), (day(5, 9), 1, "36 F"));
    window.get_by_label("Sun 9 May 2027: 1 year in 10 has a later frost of 36 F or colder");
    field(&mut window, said::DAY, "12 May");
    let now = frost(&window).expect("a frost");
    assert_eq!((now.date, now.later_in_ten), (day(5, 12), 1), "another day, the same risk");
    for _ in 0..4 {
        undo(&mut window);
    }
    assert_eq!(frost(&window), None);
    window.get_by_label_contains("local advice comes first");
}

#[test]
fn what_cannot_be_stays_in_its_field_with_the_reason() {
    for (name, text, why) in [
        (said::DAY, "31 Feb", "found \"31 Feb\", a day that the calendar doesn't have"),
        (said::DAY, "1 May 1900", "found the year 1900"),
        (said::RISK, "11", "must be from 0 to 10, found 11"),
        (said::RISK, "few", "found \"few\"; write a whole number, 1 to 9"),
        (said::AS_COLD_AS, "32", "°C, °F"),
        (said::AS_COLD_AS, "", "°C"),
    ] {
        let mut window = window(with_frost(day(5, 9)), None);
        field(&mut window, name, text);
        assert_eq!(value(&window, name), text, "{name}");
        assert!(window.query_all_by_label_contains(why).count() > 0, "{name}: no {why}");
        assert_eq!(frost(&window), Some(Frost::on(day(5, 9))), "{name}: {text}");
    }
}

#[test]
fn a_record_is_read_by_its_path_and_its_risk_can_be_changed() {
    let mut window = window(flatwright::store::sample(), None);
    field(&mut window, said::RISK, "1");
    field(&mut window, said::FILE, &record().display().to_string());
    choose(&mut window, said::METHODS[1].1);
    press(&mut window, said::READ_RECORD);
    read(&mut window);
    let now = frost(&window).expect("a frost");
    assert_eq!((now.date, now.later_in_ten, now.method), (day(5, 8), 1, FrostMethod::Empirical));
    assert_eq!((now.springs, now.table.len(), now.even()), (Some(9), 27, day(4, 26)));
    window.get_by_label_contains("A weak record: fewer than 20 springs");
    window.get_by_label("Lows are in tenths of °C, told by the numbers");
    window.get_by_label_contains("Spring of 2000: ");
    // every date is a button with its risk in its name, and the one taken is marked
    let cell = "8 May: 1 year in 10 has a later frost of 32 °F or colder";
    assert_eq!(window.get_by_label(cell).accesskit_node().toggled(), Some(egui::accesskit::Toggled::True));
    press(&mut window, "26 Apr: 5 years in 10 have a later frost of 32 °F or colder");
    let now = frost(&window).expect("a frost");
    assert_eq!((now.date, now.later_in_ten, now.table.len()), (day(4, 26), 5, 27));
    press(&mut window, "16 May: 1 year in 10 has a later frost of 36 °F or colder");
    let now = frost(&window).expect("a frost");
    assert_eq!((now.date, now.temperature.typed()), (day(5, 16), "2.2 °C"));
    field(&mut window, said::RISK, "3");
    assert_eq!(frost(&window).map(|one| one.date), Some(day(5, 10)), "by its table");
    assert!(window.query_all_by_label_contains("the date given").count() > 0);
    assert!(window.query_all_by_label_contains(": not moved").count() > 0);
    undo(&mut window);
    assert_eq!(frost(&window).map(|one| one.date), Some(day(5, 16)));
}

#[test]
fn a_record_is_chosen_in_a_dialog_or_by_the_path_where_none_comes_up() {
    let folder = tempfile::tempdir().expect("a folder");
    let desktop = Fake::new(folder.path(), Dialogs::Answer(record()));
    let mut chosen = window(Season::new("Test"), Some(desktop.clone()));
    press(&mut chosen, said::CHOOSE_FILE);
    read(&mut chosen);
    assert_eq!(desktop.asked().iter().map(|one| one.purpose).collect::<Vec<_>>(), [Purpose::Weather]);
    assert_eq!(frost(&chosen).map(|one| (one.later_in_ten, one.method)), Some((1, FrostMethod::NormalLaw)));
    assert_eq!(value(&chosen, said::FILE), record().display().to_string());

    let copy = folder.path().join("station.csv");
    std::fs::copy(record(), &copy).expect("a copy");
    let mut window = window(Season::new("Test"), Some(Fake::new(folder.path(), Dialogs::Missing)));
    press(&mut window, said::CHOOSE_FILE);
    window.get_by_label_contains("There is no dialog service");
    let asks = |window: &Window| {
        let fields = window.query_all_by_role(Role::TextInput).filter(egui_kittest::Node::is_focused).count();
        assert_eq!(fields, 1, "the field of the path is ready");
    };
    asks(&window);
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    settle(&mut window);
    window.event(egui::Event::Text(copy.display().to_string()));
    settle(&mut window);
    press(&mut window, words::files::READ);
    read(&mut window);
}

#[test]
fn a_record_that_cannot_be_read_leaves_the_frost_and_says_why() {
    let folder = tempfile::tempdir().expect("a folder");
    let bad = folder.path().join("bad.csv");
    std::fs::write(&bad, "STATION,DATE,TMIN\nA,2001-02-30,50\n").expect("a file");
    let mut window = window(with_frost(day(5, 9)), None);
    field(&mut window, said::FILE, &bad.display().to_string());
    press(&mut window, said::READ_RECORD);
    until(&mut window, |window| window.query_by_label_contains("bad.csv:2:3: found \"2001-02-30\"").is_some());
    assert_eq!(frost(&window), Some(Frost::on(day(5, 9))));
    assert_eq!(value(&window, said::FILE), bad.display().to_string(), "what was typed stays");
}

#[test]
fn a_table_is_taken_in_the_sense_that_is_said() {
    let mut window = window(Season::new("Test"), None);
    let area = window.get_by_role_and_label(Role::MultilineTextInput, said::TABLE);
    area.focus();
    settle(&mut window);
    window.get_by_role_and_label(Role::MultilineTextInput, said::TABLE).type_text(TABLE);
    settle(&mut window);
    press(&mut window, said::TAKE_TABLE);
    window.get_by_label_contains("say what its chances are chances of");
    choose(&mut window, said::IS_OVER);
    press(&mut window, said::TAKE_TABLE);
    window.get_by_label_contains("the dates run the other way");
    assert_eq!(frost(&window), None);
    choose(&mut window, said::LATER_COMES);
    press(&mut window, said::TAKE_TABLE);
    let now = frost(&window).expect("a frost");
    assert_eq!((now.later_in_ten, now.table.len(), now.springs), (1, 4, None));
    assert_eq!(
        (now.date.to_string()[5..].to_owned(), now.even().to_string()[5..].to_owned()),
        ("04-22".into(), "03-10".into())
    );
    press(&mut window, "18 May: 1 year in 10 has a later frost of 36 F or colder");
    field(&mut window, said::AS_COLD_AS, "28 F");
    window.get_by_label("the table has no dates at 28 F; it has 36 F, 32 F");
}

#[test]
fn the_page_is_reached_from_the_start_and_the_sowings_and_the_strip_says_the_risk() {
    for (page, button) in [(words::menu::START, words::start::MORE_OF_FROST), (words::menu::SOWINGS, said::OPEN)] {
        let mut window = window(with_frost(day(4, 20)), None);
        crate::go(&mut window, page);
        settle(&mut window);
        press(&mut window, button);
        window.get_by_label(said::FROM_RECORD);
        let said = "Last frost Tue 20 Apr 2027: 5 years in 10 have a later frost of 32 °F or colder";
        window.get_by_label(said);
    }
}

#[test]
fn every_part_of_the_page_is_reached_by_keys() {
    let mut window = window(with_frost(day(5, 9)), None);
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..60 {
        window.key_press(egui::Key::Tab);
        settle(&mut window);
        let focused = window.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        reached.extend(focused.and_then(|node| node.accesskit_node().label()));
    }
    for name in [
        said::DAY,
        said::RISK,
        said::AS_COLD_AS,
        said::FILE,
        said::CHOOSE_FILE,
        said::STATION,
        said::TENTHS,
        said::METHODS[0].1,
        said::TABLE,
        said::LATER_COMES,
    ] {
        assert!(reached.contains(name), "{name} in {reached:?}");
    }
}
