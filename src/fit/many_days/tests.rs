use std::collections::BTreeMap;

use proptest::prelude::*;

use super::judge::{Judged, ManyDays};
use super::kinds::{Counted, Demand, DemandKind};
use super::priced::FoundPatterns;
use crate::fit::problem::{Item, Problem, Rect, Region, RegionSet, Shelf};
use crate::fit::samples::{most_standing, problems, shelves, whole};
use crate::fit::work::Cancel;

fn kind(w: i64, d: i64, regions: &RegionSet, set: u8) -> DemandKind {
    let counted = Counted::As { w, d, grams: 0, regions: regions.clone(), times: 1 };
    DemandKind { w, d, grams: 0, regions: regions.clone(), pinned: None, set, counted }
}

fn days(shelves: Vec<Shelf>, kinds: Vec<DemandKind>, most: u32) -> ManyDays {
    let most = vec![most; kinds.len()];
    ManyDays::new(shelves, kinds, most, &Cancel::default())
}

fn judge(days: &ManyDays, demand: &Demand) -> Judged {
    days.judge(demand, &mut FoundPatterns::default())
}

const FITS: Judged = Judged { proven: 0, open: 0 };

#[test]
fn a_shelf_holds_four_flats_and_a_fifth_is_proven_too_many() {
    let days = days(shelves(1), vec![kind(545, 278, &whole(&[(610, 1219)]), 0)], 9);
    assert_eq!(judge(&days, &[(0, 4)]), FITS);
    assert_eq!(judge(&days, &[(0, 5)]), Judged { proven: 1, open: 0 });
    assert_eq!(judge(&days, &[]), FITS);
    assert_eq!(judge(&days, &[(0, 10)]), Judged { proven: 0, open: 1 }, "never prepared for so many");
}

#[test]
fn sizes_that_share_a_shelf_are_packed_beside_each_other() {
    let shelf = whole(&[(10, 10)]);
    let days = days(shelves(1), vec![kind(10, 5, &shelf, 0), kind(5, 5, &shelf, 0)], 9);
    assert!(!days.has_plenty(&[(0, 1), (1, 2)]));
    assert_eq!(judge(&days, &[(0, 1), (1, 2)]), FITS);
    assert_eq!(judge(&days, &[(0, 1), (1, 3)]), Judged { proven: 1, open: 0 });
}

#[test]
fn a_full_mat_leaves_the_shelf_its_room() {
    let shelf = whole(&[(20, 10)]);
    let mat: RegionSet = [Region { shelf: 0, rect: Rect { x: 0, y: 0, w: 5, d: 10 } }].into();
    let days = days(shelves(1), vec![kind(5, 5, &mat, 0), kind(5, 5, &shelf, 2)], 9);
    assert_eq!(judge(&days, &[(0, 3), (1, 6)]), Judged { proven: 1, open: 0 });
    // together they are too many: the shelf's own are the most, the mat's may be spared or not
    assert_eq!(judge(&days, &[(0, 2), (1, 7)]), Judged { proven: 1 << 2, open: 1 });
}

/// Beside a box laid across the shelf two columns of flats lack a millimetre; neither area nor any
/// count says so.
#[test]
fn prices_prove_what_plain_bounds_do_not() {
    let shelf = whole(&[(610, 1219)]);
    let days = days(shelves(1), vec![kind(545, 278, &shelf, 0), kind(600, 400, &shelf, 0)], 9);
    assert_eq!(judge(&days, &[(0, 2), (1, 1)]), FITS);
    let demand = [(0, 3), (1, 1)];
    assert!(!days.lines[&0].iter().any(|line| line.is_broken_by(&demand)));
    assert_eq!(judge(&days, &demand), Judged { proven: 1, open: 0 });
}

