//! Proof that a day cannot be packed, however its items are turned or moved about.
//!
//! Every bound here holds for a set of items and for all the ground that any of them may stand on:
//! if more items of the set want a spot than the ground can hold, the day is a crunch. Pinned items
//! count only with their own ground. No bound says nothing: the day may or may not be packable.
//! Sets are found as unions of the items' own region sets, all of them up to a fixed number, in the
//! manner of Hall's theorem.

use std::collections::{BTreeMap, BTreeSet};

use super::count::{at_most, count};
use super::problem::{Problem, Rect, Region};

/// Up to so many different region sets, all their unions are looked at; beyond, pairs.
const ALL_UNIONS: usize = 10;
const MOST_PAIRED: usize = 60;
/// Sides from which base rectangles are made, each way.
const MOST_SIDES: usize = 8;

/// Why no layout of a day exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BoundKind {
    /// The items fit into none of their regions, however turned.
    NoRegion,
    /// Pinned items overlap, or are pinned to ground that isn't theirs.
    PinClash,
    /// Each of the items covers at least one `w` × `d`, and the ground holds fewer of those.
    Count { w: i64, d: i64 },
    /// The items are larger than the ground.
    Area,
    /// The items are heavier than the shelves may bear.
    Load,
    /// The items cover more than the packing allowance leaves.
    Cover,
}

/// A set of items of one day of which not all can stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    pub kind: BoundKind,
    pub items: Vec<usize>,
    /// At most so many of `items` can stand that day.
    pub held: i64,
}

impl Bound {
    /// At least so many of the items can't stand; more than 0.
    pub fn short(&self) -> i64 {
        i64::try_from(self.items.len()).unwrap_or(i64::MAX).saturating_sub(self.held)
    }

    fn rank(&self) -> u8 {
        match self.kind {
            BoundKind::NoRegion => 0,
            BoundKind::PinClash => 1,
            BoundKind::Count { .. } => 2,
            BoundKind::Area => 3,
            BoundKind::Load => 4,
            BoundKind::Cover => 5,
        }
    }
}

/// The bound that proves the greatest shortage on a day; of equal ones, the simplest kind with the
/// fewest items. `None` if no bound proves any.
pub fn prove_day(problem: &Problem, day: i32) -> Option<Bound> {
    Prover::default().day(problem, day).bound
}

/// What is proven about a day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct DayProof {
    pub(super) bound: Option<Bound>,
    /// At least so many items can't stand; bounds on items apart from each other add up.
    pub(super) short: i64,
}

/// Proves days of one problem; keeps what it counted.
#[derive(Debug, Default)]
pub(super) struct Prover {
    /// By ground and base rectangle.
    counts: BTreeMap<[i64; 4], i64>,
    copies: BTreeMap<[i64; 4], i64>,
}

/// An item as it is that day.
struct Thing {
    item: usize,
    least: i64,
    most: i64,
    grams: i64,
    pinned: bool,
    /// Where it fits; a pinned one has only its own ground.
    regions: Vec<Region>,
}

/// Ground for a set of items: no region within another one, by shelf.
type Ground = Vec<Region>;

impl Prover {
    pub(super) fn day(&mut self, problem: &Problem, day: i32) -> DayProof {
        let mut homeless = Vec::new();
        let mut misplaced = Vec::new();
        let mut things = Vec::new();
        for (item, wants) in problem.items.iter().enumerate() {
            if wants.phase_on(day).is_none() {
                continue;
            }
            match thing(problem, item, day) {
                Some(thing) => things.push(thing),
                None if wants.pinned.is_some() => misplaced.push(item),
                None => homeless.push(item),
            }
        }
        let mut best = Strongest(None);
        let apart = homeless.len() + misplaced.len();
        best.offer(BoundKind::NoRegion, homeless, 0);
        let clash = pin_clash(&things, &misplaced);
        let clashes = clash.0.len() - misplaced.len() - clash.1;
        best.offer(BoundKind::PinClash, clash.0, i64::try_from(clash.1).unwrap_or(i64::MAX));

        let mut crowded = Strongest(None);
        for ground in grounds(&things) {
            self.ground(problem, &things, &ground, &mut crowded);
        }
        let short = crowded.0.as_ref().map_or(0, Bound::short).max(i64::try_from(clashes).unwrap_or(0));
        if let Some(bound) = crowded.0 {
            best.offer(bound.kind, bound.items, bound.held);
        }
        DayProof { bound: best.0, short: short + i64::try_from(apart).unwrap_or(0) }
    }

