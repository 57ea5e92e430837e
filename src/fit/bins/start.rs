//! A packing at once: every item, in some order, into the first open bin that has a spot for it.
//!
//! What stands in a bin is known by its skyline alone, and bins are closed from time to time, so that a
//! hundred thousand items take seconds.

use std::cmp::Reverse;

use super::kinds::{ItemKind, Kinds};
use crate::fit::problem::Rect;
use crate::fit::work::{Cancel, Cancelled};

/// Items are taken in rounds of about so many, large and small ones in each.
const ROUND: usize = 1_000;
/// Bins that stay open after a round, the least filled.
const STAY_OPEN: usize = 24;

/// The order in which items are placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ItemOrder {
    Area,
    /// By the longer side.
    Longest,
    /// By the shorter side.
    Shortest,
    /// By the sum of both sides.
    Around,
}

impl ItemOrder {
    pub(super) const OTHERS: [Self; 3] = [Self::Longest, Self::Shortest, Self::Around];

    const fn key(self, kind: &ItemKind) -> i128 {
        match self {
            Self::Area => kind.area,
            Self::Longest => (kind.w as i128) << 64 | kind.d as i128,
            Self::Shortest => (kind.d as i128) << 64 | kind.w as i128,
            Self::Around => kind.w as i128 + kind.d as i128,
        }
    }
}

/// What stands in one bin.
pub(super) type Filled = Vec<(u32, Rect)>;

struct Open {
    bin: usize,
    /// Parts that reach from the front to the height of what stands there.
    skyline: Vec<Rect>,
    filled: i128,
    /// The kind that found no spot last, with nothing placed since.
    refused: Option<u32>,
}

/// What stands in each bin.
pub(super) fn start(kinds: &Kinds, order: ItemOrder, cancel: &Cancel) -> Result<Vec<Filled>, Cancelled> {
    let mut items = kinds.of.clone();
    items.sort_by_key(|&kind| (Reverse(order.key(kinds.at(kind))), kind));
    let mut bins: Vec<Filled> = Vec::new();
    let mut open: Vec<Open> = Vec::new();
    let rounds = items.len().div_ceil(ROUND);
    for (place, &kind) in (0..rounds).flat_map(|round| items.iter().skip(round).step_by(rounds).enumerate()) {
        cancel.check()?;
        if place == 0 {
            open.sort_by_key(|bin| bin.filled);
            open.truncate(STAY_OPEN);
        }
        let size = kinds.at(kind);
        let found = open.iter_mut().enumerate().find_map(|(n, bin)| {
            let spot = if bin.refused == Some(kind) { None } else { lowest(kinds, bin, size) };
            bin.refused = if spot.is_none() { Some(kind) } else { None };
            Some((n, spot?))
        });
        let (n, spot) = found.unwrap_or_else(|| {
            let ground = Rect { x: 0, y: 0, w: kinds.width, d: 0 };
            open.push(Open { bin: bins.len(), skyline: vec![ground], filled: 0, refused: None });
            bins.push(Vec::new());
            let (w, d) = size.ways()[0];
            (open.len() - 1, Rect { x: 0, y: 0, w, d })
        });
        let bin = &mut open[n];
        cover(&mut bin.skyline, spot);
        bin.filled += spot.area();
        bins[bin.bin].push((kind, spot));
    }
    Ok(bins)
}

/// The spot with the lowest top; of equals, the one that shuts off the least ground.
fn lowest(kinds: &Kinds, bin: &Open, size: &ItemKind) -> Option<Rect> {
    if kinds.area() - bin.filled < size.area {
        return None;
    }
    let mut best: Option<((i64, i128), Rect)> = None;
    for &(w, d) in size.ways() {
        for (n, first) in bin.skyline.iter().enumerate() {
            if first.x + w > kinds.width {
                break;
            }
            let (mut y, mut under) = (0, 0_i128);
            for part in bin.skyline.iter().skip(n).take_while(|part| part.x < first.x + w) {
                y = y.max(part.d);
                under += i128::from(part.right().min(first.x + w) - part.x) * i128::from(part.d);
            }
            if y + d > kinds.depth {
                continue;
            }
            let rank = (y + d, i128::from(w) * i128::from(y) - under);
            if best.is_none_or(|(known, _)| rank < known) {
                best = Some((rank, Rect { x: first.x, y, w, d }));
            }
        }
    }
    best.map(|(_, rect)| rect)
}

/// Raises the skyline to the back of a rectangle that stands on it.
fn cover(skyline: &mut Vec<Rect>, rect: Rect) {
    let mut next: Vec<Rect> = Vec::with_capacity(skyline.len() + 2);
    let mut append = |part: Rect| match next.last_mut() {
        _ if part.w <= 0 => {}
        Some(last) if last.d == part.d => last.w += part.w,
        _ => next.push(part),
    };
    for part in skyline.iter() {
        append(Rect { w: part.w.min(rect.x - part.x), ..*part });
        if part.x <= rect.x && rect.x < part.right() {
            append(Rect { x: rect.x, y: 0, w: rect.w, d: rect.back() });
        }
        let x = part.x.max(rect.right());
        append(Rect { x, w: part.right() - x, ..*part });
    }
    *skyline = next;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_order_packs_everything_once_and_without_overlap() {
        let items: Vec<(i64, i64)> = (0..200).map(|n| (1 + n * 37 % 61, 1 + n * 53 % 67)).collect();
        let kinds = Kinds::new(90, 70, &items, &Cancel::default()).unwrap();
        for order in [ItemOrder::Area, ItemOrder::Longest, ItemOrder::Shortest, ItemOrder::Around] {
            let bins = start(&kinds, order, &Cancel::default()).unwrap();
            let mut packed: Vec<u32> = bins.iter().flatten().map(|&(kind, _)| kind).collect();
            packed.sort_unstable();
            let mut wanted = kinds.of.clone();
            wanted.sort_unstable();
            assert_eq!(packed, wanted, "{order:?}");
            let ground = Rect { x: 0, y: 0, w: 90, d: 70 };
            for bin in bins {
                for (n, &(_, spot)) in bin.iter().enumerate() {
                    assert!(ground.holds(spot), "{order:?}: {spot:?}");
                    assert!(bin[..n].iter().all(|&(_, other)| !spot.overlaps(other)), "{order:?}: {spot:?}");
                }
            }
        }
    }

    #[test]
    fn a_skyline_joins_what_is_level() {
        let part = |x, w, d| Rect { x, y: 0, w, d };
        let mut skyline = vec![part(0, 10, 0)];
        cover(&mut skyline, Rect { x: 0, y: 0, w: 4, d: 3 });
        assert_eq!(skyline, [part(0, 4, 3), part(4, 6, 0)]);
        cover(&mut skyline, Rect { x: 4, y: 0, w: 3, d: 3 });
        assert_eq!(skyline, [part(0, 7, 3), part(7, 3, 0)]);
        cover(&mut skyline, Rect { x: 5, y: 3, w: 5, d: 1 });
        assert_eq!(skyline, [part(0, 5, 3), part(5, 5, 4)]);
    }
}
