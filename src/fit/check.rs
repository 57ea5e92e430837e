//! Accepts or refuses a layout, on its own.
//!
//! It knows the question from `problem`, the answer from `answer` and nothing of how the answer was found;
//! what it does here by plain comparison, the solver must not be trusted to have done. An item
//! without a spot is no fault: ask [`Layout::has_spot`](super::Layout) for that.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::answer::Layout;
use super::problem::{Days, Item, Problem, Rect, Region, RegionSet, Spot};
use super::work::{Cancel, Cancelled};

/// So many clashes are told, and so many days of one shelf; more would help nobody.
const MOST_CLASHES: usize = 1_000;
const MOST_DAYS: usize = 100;

/// No more than so many on one shelf are gone through day by day, and not halved.
const MOST_SWEPT: usize = 96;

/// More surface than the earth has; nothing covers more, and sums of it can't overflow.
const EARTH: i128 = 1 << 100;

/// Why a layout cannot be. Items and shelves are named by their index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// There must be one list of spots per item.
    Lists { items: usize, lists: usize },
    /// A spot before the item's first day, or on or after its end.
    OutsideDays { item: usize, day: i32 },
    /// The spots of an item aren't in strict order of days.
    OutOfOrder { item: usize, day: i32 },
    /// Not within any of the item's regions, on a shelf that doesn't exist, or without extent.
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

/// Where an item's ground begins and ends: along the days, the shelf's width and its depth.
type Reach = [(i64, i64); 3];

/// An item's ground for some days on which nothing about it changes.
struct Footprint {
    item: usize,
    days: Days,
    shelf: usize,
    rect: Rect,
    grams: i64,
}

impl Footprint {
    const fn reach(&self) -> Reach {
        [
            (self.days.from as i64, self.days.until as i64),
            (self.rect.x, self.rect.right()),
            (self.rect.y, self.rect.back()),
        ]
    }
}

/// # Errors
/// The faults that the layout has: all of them, unless there are hundreds on one shelf.
pub fn check(problem: &Problem, layout: &Layout) -> Result<(), Vec<Fault>> {
    match faults(problem, layout, &Cancel::default()) {
        Ok(faults) if !faults.is_empty() => Err(faults),
        _ => Ok(()),
    }
}

/// What [`check`] finds.
///
/// # Errors
/// [`Cancelled`] once nobody wants to know any more.
pub(super) fn faults(problem: &Problem, layout: &Layout, cancel: &Cancel) -> Result<Vec<Fault>, Cancelled> {
    let mut faults = Vec::new();
    if problem.items.len() != layout.spots.len() {
        let (items, lists) = (problem.items.len(), layout.spots.len());
        faults.push(Fault::Lists { items, lists });
    }
    let mut standing = Vec::new();
    let mut grounds = Grounds::default();
    for (number, (item, spots)) in problem.items.iter().zip(&layout.spots).enumerate() {
        cancel.check()?;
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
                let inside = grounds.on(&item.regions, spot.shelf).iter().any(|r| r.rect.holds(rect));
                let extends = rect.w > 0 && rect.d > 0;
                if !inside || !extends || spot.shelf >= problem.shelves.len() {
                    faults.push(Fault::OutsideRegions { item: number, day: days.from });
                }
                if !extends {
                    continue;
                }
                standing.push(Footprint { item: number, days, shelf: spot.shelf, rect, grams: phase.grams });
            }
        }
    }
    standing.sort_by_cached_key(|one| one.shelf);
    for here in standing.chunk_by(|a, b| a.shelf == b.shelf) {
        let here: Vec<&Footprint> = here.iter().collect();
        check_overlaps(&here, &mut faults, cancel)?;
        check_limits(problem, &here, &mut faults);
    }
    Ok(faults)
}

/// Region sets by shelf; many items share one of thousands of shelves.
#[derive(Default)]
struct Grounds(BTreeMap<usize, Vec<Region>>);

