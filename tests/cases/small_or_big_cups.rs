//! 196 seedlings in small cups fit eight trays; in big cups they need twenty. A grower's
//! report, restated.
//!
//! Cups in a tray stand in rows unless the grower gives a number of their own; the case's staggered
//! figure is such a number, and real: the count of round pots in a rectangle finds it.
//! What may be changed: `ways_out`; some in middle cups and some in big ones, as an offer: `two_changes`.

use flatwright::fit;
use flatwright::season::{ContainerKind, Pot, RimShape, Sourced};
use flatwright::trade;
use flatwright::units::{LengthUnit, Measure};

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
fn a_tray_takes(rim: &str, in_rows: u32) {
    let cup = Pot { top: Sourced::own(Measure::of(length(rim), LengthUnit::Inch)), ..pot(RimShape::Round, "1 in") };
    let standing = trade::pots_in_flat(&cup, &flat(FLAT), length("0 in"));
    assert_eq!(standing.map(|found| found.number), Some(in_rows), "{rim}");
}

#[test]
fn a_tray_takes_32_small_18_middle_or_10_big_cups_in_rows() {
    a_tray_takes("2.5 in", 32);
    a_tray_takes("3.2 in", 18);
    a_tray_takes("3.75 in", 10);
}

#[test]
fn staggered_a_tray_takes_15_big_cups_in_three_rows_of_five() {
    let [w, d, rim] = ["21.44 in", "10.94 in", "3.75 in"].map(|text| length(text).units());
    assert_eq!(fit::count_round(w, d, rim), 15);
}

#[test]
fn in_small_cups_196_take_seven_of_eight_trays() {
    let looked = seedlings(196, cups("3 oz cup")).fits();
    let week = looked.week("2025-04-23");
    assert_eq!((week.needed, week.held, week.spare), (7, 8, 1));
}

#[test]
fn in_middle_cups_in_rows_they_are_three_trays_too_many() {
    seedlings(196, cups("9 oz cup")).crunch(11, 8, 3);
}

#[test]
fn in_big_cups_in_rows_they_are_twelve_trays_too_many() {
    seedlings(196, cups("16 oz cup")).crunch(20, 8, 12);
}

#[test]
fn in_big_cups_staggered_they_are_still_six_trays_too_many() {
    seedlings(196, cups("16 oz cup").holding(15)).crunch(14, 8, 6);
}

#[test]
fn eighty_plants_fit_in_big_cups_in_rows() {
    seedlings(80, cups("16 oz cup")).fits();
    seedlings(81, cups("16 oz cup")).crunch(9, 8, 1);
}

#[test]
fn forty_in_big_cups_and_seventy_two_in_middle_ones_fit_and_84_must_leave_before() {
    let mut grower = stand();
    let small = || stage("3 oz cup", "2025-04-14").carried_in("flat");
    let big = stage("16 oz cup", "2025-05-12").carried_in("flat");
    grower.sow(40, &[small(), big], "2025-06-02");
    grower.sow(72, &[small(), stage("9 oz cup", "2025-05-12").carried_in("flat")], "2025-06-02");
    let looked = grower.look().fits();
    let plants: u32 = looked.forecast.on(day("2025-05-14")).map(|stay| stay.plants).sum();
    assert_eq!((looked.places_on("2025-05-14"), plants, 196 - plants), (8, 112, 84));
}

#[test]
fn the_step_up_shows_on_its_day() {
    let mut grower = stand();
    let small = stage("3 oz cup", "2025-04-14").carried_in("flat");
    grower.sow(196, &[small, stage("9 oz cup", "2025-05-12").carried_in("flat")], "2025-06-02");
    let looked = grower.look();
    assert_eq!([looked.places_on("2025-05-11"), looked.places_on("2025-05-12")], [7, 11]);
    assert_eq!(looked.crunch(11, 8, 3).span.from(), day("2025-05-12"));
}
