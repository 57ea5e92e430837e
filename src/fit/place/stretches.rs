//! The places at which a job is tried, one by one: its regions, the very long ones in stretches.
//!
//! Neighbouring stretches share as much as the longest side of a job, so that each spot in the
//! region lies in one of them.

use std::ops::Range;
use std::sync::Arc;

use super::nogoods::Along;
use crate::fit::problem::{Rect, Region, RegionSet};

/// A region so many times longer than a job is cut, into stretches of an eighth of that.
const LONG: i64 = 32;
/// Stretches along one side, at most.
const MOST: i64 = 512;

/// A region, or a part of a long one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) part: Region,
    /// Which of the set's regions it is of.
    pub(super) region: usize,
    /// From here until the next one begins, seen from the region's corner.
    begins: (i64, i64),
    ends: (i64, i64),
}

impl Stretch {
    /// Whether a rectangle that lies in the region, seen from its corner, is this stretch's.
    const fn owns(&self, rect: Rect) -> bool {
        self.begins.0 <= rect.x && rect.x < self.ends.0 && self.begins.1 <= rect.y && rect.y < self.ends.1
    }

    /// Which of one region's stretches, all of them and in order, owns a rectangle.
    pub(super) fn owner(of: &[Self], rect: Rect) -> Option<usize> {
        let (first, last) = (of.first()?, of.last()?);
        let (w, d) = (first.ends.0 - first.begins.0, first.ends.1 - first.begins.1);
        let [columns, rows] = [last.begins.0 / w + 1, last.begins.1 / d + 1];
        let (column, row) = (rect.x / w, rect.y / d);
        let by_rows = of.get(1).is_some_and(|second| second.begins.1 == 0);
        let at = if by_rows { row * columns + column } else { column * rows + row };
        usize::try_from(at).ok().filter(|&at| of.get(at).is_some_and(|stretch| stretch.owns(rect)))
    }
}

/// The stretches of a set of regions for jobs of about one size.
#[derive(Debug)]
pub(super) struct Stretches {
    pub(super) regions: RegionSet,
    /// The regions' numbers, by shelf.
    by_shelf: Vec<(usize, usize)>,
    pub(super) list: Vec<Stretch>,
    /// The stretches of each region.
    of: Vec<Range<usize>>,
    /// Stretches in the order in which the fewest other jobs want their regions.
    scarce: Vec<usize>,
    /// Where each stands in that order.
    rank: Vec<usize>,
}

impl Stretches {
    /// `order` has the regions' numbers, the least wanted first.
    pub(super) fn new(regions: &RegionSet, longest: i64, order: &[usize]) -> Self {
        let mut list = Vec::new();
        let mut of: Vec<Range<usize>> = Vec::new();
        for (number, &region) in regions.iter().enumerate() {
            let first = list.len();
            cut(region, number, longest, &mut list);
            of.push(first..list.len());
        }
        let scarce: Vec<usize> = order.iter().filter_map(|&region| of.get(region).cloned()).flatten().collect();
        let mut rank = vec![0; list.len()];
        for (at, &stretch) in scarce.iter().enumerate() {
            if let Some(rank) = rank.get_mut(stretch) {
                *rank = at;
            }
        }
        let mut by_shelf: Vec<_> = regions.iter().enumerate().map(|(number, region)| (region.shelf, number)).collect();
        by_shelf.sort_unstable();
        Self { regions: Arc::clone(regions), by_shelf, list, of, scarce, rank }
    }

    pub(super) const fn len(&self) -> usize {
        self.list.len()
    }

    /// The regions on one shelf.
    pub(super) fn on(&self, shelf: usize) -> impl Iterator<Item = &Region> {
        let first = self.by_shelf.partition_point(|&(other, _)| other < shelf);
        let here = self.by_shelf.iter().skip(first).take_while(move |&&(other, _)| other == shelf);
        here.filter_map(|&(_, number)| self.regions.get(number))
    }

