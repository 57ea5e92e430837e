//! Which flats fit on which wire shelf. Growers' reports, restated.
//!
//! Waits for a later issue: the picture in which the part that sticks out counts against the aisle;
//! here the program says how far it does.

use flatwright::forecast::Problem;
use flatwright::outlook::{Standing, standing};
use flatwright::season::{Shelf, SpotFrom, ZoneKind};

use crate::support::{FLAT, Grower, count, day, length, measure, shelf, size, stage, zone};

#[track_caller]
fn with_overhang(text: &str, overhang: &str) -> Shelf {
    Shelf { overhang: measure(overhang), ..shelf(text) }
}

/// So many flats by the count, in a season that fits, and one more in one that does not.
#[track_caller]
fn holds(shelf: &Shelf, flats: u32) {
    let flat = size(FLAT);
    let [w, d] = [shelf.width.value(), shelf.usable_depth()].map(flatwright::units::Length::units);
    let [a, b] = [flat.width, flat.depth].map(|side| side.value().units());
    assert_eq!(flatwright::fit::count(w, d, a, b).most, i64::from(flats));
    let season = |number: u32| {
        let mut grower = Grower::growing(1, shelf);
        grower.sow(number * 72, &[stage("sheet of 72", "2025-03-03")], "2025-04-14");
        grower.look()
    };
    season(flats).fits();
    season(flats + 1).crunch(flats + 1, flats, 1);
}

/// Without overhang, and with 4 in.
#[track_caller]
fn shelf_holds(text: &str, strict: u32, with_four_inches: u32) {
    holds(&shelf(text), strict);
    holds(&with_overhang(text, "4 in"), with_four_inches);
}

#[test]
fn a_shelf_of_36_by_14_holds_one() {
    shelf_holds("36 x 14 in", 1, 1);
}

#[test]
fn a_shelf_of_36_by_18_holds_one_or_three() {
    shelf_holds("36 x 18 in", 1, 3);
}

#[test]
fn a_shelf_of_42_by_14_holds_one() {
    shelf_holds("42 x 14 in", 1, 1);
}

#[test]
fn a_shelf_of_48_by_14_holds_two() {
    shelf_holds("48 x 14 in", 2, 2);
}

#[test]
fn a_shelf_of_48_by_18_holds_two_or_four_and_never_the_area_s_three() {
    shelf_holds("48 x 18 in", 2, 4);
}

#[test]
fn a_shelf_of_48_by_24_holds_four() {
    shelf_holds("48 x 24 in", 4, 4);
}

#[test]
fn a_shelf_of_60_by_18_holds_two_or_five() {
    shelf_holds("60 x 18 in", 2, 5);
}

#[test]
fn a_shelf_of_72_by_18_holds_three_or_six() {
    shelf_holds("72 x 18 in", 3, 6);
}

#[test]
fn a_shelf_of_72_by_24_holds_six() {
    shelf_holds("72 x 24 in", 6, 6);
}

#[test]
fn a_crosswise_flat_on_18_in_sticks_out_3_44_in() {
    let mut grower = Grower::growing(1, &with_overhang("48 x 18 in", "4 in"));
    grower.sow(4 * 72, &[stage("sheet of 72", "2025-03-03")], "2025-04-14");
    let looked = grower.look().fits();
    let on = day("2025-03-19");
    let spots: Vec<_> = looked.season.spots().copied().collect();
    assert_eq!(spots.len(), 4);
    for spot in spots {
        assert_eq!(spot.from, SpotFrom::Start);
        let found = standing(&looked.season, &looked.forecast, &spot, on);
        let free = Standing::Free { until: None, beyond_lamp: false, sticks_out: length("3.44 in"), overload: None };
        assert_eq!(found, free);
    }
}

#[test]
fn nothing_sticks_out_unasked() {
    assert_eq!(count("48 x 18 in", FLAT), 2);
    assert_eq!(shelf("48 x 18 in").overhang.value(), length("0 in"));
}

#[test]
fn a_lamp_of_48_in_over_a_shelf_of_36_sticks_out_12_in() {
    let lamp = zone(ZoneKind::Lamp, "48 x 14 in");
    let grower = Grower::growing(1, &Shelf { zones: vec![lamp], ..shelf("36 x 18 in") });
    let looked = grower.look();
    let over = looked.forecast.problems.iter().find_map(|problem| match problem {
        Problem::ZoneSticksOut { by, .. } => Some(*by),
        _ => None,
    });
    assert_eq!(over, Some(length("12 in")));
}

#[test]
fn a_lamp_of_24_in_over_a_shelf_of_36_does_not_stick_out() {
    let lamp = zone(ZoneKind::Lamp, "24 x 14 in");
    let grower = Grower::growing(1, &Shelf { zones: vec![lamp], ..shelf("36 x 18 in") });
    let problems = grower.look().forecast.problems;
    assert!(!problems.iter().any(|problem| matches!(problem, Problem::ZoneSticksOut { .. })), "{problems:?}");
}