#[test]
fn what_shares_no_shelf_is_a_part_of_its_own() {
    let on = |shelf| -> RegionSet { [Region { shelf, rect: Rect { x: 0, y: 0, w: 9, d: 9 } }].into() };
    let both: RegionSet = on(0).iter().chain(on(2).iter()).copied().collect();
    let kinds = vec![kind(1, 1, &on(0), 0), kind(1, 1, &on(1), 0), kind(1, 1, &on(2), 0), kind(1, 1, &both, 0)];
    let days = days(shelves(3), kinds, 1);
    let parts: Vec<usize> = (0..4).map(|kind| days.part_of(kind)).collect();
    assert_eq!(parts, [0, 1, 0, 0]);
    assert_eq!(days.number_of_parts(), 2);
}

#[test]
fn round_pots_are_counted_by_their_middles() {
    let shelf = whole(&[(300, 300)]);
    let block = DemandKind { counted: Counted::Round { apart: 100, times: 9 }, ..kind(300, 300, &shelf, 0) };
    let days = days(shelves(1), vec![block], 9);
    assert_eq!(judge(&days, &[(0, 1)]), FITS);
    assert_eq!(judge(&days, &[(0, 2)]), Judged { proven: 1, open: 0 });
}

#[test]
fn kinds_without_ground_or_sense_are_never_said_to_fit() {
    let nowhere: RegionSet = [].into();
    let kinds =
        vec![kind(5, 5, &nowhere, 0), kind(0, -1, &whole(&[(9, 9)]), 1), kind(i64::MAX, 1, &whole(&[(9, 9)]), 2)];
    let days = days(shelves(1), kinds, 3);
    for number in 0..3 {
        let Judged { proven, open } = judge(&days, &[(number, 1)]);
        assert_eq!(proven | open, 1 << number);
    }
}

/// Kinds of a day of that problem, with the numbers there are of each.
fn of_day(problem: &Problem, day: i32) -> (Vec<DemandKind>, Vec<(usize, u32)>) {
    let mut found: BTreeMap<DemandKind, u32> = BTreeMap::new();
    for Item { phases, regions, pinned, .. } in &problem.items {
        let Some(phase) = phases.iter().find(|phase| phase.days.contains(day)) else { continue };
        let (w, d, grams) = (phase.w, phase.d, phase.grams);
        let counted = Counted::As { w, d, grams, regions: regions.clone(), times: 1 };
        let set = u8::try_from(w.rem_euclid(2)).unwrap_or(0);
        let kind = DemandKind { w, d, grams, regions: regions.clone(), pinned: *pinned, set, counted };
        *found.entry(kind).or_insert(0) += 1;
    }
    let demand = found.values().copied().enumerate().collect();
    (found.into_keys().collect(), demand)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn nothing_it_says_contradicts_trying_everything(problem in problems(5), day in 0..8_i32) {
        let (kinds, demand) = of_day(&problem, day);
        let present: Vec<usize> =
            (0..problem.items.len()).filter(|&n| problem.items[n].phase_on(day).is_some()).collect();
        let all = most_standing(&problem, day, &present) == present.len();
        let most = demand.iter().map(|(_, number)| *number).collect();
        let days = ManyDays::new(problem.shelves.clone(), kinds.clone(), most, &Cancel::default());
        // parts together are all there is
        let mut parts: BTreeMap<usize, Vec<(usize, u32)>> = BTreeMap::new();
        for &(kind, number) in &demand {
            parts.entry(days.part_of(kind)).or_default().push((kind, number));
        }
        let judged: Vec<Judged> = parts.values().map(|demand| judge(&days, demand)).collect();
        if judged.iter().any(|judged| judged.proven != 0) {
            prop_assert!(!all, "{judged:?}");
        }
        if judged.iter().all(|judged| *judged == Judged::default()) {
            prop_assert!(all);
        }
        for (demand, judged) in parts.values().zip(&judged) {
            // what every set is said to lack or have, it has in every order that it is asked in
            prop_assert_eq!(judge(&days, demand), *judged);
            prop_assert_eq!(judged.proven & judged.open, 0);
        }
    }
}