    /// All bounds for the items that can only stand on some ground.
    fn ground(&mut self, problem: &Problem, things: &[Thing], ground: &Ground, best: &mut Strongest) {
        let inside = |thing: &&Thing| {
            thing.regions.iter().all(|r| ground.iter().any(|g| g.shelf == r.shelf && g.rect.holds(r.rect)))
        };
        let held: Vec<&Thing> = things.iter().filter(inside).collect();
        if held.is_empty() {
            return;
        }
        let by_shelf: Vec<&[Region]> = ground.chunk_by(|a, b| a.shelf == b.shelf).collect();
        sum_bounds(problem, &held, &by_shelf, best);
        let sides = |pick: fn(&Thing) -> i64, halves: bool| {
            let mut sides: BTreeSet<i64> = held.iter().map(|thing| pick(thing)).collect();
            if halves {
                sides.extend(held.iter().map(|thing| pick(thing) / 2).filter(|&half| half > 0));
            }
            thin_out(&sides.into_iter().collect::<Vec<_>>())
        };
        let longs = sides(|thing| thing.most, true);
        for a in sides(|thing| thing.least, false) {
            for &b in &longs {
                self.count_bound(problem, &held, &by_shelf, (a.min(b), a.max(b)), best);
            }
        }
    }

    /// So many bases lie within the items, and so many fit on the ground.
    fn count_bound(
        &mut self,
        problem: &Problem,
        held: &[&Thing],
        by_shelf: &[&[Region]],
        (a, b): (i64, i64),
        best: &mut Strongest,
    ) {
        let mut covering: Vec<(i64, &Thing)> =
            held.iter().map(|&thing| (self.copies_in(thing, a, b), thing)).filter(|&(copies, _)| copies > 0).collect();
        let wanted: i64 = covering.iter().map(|(copies, _)| *copies).sum();
        let mut room: i64 = 0;
        for regions in by_shelf {
            room = room.saturating_add(self.room_on(problem, regions, &covering, a, b));
            if room >= wanted {
                return;
            }
        }
        // As many items as possible: those that cover the fewest bases first.
        covering.sort_by_key(|(copies, thing)| (*copies, thing.item));
        let mut stand = 0;
        for (copies, _) in &covering {
            if *copies > room {
                break;
            }
            room -= copies;
            stand += 1;
        }
        let mut items: Vec<usize> = covering.iter().map(|(_, thing)| thing.item).collect();
        items.sort_unstable();
        best.offer(BoundKind::Count { w: a, d: b }, items, stand);
    }

    /// Bases that stand in for the item: a packing of them lies within it.
    fn copies_in(&mut self, thing: &Thing, a: i64, b: i64) -> i64 {
        if thing.least < a || thing.most < b {
            return 0;
        }
        let area = i128::from(thing.least) * i128::from(thing.most);
        if area < 2 * i128::from(a) * i128::from(b) {
            return 1;
        }
        let make = || count(thing.most, thing.least, a, b).most;
        *self.copies.entry([thing.least, thing.most, a, b]).or_insert_with(make)
    }

    fn room_on(&mut self, problem: &Problem, regions: &[Region], covering: &[(i64, &Thing)], a: i64, b: i64) -> i64 {
        let mut fits = |rect: Rect| {
            let make = || at_most(rect.w, rect.d, a, b);
            *self.counts.entry([rect.w, rect.d, a, b]).or_insert_with(make)
        };
        let apart = regions.iter().fold(0_i64, |sum, region| sum.saturating_add(fits(region.rect)));
        let mut room = apart.min(fits(around(regions)));
        let Some(shelf) = regions.first().and_then(|region| problem.shelves.get(region.shelf)) else {
            return 0;
        };
        if let Some(cover) = shelf.cover {
            let by_cover = cover.max(0) / (i128::from(a) * i128::from(b));
            room = room.min(i64::try_from(by_cover).unwrap_or(i64::MAX));
        }
        if let Some(load) = shelf.load {
            // No item brings more bases a gram than the lightest for its bases.
            let by_load = covering
                .iter()
                .map(|(copies, thing)| match thing.grams {
                    grams if grams > 0 => i128::from(load.max(0)) * i128::from(*copies) / i128::from(grams),
                    _ => i128::MAX,
                })
                .max()
                .unwrap_or(0);
            room = room.min(i64::try_from(by_load).unwrap_or(i64::MAX));
        }
        room
    }
}

