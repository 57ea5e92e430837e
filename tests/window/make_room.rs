//! Ways out: looked for when asked, shown before they are taken, taken as one step.

use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::outlook::Verdict;
use flatwright::season::{EditLabel, Matter};
use flatwright::words::cautions::Care;
use flatwright::words::{self, ways_out as said};

use crate::Window;
use crate::hand::{press, season, settle, undo};
use crate::start::{opened, settled};
use crate::until;

/// The sample at its page of ways out, once they are there.
fn looked_for() -> Window {
    let mut window = opened(flatwright::store::sample());
    assert_eq!(settled(&mut window), Verdict::Crunch);
    press(&mut window, said::PAGE);
    until(&mut window, |window| window.query_by_label(&all(said::DO_IT)).is_some());
    window
}

fn all(button: &str) -> String {
    said::named(button, said::ALL_OF_IT)
}

#[test]
fn the_best_way_out_is_one_step_and_makes_everything_fit() {
    let mut window = looked_for();
    let before = season(&window).clone();
    press(&mut window, &all(said::DO_IT));
    assert_eq!(settled(&mut window), Verdict::Fits);
    window.get_by_label(said::NOTHING_TO_DO);
    // its trays have found their spots, in the same step
    until(&mut window, |window| window.query_by_label(words::notices::WAY_TAKEN).is_some());
    assert!(matches!(window.state().history().undo_label(), Some(EditLabel::MakeRoom(_))));
    assert!(season(&window).spots().next().is_some());
    undo(&mut window);
    assert_eq!(*season(&window), before);
}

#[test]
fn what_is_shown_first_does_not_touch_the_season() {
    let mut window = looked_for();
    let before = season(&window).clone();
    press(&mut window, &all(said::SHOW_FIRST));
    until(&mut window, |window| window.query_all_by_label_contains("Fits, ").next().is_some());
    assert_eq!(*season(&window), before);
    assert!(window.state().history().undo_label().is_none());
    // nothing else is looked for or can be changed meanwhile
    crate::go(&mut window, said::OPEN);
    settle(&mut window);
    window.get_by_label(said::ONLY_SHOWN);
    window.run();
    crate::go(&mut window, words::menu::ROOM);
    settle(&mut window);
    // it stands as it will: there is nothing to find
    assert!(window.get_by_label(words::weeks::FIND_SPOTS).accesskit_node().is_disabled());
    press(&mut window, said::BACK);
    assert_eq!(*season(&window), before);
    // shelves, lamps and trays over edges come with their cautions
    for care in [Care::Load, Care::Power] {
        window.get_by_label(care.title());
    }
    press(&mut window, &all(said::SHOW_FIRST));
    press(&mut window, said::DO_IT);
    assert_eq!(settled(&mut window), Verdict::Fits);
    assert!(window.query_by_role_and_label(Role::Button, said::BACK).is_none());
}

#[test]
fn what_matters_is_the_growers_and_the_ways_are_looked_for_again() {
    let mut window = looked_for();
    press(&mut window, said::WHAT_MATTERS);
    let [_, _, much] = said::MATTERS;
    window.get_all_by_role_and_label(Role::RadioButton, much.1).last().expect("a choice").scroll_to_me();
    settle(&mut window);
    window.get_all_by_role_and_label(Role::RadioButton, much.1).last().expect("a choice").click();
    settle(&mut window);
    assert_eq!(season(&window).settings().matters.buying, Matter::Much);
    until(&mut window, |window| window.query_by_label(&all(said::DO_IT)).is_some());
}

#[test]
fn the_search_can_be_stopped_and_taken_up_again() {
    let mut window = opened(flatwright::store::sample());
    assert_eq!(settled(&mut window), Verdict::Crunch);
    window.get_by_role_and_label(Role::Button, said::PAGE).click();
    window.step();
    window.step();
    window.step();
    if let Some(stop) = window.query_by_role_and_label(Role::Button, words::weeks::STOP) {
        stop.click();
        settle(&mut window);
        press(&mut window, said::LOOK_AGAIN);
    }
    until(&mut window, |window| window.query_by_label(&all(said::DO_IT)).is_some());
}

