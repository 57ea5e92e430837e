//! The dearer bound: prices on the patterns of shelves, for demands of a few sizes that share them.

use std::collections::BTreeSet;

use crate::fit::problem::{Days, Item, Phase, Problem, Shelf};
use crate::fit::proof::on_day::OnDay;
use crate::fit::proof::patterns::PatternBook;
use crate::fit::proof::prices::Market;
use crate::fit::work::Cancel;

use super::kinds::{Counted, Demand, DemandKind};

/// Larger demands are left to the plain bounds.
const MOST: usize = 400;

/// Patterns of shelves found on the way, for one thread; they save time and change no answer.
#[derive(Debug, Default)]
pub struct FoundPatterns(PatternBook);

/// Kinds that are proven too many to stand together; empty where nothing is proven.
pub(super) fn too_many(
    shelves: &[Shelf],
    kinds: &[DemandKind],
    demand: &Demand,
    found: &mut FoundPatterns,
) -> BTreeSet<usize> {
    let mut problem = Problem { shelves: shelves.to_vec(), items: Vec::new() };
    let mut kind_of = Vec::new();
    for &(number, wanted) in demand {
        let Some(kind) = kinds.get(number) else { continue };
        let Counted::As { w, d, grams, regions, times } = &kind.counted else { continue };
        let phases = vec![Phase { days: Days::new(0, 1), w: *w, d: *d, grams: *grams }];
        let pinned = kind.pinned.filter(|_| (*w, *d) == (kind.w, kind.d));
        let item = Item { phases, regions: regions.clone(), pinned, wish: None };
        let all = usize::try_from(*times).unwrap_or(MOST).saturating_mul(wanted as usize);
        if kind_of.len().saturating_add(all) > MOST {
            return BTreeSet::new();
        }
        problem.items.extend(std::iter::repeat_n(item, all));
        kind_of.extend(std::iter::repeat_n(number, all));
    }
    let on_day = OnDay::of(&problem, 0);
    let cancel = Cancel::default();
    let market = Market::new(&problem, &on_day.alike, &mut found.0, &cancel);
    let bound = market.and_then(|market| market.prove(0, |_, _| false, &cancel).0);
    bound.into_iter().flat_map(|bound| bound.items).filter_map(|item| kind_of.get(item).copied()).collect()
}
