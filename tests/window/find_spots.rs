//! Find spots: what stands right stays, and what was moved is said.

use egui_kittest::kittest::Queryable as _;
use flatwright::forecast::Problem;
use flatwright::outlook::{self, Settled, Verdict, layout_problems};
use flatwright::season::{Op, Season, Spot, SpotFrom};
use flatwright::units::Length;
use flatwright::words::{self, notices, weeks};

use crate::Window;
use crate::hand::{press, season, undo};
use crate::start::{opened, settled};
use crate::until;

/// Four shelves with room for all that is sown, and everything found a spot.
fn all_placed() -> Window {
    let mut window = opened(Season::new("Test"));
    crate::go(&mut window, words::menu::START);
    crate::sowings::click(&mut window, words::places::ADD);
    for line in ["40 tomato, out 16 May", "20 pepper, out 23 May", "24 lettuce, out 20 April", "12 basil, out 1 June"] {
        crate::sowings::enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    }
    assert_eq!(settled(&mut window), Verdict::Fits);
    crate::go(&mut window, words::menu::ROOM);
    find(&mut window);
    window
}

fn find(window: &mut Window) {
    let before = window.state().history().revision();
    press(window, weeks::FIND_SPOTS);
    until(window, |window| window.state().history().revision() != before);
}

/// The last tray put where the first stands, while both are there.
fn with_a_clash(of: &Season, spots: &[Spot]) -> Season {
    let mut season = of.clone();
    let mut spots = spots.to_vec();
    let (first, last) = (spots[0], spots.len() - 1);
    (spots[last].shelf, spots[last].x, spots[last].y) = (first.shelf, first.x, first.y);
    season.apply(&Op::SetLayout(spots).into()).expect("any layout is taken");
    season
}

#[test]
fn one_tray_in_anothers_way_is_all_that_moves() {
    let window = all_placed();
    let spots: Vec<Spot> = season(&window).spots().copied().collect();
    assert!(spots.len() > 6, "{}", spots.len());
    let clashing = with_a_clash(season(&window), &spots);
    let mut window = opened(clashing.clone());
    assert_eq!(settled(&mut window), Verdict::Fits);
    crate::go(&mut window, words::menu::ROOM);
    // said beside the shelves, not on a page alone
    window.get_by_label_contains("stand in the same place on ");
    find(&mut window);
    let library = flatwright::store::library();
    let forecast = flatwright::forecast::forecast(season(&window), library);
    assert_eq!(Settled::between(&clashing, season(&window), &forecast), Settled { moved: 1, found: 0 });
    assert!(!layout_problems(season(&window), &forecast).iter().any(|p| matches!(p, Problem::Clash { .. })));
    window.get_by_label(&notices::all_have_a_spot(Settled { moved: 1, found: 0 }));
    undo(&mut window);
    assert_eq!(*season(&window), clashing);
}

#[test]
fn what_was_found_and_what_was_moved_is_said() {
    let said = |moved, found| notices::all_have_a_spot(Settled { moved, found });
    assert_eq!(said(0, 0), "Every tray has a spot on all its days");
    assert_eq!(said(1, 0), "Every tray has a spot on all its days: 1 moved");
    assert_eq!(said(0, 8), "Every tray has a spot on all its days: 8 found one, none moved");
    assert_eq!(said(3, 1), "Every tray has a spot on all its days: 1 found one and 3 moved");
}

/// Once by hand to another shelf, in the middle of its days; beside it some have no spot.
#[test]
fn a_tray_that_was_moved_by_hand_stays_in_both_places() {
    let window = all_placed();
    let library = flatwright::store::library();
    let forecast = flatwright::forecast::forecast(season(&window), library);
    let mut spots: Vec<Spot> = season(&window).spots().copied().collect();
    let tray = spots[0].tray;
    let stay = forecast.stays_of(tray).max_by_key(|stay| stay.span.days()).expect("it stands");
    let last = stay.span.last();
    let stands = spots.iter().rev().find(|spot| spot.tray == tray).copied().expect("it stands");
    let racks = season(&window).racks();
    let shelves = racks.iter().flat_map(|rack| season(&window).shelves_of(rack.id));
    let is_empty = |id| {
        forecast
            .stays
            .iter()
            .filter(|stay| stay.span.contains(last))
            .all(|stay| outlook::spot_of(season(&window), stay, last).is_none_or(|spot| spot.shelf != id))
    };
    let other = shelves.map(|shelf| shelf.id).find(|id| is_empty(*id)).expect("a shelf is empty by then");
    let before = spots.len();
    // every other one of the rest is taken up
    let mut number = 0;
    spots.retain(|spot| {
        number += usize::from(spot.tray != tray);
        spot.tray == tray || number % 2 == 0
    });
    let gone = before - spots.len();
    assert!(gone > 2, "{gone} of {before}");
    spots.push(Spot { from: SpotFrom::On(last), shelf: other, x: Length::ZERO, y: Length::ZERO, ..stands });
    let mut moved = season(&window).clone();
    moved.apply(&Op::SetLayout(spots).into()).expect("any layout is taken");
    let mut window = opened(moved.clone());
    settled(&mut window);
    crate::go(&mut window, words::menu::ROOM);
    find(&mut window);
    let is = Settled::between(&moved, season(&window), &forecast);
    assert_eq!((is.moved, is.found > 2), (0, true), "{is:?} of {gone}");
    assert_eq!(outlook::spot_of(season(&window), stay, last).map(|spot| spot.shelf), Some(other));
}