#[test]
fn what_is_not_wanted_is_not_offered_until_it_is_taken_back() {
    let mut window = looked_for();
    let refused = first_refusal(&window);
    press(&mut window, &refused);
    let [unwanted] = season(&window).settings().unwanted.clone().try_into().expect("one is not wanted");
    until(&mut window, |window| window.query_by_label(&all(said::DO_IT)).is_some());
    let again = window.query_all_by_label_contains(said::OFFER_AGAIN).count();
    assert_eq!(again, 1, "{unwanted:?}");
    window.get_by_label_contains(said::OFFER_AGAIN).scroll_to_me();
    settle(&mut window);
    window.get_by_label_contains(said::OFFER_AGAIN).click();
    settle(&mut window);
    assert!(season(&window).settings().unwanted.is_empty());
}

/// Four shelves that are short of room, at the page of ways out, once they are there.
fn small_room() -> Window {
    let mut window = opened(flatwright::season::Season::new("Test"));
    crate::go(&mut window, words::menu::START);
    crate::sowings::click(&mut window, words::places::ADD);
    for line in ["144 tomato, out 16 May", "60 pepper, out 23 May"] {
        crate::sowings::enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    }
    assert_eq!(settled(&mut window), Verdict::Crunch);
    crate::go(&mut window, said::OPEN);
    until(&mut window, |window| window.query_by_label(&all(said::DO_IT)).is_some());
    window
}

/// Of the ways that are listed below the best.
fn first_refusal(window: &Window) -> String {
    let of_ways = said::named(said::NOT_WANTED, "way ");
    let all = crate::pages::labels(window, Role::Button);
    all.into_iter().find(|name| name.starts_with(&of_ways)).expect("a way can be refused")
}

fn count(window: &Window, button: &str) -> usize {
    window.query_all_by_label_contains(&said::named(button, "")).count()
}

/// The changes of the cheapest together could not be refused, nothing said what a price is made of, and one undo threw
/// away all that was found.
#[test]
fn each_change_can_be_refused_and_what_was_found_is_kept() {
    let mut window = small_room();
    let each = said::counted_in(&season(&window).settings().matters);
    assert!(each.contains("waits one day in its cells 3,") && each.contains("a shelf 9000"), "{each}");
    press(&mut window, said::WHAT_MATTERS);
    window.get_by_label(&each);
    let (offered, refused) = (count(&window, said::DO_IT), count(&window, said::NOT_WANTED));
    assert!(refused >= offered, "each can be refused: {refused} of {offered}");
    let first = first_refusal(&window);
    press(&mut window, &first);
    // what was found of the others is still there
    let left = count(&window, said::DO_IT);
    assert_eq!(season(&window).settings().unwanted.len(), 1);
    assert!(left > 0, "of {offered}");
    undo(&mut window);
    assert_eq!((count(&window, said::DO_IT), count(&window, said::NOT_WANTED)), (offered, refused));
}

#[test]
fn spots_that_are_missing_lead_to_ways_out() {
    let mut window = opened(flatwright::store::sample());
    assert_eq!(settled(&mut window), Verdict::Crunch);
    press(&mut window, words::weeks::FIND_SPOTS);
    until(&mut window, |window| window.query_by_label_contains("All that have room have a spot").is_some());
    press(&mut window, said::OPEN);
    window.get_by_label(said::WHAT_MATTERS);
}

/// Where the verdict stands the cheapest is taken at once: nobody has to find its page first.
#[test]
fn the_verdict_offers_the_cheapest_itself() {
    let mut window = small_room();
    crate::go(&mut window, words::menu::ROOM);
    let short =
        |window: &Window| crate::pages::labels(window, Role::Button).into_iter().find(|name| name.contains("short,"));
    let verdict = short(&window).expect("it is short");
    press(&mut window, &verdict);
    window.get_by_role_and_label(Role::Button, said::DO_IT).click();
    assert_eq!(settled(&mut window), Verdict::Fits);
    until(&mut window, |window| window.query_by_label(words::notices::WAY_TAKEN).is_some());
    assert!(short(&window).is_none());
    undo(&mut window);
    assert_eq!(season(&window).spots().count(), 0);
    assert_eq!(settled(&mut window), Verdict::Crunch);
}

/// What was shown had trays without a spot, and trays in each other's way, where making it leaves none.
#[test]
fn what_is_shown_first_stands_as_it_will() {
    let mut window = small_room();
    press(&mut window, &all(said::SHOW_FIRST));
    let of_preview = |window: &Window| window.query_by_label(words::shelves::ALL_HAVE_A_SPOT).is_some();
    until(&mut window, of_preview);
    press(&mut window, said::DO_IT);
    until(&mut window, |window| window.query_by_label(words::notices::WAY_TAKEN).is_some());
    assert!(of_preview(&window));
    undo(&mut window);
    assert_eq!(season(&window).spots().count(), 0, "one step");
}
