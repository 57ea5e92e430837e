//! Three racks: 36 trays fit, but the lamps serve 18. A grower's report, restated.
//!
//! A 48 × 24 in shelf holds four flats; its lamp's 24 × 24 in serve two. Waits for a later issue:
//! the words in which the two limits are shown side by side.

use flatwright::forecast::Problem;
use flatwright::outlook::Verdict;
use flatwright::season::{Shelf, ZoneKind};

use crate::support::{FLAT, Grower, Looked, count, shelf, stage, zone};

/// Sown on a Monday, up on the Friday, out on a Monday seven weeks on.
#[track_caller]
fn all_at_once(plants: u32, sheet: &'static str) -> Looked {
    let lamp = zone(ZoneKind::Lamp, "24 x 24 in");
    let mut grower = Grower::growing(9, &Shelf { zones: vec![lamp], ..shelf("48 x 24 in") });
    grower.sow(plants, &[stage(sheet, "2025-03-03")], "2025-04-21");
    grower.look()
}

/// Needed, held with what is spare, spare, lit and over lit, in a week with all of it up.
#[track_caller]
fn fits(plants: u32, sheet: &'static str, [needed, held, spare, over_lit]: [u32; 4]) -> Looked {
    let looked = all_at_once(plants, sheet).fits();
    let week = looked.week("2025-03-19");
    assert_eq!((week.needed, week.held, week.spare, week.over_lit), (needed, held, spare, over_lit));
    assert_eq!((week.verdict, week.lit), (Verdict::Fits, Some(18)));
    looked
}

#[test]
fn each_shelf_holds_four_flats_and_its_lamp_serves_two() {
    assert_eq!(count("48 x 24 in", FLAT), 4);
    assert_eq!(count("24 x 24 in", FLAT), 2);
}

#[test]
fn the_footprint_carries_1368_seedlings_in_38s() {
    fits(1_368, "sheet of 38", [36, 36, 0, 18]);
}

#[test]
fn the_footprint_carries_7200_seedlings_in_200s() {
    fits(7_200, "sheet of 200", [36, 36, 0, 18]);
}

#[test]
fn the_lamps_carry_684_seedlings_in_38s() {
    fits(684, "sheet of 38", [18, 36, 18, 0]);
}

#[test]
fn the_lamps_carry_3600_seedlings_in_200s() {
    fits(3_600, "sheet of 200", [18, 36, 18, 0]);
}

#[test]
fn in_72s_2500_fit_with_one_tray_spare_and_17_beyond_the_lamps() {
    let looked = fits(2_500, "sheet of 72", [35, 36, 1, 17]);
    let warned = looked.outlook.problems.iter().any(|problem| {
        matches!(problem, Problem::BeyondLamps { most: 17, pots: 0, days: 45, span, .. }
            if span.from() == crate::support::day("2025-03-07"))
    });
    assert!(warned, "{:?}", looked.outlook.problems);
}

#[test]
fn the_week_in_which_they_come_up_is_beyond_the_lamps_already() {
    let looked = all_at_once(2_500, "sheet of 72");
    assert_eq!(looked.week("2025-03-05").over_lit, 17);
}

#[test]
fn in_128s_2500_are_two_beyond_the_lamps() {
    fits(2_500, "sheet of 128", [20, 36, 16, 2]);
}

#[test]
fn in_200s_2500_are_all_lit() {
    let looked = fits(2_500, "sheet of 200", [13, 36, 23, 0]);
    assert_eq!(looked.outlook.problems, []);
}

#[test]
fn the_37th_tray_has_no_shelf() {
    all_at_once(37 * 72, "sheet of 72").crunch(37, 36, 1);
}

#[test]
fn beyond_the_lamps_is_a_warning_and_no_crunch() {
    assert_eq!(all_at_once(36 * 72, "sheet of 72").outlook.verdict, Verdict::Fits);
}
