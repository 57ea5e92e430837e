//! The dearer bound: prices on the fillings of shelves, for crowds of a few sizes that share them.

use std::collections::BTreeSet;

use crate::fit::problem::{Days, Item, Phase, Problem};
use crate::fit::proof::on_day::Today;
use crate::fit::proof::prices::Market;
use crate::fit::work::Cancel;

use super::{Counted, Crowd, Crowds, Found};

/// Larger crowds are left to the plain bounds.
const MOST: usize = 400;

impl Crowds {
    /// Kinds that are proven too many to stand together; empty where nothing is proven.
    pub(super) fn too_many(&self, crowd: &Crowd, found: &mut Found) -> BTreeSet<usize> {
        let mut problem = Problem { shelves: self.problem.shelves.clone(), items: Vec::new() };
        let mut kinds = Vec::new();
        for &(number, wanted) in crowd {
            let Some(kind) = self.kinds.get(number) else { continue };
            let Counted::As { w, d, grams, regions, times } = &kind.counted else { continue };
            let phases = vec![Phase { days: Days::new(0, 1), w: *w, d: *d, grams: *grams }];
            let pinned = kind.pinned.filter(|_| (*w, *d) == (kind.w, kind.d));
            let item = Item { phases, regions: regions.clone(), pinned, wish: None };
            let all = usize::try_from(*times).unwrap_or(MOST).saturating_mul(wanted as usize);
            if kinds.len().saturating_add(all) > MOST {
                return BTreeSet::new();
            }
            problem.items.extend(std::iter::repeat_n(item, all));
            kinds.extend(std::iter::repeat_n(number, all));
        }
        let today = Today::of(&problem, 0);
        let cancel = Cancel::default();
        let market = Market::new(&problem, &today.alike, &mut found.0, &cancel);
        let bound = market.and_then(|market| market.prove(0, &cancel).0);
        bound.into_iter().flat_map(|bound| bound.items).filter_map(|item| kinds.get(item).copied()).collect()
    }
}
