//! What the proofs come to together.

use std::sync::Arc;

use super::bound::DayProof;
use super::prover::{Prover, prove_day};
use crate::fit::answer::BoundKind;
use crate::fit::problem::Problem;
use crate::fit::problem::{Item, Rect, Region, RegionSet, Shelf, Spot};
use crate::fit::samples::{most_standing, problems, shelves, tray, whole};
use crate::fit::work::Cancel;
use proptest::prelude::*;

const FLAT: (i64, i64) = (545, 278);
const HALF: (i64, i64) = (278, 272);
const CRATE: (i64, i64) = (530, 320);
const BOX: (i64, i64) = (600, 400);

fn problem(shelves: Vec<Shelf>, items: Vec<Item>) -> Problem {
    Problem { shelves, items }
}

fn day(problem: &Problem, day: i32) -> DayProof {
    Prover::new(&Cancel::default()).day_by_prices(problem, day)
}

#[track_caller]
fn proves(problem: &Problem, kind: BoundKind, wanted: usize, held: i64) {
    let bound = prove_day(problem, 0).expect("a crunch");
    assert_eq!((bound.kind, bound.items.len(), bound.held), (kind, wanted, held));
}

#[test]
fn one_flat_more_than_the_count_is_a_crunch_though_the_area_would_do() {
    let shelf = whole(&[(610, 1219)]);
    let flats = vec![tray(0, 1, 545, 278, &shelf); 5];
    let bound = prove_day(&problem(shelves(1), flats), 0).expect("a crunch");
    assert_eq!((bound.short(), bound.held), (1, 4));
    assert!(matches!(bound.kind, BoundKind::Count { .. }));
    // On 762 x 762, 3 fit by area and 2 in truth.
    let shelf = whole(&[(762, 762)]);
    let flats = vec![tray(0, 1, 545, 278, &shelf); 3];
    let bound = prove_day(&problem(shelves(1), flats), 0).expect("a crunch");
    assert_eq!((bound.items.len(), bound.held), (3, 2));
}

#[test]
fn what_fits_nowhere_does_not_hide_the_true_crunch() {
    let shelf = whole(&[(10, 10)]);
    let mut items = vec![tray(0, 1, 20, 1, &shelf)];
    proves(&problem(shelves(1), items.clone()), BoundKind::NoRegion, 1, 0);
    items.extend(vec![tray(0, 1, 10, 5, &shelf); 4]);
    let found = day(&problem(shelves(1), items), 0);
    assert_eq!(found.short, 3);
    let bound = found.bound.expect("a crunch");
    assert_eq!((bound.items, bound.held), (vec![1, 2, 3, 4], 2));
}

#[test]
fn choosy_items_are_counted_on_their_own_shelf_alone() {
    let lit = whole(&[(10, 10)]);
    let any = whole(&[(10, 10), (10, 10)]);
    let mut items = vec![tray(0, 1, 10, 5, &lit); 3];
    items.push(tray(0, 1, 10, 5, &any));
    let bound = prove_day(&problem(shelves(2), items), 0).expect("a crunch");
    assert_eq!((bound.items, bound.held), (vec![0, 1, 2], 2));
}

#[test]
fn a_heat_mat_is_smaller_than_its_shelf() {
    let mat: RegionSet = Arc::from([Region { shelf: 0, rect: Rect { x: 4, y: 0, w: 5, d: 10 } }]);
    let bound = prove_day(&problem(shelves(1), vec![tray(0, 1, 5, 5, &mat); 3]), 0).expect("a crunch");
    assert_eq!(bound.held, 2);
}

