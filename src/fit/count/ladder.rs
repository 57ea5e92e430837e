//! How many equal rectangles, each turned or not, stand in a rectangle.
//!
//! `most` always comes with a packing and `at_most` with a bound, so `most <= at_most`, and where
//! they are equal the count is proven. The packing is searched by rows, by straight cuts and by
//! five blocks around a middle; an exhaustive search closes what gap is left, from above or below,
//! as far as a number of steps goes. A gap that stays means that neither side gave in, not that
//! the packing is poor.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use super::bound::{bound, snap};
use super::exact::{Base, ExactOutcome, stand};
use super::five_block::Table;
use super::lengths::gcd;
use super::rows::{Block, block, rows_and_remnants, total};
use crate::fit::problem::Rect;

/// Steps of [`count`]. Most shelves need none; a board for hundreds that stays open takes some tens of
/// milliseconds.
const QUICK: u64 = 30_000;
/// For more than so many, [`count`] leaves it at the first of its steps: the others seldom settle it.
const MOST_QUICK: i64 = 60;
/// Steps of the exhaustive search before straight cuts and five blocks are tried.
const FIRST: u64 = 2_000;
/// Middles of five blocks tried for a step.
const TRIALS_PER_STEP: u64 = 32;

/// A count of equal rectangles in a rectangle, with its packing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CountOne {
    /// So many fit: [`CountOne::spots`] shows how.
    pub most: i64,
    /// More than this can't fit however they are turned.
    pub at_most: i64,
    blocks: Vec<Block>,
}

impl CountOne {
    pub fn is_proven(&self) -> bool {
        self.most == self.at_most
    }

    /// The `most` rectangles; lazy, as there may be millions.
    pub fn spots(&self) -> impl Iterator<Item = Rect> + '_ {
        self.blocks.iter().flat_map(|block| block.spots())
    }
}

/// How many `w` × `d` rectangles fit into `width` × `depth` without overlap, in quarter turns.
///
/// All four in the same unit. Nothing fits, and nothing can, if one of them is not positive.
///
/// Bound: area, and F. W. Barnes, "Packing the maximum number of m × n tiles in a large p × q
/// rectangle", Discrete Mathematics 26 (1979). Search: the recursive five-block heuristic of
/// Birgin, Lobato and Morabito (2010) on raster points. Both recalled, not re-read. A gap between
/// the two goes to an exhaustive search, in few steps; [`count_within`] takes as many as one likes.
pub fn count(width: i64, depth: i64, w: i64, d: i64) -> CountOne {
    let quick = count_within(width, depth, w, d, 0);
    if quick.is_proven() {
        return quick;
    }
    let size = [width, depth, w, d];
    if let Some(known) = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&size) {
        return known.clone();
    }
    let found = count_within(width, depth, w, d, QUICK);
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    if known.len() >= MOST_KNOWN {
        known.clear();
    }
    known.insert(size, found.clone());
    found
}

/// Searched counts, so that none is searched for twice; few sizes ever meet few shelves.
static KNOWN: Mutex<BTreeMap<[i64; 4], CountOne>> = Mutex::new(BTreeMap::new());
const MOST_KNOWN: usize = 500;

/// [`count`] with so many steps of search; a million take a second or two.
///
/// The same question gets the same answer on every machine. Small counts are mostly proven in
/// a few thousand steps.
pub fn count_within(width: i64, depth: i64, w: i64, d: i64, steps: u64) -> CountOne {
    if width <= 0 || depth <= 0 || w <= 0 || d <= 0 {
        return CountOne::default();
    }
    let unit = gcd(w, d);
    let (a, b) = (w / unit, d / unit);
    let mut ladder = Ladder::new(snap(width / unit, a, b), snap(depth / unit, a, b), a, b);
    ladder.climb(steps);
    let blocks = ladder.blocks.into_iter().map(|block| block.scaled(unit)).collect::<Vec<_>>();
    CountOne { most: total(&blocks), at_most: ladder.at_most, blocks }
}

/// Packing and bound so far, in units without a common divisor.
struct Ladder {
    width: i64,
    depth: i64,
    a: i64,
    b: i64,
    at_most: i64,
    blocks: Vec<Block>,
}

