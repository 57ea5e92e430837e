//! What days demand: kinds of trays or pots, and so many of each.

use std::collections::{BTreeMap, BTreeSet};

use crate::fit::problem::{RegionSet, Spot};

/// What is alike in all that matters on one day.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct DemandKind {
    pub w: i64,
    pub d: i64,
    pub grams: i64,
    pub regions: RegionSet,
    pub pinned: Option<Spot>,
    /// Kinds of one set are counted together; less than 32.
    pub set: u8,
    pub counted: Counted,
}

/// What a bound may take one of a kind for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Counted {
    /// Nothing: it need not be there in just that form.
    Never,
    /// So many of that size, with that ground; `grams` are one's.
    As { w: i64, d: i64, grams: i64, regions: RegionSet, times: i64 },
    /// So many round pots, so far apart from middle to middle.
    Round { apart: i64, times: i64 },
}

/// So many of each kind, by the kind's number; in order, none of them zero.
pub type Demand = [(usize, u32)];

impl DemandKind {
    /// Every shelf that it or what it is counted as may stand on.
    fn shelves(&self) -> BTreeSet<usize> {
        let own = self.regions.iter().map(|region| region.shelf).chain(self.pinned.map(|spot| spot.shelf));
        match &self.counted {
            Counted::As { regions, .. } => own.chain(regions.iter().map(|region| region.shelf)).collect(),
            _ => own.collect(),
        }
    }
}

pub(super) fn bit(kind: &DemandKind) -> u32 {
    1 << kind.set.min(31)
}

/// Numbers kinds by part: those that have a shelf in common, and those that these have one with.
pub(super) fn parts(kinds: &[DemandKind], shelves: usize) -> Vec<usize> {
    let mut of_shelf: Vec<usize> = (0..shelves).collect();
    for kind in kinds {
        let own: Vec<usize> = kind.shelves().into_iter().filter_map(|shelf| of_shelf.get(shelf).copied()).collect();
        let Some(&least) = own.iter().min() else { continue };
        of_shelf.iter_mut().filter(|part| own.contains(part)).for_each(|part| *part = least);
    }
    let mut numbers: BTreeMap<Option<usize>, usize> = BTreeMap::new();
    let part = |kind: &DemandKind| {
        let shelf = kind.shelves().into_iter().find_map(|shelf| of_shelf.get(shelf).copied());
        let next = numbers.len();
        *numbers.entry(shelf).or_insert(next)
    };
    kinds.iter().map(part).collect()
}
