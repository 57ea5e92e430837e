//! Rectangles of many sizes in as few equal bins as possible: a bin is one of many equal shelves.
//!
//! Every answer carries its packing and a bound, so `bound <= count`, and where they are equal no
//! packing has fewer bins. A first packing takes one pass over the items. Then the search is given
//! one bin fewer, again and again, until it fails within the budget or the bound is met. Work is
//! counted, not timed: the same question and budget get the same answer everywhere.

mod annealing;
mod bound;
mod judge;
mod kinds;
mod one_shelf;
mod start;

use crate::fit::problem::Rect;
use crate::fit::random::Random;
use crate::fit::work::{Cancel, Cancelled};
use annealing::{Annealing, Load};
use bound::{bound, by_scales};
use judge::Judge;
use kinds::{Gauge, Kinds};
use start::{Filled, ItemOrder, start};

/// More items in a bin than this, on average, and there is no search: one load costs too much.
const MOST_IN_A_BIN: usize = 200;

/// The longest side of a bin, so that no sum of areas overflows: 137 km in 1/8000 mm.
const LONGEST: i64 = 1 << 40;

/// Rectangles in equal bins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bins {
    /// The bin and the spot of each item, in the order in which the items were given.
    pub spots: Vec<(usize, Rect)>,
    /// Bins in use, numbered from 0; none is empty.
    pub count: usize,
    /// Fewer bins than this can't do, however the items are turned.
    pub bound: usize,
}

/// Why there is no packing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BinsError {
    #[error("a bin must be larger than nothing, found {width} × {depth}")]
    NoBin { width: i64, depth: i64 },
    #[error("a bin may be {LONGEST} long at most, found {width} × {depth}")]
    TooLong { width: i64, depth: i64 },
    #[error("item {item} must be larger than nothing, found {w} × {d}")]
    NoSize { item: usize, w: i64, d: i64 },
    #[error("item {item} is {w} × {d}, too large for a bin of {width} × {depth} even when turned")]
    TooLarge { item: usize, w: i64, d: i64, width: i64, depth: i64 },
    #[error(transparent)]
    Cancelled(#[from] Cancelled),
}

/// Packs items of `(w, d)`, each turned or not, into bins of `width` × `depth`.
///
/// All lengths in the same unit. `budget` is in looks, of which a fast machine does some seventy
/// million a second; with 0 there is the first packing alone. No search is made where the bins
/// hold several hundred items each: there is hardly anything to gain.
///
/// # Errors
/// A bin or an item without size, a bin longer than 2^40, an item that no bin holds, or work that
/// was not wanted any more.
pub fn pack_bins(
    width: i64,
    depth: i64,
    items: &[(i64, i64)],
    budget: u64,
    cancel: &Cancel,
) -> Result<Bins, BinsError> {
    if width <= 0 || depth <= 0 {
        return Err(BinsError::NoBin { width, depth });
    }
    if width.max(depth) > LONGEST {
        return Err(BinsError::TooLong { width, depth });
    }
    if let Some((item, &(w, d))) = items.iter().enumerate().find(|&(_, &(w, d))| w <= 0 || d <= 0) {
        return Err(BinsError::NoSize { item, w, d });
    }
    let fits = |&(w, d): &(i64, i64)| w.max(d) <= width.max(depth) && w.min(d) <= width.min(depth);
    if let Some((item, &(w, d))) = items.iter().enumerate().find(|(_, size)| !fits(size)) {
        return Err(BinsError::TooLarge { item, w, d, width, depth });
    }
    let mut kinds = Kinds::new(width, depth, items, cancel)?;
    let (mut bound, gauges) = bound(&kinds, cancel)?;
    kinds.weigh(&gauges);
    let mut best = start(&kinds, ItemOrder::Area, cancel)?;
    if budget > 0 && best.len() > bound {
        for order in ItemOrder::OTHERS {
            let next = start(&kinds, order, cancel)?;
            if next.len() < best.len() {
                best = next;
            }
        }
        if best.len() > bound {
            bound = bound.max(by_scales(&kinds));
        }
        if items.len() <= MOST_IN_A_BIN * best.len() {
            best = with_fewer(&kinds, gauges, best, bound, budget, cancel)?;
        }
    }
    Ok(Bins { spots: spots(&kinds, &best), count: best.len(), bound })
}

/// One bin fewer for as long as the budget lasts and the bound leaves hope.
fn with_fewer(
    kinds: &Kinds,
    gauges: Vec<Gauge>,
    mut best: Vec<Filled>,
    bound: usize,
    budget: u64,
    cancel: &Cancel,
) -> Result<Vec<Filled>, Cancelled> {
    let mut judge = Judge::new(kinds, gauges);
    let mut random = Random::new(1);
    while best.len() > bound {
        let loads = best.iter().map(|filled| Load::new(kinds, filled.clone())).collect();
        let Some(found) = Annealing::new(kinds, &mut judge, &mut random, loads).run(budget, cancel)? else {
            break;
        };
        let packed: Option<Vec<Filled>> =
            found.into_iter().map(|load| load.filled.or_else(|| judge.packing(&load.members))).collect();
        let Some(packed) = packed else {
            break;
        };
        best = packed;
    }
    Ok(best)
}

/// Where each item stands; items of one kind are dealt out in their order.
fn spots(kinds: &Kinds, bins: &[Filled]) -> Vec<(usize, Rect)> {
    let mut of_kind: Vec<Vec<(usize, Rect)>> = vec![Vec::new(); kinds.list.len()];
    for (bin, filled) in bins.iter().enumerate().rev() {
        for &(kind, spot) in filled {
            let Rect { x, y, w, d } = spot;
            let unit = kinds.unit;
            of_kind[kind as usize].push((bin, Rect { x: x * unit, y: y * unit, w: w * unit, d: d * unit }));
        }
    }
    kinds.of.iter().filter_map(|&kind| of_kind[kind as usize].pop()).collect()
}
