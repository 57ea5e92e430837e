//! Seasons cut out of full shelves: a layout without a move is known, as each stay is a piece of a block of ground
//! and days.

use std::sync::Arc;

use flatwright::fit::{Days, Item, Phase, Problem, Rect, Region, RegionSet, Shelf, Verdict};

use super::small::solved;

/// Enough for those here; they take some hundred thousand looks.
const PLENTY: u64 = 20_000_000;

/// Length, depth, days of a block; numbers from a plain congruential generator.
struct Saw(u64);

impl Saw {
    fn below(&mut self, n: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap() % n
    }

    /// Always the largest block is cut, straight through, somewhere in its middle half.
    fn pieces(&mut self, block: [i64; 3], number: usize) -> Vec<([i64; 3], i64)> {
        let mut blocks = vec![(block, 0)];
        while blocks.len() < number {
            let at = (0..blocks.len()).max_by_key(|&at| blocks[at].0.iter().product::<i64>()).unwrap();
            let (block, from) = blocks[at];
            let along = usize::try_from(self.below(3)).unwrap();
            let length = block[along];
            if length < 4 {
                continue;
            }
            let first = length / 4 + self.below(length / 2);
            let (mut one, mut other) = (block, block);
            (one[along], other[along]) = (first, length - first);
            blocks[at] = (one, from);
            blocks.push((other, if along == 2 { from + first } else { from }));
        }
        blocks
    }
}

/// Shelves of one size, each cut into so many stays, of which every so manieth is left out.
fn season(seed: u64, shelves: usize, stays: usize, without: usize) -> Problem {
    let (mut saw, mut items) = (Saw(seed), Vec::new());
    let (w, d) = (24 + saw.below(20), 16 + saw.below(12));
    let regions: RegionSet = (0..shelves).map(|shelf| Region { shelf, rect: Rect { x: 0, y: 0, w, d } }).collect();
    for ([w, d, days], from) in (0..shelves).flat_map(|_| saw.pieces([w, d, 60], stays)).collect::<Vec<_>>() {
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
