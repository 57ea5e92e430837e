//! S20, 196 seedlings in small cups fit eight trays; in big cups they need twenty. A grower's
//! report, restated.
//!
//! The case counts the small and the middle cups in rows: 32 and 18. Staggered rows that are drawn
//! out hold 38 and 20, and the program takes those, so that its own middle cups come to ten trays
//! and not eleven. Rows are the grower's own number to a tray, and with it the case's figures are
//! the program's. Waits for a later issue: the mixed answer as an offer; here it is a season that fits.

use flatwright::season::{ContainerKind, Pot, RimShape, Sourced};
use flatwright::trade;
use flatwright::units::{Length, LengthUnit, Measure};

use crate::support::{FLAT, Grower, Looked, Stage, day, flat, length, pot, shelf, stage};

const CUPS: [(&str, &str); 3] = [("3 oz cup", "2.5 in"), ("9 oz cup", "3.2 in"), ("16 oz cup", "3.75 in")];

/// Two tiers of four trays.
#[track_caller]
fn stand() -> Grower {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    for (name, rim) in CUPS {
        grower.container(name, ContainerKind::Pot(pot(RimShape::Round, rim)));
    }
    grower
}

#[track_caller]
fn seedlings(number: u32, cups: Stage) -> Looked {
    let mut grower = stand();
    grower.sow(number, &[cups.carried_in("flat")], "2025-06-02");
    grower.look()
}

#[track_caller]
fn cups(name: &'static str) -> Stage {
    stage(name, "2025-04-14")
}

#[track_caller]
fn a_tray_takes(rim: &str, in_rows: i64, staggered: u32) {
    let rim = length(rim).units();
    let [w, d] = [length("10.94 in"), length("21.44 in")].map(flatwright::units::Length::units);
    assert_eq!((w / rim) * (d / rim), in_rows);
    let cup = Pot {
        top: Sourced::own(Measure::of(Length::from_units(rim), LengthUnit::Inch)),
        ..pot(RimShape::Round, "1 in")
    };
    let standing = trade::pots_in_flat(&cup, &flat(FLAT), length("0 in"));
    assert_eq!(standing.map(|found| found.number), Some(staggered));
}

#[test]
fn s20_a_tray_takes_32_small_cups_in_rows_and_38_in_rows_of_eight_and_seven() {
    // 7 gaps over 18.94 in; 4 rows apart by √(2.5² − (18.94/14)²) = 2.102 and 2.5 are 10.91 in
    a_tray_takes("2.5 in", 32, 38);
}

#[test]
fn s20_a_tray_takes_18_middle_cups_in_rows_and_20_in_four_rows_of_five() {
    // 4½ gaps over 18.24 in; 3 rows apart by √(3.2² − (18.24/9)²) = 2.476 and 3.2 are 10.63 in
    a_tray_takes("3.2 in", 18, 20);
}

#[test]
fn s20_a_tray_takes_10_big_cups_in_rows_and_15_in_three_rows_of_five() {
    a_tray_takes("3.75 in", 10, 15);
}

#[test]
fn s20_three_staggered_rows_of_big_cups_stand_within_the_tray() {
    let standing = trade::pots_in_flat(&pot(RimShape::Round, "3.75 in"), &flat(FLAT), length("0 in"));
    let outer = standing.map(|found| (found.width, found.depth));
    assert_eq!(outer, Some((length("10.94 in"), length("21.44 in"))));
}

#[test]
fn s20_196_in_small_cups_take_seven_of_eight_trays() {
    let looked = seedlings(196, cups("3 oz cup").holding(32)).fits();
    let week = looked.week("2025-04-23");
    assert_eq!((week.needed, week.held, week.spare), (7, 8, 1));
}

#[test]
fn s20_in_middle_cups_staggered_they_are_still_two_trays_too_many() {
    seedlings(196, cups("9 oz cup")).crunch(10, 8, 2);
}

#[test]
fn s20_in_middle_cups_in_rows_they_are_three_trays_too_many() {
    seedlings(196, cups("9 oz cup").holding(18)).crunch(11, 8, 3);
}

#[test]
fn s20_in_big_cups_in_rows_they_are_twelve_trays_too_many() {
    seedlings(196, cups("16 oz cup").holding(10)).crunch(20, 8, 12);
}

#[test]
fn s20_in_big_cups_staggered_they_are_still_six_trays_too_many() {
    seedlings(196, cups("16 oz cup")).crunch(14, 8, 6);
}

#[test]
fn s20_eighty_plants_fit_in_big_cups_in_rows() {
    seedlings(80, cups("16 oz cup").holding(10)).fits();
    seedlings(81, cups("16 oz cup").holding(10)).crunch(9, 8, 1);
}

#[test]
fn s20_forty_in_big_cups_and_seventy_two_in_middle_ones_fit_and_84_must_leave_before() {
    let mut grower = stand();
    let small = || stage("3 oz cup", "2025-04-14").carried_in("flat").holding(32);
    let big = stage("16 oz cup", "2025-05-12").carried_in("flat").holding(10);
    grower.sow(40, &[small(), big], "2025-06-02");
    grower.sow(72, &[small(), stage("9 oz cup", "2025-05-12").carried_in("flat").holding(18)], "2025-06-02");
    let looked = grower.look().fits();
    let plants: u32 = looked.forecast.on(day("2025-05-14")).map(|stay| stay.plants).sum();
    assert_eq!((looked.places_on("2025-05-14"), plants, 196 - plants), (8, 112, 84));
}

#[test]
fn s20_the_step_up_shows_on_its_day() {
    let mut grower = stand();
    let small = stage("3 oz cup", "2025-04-14").carried_in("flat").holding(32);
    grower.sow(196, &[small, stage("9 oz cup", "2025-05-12").carried_in("flat").holding(18)], "2025-06-02");
    let looked = grower.look();
    assert_eq!([looked.places_on("2025-05-11"), looked.places_on("2025-05-12")], [7, 11]);
    assert_eq!(looked.crunch(11, 8, 3).span.from(), day("2025-05-12"));
}
