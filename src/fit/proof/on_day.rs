//! Who wants a spot on a day, those that are alike together.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::ground::{Ground, around, maximal};
use crate::fit::problem::{Item, Phase, Problem, Region, Shelf};

/// Up to so many different region sets, all their unions are looked at; beyond, pairs.
const ALL_UNIONS: usize = 10;
const MOST_PAIRED: usize = 60;

/// Items of one size and weight with the same ground, as they are that day.
#[derive(Debug)]
pub(in crate::fit) struct Alike {
    pub(in crate::fit) least: i64,
    pub(in crate::fit) most: i64,
    pub(in crate::fit) grams: i64,
    pub(in crate::fit) pinned: bool,
    /// Where they fit; a pinned one has only its own ground.
    pub(in crate::fit) regions: Arc<Ground>,
    pub(in crate::fit) items: Vec<usize>,
}

impl Alike {
    pub(in crate::fit) fn area(&self) -> i128 {
        i128::from(self.least) * i128::from(self.most)
    }

    pub(in crate::fit) fn number(&self) -> i64 {
        i64::try_from(self.items.len()).unwrap_or(i64::MAX)
    }
}

#[derive(Debug, Default)]
pub(in crate::fit) struct OnDay {
    /// They fit nowhere.
    pub(in crate::fit) homeless: Vec<usize>,
    /// They are pinned to ground that isn't theirs.
    pub(in crate::fit) misplaced: Vec<usize>,
    pub(in crate::fit) alike: Vec<Alike>,
}

/// Which items of one problem are alike, told apart once for all of its days.
#[derive(Debug, Default)]
pub(super) struct Kin {
    /// By the set's address, which only saves comparing them, by sides and weight.
    numbers: BTreeMap<(usize, [i64; 3]), usize>,
    /// Where those of each number fit; `None` where nowhere.
    grounds: Vec<Option<Arc<Ground>>>,
    /// The number of an item that is the same on all its days.
    of: Vec<Option<usize>>,
}

impl Kin {
    /// The number of an item that was met before, and is the same on all its days.
    fn known(&self, item: usize) -> Option<usize> {
        self.of.get(item).copied().flatten()
    }

    fn number(&mut self, problem: &Problem, at: usize, item: &Item, phase: &Phase) -> usize {
        let (least, most) = (phase.w.min(phase.d), phase.w.max(phase.d));
        let set = Arc::as_ptr(&item.regions).cast::<Region>().addr();
        let next = self.numbers.len();
        let number = *self.numbers.entry((set, [least, most, phase.grams])).or_insert(next);
        if number == next {
            let fits = |r: &&Region| {
                let wide_enough = r.rect.w.min(r.rect.d) >= least && r.rect.w.max(r.rect.d) >= most;
                wide_enough && problem.shelves.get(r.shelf).is_some_and(|shelf| bears(shelf, phase))
            };
            let regions = maximal(item.regions.iter().filter(fits).copied().collect());
            self.grounds.push((least > 0 && !regions.is_empty()).then(|| Arc::new(regions)));
        }
        if let [_] = item.phases.as_slice() {
            if self.of.len() <= at {
                self.of.resize(problem.items.len().max(at + 1), None);
            }
            self.of[at] = Some(number);
        }
        number
    }
}

impl OnDay {
    pub(in crate::fit) fn of(problem: &Problem, day: i32) -> Self {
        let there = problem.items.iter().enumerate().filter(|(_, item)| item.phase_on(day).is_some());
        Self::among(problem, day, &mut Kin::default(), there.map(|(number, _)| number))
    }

    /// Of those of the items that are there, in order.
    pub(super) fn among(problem: &Problem, day: i32, kin: &mut Kin, there: impl Iterator<Item = usize>) -> Self {
        let mut on_day = Self::default();
        // by kin's numbers
        let mut places: Vec<Option<usize>> = Vec::new();
        for number in there {
            let known = kin.known(number).and_then(|kin| places.get(kin).copied().flatten());
            if let Some(alike) = known.and_then(|place| on_day.alike.get_mut(place)) {
                alike.items.push(number);
                continue;
            }
            let Some(item) = problem.items.get(number) else { continue };
            let Some(phase) = item.phase_on(day) else { continue };
            if let Some(spot) = item.pinned {
                let rect = spot.rect(phase);
                let own = item.regions.iter().any(|r| r.shelf == spot.shelf && r.rect.holds(rect));
                let bears = problem.shelves.get(spot.shelf).is_some_and(|shelf| bears(shelf, phase));
                if own && bears && phase.w.min(phase.d) > 0 {
                    let regions = vec![Region { shelf: spot.shelf, rect }];
                    on_day.alike.push(alike(phase, Arc::new(regions), true, number));
                } else {
                    on_day.misplaced.push(number);
                }
                continue;
            }
            let own = kin.number(problem, number, item, phase);
            let Some(regions) = kin.grounds.get(own).and_then(Option::as_ref) else {
                on_day.homeless.push(number);
                continue;
            };
            if places.len() <= own {
                places.resize(own + 1, None);
            }
            if let Some(alike) = places[own].and_then(|place| on_day.alike.get_mut(place)) {
                alike.items.push(number);
                continue;
            }
            places[own] = Some(on_day.alike.len());
            on_day.alike.push(alike(phase, Arc::clone(regions), false, number));
        }
        on_day
    }