impl Ladder {
    fn new(width: i64, depth: i64, a: i64, b: i64) -> Self {
        let at_most = bound(width, depth, a, b);
        Self { width, depth, a, b, at_most, blocks: rows_and_remnants(width, depth, a, b, at_most) }
    }

    fn is_open(&self) -> bool {
        total(&self.blocks) < self.at_most
    }

    /// Each rung costs more than the one before.
    fn climb(&mut self, steps: u64) {
        if steps == 0 {
            return;
        }
        let first = steps.min(FIRST);
        self.exhaust(first);
        if self.is_open() {
            let searched = search(self.width, self.depth, self.a, self.b, steps.saturating_mul(TRIALS_PER_STEP));
            if total(&searched) > total(&self.blocks) {
                self.blocks = searched;
            }
            if steps > QUICK || self.at_most <= MOST_QUICK {
                self.exhaust(steps - first);
            }
        }
    }

    /// Looks for as many as the bound says, lowering the bound where there is no such packing; along the
    /// other side once it is hard to exhaust along one.
    fn exhaust(&mut self, steps: u64) {
        let (mut shorter, mut longer) = (steps - steps / 3, steps / 3);
        while self.is_open() && self.settle(Base::Shorter, &mut shorter) {}
        while self.is_open() && self.settle(Base::Longer, &mut longer) {}
    }

    /// Finds as many as the bound says, or that there can't be; false if the steps ran out.
    fn settle(&mut self, base: Base, steps: &mut u64) -> bool {
        match stand([self.width, self.depth], [self.a, self.b], self.at_most, base, steps) {
            ExactOutcome::Found(spots) => {
                self.blocks = spots.into_iter().map(Block::of_one).collect();
            }
            ExactOutcome::Impossible => self.at_most -= 1,
            ExactOutcome::Open => return false,
        }
        true
    }
}

/// Searches what is left after whole columns and rows were given away for size.
fn search(width: i64, depth: i64, a: i64, b: i64, trials: u64) -> Vec<Block> {
    let (keep_w, columns) = give_away(width, depth, a, b);
    let (keep_d, rows) = give_away(depth, keep_w, a, b);
    let mut blocks = Table::new(keep_w, keep_d, a, b)
        .map_or_else(|| rows_and_remnants(keep_w, keep_d, a, b, i64::MAX), |mut table| table.solve(trials));
    if width > keep_w {
        let (p, q) = if columns { (a, b) } else { (b, a) };
        blocks.extend(block(keep_w, 0, width - keep_w, depth, p, q));
    }
    if depth > keep_d {
        let (p, q) = if rows { (a, b) } else { (b, a) };
        blocks.extend(block(0, keep_d, keep_w, depth - keep_d, q, p));
    }
    blocks
}

