//! Items of equal size are of one kind, and lengths are as short as they can be.

use std::collections::BTreeMap;

use crate::fit::count::gcd;
use crate::fit::random::Random;
use crate::fit::work::{Cancel, Cancelled};

/// A full bin, in the parts that fills are counted in.
pub(super) const WHOLE: i64 = 1 << 20;

/// A pair of functions as a test for loads: what each kind takes of a bin, in parts, rounded down.
pub(super) type Gauge = Vec<i64>;

/// A size of item that fits into the bin.
#[derive(Debug)]
pub(super) struct ItemKind {
    pub(super) w: i64,
    pub(super) d: i64,
    pub(super) ways: [(i64, i64); 2],
    pub(super) many: usize,
    pub(super) area: i128,
    /// How much of the bin it takes, in parts, rounded down.
    pub(super) parts: i64,
    /// Drawn; the sum of its members' marks stands for a load.
    pub(super) mark: u128,
}

impl ItemKind {
    /// The one or two ways in which it can lie in the bin.
    pub(super) fn ways(&self) -> &[(i64, i64)] {
        self.ways.get(..self.many).unwrap_or_default()
    }
}

#[derive(Debug)]
pub(super) struct Kinds {
    pub(super) width: i64,
    pub(super) depth: i64,
    /// All lengths are in multiples of this.
    pub(super) unit: i64,
    pub(super) list: Vec<ItemKind>,
    /// So many items are of each kind.
    pub(super) counts: Vec<i64>,
    /// The kind of each item.
    pub(super) of: Vec<u32>,
}

impl Kinds {
    /// Of items that fit into the bin.
    pub(super) fn new(width: i64, depth: i64, items: &[(i64, i64)], cancel: &Cancel) -> Result<Self, Cancelled> {
        let unit = items.iter().fold(0, |unit, &(w, d)| gcd(gcd(unit, w), d)).max(1);
        // Whatever stands in a corner or against others stands at a multiple of the unit.
        let (width, depth) = (width / unit, depth / unit);
        let mut random = Random::new(1);
        let mut known: BTreeMap<(i64, i64), u32> = BTreeMap::new();
        let (list, counts, of) = (Vec::new(), Vec::new(), Vec::with_capacity(items.len()));
        let mut kinds = Self { width, depth, unit, list, counts, of };
        for &(w, d) in items {
            cancel.check()?;
            let (w, d) = (w.max(d) / unit, w.min(d) / unit);
            let next = u32::try_from(kinds.list.len()).unwrap_or(u32::MAX);
            let kind = *known.entry((w, d)).or_insert(next);
            if kind == next {
                kinds.list.push(kinds.kind(w, d, &mut random));
                kinds.counts.push(0);
            }
            kinds.counts[kind as usize] += 1;
            kinds.of.push(kind);
        }
        Ok(kinds)
    }

    fn kind(&self, w: i64, d: i64, random: &mut Random) -> ItemKind {
        let fits = |(w, d): (i64, i64)| w <= self.width && d <= self.depth;
        let (ways, many) = match (fits((w, d)), fits((d, w)) && w != d) {
            (true, true) => ([(w, d), (d, w)], 2),
            (true, false) => ([(w, d); 2], 1),
            (false, _) => ([(d, w); 2], 1),
        };
        let area = i128::from(w) * i128::from(d);
        let parts = i64::try_from(area * i128::from(WHOLE) / self.area()).unwrap_or(WHOLE);
        let mark = (0..8).fold(0_u128, |mark, _| mark << 16 | random.below(1 << 16) as u128);
        ItemKind { w, d, ways, many, area, parts, mark }
    }

    /// Counts what a kind shuts off, by the gauges, beside what it covers.
    ///
    /// Loads are weighed by it, and none that fits weighs more than the bin.
    pub(super) fn weigh(&mut self, gauges: &[Gauge]) {
        let many = i64::try_from(gauges.len()).unwrap_or(i64::MAX);
        for (n, kind) in self.list.iter_mut().enumerate() {
            let shut_off: i64 = gauges.iter().map(|gauge| gauge[n]).sum();
            if let Some(mean) = shut_off.checked_div(many) {
                kind.parts = (7 * kind.parts + 3 * mean) / 10;
            }
        }
    }

    pub(super) fn at(&self, kind: u32) -> &ItemKind {
        &self.list[kind as usize]
    }

    /// Of the bin.
    pub(super) fn area(&self) -> i128 {
        i128::from(self.width) * i128::from(self.depth)
    }

    /// Whether two kinds can lie beside each other in one bin.
    pub(super) fn can_share(&self, a: u32, b: u32) -> bool {
        self.at(a)
            .ways()
            .iter()
            .any(|&(aw, ad)| self.at(b).ways().iter().any(|&(bw, bd)| aw + bw <= self.width || ad + bd <= self.depth))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_become_small_and_turned_sizes_one_kind() {
        let kinds = Kinds::new(1_000, 607, &[(40, 60), (60, 40), (600, 620)], &Cancel::default()).unwrap();
        assert_eq!((kinds.width, kinds.depth, kinds.unit), (50, 30, 20));
        assert_eq!(kinds.of, [0, 0, 1]);
        assert_eq!(kinds.at(0).ways(), [(3, 2), (2, 3)]);
        assert_eq!(kinds.at(1).ways(), [(31, 30)]);
        assert!(kinds.can_share(0, 1) && !kinds.can_share(1, 1));
    }
}
