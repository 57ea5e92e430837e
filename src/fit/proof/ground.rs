//! Ground on which sets of items must find room on one day.
//!
//! A ground is a set of regions, none within another. Whoever may only stand within it competes for
//! it with all others of whom that is true; which grounds to look at is a choice that decides how
//! much can be proven, never whether a proof is right.

use std::collections::BTreeMap;

use crate::fit::problem::{Problem, Rect, Region};

/// Ground for a set of items: no region within another one, by shelf.
pub(in crate::fit) type Ground = Vec<Region>;

/// Sorted by shelf, without regions that lie within others.
pub(in crate::fit) fn maximal(mut regions: Vec<Region>) -> Ground {
    regions.sort_unstable();
    regions.dedup();
    let on_one_shelf = regions.chunk_by(|a, b| a.shelf == b.shelf);
    let kept = on_one_shelf.flat_map(|here| {
        let within = |r: &Region| here.iter().any(|other| other != r && other.rect.holds(r.rect));
        here.iter().filter(move |r| !within(r)).copied()
    });
    kept.collect()
}

/// Whether all of `part` lies within `ground`; both sorted by shelf.
pub(in crate::fit) fn is_within(part: &Ground, ground: &Ground) -> bool {
    let mut rest = ground.as_slice();
    part.iter().all(|region| {
        while rest.first().is_some_and(|first| first.shelf < region.shelf) {
            rest = &rest[1..];
        }
        let here = rest.iter().take_while(|other| other.shelf == region.shelf);
        here.into_iter().any(|other| other.rect.holds(region.rect))
    })
}

/// The ground on one shelf, as far as room on it goes; many shelves are alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::fit) struct Plot {
    /// Sizes of the regions; one item lies in one of them.
    pub(in crate::fit) parts: Vec<(i64, i64)>,
    /// Size of the rectangle around all of them.
    pub(in crate::fit) around: (i64, i64),
    pub(in crate::fit) load: Option<i64>,
    pub(in crate::fit) cover: Option<i128>,
}

/// The shelves of some ground, each kind with its number.
pub(in crate::fit) fn plots(problem: &Problem, ground: &Ground) -> Vec<(Plot, i64)> {
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

/// The smallest rectangle around some regions.
pub(super) fn around(regions: &[Region]) -> Rect {
    let rects = regions.iter().map(|region| region.rect);
    rects.reduce(Rect::around).unwrap_or(Rect { x: 0, y: 0, w: 0, d: 0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};

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
        let ground = maximal(problem.items[0].regions.to_vec());
        let times: Vec<i64> = plots(&problem, &ground).iter().map(|(_, times)| *times).collect();
        assert_eq!(times, [1, 2]);
    }
}
