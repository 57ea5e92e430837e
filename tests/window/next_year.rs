use chrono::Datelike as _;
use egui_kittest::kittest::Queryable as _;
use flatwright::forecast::year_of;
use flatwright::season::{Op, Season};
use flatwright::store;
use flatwright::words;
use flatwright::words::next_year as said;

use crate::desktop::{Dialogs, Fake};
use crate::hand::{field, season, settle, value};
use crate::{Window, menu, press, window_beside};

fn page(window: &mut Window) {
    menu(window, words::menu::SEASON, "Make next year’s season");
    settle(window);
}

fn saved_sample(folder: &std::path::Path) -> std::path::PathBuf {
    let path = folder.join("spring.ron");
    store::save(&path, &store::sample()).expect("saved");
    path
}

#[test]
fn next_year_is_shown_first_and_opened_in_no_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = saved_sample(folder.path());
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), Some(&path));
    let this = year_of(season(&window)).expect("the sample has a year");
    let before = season(&window).clone();
    page(&mut window);
    assert_eq!(value(&window, said::YEAR), (this + 1).to_string());
    assert!(window.query_all_by_label_contains("(the same day of the month)").next().is_some());
    assert_eq!(season(&window), &before, "nothing is made yet");
    window.get_by_label_contains("Open “").click();
    settle(&mut window);
    assert_eq!(year_of(season(&window)), Some(this + 1));
    let outs = |season: &Season| season.sowings().filter_map(|sowing| Some(sowing.out()?.year())).max();
    assert_eq!(outs(season(&window)), outs(&before).map(|year| year + 1));
    assert!(window.query_by_label_contains("· in no file, but kept safe ·").is_some(), "nothing of it may be lost");
    assert!(window.query_all_by_label_contains("it is not in a file yet").next().is_some());
    assert_eq!(store::load(&path).expect("the old one is there"), before);
}

#[test]
fn unsaved_changes_are_asked_about_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = saved_sample(folder.path());
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), Some(&path));
    crate::go(&mut window, words::menu::START);
    field(&mut window, "Name of the season", "Spring 2027 at home");
    page(&mut window);
    window.get_by_label("Open “Spring 2028 at home”").click();
    settle(&mut window);
    window.get_by_label(words::files::SAVE_CHANGES);
    press(&mut window, words::files::CANCEL);
    assert_eq!(season(&window).name(), "Spring 2027 at home");
    window.get_by_label("Open “Spring 2028 at home”").click();
    settle(&mut window);
    press(&mut window, words::files::SAVE);
    settle(&mut window);
    assert_eq!(season(&window).name(), "Spring 2028 at home");
    assert_eq!(store::load(&path).expect("saved").name(), "Spring 2027 at home");
}

#[test]
fn a_year_that_cannot_be_is_said_beside_its_field() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), None);
    let before = season(&window).clone();
    let this = year_of(&before).expect("the sample has a year");
    page(&mut window);
    for (text, why) in [
        ("soon", "write a whole number"),
        ("1900", "a year from 1950 to 2150"),
        (this.to_string().as_str(), "is the season's own year"),
    ] {
        field(&mut window, said::YEAR, text);
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{text}");
        assert!(window.query_by_label_contains("Open “").is_none());
        assert_eq!(value(&window, said::YEAR), text);
    }
    field(&mut window, said::YEAR, &(this + 3).to_string());
    assert!(window.query_by_label_contains("Open “").is_some());
    assert_eq!(season(&window), &before);
}

#[test]
fn a_season_without_a_date_has_no_next_year() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("empty.ron");
    let mut empty = Season::new("Empty");
    empty.apply(&Op::SetNote("Nothing yet".to_owned()).into()).expect("a note");
    store::save(&path, &empty).expect("saved");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), Some(&path));
    page(&mut window);
    assert!(window.query_all_by_label_contains("no date to go by").next().is_some());
}
