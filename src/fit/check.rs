//! Accepts or refuses a layout, on its own.
//!
//! It knows the question and the answer from `problem` and nothing of how the answer was found;
//! what it does here by plain comparison, the solver must not be trusted to have done. An item
//! without a spot is no fault: ask [`Layout::has_spot`](super::Layout) for that.

use super::problem::{Days, Item, Layout, Problem, Rect, Spot};

/// Why a layout cannot be. Items and shelves are named by their index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// There must be one list of spots per item.
    Lists { items: usize, lists: usize },
    /// A spot before the item's first day, or on or after its end.
    OutsideDays { item: usize, day: i32 },
    /// The spots of an item aren't in strict order of days.
    OutOfOrder { item: usize, day: i32 },
    /// Not within any of the item's regions, or on a shelf that doesn't exist.
    OutsideRegions { item: usize, day: i32 },
    /// A pinned item stands somewhere else.
    NotAsPinned { item: usize, day: i32 },
    /// Two items on the same ground; `day` is the first one.
    Overlap { a: usize, b: usize, day: i32 },
    /// More grams than the shelf may bear.
    Overload { shelf: usize, day: i32, grams: i64, items: Vec<usize> },
    /// More surface covered than the packing allowance leaves.
    Overcover { shelf: usize, day: i32, cover: i128, items: Vec<usize> },
}

/// An item's ground for some days on which nothing about it changes.
struct Standing {
    item: usize,
    days: Days,
    shelf: usize,
    rect: Rect,
    grams: i64,
}

