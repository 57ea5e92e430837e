//! Small problems for tests, and the plain truth about them by trying everything.
//!
//! Shelves of a few units a side, so that every spot can be tried; shares only types with the
//! solver.

use std::sync::Arc;

use proptest::prelude::*;

use super::{Days, Item, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};

pub(super) fn whole(sizes: &[(i64, i64)]) -> RegionSet {
    let region = |(shelf, &(w, d)): (usize, &(i64, i64))| Region { shelf, rect: Rect { x: 0, y: 0, w, d } };
    sizes.iter().enumerate().map(region).collect()
}

pub(super) fn tray(from: i32, until: i32, w: i64, d: i64, regions: &RegionSet) -> Item {
    let phases = vec![Phase { days: Days::new(from, until), w, d, grams: 1 }];
    Item { phases, regions: Arc::clone(regions), pinned: None, wish: None }
}

pub(super) fn shelves(number: usize) -> Vec<Shelf> {
    vec![Shelf::default(); number]
}

/// The most of `items` that can stand on a day, all others away.
pub(super) fn most_standing(problem: &Problem, day: i32, items: &[usize]) -> usize {
    let mut standing = Vec::new();
    search(problem, day, items, &mut standing)
}

type ItemDraw = ((i32, i32, i64, i64, i64), (usize, Option<i32>, u8), (usize, i64, i64, bool));

fn search(problem: &Problem, day: i32, left: &[usize], standing: &mut Vec<(usize, Rect, i64)>) -> usize {
    let Some((&number, others)) = left.split_first() else {
        return standing.len();
    };
    let item = &problem.items[number];
    let mut best = search(problem, day, others, standing);
    let Some(phase) = item.phase_on(day) else {
        return best;
    };
    for region in item.regions.iter() {
        for turned in [false, true] {
            for x in region.rect.x..region.rect.right() {
                for y in region.rect.y..region.rect.back() {
                    if best == standing.len() + left.len() {
                        return best;
                    }
                    let spot = Spot { shelf: region.shelf, x, y, turned };
                    if item.pinned.is_some_and(|pinned| pinned != spot) {
                        continue;
                    }
                    let rect = spot.rect(phase);
                    let here = || standing.iter().filter(|s| s.0 == region.shelf);
                    let shelf = &problem.shelves[region.shelf];
                    let grams = here().map(|s| s.2).sum::<i64>() + phase.grams;
                    let cover = here().map(|s| s.1.area()).sum::<i128>() + rect.area();
                    if region.rect.holds(rect)
                        && !here().any(|s| s.1.overlaps(rect))
                        && shelf.load.is_none_or(|load| grams <= load)
                        && shelf.cover.is_none_or(|most| cover <= most)
                    {
                        standing.push((region.shelf, rect, phase.grams));
                        best = best.max(search(problem, day, others, standing));
                        standing.pop();
                    }
                }
            }
        }
    }
    best
}

/// Up to two shelves with a zone each, and up to `most` items, some spaced out, pinned or wished.
pub(super) fn problems(most: usize) -> impl Strategy<Value = Problem> {
    let shelf = (3..6_i64, 2..5_i64, prop::option::of(3..12_i64), prop::option::of(4..20_i128));
    let item = (
        (0..6_i32, 1..5_i32, 1..4_i64, 1..4_i64, 1..4_i64),
        (0..6_usize, prop::option::weighted(0.3, 1..3_i32), 0..10_u8),
        (0..2_usize, 0..3_i64, 0..3_i64, any::<bool>()),
    );
    (prop::collection::vec(shelf, 1..3), prop::collection::vec(item, 1..=most)).prop_map(|(shelves, items)| {
        let region = |shelf: usize, zone: bool| {
            let (w, d, ..) = shelves[shelf];
            let (w, x) = if zone { (w - 1, 1) } else { (w, 0) };
            Region { shelf, rect: Rect { x, y: 0, w, d } }
        };
        let last = shelves.len() - 1;
        let sets: [RegionSet; 6] = [
            Arc::from([region(0, false)]),
            Arc::from([region(0, true)]),
            Arc::from([region(last, false)]),
            Arc::from([region(last, true), region(0, false)]),
            Arc::from([region(0, false), region(last, false)]),
            Arc::from([region(0, true), region(last, true)]),
        ];
        let make = |((from, length, w, d, grams), (set, grows, fate), (shelf, x, y, turned)): ItemDraw| {
            let mut phases = vec![Phase { days: Days::new(from, from + length), w, d, grams }];
            if let Some(grows) = grows {
                let days = Days::new(from + length, from + length + grows);
                phases.push(Phase { days, w: w + 1, d, grams: grams + 1 });
            }
            let spot = Spot { shelf: shelf.min(last), x, y, turned };
            let (pinned, wish) = match fate {
                0 => (Some(spot), None),
                1..4 => (None, Some(spot)),
                _ => (None, None),
            };
            Item { phases, regions: Arc::clone(&sets[set]), pinned, wish }
        };
        let items = items.into_iter().map(make).collect();
        let shelves = shelves.iter().map(|&(_, _, load, cover)| Shelf { load, cover }).collect();
        Problem { shelves, items }
    })
}