impl Grounds {
    /// The regions of a set on one shelf. Sets are told apart by their address: the problem holds them.
    fn on(&mut self, set: &RegionSet, shelf: usize) -> &[Region] {
        let by_shelf = self.0.entry(Arc::as_ptr(set).cast::<Region>().addr()).or_insert_with(|| {
            let mut regions = set.to_vec();
            regions.sort_unstable();
            regions
        });
        let first = by_shelf.partition_point(|region| region.shelf < shelf);
        let end = by_shelf.partition_point(|region| region.shelf <= shelf);
        by_shelf.get(first..end).unwrap_or_default()
    }
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

fn check_overlaps(here: &[&Footprint], faults: &mut Vec<Fault>, cancel: &Cancel) -> Result<(), Cancelled> {
    let mut found = Vec::new();
    clashes(here, [(i64::MIN, i64::MAX); 3], &mut found, cancel)?;
    found.sort_unstable();
    faults.extend(found.into_iter().map(|(a, b, day)| Fault::Overlap { a, b, day }));
    Ok(())
}

/// Pairs with common ground on a common day whose first common point lies in a part of the shelf's
/// days and ground: halved again and again, as long as that sets things apart.
fn clashes(
    here: &[&Footprint],
    part: Reach,
    found: &mut Vec<(usize, usize, i32)>,
    cancel: &Cancel,
) -> Result<(), Cancelled> {
    let halves = |axis: usize| {
        let along = |one: &&Footprint| one.reach().get(axis).copied().unwrap_or_default();
        let mut starts: Vec<i64> = here.iter().map(|one| along(one).0).collect();
        let (_, &mut middle, _) = starts.select_nth_unstable(here.len() / 2);
        let low: Vec<&Footprint> = here.iter().filter(|one| along(one).0 < middle).copied().collect();
        let high: Vec<&Footprint> = here.iter().filter(|one| along(one).1 > middle).copied().collect();
        (low.len().max(high.len()), axis, middle, low, high)
    };
    let best = if here.len() <= MOST_SWEPT { None } else { (0..3).map(halves).min_by_key(|halves| halves.0) };
    if let Some((most, axis, middle, low, high)) = best
        && most * 10 < here.len() * 9
    {
        let (mut before, mut after) = (part, part);
        if let (Some(before), Some(after)) = (before.get_mut(axis), after.get_mut(axis)) {
            before.1 = before.1.min(middle);
            after.0 = after.0.max(middle);
        }
        clashes(&low, before, found, cancel)?;
        return clashes(&high, after, found, cancel);
    }
    let mut by_day = here.to_vec();
    by_day.sort_unstable_by_key(|one| (one.days.from, one.item));
    for (at, a) in by_day.iter().enumerate() {
        cancel.check()?;
        for b in by_day.iter().skip(at + 1).take_while(|b| b.days.from < a.days.until) {
            if found.len() >= MOST_CLASHES {
                return Ok(());
            }
            if a.item == b.item || !a.rect.overlaps(b.rect) || !a.days.overlaps(b.days) {
                continue;
            }
            // a pair that reaches into several parts is told in one of them
            let first = a.reach().into_iter().zip(b.reach()).map(|(a, b)| a.0.max(b.0));
            if first.zip(part).all(|(first, (from, until))| from <= first && first < until) {
                found.push((a.item.min(b.item), a.item.max(b.item), a.days.from.max(b.days.from)));
            }
        }
    }
    Ok(())
}

fn check_limits(problem: &Problem, here: &[&Footprint], faults: &mut Vec<Fault>) {
    let Some((shelf, limits)) = here.first().and_then(|one| Some((one.shelf, problem.shelves.get(one.shelf)?))) else {
        return;
    };
    if limits.load.is_none() && limits.cover.is_none() {
        return;
    }
    let area = |one: &Footprint| one.rect.area().clamp(0, EARTH);
    let mut changes: Vec<(i32, i128, i128)> = Vec::new();
    for one in here {
        changes.push((one.days.from, i128::from(one.grams), area(one)));
        changes.push((one.days.until, -i128::from(one.grams), -area(one)));
    }
    changes.sort_unstable();
    let (mut grams, mut cover) = (0, 0);
    let mut told = 0;
    for today in changes.chunk_by(|a, b| a.0 == b.0) {
        grams += today.iter().map(|change| change.1).sum::<i128>();
        cover += today.iter().map(|change| change.2).sum::<i128>();
        // Who goes frees load; both are told only on days on which something comes.
        let Some(day) = today.first().map(|change| change.0).filter(|_| today.iter().any(|change| change.2 > 0)) else {
            continue;
        };
        let items = || here.iter().filter(|one| one.days.contains(day)).map(|one| one.item).collect::<Vec<_>>();
        if limits.load.is_some_and(|load| grams > i128::from(load)) && told < MOST_DAYS {
            told += 1;
            let grams = i64::try_from(grams).unwrap_or(i64::MAX);
            faults.push(Fault::Overload { shelf, day, grams, items: items() });
        }
        if limits.cover.is_some_and(|most| cover > most) && told < MOST_DAYS {
            told += 1;
            faults.push(Fault::Overcover { shelf, day, cover, items: items() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::{Phase, Shelf};

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
    fn an_item_without_extent_stands_nowhere() {
        let flat = |p: &mut Problem, _: &mut Layout| p.items[1].phases[0].w = 0;
        refuses(flat, &Fault::OutsideRegions { item: 1, day: 0 });
    }

    /// Halving the ground finds what comparing all with all finds.
    #[test]
    fn among_many_trays_each_clash_is_told_once() {
        let whole: RegionSet = Arc::from([Region { shelf: 0, rect: Rect { x: 0, y: 0, w: 400, d: 60 } }]);
        let mut random = crate::fit::random::Random::new(5);
        let (mut items, mut spots) = (Vec::new(), Vec::new());
        for _ in 0..300 {
            let from = i32::try_from(random.below(40)).unwrap();
            let long = |n: usize| i64::try_from(n).unwrap();
            let (w, d) = (1 + long(random.below(12)), 1 + long(random.below(6)));
            items.push(item(from, from + 1 + i32::try_from(random.below(9)).unwrap(), w, d, &whole));
            spots.push(vec![(from, at(long(random.below(388)), long(random.below(54))))]);
        }
        let mut clashing = Vec::new();
        for (a, one) in items.iter().enumerate() {
            for (b, other) in items.iter().enumerate().skip(a + 1) {
                let rect = |n: usize, item: &Item| spots[n][0].1.rect(&item.phases[0]);
                let day = one.days().from.max(other.days().from);
                if one.days().overlaps(other.days()) && rect(a, one).overlaps(rect(b, other)) {
                    clashing.push(Fault::Overlap { a, b, day });
                }
            }
        }
        assert!(clashing.len() > 20);
        let problem = Problem { shelves: vec![Shelf::default()], items };
        assert_eq!(check(&problem, &Layout { spots }), Err(clashing));
    }

    #[test]
    fn a_heap_of_thousands_is_refused_without_naming_every_pair() {
        let (mut problem, mut layout) = good();
        problem.items = vec![problem.items[0].clone(); 5_000];
        layout.spots = vec![layout.spots[0].clone(); 5_000];
        let faults = check(&problem, &layout).expect_err("a heap");
        assert!(faults.len() <= MOST_CLASHES + MOST_DAYS);
        assert!(faults.contains(&Fault::Overlap { a: 0, b: 1, day: 0 }));
        assert!(faults.iter().any(|fault| matches!(fault, Fault::Overload { grams: 500_000, .. })));
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