/// # Errors
/// Every fault that the layout has.
pub fn check(problem: &Problem, layout: &Layout) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    if problem.items.len() != layout.spots.len() {
        let (items, lists) = (problem.items.len(), layout.spots.len());
        faults.push(Fault::Lists { items, lists });
    }
    let mut standing = Vec::new();
    for (number, (item, spots)) in problem.items.iter().zip(&layout.spots).enumerate() {
        check_days(number, item, spots, &mut faults);
        for (at, &(from, spot)) in spots.iter().enumerate() {
            if item.pinned.is_some_and(|pinned| pinned != spot) {
                faults.push(Fault::NotAsPinned { item: number, day: from });
            }
            let until = spots.get(at + 1).map_or(item.days().until, |next| next.0);
            for phase in &item.phases {
                let days = Days::new(from.max(phase.days.from), until.min(phase.days.until));
                if days.from >= days.until {
                    continue;
                }
                let rect = spot.rect(phase);
                let inside = item.regions.iter().any(|r| r.shelf == spot.shelf && r.rect.holds(rect));
                if !inside || spot.shelf >= problem.shelves.len() {
                    faults.push(Fault::OutsideRegions { item: number, day: days.from });
                }
                standing.push(Standing { item: number, days, shelf: spot.shelf, rect, grams: phase.grams });
            }
        }
    }
    for shelf in 0..problem.shelves.len() {
        let here: Vec<&Standing> = standing.iter().filter(|s| s.shelf == shelf).collect();
        check_overlaps(&here, &mut faults);
        check_limits(problem, shelf, &here, &mut faults);
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

fn check_days(number: usize, item: &Item, spots: &[(i32, Spot)], faults: &mut Vec<Fault>) {
    for (at, &(day, _)) in spots.iter().enumerate() {
        if !item.days().contains(day) {
            faults.push(Fault::OutsideDays { item: number, day });
        }
        if spots.get(at + 1).is_some_and(|next| next.0 <= day) {
            faults.push(Fault::OutOfOrder { item: number, day });
        }
    }
}

fn check_overlaps(here: &[&Standing], faults: &mut Vec<Fault>) {
    for (at, a) in here.iter().enumerate() {
        for b in here.iter().skip(at + 1) {
            if a.item != b.item && a.days.overlaps(b.days) && a.rect.overlaps(b.rect) {
                faults.push(Fault::Overlap { a: a.item, b: b.item, day: a.days.from.max(b.days.from) });
            }
        }
    }
}

fn check_limits(problem: &Problem, shelf: usize, here: &[&Standing], faults: &mut Vec<Fault>) {
    let Some(limits) = problem.shelves.get(shelf) else {
        return;
    };
    if limits.load.is_none() && limits.cover.is_none() {
        return;
    }
    // Both sums can only grow on a day on which something comes.
    let mut days: Vec<i32> = here.iter().map(|s| s.days.from).collect();
    days.sort_unstable();
    days.dedup();
    for day in days {
        let today = || here.iter().filter(move |s| s.days.contains(day));
        let items = || today().map(|s| s.item).collect::<Vec<_>>();
        let grams: i128 = today().map(|s| i128::from(s.grams)).sum();
        if limits.load.is_some_and(|load| grams > i128::from(load)) {
            let grams = i64::try_from(grams).unwrap_or(i64::MAX);
            faults.push(Fault::Overload { shelf, day, grams, items: items() });
        }
        let cover = today().fold(0, |sum: i128, s| sum.saturating_add(s.rect.area()));
        if limits.cover.is_some_and(|most| cover > most) {
            faults.push(Fault::Overcover { shelf, day, cover, items: items() });
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::{Phase, Region, RegionSet, Shelf};
    use super::*;

    fn item(from: i32, until: i32, w: i64, d: i64, regions: &RegionSet) -> Item {
        let phases = vec![Phase { days: Days::new(from, until), w, d, grams: 100 }];
        Item { phases, regions: Arc::clone(regions), pinned: None, wish: None }
    }

    const fn at(x: i64, y: i64) -> Spot {
        Spot { shelf: 0, x, y, turned: false }
    }

    /// Two trays beside each other on a 10 × 10 shelf, and a third after them.
    fn good() -> (Problem, Layout) {
        let whole: RegionSet = Arc::from([Region { shelf: 0, rect: Rect { x: 0, y: 0, w: 10, d: 10 } }]);
        let shelves = vec![Shelf { load: Some(200), cover: Some(100) }];
        let items = vec![item(0, 10, 5, 10, &whole), item(0, 10, 5, 10, &whole), item(10, 20, 10, 10, &whole)];
        let layout = Layout { spots: vec![vec![(0, at(0, 0))], vec![(0, at(5, 0))], vec![(10, at(0, 0))]] };
        (Problem { shelves, items }, layout)
    }

    #[track_caller]
    fn refuses(change: impl FnOnce(&mut Problem, &mut Layout), fault: &Fault) {
        let (mut problem, mut layout) = good();
        assert_eq!(check(&problem, &layout), Ok(()));
        change(&mut problem, &mut layout);
        assert_eq!(check(&problem, &layout), Err(vec![fault.clone()]));
    }

    #[test]
    fn a_missing_list_is_refused() {
        refuses(|_, l| drop(l.spots.pop()), &Fault::Lists { items: 3, lists: 2 });
    }

    #[test]
    fn a_spot_outside_its_days_is_refused() {
        refuses(|_, l| l.spots[2] = vec![(9, at(0, 0))], &Fault::OutsideDays { item: 2, day: 9 });
        refuses(|_, l| l.spots[0].push((10, at(0, 0))), &Fault::OutsideDays { item: 0, day: 10 });
    }

    #[test]
    fn two_spots_on_one_day_are_refused() {
        refuses(|_, l| l.spots[0].push((0, at(0, 0))), &Fault::OutOfOrder { item: 0, day: 0 });
    }

    #[test]
    fn standing_over_the_edge_or_on_no_shelf_is_refused() {
        refuses(|_, l| l.spots[1] = vec![(0, at(6, 0))], &Fault::OutsideRegions { item: 1, day: 0 });
        let nowhere = Spot { shelf: 7, ..at(5, 0) };
        refuses(|_, l| l.spots[1] = vec![(0, nowhere)], &Fault::OutsideRegions { item: 1, day: 0 });
    }

    #[test]
    fn a_tray_spaced_out_over_the_edge_is_refused_from_that_day() {
        let grow = |p: &mut Problem, _: &mut Layout| {
            p.items[1].phases[0].days.until = 4;
            p.items[1].phases.push(Phase { days: Days::new(4, 10), w: 6, d: 10, grams: 100 });
            p.shelves[0].cover = None;
        };
        refuses(grow, &Fault::OutsideRegions { item: 1, day: 4 });
    }

    #[test]
    fn leaving_a_pinned_spot_is_refused() {
        let pin = |p: &mut Problem, _: &mut Layout| p.items[0].pinned = Some(at(1, 0));
        refuses(pin, &Fault::NotAsPinned { item: 0, day: 0 });
    }

    #[test]
    fn common_ground_is_refused_on_its_first_day() {
        refuses(
            |p, l| {
                p.items[1].phases[0].days = Days::new(3, 10);
                l.spots[1] = vec![(3, at(4, 0))];
            },
            &Fault::Overlap { a: 0, b: 1, day: 3 },
        );
    }

    #[test]
    fn too_heavy_and_too_full_shelves_are_refused() {
        let items = vec![0, 1];
        refuses(
            |p, _| p.items[1].phases[0].grams = 101,
            &Fault::Overload { shelf: 0, day: 0, grams: 201, items: items.clone() },
        );
        refuses(
            |p, l| {
                p.shelves[0].cover = Some(99);
                l.spots[2].clear();
            },
            &Fault::Overcover { shelf: 0, day: 0, cover: 100, items },
        );
    }

    #[test]
    fn waiting_without_a_spot_and_moving_are_no_faults() {
        let (problem, mut layout) = good();
        layout.spots[0] = vec![];
        layout.spots[1] = vec![(2, at(5, 0)), (6, at(0, 0))];
        assert_eq!(check(&problem, &layout), Ok(()));
        assert_eq!(layout.moves(), 1);
        assert!(!layout.has_spot(1, 1) && layout.has_spot(1, 2));
    }
}
