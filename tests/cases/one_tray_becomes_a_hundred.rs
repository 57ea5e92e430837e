//! A thousand tomatoes in one tray, six weeks later a hundred trays; and trays stacked to
//! germinate. A grower's report, restated.
//!
//! Waits for a later issue: 'unstack' as an urgent task of the calendar; its day is known here.

use flatwright::forecast::{Phase, What};
use flatwright::outlook::{PoolKind, Verdict};
use flatwright::season::{ContainerKind, RimShape, Role, Shelf, SowingId, Stack, ZoneKind};

use crate::support::{FLAT, GROWING, Grower, Looked, Manner, Stage, day, pot, shelf, stage, zone};

/// Fifteen shelves of four flats each.
#[track_caller]
fn prop_house() -> Grower {
    let mut grower = Grower::growing(15, &shelf("48 x 24 in"));
    grower.container("row tray", ContainerKind::Flat(crate::support::flat(FLAT)));
    grower.container("3.25 in pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.container("4 in pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    grower
}

#[track_caller]
fn tomatoes(last: Stage) -> Looked {
    let mut grower = prop_house();
    let sown = stage("row tray", "2025-03-03").holding(1_000);
    grower.sow(1_000, &[sown, stage("sheet of 50", "2025-03-24"), last.carried_in("flat")], "2025-05-12");
    grower.look()
}

#[track_caller]
fn lettuce(days: u16, high: u16) -> (Looked, SowingId) {
    let mut grower = prop_house();
    let stack = Some(Stack { days, high });
    let manner = Manner { stack, bottom_heat: false };
    let id = grower.sow_so(6 * 128, &[stage("sheet of 128", "2025-03-03")], "2025-04-07", manner);
    (grower.look().fits(), id)
}

#[test]
fn one_flat_becomes_20_and_then_56_or_100() {
    let dates = ["2025-03-03", "2025-03-23", "2025-03-24", "2025-04-13", "2025-04-14", "2025-05-11"];
    let eighteen = tomatoes(stage("3.25 in pot", "2025-04-14"));
    assert_eq!(dates.map(|date| eighteen.places_on(date)), [1, 1, 20, 20, 56, 56]);
    let ten = tomatoes(stage("4 in pot", "2025-04-14"));
    assert_eq!(dates.map(|date| ten.places_on(date)), [1, 1, 20, 20, 100, 100]);
}

#[test]
fn trays_of_18_pots_leave_four_of_60_places_spare() {
    let looked = tomatoes(stage("3.25 in pot", "2025-04-14")).fits();
    let week = looked.week("2025-04-16");
    assert_eq!((week.needed, week.held, week.spare), (56, 60, 4));
}

#[test]
fn trays_of_10_pots_are_40_short() {
    let looked = tomatoes(stage("4 in pot", "2025-04-14"));
    assert_eq!(looked.crunch(100, 60, 40).span.from(), day("2025-04-14"));
}

#[test]
fn both_show_week_by_week() {
    let needed = |looked: &Looked| -> Vec<u32> { looked.outlook.weeks_of(GROWING).map(|week| week.needed).collect() };
    let eighteen = tomatoes(stage("3.25 in pot", "2025-04-14"));
    assert_eq!(needed(&eighteen), [1, 1, 1, 20, 20, 20, 56, 56, 56, 56]);
    let ten = tomatoes(stage("4 in pot", "2025-04-14"));
    assert_eq!(needed(&ten), [1, 1, 1, 20, 20, 20, 100, 100, 100, 100]);
    let verdicts = ten.outlook.weeks_of(GROWING).map(|week| week.verdict);
    assert_eq!(verdicts.filter(|verdict| *verdict == Verdict::Crunch).count(), 4);
}

#[test]
fn six_stacked_trays_take_one_place_for_three_days_and_then_six() {
    let (looked, id) = lettuce(3, 6);
    let dates = ["2025-03-03", "2025-03-04", "2025-03-05", "2025-03-06", "2025-03-07"];
    assert_eq!(dates.map(|date| looked.places_on(date)), [1, 1, 1, 6, 6]);
    assert_eq!(looked.event(id, What::Unstacked), Some(day("2025-03-06")));
    let stack = looked.forecast.on(day("2025-03-03")).next();
    assert_eq!(stack.map(|stay| (stay.trays.len(), stay.plants)), Some((6, 768)));
}

#[test]
fn a_week_of_a_stack_counts_its_worst_day() {
    let (looked, _) = lettuce(3, 6);
    let week = looked.week("2025-03-03");
    assert_eq!((week.needed, week.worst_day), (6, day("2025-03-06")));
}

#[test]
fn a_stack_that_may_be_two_high_takes_three_places() {
    let (looked, _) = lettuce(3, 2);
    assert_eq!([looked.places_on("2025-03-05"), looked.places_on("2025-03-06")], [3, 6]);
}

#[test]
fn trays_that_are_up_are_not_stacked() {
    // up on the fourth day, whatever the stack was meant to stand
    let (looked, id) = lettuce(10, 6);
    assert_eq!([looked.places_on("2025-03-06"), looked.places_on("2025-03-07")], [1, 6]);
    assert_eq!(looked.event(id, What::Unstacked), Some(day("2025-03-07")));
    let piled = |phase: Phase| looked.forecast.stays.iter().any(|stay| stay.phase == phase && stay.trays.len() > 1);
    assert!(!piled(Phase::Plugs) && piled(Phase::Germinating));
}

/// One shelf of four flats with a mat for two.
#[track_caller]
fn mat(first: &str, second: &str) -> Looked {
    let heat = zone(ZoneKind::Heat, "24 x 24 in");
    let mut grower = Grower::growing(1, &Shelf { zones: vec![heat], ..shelf("48 x 24 in") });
    let manner = Manner { stack: None, bottom_heat: true };
    for sown in [first, second] {
        grower.sow_so(2 * 72, &[stage("sheet of 72", sown)], "2025-04-14", manner);
    }
    grower.look()
}

#[test]
fn the_mat_is_free_for_the_next_two_once_the_first_two_are_up() {
    // up four days after sowing
    mat("2025-03-03", "2025-03-07").fits();
}

#[test]
fn a_mat_that_is_wanted_twice_for_one_day_is_seen() {
    let looked = mat("2025-03-03", "2025-03-06");
    let crunch = looked.crunch(4, 2, 2);
    assert_eq!(crunch.pools.iter().map(|pool| pool.kind).collect::<Vec<_>>(), [PoolKind::BottomHeat]);
    assert_eq!((crunch.span.from(), crunch.span.until()), (day("2025-03-06"), day("2025-03-07")));
}

#[track_caller]
fn stack_in_a_cabinet(bottom_heat: bool) {
    let mut grower = prop_house();
    let cabinet = grower.place(Role::Germinating);
    grower.rack(cabinet, 1, &shelf("24 x 12 in"));
    let manner = Manner { stack: Some(Stack { days: 4, high: 6 }), bottom_heat };
    grower.sow_so(6 * 128, &[stage("sheet of 128", "2025-03-03")], "2025-04-07", manner);
    let looked = grower.look().fits();
    assert_eq!(looked.week("2025-03-10").needed, 6);
    let germinating = looked.outlook.weeks_of(PoolKind::Of(Role::Germinating)).map(|week| week.needed);
    assert_eq!(germinating.collect::<Vec<_>>(), [1]);
}

#[test]
fn a_stack_takes_one_place_in_a_warm_cabinet_and_none_once_it_is_up() {
    stack_in_a_cabinet(true);
}

#[test]
fn so_does_a_stack_that_wants_no_heat() {
    stack_in_a_cabinet(false);
}
