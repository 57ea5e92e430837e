//! Seasons cut out of full shelves: a layout without a move is known, as each stay is a piece of a block of ground
//! and days.

use std::sync::Arc;

use flatwright::fit::{Days, Item, Phase, Problem, Rect, Region, RegionSet, Shelf, Verdict};

use super::saw::Saw;
use super::small::solved;

/// Enough for those here; they take some hundred thousand looks.
const PLENTY: u64 = 20_000_000;

/// Shelves of one size, each cut into so many stays, of which every so manieth is left out.
fn season(seed: u64, shelves: usize, stays: usize, without: usize) -> Problem {
    let (mut saw, mut items) = (Saw(seed), Vec::new());
    let (w, d) = (24 + saw.below(20), 16 + saw.below(12));
    let regions: RegionSet = (0..shelves).map(|shelf| Region { shelf, rect: Rect { x: 0, y: 0, w, d } }).collect();
    for ([w, d, days], from) in (0..shelves).flat_map(|_| saw.pieces([w, d, 60], stays, 4)).collect::<Vec<_>>() {
        let [from, until] = [from, from + days].map(|day| i32::try_from(day).unwrap());
        let phases = vec![Phase { days: Days::new(from, until), w, d, grams: 0 }];
        items.push(Item { phases, regions: Arc::clone(&regions), pinned: None, wish: None });
    }
    let mut number = 0;
    items.retain(|_| {
        number += 1;
        number % without != 0
    });
    Problem { shelves: vec![Shelf::default(); shelves], items }
}

#[test]
fn one_full_shelf_cut_into_eight_stays_is_put_together_again() {
    for seed in 0..60 {
        let answer = solved(&season(seed, 1, 8, usize::MAX), PLENTY);
        assert!(answer.is_fit() && answer.layout.moves() == 0, "{seed}");
    }
}

#[test]
fn shelves_nine_tenths_full_are_filled_without_a_move() {
    for seed in 0..8 {
        let answer = solved(&season(seed, 2, 16, 10), PLENTY);
        assert!(answer.is_fit() && answer.layout.moves() == 0, "{seed}");
    }
}

#[test]
fn a_full_room_is_never_called_a_crunch() {
    for seed in 0..4 {
        let answer = solved(&season(seed, 3, 20, usize::MAX), 400_000);
        assert!(answer.days.iter().all(|run| !matches!(run.verdict, Verdict::Crunch(_))), "{seed}");
    }
}