    /// The stretches on one shelf, by their numbers.
    pub(super) fn on_shelf(&self, shelf: usize) -> impl Iterator<Item = usize> {
        let first = self.by_shelf.partition_point(|&(other, _)| other < shelf);
        let here = self.by_shelf.iter().skip(first).take_while(move |&&(other, _)| other == shelf);
        here.filter_map(|&(_, region)| self.of.get(region).cloned()).flatten()
    }

    /// The stretch at a place in an order.
    pub(super) fn at(&self, along: Along, place: usize) -> Option<usize> {
        match along {
            Along::Given => Some(place),
            Along::Scarce => self.scarce.get(place).copied(),
        }
    }

    /// Where a stretch stands in both orders.
    pub(super) fn places(&self, stretch: usize) -> [usize; 2] {
        [stretch, self.rank.get(stretch).copied().unwrap_or(0)]
    }

    /// Whether any region is cut.
    pub(super) fn is_cut(&self) -> bool {
        self.list.len() > self.regions.len()
    }
}

fn cut(region: Region, number: usize, longest: i64, list: &mut Vec<Stretch>) {
    let rect = region.rect;
    let step = |length: i64| {
        if length <= longest.saturating_mul(LONG) { i64::MAX } else { (longest * LONG / 8).max(length / MOST + 1) }
    };
    let (step_x, step_y) = (step(rect.w), step(rect.d));
    let count = |length: i64, step: i64| length.max(1) / step + i64::from(length.max(1) % step > 0);
    let (columns, rows) = (count(rect.w, step_x), count(rect.d, step_y));
    let span = |at: i64, step: i64, length: i64| {
        let begins = at.saturating_mul(step);
        let ends = begins.saturating_add(step);
        (begins, ends, length.min(ends.saturating_add(longest)) - begins)
    };
    let mut push = |column: i64, row: i64| {
        let (x, right, w) = span(column, step_x, rect.w);
        let (y, back, d) = span(row, step_y, rect.d);
        let part = Region { shelf: region.shelf, rect: Rect { x: rect.x + x, y: rect.y + y, w, d } };
        list.push(Stretch { part, region: number, begins: (x, y), ends: (right, back) });
    };
    // along the longer side
    if rect.w >= rect.d {
        (0..columns).for_each(|column| (0..rows).for_each(|row| push(column, row)));
    } else {
        (0..rows).for_each(|row| (0..columns).for_each(|column| push(column, row)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::whole;

    #[test]
    fn ordinary_shelves_stay_whole() {
        let regions = whole(&[(160, 40), (96, 30)]);
        let stretches = Stretches::new(&regions, 5, &[1, 0]);
        assert_eq!(stretches.list.iter().map(|s| s.part).collect::<Vec<_>>(), regions.to_vec());
        assert_eq!(stretches.at(Along::Scarce, 0), Some(1));
        assert_eq!(stretches.places(1), [1, 0]);
        assert!(!stretches.is_cut());
        assert_eq!(stretches.on(1).collect::<Vec<_>>(), [&regions[1]]);
        assert_eq!(stretches.on(2).count(), 0);
    }

    #[test]
    fn every_spot_on_a_long_bench_lies_in_a_stretch_and_belongs_to_one() {
        let stretches = Stretches::new(&whole(&[(1_003, 7)]), 5, &[0]);
        assert!(stretches.is_cut());
        for (x, w) in (0..=998).map(|x| (x, 5)).chain((0..=1_000).map(|x| (x, 3))) {
            let rect = Rect { x, y: 2, w, d: 5 };
            assert!(stretches.list.iter().any(|s| s.part.rect.holds(rect)), "{rect:?}");
            let owners: Vec<_> = stretches.list.iter().filter(|s| s.owns(rect)).collect();
            assert!(owners.len() == 1 && owners[0].part.rect.holds(rect), "{rect:?} {owners:?}");
            let owner = Stretch::owner(&stretches.list, rect).map(|at| stretches.list[at]);
            assert_eq!(owner.as_ref(), owners.first().copied());
        }
    }

    #[test]
    fn a_shelf_of_nonsense_is_cut_into_few_pieces() {
        let far = 1 << 40;
        let stretches = Stretches::new(&whole(&[(far, far), (0, -3)]), 1, &[0, 1]);
        assert!(stretches.len() <= 512 * 512 + 1);
    }
}
