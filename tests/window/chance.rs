//! How likely each week is too full, as the strip shows it.

use egui_kittest::kittest::Queryable as _;
use flatwright::store;
use flatwright::words;

use crate::hand::{field, opened, press};
use crate::{Window, day, wait_until, window_on};

/// The question that the chance shown answers, once there is one that `new` takes.
fn problem(window: &mut Window, new: impl Fn(u128) -> bool) -> u128 {
    let found = |app: &flatwright::window::App| app.chance().map(|chance| chance.problem.0).filter(|one| new(*one));
    wait_until(window, |app| found(app).is_some());
    found(window.state()).expect("it was waited for")
}

#[test]
fn the_weeks_say_how_often_they_are_too_full() {
    let mut window = window_on(day(2, 1));
    problem(&mut window, |_| true);
    let told = |window: &Window, what: &str| window.query_all_by_label_contains(what).count();
    assert!(told(&window, "wanted in 8 of 10 seasons; too full in") > 10);
    assert!(told(&window, "; too full in no season") > 0);
    // the sample is in trouble in April, and not only if all goes as is likely
    let april = window.get_by_label_contains("The week of 19 Apr, worst day");
    let said = format!("{april:?}");
    assert!(said.contains("too full in nearly every season") || said.contains("too full in every season"), "{said}");
}

#[test]
fn where_trays_stand_says_nothing_about_chance() {
    let mut window = window_on(day(2, 1));
    let before = problem(&mut window, |_| true);
    window.get_by_label(words::weeks::FIND_SPOTS).click();
    window.run();
    wait_until(&mut window, |app| app.history().season().spots().next().is_some());
    assert_eq!(window.state().chance().map(|chance| chance.problem.0), Some(before));
}

#[test]
fn how_late_a_crop_may_be_does_though_nothing_else_changes() {
    let mut window = opened(store::sample(), words::crops::PAGE);
    let before = problem(&mut window, |_| true);
    let outlook = window.state().outlook().map(|outlook| outlook.problem);
    field(&mut window, words::crops::FIND, "Solanum lyco");
    press(&mut window, "Tomato");
    field(&mut window, words::crops::DUE[2], "70");
    problem(&mut window, |problem| problem != before);
    assert_eq!(window.state().outlook().map(|outlook| outlook.problem), outlook);
}