#[test]
fn load_and_packing_allowance_are_limits_of_their_own() {
    let shelf = whole(&[(10, 10)]);
    let mut items = vec![tray(0, 1, 1, 1, &shelf); 3];
    for (item, grams) in items.iter_mut().zip([5, 6, 7]) {
        item.phases[0].grams = grams;
    }
    let loaded = Shelf { load: Some(17), cover: None };
    proves(&problem(vec![loaded], items.clone()), BoundKind::Load, 3, 2);
    let covered = Shelf { load: None, cover: Some(2) };
    let bound = prove_day(&problem(vec![covered], items), 0).expect("a crunch");
    assert_eq!(bound.held, 2);
}

#[test]
fn two_trays_pinned_to_one_spot_clash() {
    let shelf = whole(&[(10, 10)]);
    let mut items = vec![tray(0, 1, 5, 5, &shelf); 3];
    items[0].pinned = Some(Spot { shelf: 0, x: 0, y: 0, turned: false });
    items[1].pinned = Some(Spot { shelf: 0, x: 4, y: 4, turned: false });
    proves(&problem(shelves(1), items.clone()), BoundKind::PinClash, 2, 1);
    items[1].pinned = Some(Spot { shelf: 0, x: 6, y: 6, turned: false });
    proves(&problem(shelves(1), items), BoundKind::PinClash, 1, 0);
}

#[test]
fn a_large_tray_counts_for_all_the_small_ones_in_its_place() {
    // Halves: a whole flat is two of them, and the shelf holds four.
    let shelf = whole(&[(20, 20)]);
    let items = vec![
        tray(0, 1, 20, 10, &shelf),
        tray(0, 1, 10, 10, &shelf),
        tray(0, 1, 10, 10, &shelf),
        tray(0, 1, 10, 9, &shelf),
    ];
    let bound = prove_day(&problem(shelves(1), items), 0).expect("a crunch");
    assert_eq!((bound.short(), bound.items.len()), (1, 4));
}

