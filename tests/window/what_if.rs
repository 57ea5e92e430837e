//! What might be: by sliders, on the strip, kept by name, and never in the season until it is taken.

use egui::Role;
use egui_kittest::kittest::Queryable as _;
use flatwright::outlook::Verdict;
use flatwright::season::{EditLabel, Shift, Shifting, WhatIf};
use flatwright::words::{self, what_if as said};

use crate::Window;
use crate::hand::{field, press, season, settle, undo};
use crate::start::{opened, settled};
use crate::until;

fn at_the_page() -> Window {
    let mut window = opened(flatwright::store::sample());
    assert_eq!(settled(&mut window), Verdict::Crunch);
    crate::go(&mut window, said::OPEN);
    settle(&mut window);
    window
}

/// A slider moved to its right by keys.
fn later(window: &mut Window, name: &str, times: usize) {
    let slider = window.get_by_role_and_label(Role::Slider, name);
    slider.focus();
    window.run();
    for _ in 0..times {
        window.key_press(egui::Key::ArrowRight);
        window.run();
    }
    settle(window);
}

#[test]
fn a_later_frost_is_only_shown_until_it_is_taken() {
    let mut window = at_the_page();
    let before = season(&window).clone();
    later(&mut window, said::LAST_FROST, 3);
    assert_eq!(*season(&window), before);
    until(&mut window, |window| window.query_all_by_label(said::WORKING).count() == 0);
    window.get_by_label(said::THEN);
    press(&mut window, words::ways_out::DO_IT);
    assert!(matches!(window.state().history().undo_label(), Some(EditLabel::WhatIf(_))));
    let moved = season(&window).settings().frost.as_ref().map(|frost| frost.date);
    let was = before.settings().frost.as_ref().map(|frost| frost.date + chrono::TimeDelta::days(3));
    assert_eq!(moved, was);
    undo(&mut window);
    assert_eq!(*season(&window), before);
}

#[test]
fn what_is_kept_by_name_stands_beside_the_plan() {
    let mut window = at_the_page();
    later(&mut window, said::LAST_FROST, 2);
    field(&mut window, said::NAME, "Cold April");
    press(&mut window, said::KEEP);
    let kept = WhatIf { name: "Cold April".to_owned(), shifts: vec![Shift { what: Shifting::LastFrost, days: 2 }] };
    assert_eq!(season(&window).settings().what_ifs, [kept]);
    press(&mut window, said::START_OVER);
    let show = said::named(said::SHOW, "Cold April");
    until(&mut window, |window| window.query_by_label(said::WORKING).is_none());
    press(&mut window, &show);
    window.get_by_label_contains("Cold April: the last frost 2 days later");
    press(&mut window, &said::named(said::DROP, "Cold April"));
    assert!(season(&window).settings().what_ifs.is_empty());
    undo(&mut window);
    assert_eq!(season(&window).settings().what_ifs.len(), 1);
}
