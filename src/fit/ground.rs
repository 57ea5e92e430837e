//! Ground on which sets of items must find room on one day.
//!
//! A ground is a set of regions, none within another. Whoever may only stand within it competes for
//! it with all others of whom that is true; which grounds to look at is a choice that decides how
//! much can be proven, never whether a proof is right.

use std::collections::{BTreeMap, BTreeSet};

use super::problem::{Problem, Rect, Region};

/// Up to so many different region sets, all their unions are looked at; beyond, pairs.
const ALL_UNIONS: usize = 10;
const MOST_PAIRED: usize = 60;

/// An item as it is that day.
pub(super) struct Thing {
    pub(super) item: usize,
    pub(super) least: i64,
    pub(super) most: i64,
    pub(super) grams: i64,
    pub(super) pinned: bool,
    /// Where it fits; a pinned one has only its own ground.
    pub(super) regions: Vec<Region>,
}

/// Ground for a set of items: no region within another one, by shelf.
pub(super) type Ground = Vec<Region>;

/// `None` if the item fits nowhere that day.
pub(super) fn thing(problem: &Problem, number: usize, day: i32) -> Option<Thing> {
    let item = problem.items.get(number)?;
    let phase = item.phase_on(day)?;
    let (least, most) = (phase.w.min(phase.d), phase.w.max(phase.d));
    if least <= 0 {
        return None;
    }
    let area = i128::from(least) * i128::from(most);
    let bears = |shelf: usize| {
        problem.shelves.get(shelf).is_some_and(|shelf| {
            shelf.load.is_none_or(|load| phase.grams <= load) && shelf.cover.is_none_or(|cover| area <= cover)
        })
    };
    let regions: Vec<Region> = if let Some(spot) = item.pinned {
        let rect = spot.rect(phase);
        let own = item.regions.iter().any(|r| r.shelf == spot.shelf && r.rect.holds(rect));
        (own && bears(spot.shelf)).then_some(Region { shelf: spot.shelf, rect }).into_iter().collect()
    } else {
        let fits = |r: &&Region| r.rect.w.min(r.rect.d) >= least && r.rect.w.max(r.rect.d) >= most && bears(r.shelf);
        maximal(item.regions.iter().filter(fits).copied().collect())
    };
    let pinned = item.pinned.is_some();
    (!regions.is_empty()).then_some(Thing { item: number, least, most, grams: phase.grams, pinned, regions })
}

/// Sorted by shelf, without regions that lie within others.
fn maximal(mut regions: Vec<Region>) -> Ground {
    regions.sort_unstable();
    regions.dedup();
    let within = |r: &Region| regions.iter().any(|o| o != r && o.shelf == r.shelf && o.rect.holds(r.rect));
    regions.iter().filter(|r| !within(r)).copied().collect()
}

/// The ground on one shelf, as far as room on it goes; many shelves are alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Plot {
    /// Sizes of the regions; one item lies in one of them.
    pub(super) parts: Vec<(i64, i64)>,
    /// Size of the rectangle around all of them.
    pub(super) around: (i64, i64),
    pub(super) load: Option<i64>,
    pub(super) cover: Option<i128>,
}

/// The shelves of some ground, each kind with its number.
pub(super) fn plots(problem: &Problem, ground: &Ground) -> Vec<(Plot, i64)> {
    let mut found: BTreeMap<Plot, i64> = BTreeMap::new();
    for regions in ground.chunk_by(|a, b| a.shelf == b.shelf) {
        let Some(shelf) = regions.first().and_then(|region| problem.shelves.get(region.shelf)) else {
            continue;
        };
        let around = around(regions);
        let plot = Plot {
            parts: regions.iter().map(|region| (region.rect.w, region.rect.d)).collect(),
            around: (around.w, around.d),
            load: shelf.load,
            cover: shelf.cover,
        };
        *found.entry(plot).or_insert(0) += 1;
    }
    found.into_iter().collect()
}

/// The grounds to look at: unions of the movable items' own, single shelves, everything.
pub(super) fn grounds(things: &[Thing]) -> BTreeSet<Ground> {
    let own: BTreeSet<&Ground> = things.iter().filter(|t| !t.pinned).map(|t| &t.regions).collect();
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
    for region in things.iter().flat_map(|t| &t.regions) {
        whole.entry(region.shelf).or_default().push(*region);
    }
    let whole: Vec<Region> =
        whole.into_iter().map(|(shelf, regions)| Region { shelf, rect: around(&regions) }).collect();
    found.extend(whole.iter().map(|&region| vec![region]));
    found.insert(whole);
    found
}

/// The smallest rectangle around some regions.
fn around(regions: &[Region]) -> Rect {
    let x = regions.iter().map(|r| r.rect.x).min().unwrap_or(0);
    let y = regions.iter().map(|r| r.rect.y).min().unwrap_or(0);
    let right = regions.iter().map(|r| r.rect.right()).max().unwrap_or(0);
    let back = regions.iter().map(|r| r.rect.back()).max().unwrap_or(0);
    Rect { x, y, w: right.saturating_sub(x), d: back.saturating_sub(y) }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{shelves, tray, whole};
    use super::*;

    const fn region(x: i64, w: i64) -> Region {
        Region { shelf: 0, rect: Rect { x, y: 0, w, d: 5 } }
    }

    #[test]
    fn regions_within_others_are_left_out() {
        assert_eq!(maximal(vec![region(2, 3), region(0, 5), region(4, 3), region(0, 5)]), [region(0, 5), region(4, 3)]);
        assert_eq!(around(&[region(0, 5), region(4, 3)]), Rect { x: 0, y: 0, w: 7, d: 5 });
    }

    #[test]
    fn alike_shelves_are_looked_at_once() {
        let items = vec![tray(0, 1, 2, 2, &whole(&[(5, 5), (5, 5), (4, 5)]))];
        let problem = Problem { shelves: shelves(3), items };
        let thing = thing(&problem, 0, 0).expect("it fits");
        let times: Vec<i64> = plots(&problem, &thing.regions).iter().map(|(_, times)| *times).collect();
        assert_eq!(times, [1, 2]);
    }

    #[test]
    fn an_item_only_counts_regions_into_which_it_fits() {
        let items = vec![tray(0, 1, 5, 3, &whole(&[(4, 4), (3, 5), (5, 2)]))];
        let thing = thing(&Problem { shelves: shelves(3), items }, 0, 0).expect("it fits turned");
        assert_eq!(thing.regions.iter().map(|r| r.shelf).collect::<Vec<_>>(), [1]);
    }
}
