//! How few bins can do, however the items are turned and shared out.
//!
//! A dual feasible function stretches lengths so that whatever lies in a row within the bin still
//! does, so two of them, one for each axis, give every item an area that the bin must hold. An
//! item counts with the smaller area of its two turns.
//!
//! Functions: S. P. Fekete and J. Schepers, "New classes of fast lower bounds for bin packing
//! problems" (2001); J. Carlier, F. Clautiaux, A. Moukrim, "New reduction procedures and lower bounds
//! for the two-dimensional bin packing problem with fixed orientation" (2007). Recalled, not re-read.

use std::cmp::{Ordering, Reverse};

use super::kinds::{Gauge, ItemKind, Kinds, WHOLE};
use crate::fit::scales::{Pieces, fewest_shelves};
use crate::fit::work::{Cancel, Cancelled};

const MOST_STEPS: i64 = 8;
/// Thresholds tried along one axis; halved for as long as there are too many kinds for all pairs.
const MOST_THRESHOLDS: usize = 64;
const MOST_LOOKS: usize = 4_000_000;
/// Each costs time at every load, and those after the best say little more.
const MOST_GAUGES: usize = 7;
/// Kinds among which a set is sought that can't share bins.
const MOST_APART: usize = 1_500;
/// More kinds than this aren't asked about by scales.
const MOST_SCALED: usize = 120;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum DualFeasible {
    Plain,
    /// Steps of 1/k, but exact multiples of 1/(k + 1) stay.
    Steps(i64),
    /// Shorter than the threshold counts nothing, what leaves less than that counts all.
    Ends(i64),
    /// Counts pieces of this length, the long ones by what they leave.
    Pieces(i64),
}

impl DualFeasible {
    /// Of a length within `whole`; the second is what `whole` becomes.
    fn of(self, x: i64, whole: i64) -> (i128, i128) {
        let (length, whole_length) = (i128::from(x), i128::from(whole));
        match self {
            Self::Steps(k) => {
                let k = i128::from(k);
                let up = (k + 1) * length;
                let stretched = if up % whole_length == 0 { k * length } else { up / whole_length * whole_length };
                (stretched, k * whole_length)
            }
            Self::Ends(least) if x < least => (0, whole_length),
            Self::Ends(least) if x > whole - least => (whole_length, whole_length),
            Self::Plain | Self::Ends(_) => (length, whole_length),
            Self::Pieces(piece) => {
                let all = i128::from(whole / piece);
                let stretched = match (2 * x).cmp(&whole) {
                    Ordering::Less => 2 * i128::from(x / piece),
                    Ordering::Equal => all,
                    Ordering::Greater => 2 * (all - i128::from((whole - x) / piece)),
                };
                (stretched, 2 * all)
            }
        }
    }
}

/// The best bound, and the pairs of functions that came nearest to it, as gauges for loads.
pub(super) fn bound(kinds: &Kinds, cancel: &Cancel) -> Result<(usize, Vec<Gauge>), Cancelled> {
    let mut most = MOST_THRESHOLDS;
    let (mut across, mut along) = (functions(kinds, kinds.width, most), functions(kinds, kinds.depth, most));
    while most > 1 && across.len() * along.len() * kinds.list.len() > MOST_LOOKS {
        cancel.check()?;
        most /= 2;
        (across, along) = (functions(kinds, kinds.width, most), functions(kinds, kinds.depth, most));
    }
    let tables = |functions: &[DualFeasible], whole: i64| -> Vec<Stretched> {
        functions.iter().map(|&stretch| Stretched::new(stretch, kinds, whole)).collect()
    };
    let (across, along) = (tables(&across, kinds.width), tables(&along, kinds.depth));
    let mut bins = apart(kinds);
    // What a pair wants of all bins, in parts of one; each first function with its best partner.
    let mut best: Vec<(i128, usize, usize)> = Vec::new();
    for (i, f) in across.iter().enumerate() {
        let mut with_best = (0, i, 0);
        for (j, g) in along.iter().enumerate() {
            cancel.check()?;
            let whole = f.whole * g.whole;
            let areas = kinds.list.iter().zip(&kinds.counts).enumerate();
            let wanted: i128 = areas.map(|(n, (kind, &count))| area(kind, n, f, g) * i128::from(count)).sum();
            bins = bins.max(i64::try_from((wanted + whole - 1) / whole).unwrap_or(i64::MAX));
            with_best = with_best.max((wanted * i128::from(WHOLE) / whole, i, j));
        }
        best.push(with_best);
    }
    best.sort_unstable_by(|a, b| b.cmp(a));
    let gauges = best.iter().take(MOST_GAUGES).map(|&(_, i, j)| {
        let (f, g) = (&across[i], &along[j]);
        let parts = |(n, kind)| area(kind, n, f, g) * i128::from(WHOLE) / (f.whole * g.whole);
        kinds.list.iter().enumerate().map(|kind| i64::try_from(parts(kind)).unwrap_or(WHOLE)).collect()
    });
    Ok((usize::try_from(bins).unwrap_or(0), gauges.collect()))
}