/// How much of `length` to search in, and whether the rest holds slices as long as `a` (or `b`).
fn give_away(length: i64, across: i64, a: i64, b: i64) -> (i64, bool) {
    let points = |kept: i64| {
        let pairs = (i128::from(kept / a) + 1) * (i128::from(kept / b) + 1) / 2 + 2;
        pairs.min(i128::from(kept) + 1)
    };
    let most = 1200;
    if points(length) <= most {
        return (length, true);
    }
    // The tighter kind of slice goes; a share of the depth each, compared as fractions.
    let use_a = i128::from(across / b) * i128::from(b) >= i128::from(across / a) * i128::from(a);
    let step = if use_a { a } else { b };
    let (mut low, mut high) = (0, length / step);
    while low < high {
        let middle = low + (high - low) / 2;
        if points(length - middle * step) <= most {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    (length - low * step, use_a)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HUNDREDTH_INCH: i64 = 2_032;

    /// The packing is real and as large as said.
    #[track_caller]
    fn packs(width: i64, depth: i64, w: i64, d: i64) -> CountOne {
        let found = count(width, depth, w, d);
        let spots: Vec<Rect> = found.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(found.most), "{width} x {depth}");
        assert!(found.most <= found.at_most);
        let shelf = Rect { x: 0, y: 0, w: width, d: depth };
        for (i, a) in spots.iter().enumerate() {
            assert!(shelf.holds(*a), "{a:?} in {width} x {depth}");
            assert!((a.w, a.d) == (w, d) || (a.w, a.d) == (d, w));
            assert!(!spots[..i].iter().any(|b| a.overlaps(*b)), "{a:?}");
        }
        found
    }

    #[test]
    fn published_instances_and_shelves_meet_the_bound() {
        // Own bench table, "computed, five-block packing meets min(area, Barnes)": L, W, a, b, count.
        for (width, depth, w, d, count) in [
            (40, 25, 7, 3, 47),
            (52, 33, 9, 4, 47),
            (56, 52, 12, 5, 48),
            (42, 39, 9, 4, 45),
            (124, 81, 21, 10, 47),
            (1000, 1000, 205, 159, 30),
            (1000, 1000, 200, 150, 33),
            (22, 16, 5, 3, 23),
            (30, 22, 7, 4, 23),
            (86, 82, 15, 11, 42),
            (57, 44, 12, 5, 41),
            (1200, 800, 274, 194, 16),
            (1219, 610, 545, 278, 4),
            (1829, 762, 545, 278, 6),
            (1829, 457, 530, 320, 3),
            (1829, 457, 278, 272, 6),
        ] {
            let found = packs(width, depth, w, d);
            assert_eq!((found.most, found.at_most), (count, count), "{w} x {d} in {width} x {depth}");
        }
    }

    #[test]
    fn wire_shelves_hold_as_many_flats_as_growers_find() {
        for (width, depth, count) in [
            (36, 14, 1),
            (36, 18, 1),
            (42, 14, 1),
            (48, 14, 2),
            (48, 18, 2),
            (48, 24, 4),
            (60, 18, 2),
            (72, 18, 3),
            (72, 24, 6),
            (36, 22, 3),
            (48, 22, 4),
            (60, 22, 5),
            (72, 22, 6),
        ] {
            let (width, depth) = (width * 100 * HUNDREDTH_INCH, depth * 100 * HUNDREDTH_INCH);
            let found = packs(width, depth, 1_094 * HUNDREDTH_INCH, 2_144 * HUNDREDTH_INCH);
            assert_eq!((found.most, found.at_most), (count, count), "{width} x {depth}");
        }
    }

    #[test]
    fn greenhouse_benches_mix_both_ways_of_turning() {
        let flats = |width: i64, depth: i64| {
            let inch = 100 * HUNDREDTH_INCH;
            packs(width * inch, depth * inch, 1_094 * HUNDREDTH_INCH, 2_144 * HUNDREDTH_INCH).most
        };
        assert_eq!(flats(720, 24), 67);
        assert!(flats(600, 72) >= 165);
    }

    #[test]
    fn small_soil_blocks_are_counted_by_the_thousand() {
        let found = packs(6_000 * HUNDREDTH_INCH, 2_400 * HUNDREDTH_INCH, 75 * HUNDREDTH_INCH, 75 * HUNDREDTH_INCH);
        assert_eq!((found.most, found.is_proven()), (2_560, true));
    }

    #[test]
    fn nothing_fits_where_a_side_is_missing_or_too_short() {
        for (width, depth, w, d) in [(0, 5, 1, 1), (5, -5, 1, 1), (5, 5, 0, 1), (5, 5, 1, -1), (5, 5, 6, 1)] {
            let found = count(width, depth, w, d);
            assert_eq!((found.most, found.at_most), (0, 0));
        }
    }

    #[test]
    fn absurd_sizes_answer_without_overflow() {
        for (width, depth, w, d) in [
            (i64::MAX, i64::MAX, 1, 1),
            (i64::MAX, i64::MAX, 3, 7),
            (i64::MAX, i64::MAX, i64::MAX, i64::MAX - 1),
            (i64::MAX, 1_000_003, 1_000_003, 999_983),
            (1_000_000_007, 1_000_000_009, 30_011, 20_011),
        ] {
            let found = count(width, depth, w, d);
            assert!(0 < found.most && found.most <= found.at_most);
        }
    }

    proptest::proptest! {
        #[test]
        fn packings_are_real(width in 1..90_i64, depth in 1..90_i64, w in 4..30_i64, d in 4..30_i64) {
            let found = packs(width, depth, w, d);
            let turned = count(depth, width, d, w);
            // The search may end sooner one way than the other; neither may contradict the other.
            proptest::prop_assert!(found.most <= turned.at_most && turned.most <= found.at_most);
        }
    }
}
