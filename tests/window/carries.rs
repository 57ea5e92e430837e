//! How much the room carries: asked by its page, of the season or of a crop, and taken as one step. Trays that are
//! sown on a day, and fills of one bench, in the line of the sowings.

use std::path::Path;

use egui_kittest::kittest::Queryable as _;
use flatwright::outlook::Verdict;
use flatwright::season::{EditLabel, Season};
use flatwright::store;
use flatwright::words::{self, carries as said, sowings as list};

use crate::Window;
use crate::hand::{field, opened, page_of, press, season, undo};
use crate::sowings::write;
use crate::start::settled;
use crate::until;

/// With room to spare.
fn roomy() -> Season {
    store::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/roomy.ron")).expect("an example")
}

fn is_said(window: &mut Window, text: &str) {
    until(window, |window| window.query_by_label_contains(text).is_some());
}

#[test]
fn the_page_says_how_much_of_the_season_fits_and_makes_it_so() {
    let mut window = page_of(roomy(), None, said::OPEN);
    is_said(&mut window, "All sowings: every day holds");
    let before = season(&window).clone();
    window.get_by_label_contains("more than are planned");
    window.get_by_label_contains("%) are too many");
    // in words, and on the button that does it
    assert_eq!(window.query_all_by_label_contains("Put up another shelf").count(), 2);
    press(&mut window, said::TAKE_IT);
    assert!(matches!(window.state().history().undo_label(), Some(EditLabel::ScaleSeason(101..))));
    assert_eq!(settled(&mut window), Verdict::Fits);
    // what was said was said of the season before
    is_said(&mut window, "as many as are planned");
    undo(&mut window);
    assert_eq!(*season(&window), before);
    is_said(&mut window, "more than are planned");
}

#[test]
fn a_crop_leads_to_its_own_answer() {
    let mut window = opened(roomy(), words::crops::PAGE);
    field(&mut window, words::crops::FIND, "Solanum lyco");
    press(&mut window, "Tomato");
    press(&mut window, said::OPEN);
    // four shelves of four trays; one more is four times eighteen pots
    is_said(&mut window, "Tomato: every day holds 180 plants in 11 trays, 54 more than are planned");
    assert_eq!(window.query_all_by_label_contains(": 72 more (252 plants)").count(), 2);
}

#[test]
fn work_that_is_stopped_stays_so_until_it_is_asked_for_again() {
    let mut window = page_of(store::sample(), None, said::OPEN);
    assert_eq!(settled(&mut window), Verdict::Crunch);
    // what else the window works out for itself is done
    until(&mut window, |window| window.query_all_by_label(words::weeks::STOP).count() == 1);
    press(&mut window, words::weeks::STOP);
    window.get_by_label(said::STOPPED);
    window.run();
    window.get_by_label(said::STOPPED);
    press(&mut window, said::ASK);
    press(&mut window, words::weeks::STOP);
    window.get_by_label(said::STOPPED);
}

#[test]
fn trays_sown_on_a_day_say_what_comes_of_them_and_fills_are_one_entry() {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    write(&mut window, list::WHAT_TO_GROW, "10 trays tomato in 72, sown 2 March");
    window.get_by_label_contains("720 cells give ");
    write(&mut window, list::WHAT_TO_GROW, "3 fills of 2 trays lettuce, sown 2 March, until 1 Oct");
    window.get_by_label_contains("3 fills one after the other, with no day between them: sown 2 Mar, ");
    press(&mut window, list::ADD);
    let names: Vec<_> = season(&window).sowings().map(|sowing| sowing.series.clone()).collect();
    assert_eq!(names.len(), 3);
    assert!(names.iter().all(|name| name.is_some() && *name == names[0]), "{names:?}");
    undo(&mut window);
    assert_eq!(season(&window).sowings().count(), 0, "they were one entry");
}