/// Another bound, that takes longer: by scales made for these very kinds, where they are not too many.
pub(super) fn by_scales(kinds: &Kinds) -> usize {
    if kinds.list.len() > MOST_SCALED {
        return 0;
    }
    let pieces = kinds.list.iter().zip(&kinds.counts);
    let pieces: Vec<Pieces> = pieces.map(|(kind, &number)| Pieces { w: kind.w, d: kind.d, number }).collect();
    let fewest = fewest_shelves(kinds.width, kinds.depth, &pieces);
    fewest.and_then(|fewest| usize::try_from(fewest).ok()).unwrap_or(0)
}

/// A function's value for both sides of every kind.
struct Stretched {
    whole: i128,
    sides: Vec<(i128, i128)>,
}

impl Stretched {
    fn new(stretch: DualFeasible, kinds: &Kinds, whole: i64) -> Self {
        let of = |x: i64| stretch.of(x.min(whole), whole);
        let sides = kinds.list.iter().map(|kind| (of(kind.w).0, of(kind.d).0)).collect();
        Self { whole: of(whole).1, sides }
    }
}

/// The smaller area of the n-th kind's turns.
fn area(kind: &ItemKind, n: usize, f: &Stretched, g: &Stretched) -> i128 {
    let (across, along) = (f.sides[n], g.sides[n]);
    let (straight, turned) = (across.0 * along.1, across.1 * along.0);
    match kind.ways() {
        [only] if *only == (kind.w, kind.d) => straight,
        [_] => turned,
        _ => straight.min(turned),
    }
}

fn functions(kinds: &Kinds, whole: i64, most: usize) -> Vec<DualFeasible> {
    let mut at: Vec<i64> = kinds
        .list
        .iter()
        .flat_map(|kind| [kind.w, kind.d])
        .flat_map(|side| [side, whole - side + 1])
        .filter(|&at| 0 < at && at <= whole / 2)
        .collect();
    at.sort_unstable();
    at.dedup();
    let step = at.len().div_ceil(most).max(1);
    let thresholds = || at.iter().rev().step_by(step).copied();
    let steps = (1..=MOST_STEPS).map(DualFeasible::Steps);
    let plain = std::iter::once(DualFeasible::Plain).chain(steps);
    plain.chain(thresholds().map(DualFeasible::Ends)).chain(thresholds().map(DualFeasible::Pieces)).collect()
}

/// So many items are such that no two can share a bin; large ones are picked first.
fn apart(kinds: &Kinds) -> i64 {
    let mut order: Vec<u32> = (0..).take(kinds.list.len()).collect();
    order.sort_by_key(|&kind| (Reverse(kinds.at(kind).area), kind));
    order.truncate(MOST_APART);
    let mut picked: Vec<u32> = Vec::new();
    let mut bins = 0;
    for kind in order {
        if picked.iter().all(|&other| !kinds.can_share(kind, other)) {
            bins += if kinds.can_share(kind, kind) { 1 } else { kinds.counts[kind as usize] };
            picked.push(kind);
        }
    }
    bins
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_in_a_row_still_does_when_stretched() {
        for whole in 1..=24 {
            let mut functions = vec![DualFeasible::Plain];
            functions.extend((1..=MOST_STEPS).map(DualFeasible::Steps));
            functions.extend((1..=whole / 2).flat_map(|at| [DualFeasible::Ends(at), DualFeasible::Pieces(at)]));
            for f in functions {
                // The most that lengths up to each sum can become, as in a knapsack.
                let mut most = vec![0_i128; usize::try_from(whole).unwrap() + 1];
                for sum in 1..=whole {
                    for x in 1..=sum {
                        let with = f.of(x, whole).0 + most[usize::try_from(sum - x).unwrap()];
                        let best = &mut most[usize::try_from(sum).unwrap()];
                        *best = with.max(*best);
                    }
                }
                assert_eq!(most.last(), Some(&f.of(whole, whole).1), "{f:?} of {whole}");
            }
        }
    }

    #[track_caller]
    fn check(bin: (i64, i64), items: &[(i64, i64)], expected: usize) {
        let cancel = Cancel::default();
        let kinds = Kinds::new(bin.0, bin.1, items, &cancel).unwrap();
        assert_eq!(bound(&kinds, &cancel).unwrap().0, expected, "{items:?} in {bin:?}");
    }

    #[test]
    fn bounds_a_hand_can_follow() {
        check((10, 10), &[(5, 5); 9], 3);
        check((10, 10), &[(6, 6); 3], 3);
        check((10, 10), &[(4, 4); 5], 2);
        check((10, 10), &[(10, 1); 11], 2);
        check((12, 5), &[(6, 5), (5, 6), (7, 5)], 2);
        check((7, 3), &[(7, 1), (4, 3)], 2);
    }

    #[test]
    fn a_length_that_occurs_once_takes_more_than_its_share() {
        // Two rows of six lie in a bin, and the long one takes the place of two.
        let items = [vec![(278, 272); 11], vec![(500, 260)]].concat();
        let kinds = Kinds::new(1829, 610, &items, &Cancel::default()).unwrap();
        assert_eq!((bound(&kinds, &Cancel::default()).unwrap().0, by_scales(&kinds)), (1, 2));
    }
}
