//! 200-cell sheets want 5 to 20 times the room two weeks later. A grower's report, restated.
//!
//! The racks are those of `lit_versus_footprint`; what may be changed, and from when plants are
//! safe outside: `ways_out`.

use flatwright::outlook::Verdict;
use flatwright::season::{ContainerKind, RimShape, Shelf, ZoneKind};

use crate::support::{FLAT, GROWING, Grower, Looked, Stage, day, pot, shelf, stage, zone};

const SOWN: &str = "2025-03-03";
const MOVED_ON: &str = "2025-03-17";
const OUT: &str = "2025-04-28";

#[track_caller]
fn racks() -> Grower {
    let lamp = zone(ZoneKind::Lamp, "24 x 24 in");
    let mut grower = Grower::growing(9, &Shelf { zones: vec![lamp], ..shelf("48 x 24 in") });
    grower.container("3.25 in pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.container("4 in pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    grower
}

/// A thousand tomatoes, and the eight trays that stay.
#[track_caller]
fn with_eight_others(next: Stage) -> Looked {
    let mut grower = racks();
    grower.guests(8, FLAT, "2025-02-24", OUT);
    grower.sow(1_000, &[stage("sheet of 200", SOWN), next], OUT);
    grower.look()
}

#[track_caller]
fn becomes(next: Stage, trays: usize) {
    let mut grower = racks();
    grower.sow(1_000, &[stage("sheet of 200", SOWN), next], OUT);
    let looked = grower.look();
    assert_eq!([looked.places_on("2025-03-16"), looked.places_on(MOVED_ON)], [5, trays]);
}

#[test]
fn five_sheets_become_8_of_128() {
    becomes(stage("sheet of 128", MOVED_ON), 8);
}

#[test]
fn five_sheets_become_14_of_72() {
    becomes(stage("sheet of 72", MOVED_ON), 14);
}

#[test]
fn five_sheets_become_20_of_50() {
    becomes(stage("sheet of 50", MOVED_ON), 20);
}

#[test]
fn five_sheets_become_27_of_38() {
    becomes(stage("sheet of 38", MOVED_ON), 27);
}

#[test]
fn five_sheets_become_56_flats_of_18_pots() {
    becomes(stage("3.25 in pot", MOVED_ON).carried_in("flat"), 56);
}

#[test]
fn five_sheets_become_100_flats_of_10_pots() {
    becomes(stage("4 in pot", MOVED_ON).carried_in("flat"), 100);
}

#[test]
fn sheets_of_38_beside_eight_others_take_35_of_36_and_17_are_beyond_the_lamps() {
    let looked = with_eight_others(stage("sheet of 38", MOVED_ON)).fits();
    let week = looked.week(MOVED_ON);
    assert_eq!((week.needed, week.held, week.spare), (35, 36, 1));
    assert_eq!((week.lit, week.over_lit), (Some(18), 17));
}

#[test]
fn trays_of_18_pots_beside_eight_others_leave_28_without_a_shelf() {
    let looked = with_eight_others(stage("3.25 in pot", MOVED_ON).carried_in("flat"));
    let crunch = looked.crunch(64, 36, 28);
    assert_eq!((crunch.span.from(), crunch.span.until()), (day(MOVED_ON), day(OUT)));
}

#[test]
fn the_jump_shows_in_the_week_of_moving_on_and_in_none_before() {
    let looked = with_eight_others(stage("3.25 in pot", MOVED_ON).carried_in("flat"));
    let weeks: Vec<_> = looked.outlook.weeks_of(GROWING).collect();
    let [first, last] = [weeks[0].from, weeks[weeks.len() - 1].from];
    assert!(first < day(SOWN) && day(MOVED_ON) <= last, "weeks from {first} to {last}");
    for week in weeks {
        let (verdict, needed) = match week.from {
            from if from < day(SOWN) => (Verdict::Fits, 8),
            from if from < day(MOVED_ON) => (Verdict::Fits, 13),
            _ => (Verdict::Crunch, 64),
        };
        assert_eq!((week.verdict, week.needed), (verdict, needed), "week of {}", week.from);
    }
}