    /// How many can't stand whoever else does.
    pub(in crate::fit) fn apart(&self) -> i64 {
        i64::try_from(self.homeless.len() + self.misplaced.len()).unwrap_or(i64::MAX)
    }

    /// All the others.
    pub(in crate::fit) fn items(&self) -> Vec<usize> {
        let mut items: Vec<usize> = self.alike.iter().flat_map(|alike| &alike.items).copied().collect();
        items.sort_unstable();
        items
    }
}

fn alike(phase: &Phase, regions: Arc<Ground>, pinned: bool, number: usize) -> Alike {
    let (least, most) = (phase.w.min(phase.d), phase.w.max(phase.d));
    Alike { least, most, grams: phase.grams, pinned, regions, items: vec![number] }
}

fn bears(shelf: &Shelf, phase: &Phase) -> bool {
    let area = i128::from(phase.w) * i128::from(phase.d);
    shelf.load.is_none_or(|load| phase.grams <= load) && shelf.cover.is_none_or(|cover| area <= cover)
}

/// The grounds to look at: unions of the movable items' own, single shelves, everything.
pub(in crate::fit) fn grounds(on_day: &[Alike]) -> BTreeSet<Ground> {
    let mut sets: Vec<&Arc<Ground>> = on_day.iter().filter(|alike| !alike.pinned).map(|alike| &alike.regions).collect();
    sets.sort_unstable_by_key(|set| Arc::as_ptr(set));
    sets.dedup_by_key(|set| Arc::as_ptr(set));
    let own: BTreeSet<&Ground> = sets.into_iter().map(|set| &**set).collect();
    let own: Vec<&Ground> = own.into_iter().collect();
    let join = |chosen: &[&Ground]| maximal(chosen.iter().flat_map(|g| g.iter().copied()).collect());
    let mut found: BTreeSet<Ground> = own.iter().map(|&ground| ground.clone()).collect();
    if own.len() <= ALL_UNIONS {
        for set in 1_usize..1 << own.len() {
            let chosen: Vec<&Ground> =
                own.iter().enumerate().filter(|(bit, _)| set >> bit & 1 == 1).map(|(_, &ground)| ground).collect();
            found.insert(join(&chosen));
        }
    } else {
        for (at, &a) in own.iter().enumerate().take(MOST_PAIRED) {
            for &b in own.iter().take(at) {
                found.insert(join(&[a, b]));
            }
        }
    }
    let mut whole: BTreeMap<usize, Vec<Region>> = BTreeMap::new();
    let pinned = on_day.iter().filter(|alike| alike.pinned).flat_map(|alike| alike.regions.iter());
    for region in own.iter().flat_map(|ground| ground.iter()).chain(pinned) {
        whole.entry(region.shelf).or_default().push(*region);
    }
    let whole: Vec<Region> =
        whole.into_iter().map(|(shelf, regions)| Region { shelf, rect: around(&regions) }).collect();
    // Only what may stand nowhere else is held against a single shelf.
    let single: BTreeSet<usize> = on_day
        .iter()
        .filter(|alike| alike.regions.iter().all(|r| alike.regions.first().is_some_and(|first| r.shelf == first.shelf)))
        .filter_map(|alike| alike.regions.first().map(|region| region.shelf))
        .collect();
    found.extend(whole.iter().filter(|region| single.contains(&region.shelf)).map(|&region| vec![region]));
    found.insert(whole);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};

    #[test]
    fn an_item_only_counts_regions_into_which_it_fits() {
        let items = vec![tray(0, 1, 5, 3, &whole(&[(4, 4), (3, 5), (5, 2)]))];
        let on_day = OnDay::of(&Problem { shelves: shelves(3), items }, 0);
        assert_eq!(on_day.alike[0].regions.iter().map(|r| r.shelf).collect::<Vec<_>>(), [1]);
    }

    #[test]
    fn items_alike_are_together_and_those_that_fit_nowhere_apart() {
        let shelf = whole(&[(5, 5)]);
        let mut items = vec![tray(0, 1, 2, 3, &shelf), tray(0, 1, 3, 2, &shelf), tray(0, 1, 6, 1, &shelf)];
        items.push(tray(1, 2, 2, 3, &shelf));
        let on_day = OnDay::of(&Problem { shelves: shelves(1), items }, 0);
        assert_eq!((on_day.homeless.as_slice(), on_day.apart(), on_day.items()), (&[2][..], 1, vec![0, 1]));
        assert_eq!(on_day.alike.iter().map(|alike| alike.items.clone()).collect::<Vec<_>>(), [[0, 1]]);
    }
}