/// Keeps the bound with the greatest shortage.
struct Strongest(Option<Bound>);

impl Strongest {
    fn offer(&mut self, kind: BoundKind, items: Vec<usize>, held: i64) {
        let bound = Bound { kind, items, held };
        if bound.short() <= 0 {
            return;
        }
        let better = |old: &Bound| {
            let order = |bound: &Bound| (-bound.short(), bound.rank(), bound.items.len());
            order(&bound) < order(old)
        };
        if self.0.as_ref().is_none_or(better) {
            self.0 = Some(bound);
        }
    }
}

/// `None` if the item fits nowhere that day.
fn thing(problem: &Problem, number: usize, day: i32) -> Option<Thing> {
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

/// Items of which so many, at most, can stand: pairs without a common member lose one each.
fn pin_clash(things: &[Thing], misplaced: &[usize]) -> (Vec<usize>, usize) {
    let mut items = misplaced.to_vec();
    let mut pairs = 0;
    let mut free: Vec<(usize, Region)> =
        things.iter().filter(|t| t.pinned).filter_map(|t| Some((t.item, *t.regions.first()?))).collect();
    while let Some((item, region)) = free.pop() {
        let clash = free.iter().position(|(_, r)| r.shelf == region.shelf && r.rect.overlaps(region.rect));
        if let Some(other) = clash {
            items.push(item);
            items.push(free.remove(other).0);
            pairs += 1;
        }
    }
    items.sort_unstable();
    (items, pairs)
}

/// The grounds to look at: unions of the movable items' own, single shelves, everything.
fn grounds(things: &[Thing]) -> BTreeSet<Ground> {
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

/// Area, load and cover: what the items have in sum against what the ground has.
fn sum_bounds(problem: &Problem, held: &[&Thing], by_shelf: &[&[Region]], best: &mut Strongest) {
    let (mut ground, mut cover, mut load) = (0_i128, 0_i128, Some(0_i128));
    let mut allowance = false;
    for regions in by_shelf {
        let Some(shelf) = regions.first().and_then(|region| problem.shelves.get(region.shelf)) else {
            continue;
        };
        let apart: i128 = regions.iter().map(|region| region.rect.area()).sum();
        let area = apart.min(around(regions).area());
        ground += area;
        allowance |= shelf.cover.is_some_and(|most| most < area);
        cover += shelf.cover.map_or(area, |most| most.clamp(0, area));
        load = load.zip(shelf.load).map(|(sum, load)| sum + i128::from(load.max(0)));
    }
    let area = |thing: &Thing| i128::from(thing.least) * i128::from(thing.most);
    let mut offer = |kind: BoundKind, of: &dyn Fn(&Thing) -> i128, room: i128| {
        let mut sizes: Vec<i128> = held.iter().map(|thing| of(thing).max(0)).collect();
        if sizes.iter().sum::<i128>() <= room {
            return;
        }
        sizes.sort_unstable();
        let mut left = room;
        let stand = sizes
            .iter()
            .take_while(|&&size| {
                left -= size;
                left >= 0
            })
            .count();
        let items = held.iter().map(|thing| thing.item).collect();
        best.offer(kind, items, i64::try_from(stand).unwrap_or(i64::MAX));
    };
    offer(BoundKind::Area, &area, ground);
    if allowance {
        offer(BoundKind::Cover, &area, cover);
    }
    if let Some(load) = load {
        offer(BoundKind::Load, &|thing| i128::from(thing.grams), load);
    }
}

/// Evenly spaced ones of too many, first and last among them.
fn thin_out(sides: &[i64]) -> Vec<i64> {
    let n = sides.len();
    if n <= MOST_SIDES {
        return sides.to_vec();
    }
    (0..MOST_SIDES).filter_map(|at| sides.get(at * (n - 1) / (MOST_SIDES - 1)).copied()).collect()
}