#[test]
fn absurd_sizes_prove_nothing_false_and_do_not_overflow() {
    let far = Region { shelf: 0, rect: Rect { x: i64::MAX, y: i64::MIN, w: i64::MAX, d: i64::MAX } };
    let regions: RegionSet = Arc::from([far, Region { shelf: 9, ..far }]);
    let items = vec![tray(0, 1, i64::MAX, i64::MAX, &regions), tray(0, 1, 1, 1, &regions)];
    drop(prove_day(&problem(shelves(1), items), 0));
    assert_eq!(prove_day(&Problem::default(), 0), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn shelves_cut_up_into_trays_are_never_a_crunch(
        cuts in prop::collection::vec((0..64_usize, any::<bool>(), 1..100_i64, any::<bool>()), 0..40),
        sizes in prop::collection::vec((50..2_000_i64, 50..800_i64), 1..4),
    ) {
        let ground = whole(&sizes);
        let mut pieces: Vec<Region> = ground.to_vec();
        let mut turns = vec![false; pieces.len()];
        for (at, along, share, turned) in cuts {
            let at = at % pieces.len();
            let Rect { x, y, w, d } = pieces[at].rect;
            let (first, second) = if along {
                let cut = w * share / 100;
                (Rect { x, y, w: cut, d }, Rect { x: x + cut, y, w: w - cut, d })
            } else {
                let cut = d * share / 100;
                (Rect { x, y, w, d: cut }, Rect { x, y: y + cut, w, d: d - cut })
            };
            if first.area() > 0 && second.area() > 0 {
                let shelf = pieces[at].shelf;
                pieces[at].rect = first;
                pieces.push(Region { shelf, rect: second });
                turns.push(turned);
            }
        }
        let items: Vec<Item> = pieces.iter().zip(turns).map(|(piece, turned)| {
            let Rect { w, d, .. } = piece.rect;
            let (w, d) = if turned { (d, w) } else { (w, d) };
            // Some know their shelf, others may go anywhere.
            let own: RegionSet = Arc::from([ground[piece.shelf]]);
            let mut item = tray(0, 1, w, d, if turned { &own } else { &ground });
            item.phases[0].grams = w + d;
            item
        }).collect();
        let shelves = (0..sizes.len()).map(|shelf| {
            let here = || pieces.iter().filter(move |piece| piece.shelf == shelf);
            let load = here().map(|piece| piece.rect.w + piece.rect.d).sum();
            Shelf { load: Some(load), cover: Some(here().map(|piece| piece.rect.area()).sum()) }
        }).collect();
        prop_assert_eq!(prove_day(&problem(shelves, items), 0), None);
    }

    #[test]
    fn no_bound_contradicts_trying_everything(problem in problems(5), day in 0..8_i32) {
        let proof = super::tests::day(&problem, day);
        let present: Vec<usize> =
            (0..problem.items.len()).filter(|&n| problem.items[n].phase_on(day).is_some()).collect();
        let most = most_standing(&problem, day, &present);
        prop_assert!(proof.short <= i64::try_from(present.len() - most).unwrap());
        if let Some(bound) = proof.bound {
            let most = most_standing(&problem, day, &bound.items);
            prop_assert!(i64::try_from(most).unwrap() <= bound.held, "{bound:?}");
        }
    }
}

fn on_one_shelf(sizes: &[((i64, i64), usize)]) -> Problem {
    let shelf = whole(&[(610, 1219)]);
    let each = sizes.iter().flat_map(|&((w, d), number)| vec![tray(0, 1, w, d, &shelf); number]);
    Problem { shelves: shelves(1), items: each.collect() }
}

#[track_caller]
fn assert_held(sizes: &[((i64, i64), usize)], held: i64, of: usize) {
    let bound = prove_day(&on_one_shelf(sizes), 0).expect("a crunch");
    assert_eq!((bound.kind, bound.held, bound.items.len()), (BoundKind::Patterns, held, of));
}

/// Beside a box laid across the shelf 819 mm are left, a millimetre or more too few for two columns
/// of flats; beside one laid along it, 619 mm and a strip. Neither area nor any count says so.
#[test]
fn three_flats_and_a_box_do_not_share_a_shelf() {
    assert_held(&[(FLAT, 3), (BOX, 1)], 3, 4);
    assert_eq!(prove_day(&on_one_shelf(&[(FLAT, 2), (BOX, 1)]), 0), None);
}

#[test]
fn who_has_no_part_in_the_proof_is_not_in_it() {
    assert_held(&[(HALF, 2), (CRATE, 2), (BOX, 1)], 3, 4);
}

#[test]
fn a_shelf_that_only_some_may_use_is_counted_with_them_alone() {
    // The box fits on both shelves, the flats on the first alone.
    let (low, both) = (whole(&[(610, 1219)]), whole(&[(610, 1219), (610, 600)]));
    let mut items = vec![tray(0, 1, FLAT.0, FLAT.1, &low); 4];
    items.push(tray(0, 1, BOX.0, BOX.1, &both));
    let mut problem = Problem { shelves: shelves(2), items };
    assert_eq!(prove_day(&problem, 0), None);
    problem.items.push(tray(0, 1, BOX.0, BOX.1, &both));
    assert_eq!(prove_day(&problem, 0).map(|bound| bound.short()), Some(1));
}

/// Of weights that all differ there are too many kinds for patterns, and in sum the shelves bear them.
#[test]
fn what_two_of_is_too_heavy_for_a_shelf_is_counted_by_shelves() {
    let ground = whole(&[(20, 20); 11]);
    let mut items = vec![tray(0, 1, 2, 2, &ground); 12];
    for (item, grams) in items.iter_mut().zip(61..) {
        item.phases[0].grams = grams;
    }
    let limits = |load| vec![Shelf { load: Some(load), cover: None }; 11];
    let bound = prove_day(&Problem { shelves: limits(100), items: items.clone() }, 0).expect("a crunch");
    assert_eq!((bound.kind, bound.held, bound.items.len()), (BoundKind::Load, 11, 12));
    assert_eq!(prove_day(&Problem { shelves: limits(123), items }, 0), None);
}
