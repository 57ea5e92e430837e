//! Proof that a day cannot be packed, however its items are turned or moved about.
//!
//! Every bound here holds for a set of items and for all the ground that any of them may stand on:
//! if more items of the set want a spot than the ground can hold, the day is a crunch. Pinned items
//! count only with their own ground. No bound says nothing: the day may or may not be packable.
//! Sets are found as unions of the items' own region sets, all of them up to a fixed number, in the
//! manner of Hall's theorem.

use std::collections::{BTreeMap, BTreeSet};

use super::ground::{Ground, Plot, grounds, is_within, plots};
use super::on_day::{Alike, Today};
use super::prover::Prover;
use crate::fit::count::{at_least, at_most};
use crate::fit::problem::{Problem, Region};
use crate::fit::work::Cancel;

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
    /// All ways to fill each shelf with these sizes hold fewer.
    Fillings,
    /// The items are heavier than the shelves may bear.
    Load,
    /// The items cover more than the packing allowance leaves.
    Cover,
    /// Every way to place the few of them was tried.
    Tried,
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

    /// The lowest is the one to tell: short of the most, the simplest, about the fewest items.
    pub(in crate::fit) fn order(&self) -> (i64, u8, usize) {
        (-self.short(), self.rank(), self.items.len())
    }

    fn rank(&self) -> u8 {
        match self.kind {
            BoundKind::NoRegion => 0,
            BoundKind::PinClash => 1,
            BoundKind::Count { .. } => 2,
            BoundKind::Area => 3,
            BoundKind::Load => 4,
            BoundKind::Cover => 5,
            BoundKind::Fillings => 6,
            BoundKind::Tried => 7,
        }
    }
}

/// The bound that proves the greatest shortage on a day; of equal ones, the simplest kind with the
/// fewest items. `None` if no bound proves any.
pub fn prove_day(problem: &Problem, day: i32) -> Option<Bound> {
    Prover::new(&Cancel::default()).day_by_prices(problem, day).bound
}

/// What is proven about a day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::fit) struct DayProof {
    pub(in crate::fit) bound: Option<Bound>,
    /// At least so many items can't stand; bounds on items apart from each other add up.
    pub(in crate::fit) short: i64,
}

/// How many bases fit where, as far as it was counted.
#[derive(Debug, Default)]
pub(in crate::fit) struct Counts {
    /// By ground and base rectangle.
    counts: BTreeMap<[i64; 4], i64>,
    copies: BTreeMap<[i64; 4], i64>,
}

impl Counts {
    /// By all bounds but prices; whatever was proven by the time of a cancel.
    pub(in crate::fit) fn prove(&mut self, problem: &Problem, today: &Today, cancel: &Cancel) -> DayProof {
        let mut best = Strongest::default();
        let apart = today.apart();
        best.offer(BoundKind::NoRegion, today.homeless.clone(), 0);
        let clash = pin_clash(&today.alike, &today.misplaced);
        let clashes = clash.0.len() - today.misplaced.len() - clash.1;
        best.offer(BoundKind::PinClash, clash.0, i64::try_from(clash.1).unwrap_or(i64::MAX));

        let mut crowded = Strongest::default();
        for ground in grounds(&today.alike) {
            if cancel.is_cancelled() {
                break;
            }
            self.ground(problem, &today.alike, &ground, &mut crowded);
        }
        let short = crowded.0.as_ref().map_or(0, Bound::short).max(i64::try_from(clashes).unwrap_or(0));
        if let Some(bound) = crowded.0 {
            best.offer(bound.kind, bound.items, bound.held);
        }
        DayProof { bound: best.0, short: short + apart }
    }

    /// All bounds for the items that can only stand on some ground.
    fn ground(&mut self, problem: &Problem, today: &[Alike], ground: &Ground, best: &mut Strongest) {
        let held: Vec<&Alike> = today.iter().filter(|alike| is_within(&alike.regions, ground)).collect();
        if held.is_empty() {
            return;
        }
        let plots = plots(problem, ground);
        sum_bounds(&held, &plots, best);
        let shorts: BTreeSet<i64> = held.iter().map(|alike| alike.least).collect();
        let mut longs: BTreeSet<i64> = held.iter().map(|alike| alike.most).collect();
        longs.extend(held.iter().map(|alike| alike.most / 2).filter(|&half| half > 0));
        for &a in &thin_out(shorts) {
            for &b in &thin_out(longs.clone()) {
                self.count_bound(&held, &plots, (a.min(b), a.max(b)), best);
            }
        }
    }

    /// So many bases lie within the items, and so many fit on the ground.
    fn count_bound(&mut self, held: &[&Alike], plots: &[(Plot, i64)], (a, b): (i64, i64), best: &mut Strongest) {
        let covering: Vec<(i64, &Alike)> =
            held.iter().map(|&alike| (self.copies_in(alike, a, b), alike)).filter(|&(copies, _)| copies > 0).collect();
        let bases = covering.iter().map(|(copies, alike)| copies.saturating_mul(alike.number()));
        let wanted = bases.fold(0_i64, i64::saturating_add);
        let mut room: i64 = 0;
        for (plot, times) in plots {
            room = room.saturating_add(self.room_on(plot, &covering, a, b).saturating_mul(*times));
            if room >= wanted {
                return;
            }
        }
        let sizes = covering.iter().map(|&(copies, alike)| (i128::from(copies), alike));
        let (items, stand) = fewest(&sizes.collect::<Vec<_>>(), i128::from(room));
        best.offer(BoundKind::Count { w: a, d: b }, items, stand);
    }

    /// Bases that stand in for the item: a packing of them lies within it.
    pub(in crate::fit) fn copies_in(&mut self, alike: &Alike, a: i64, b: i64) -> i64 {
        if alike.least < a || alike.most < b {
            return 0;
        }
        if alike.area() < 2 * i128::from(a) * i128::from(b) {
            return 1;
        }
        let make = || at_least(alike.most, alike.least, a, b);
        *self.copies.entry([alike.least, alike.most, a, b]).or_insert_with(make)
    }

    pub(in crate::fit) fn room_on(&mut self, plot: &Plot, covering: &[(i64, &Alike)], a: i64, b: i64) -> i64 {
        let mut fits = |(width, depth): (i64, i64)| {
            let make = || at_most(width, depth, a, b);
            *self.counts.entry([width, depth, a, b]).or_insert_with(make)
        };
        let apart = plot.parts.iter().fold(0_i64, |sum, &part| sum.saturating_add(fits(part)));
        let mut room = apart.min(fits(plot.around));
        if let Some(cover) = plot.cover {
            let by_cover = cover.max(0) / (i128::from(a) * i128::from(b));
            room = room.min(i64::try_from(by_cover).unwrap_or(i64::MAX));
        }
        if let Some(load) = plot.load {
            // No item brings more bases a gram than the lightest for its bases.
            let by_load = |(copies, alike): &(i64, &Alike)| match alike.grams {
                grams if grams > 0 => i128::from(load.max(0)) * i128::from(*copies) / i128::from(grams),
                _ => i128::MAX,
            };
            let most = covering.iter().map(by_load).max().unwrap_or(0);
            room = room.min(i64::try_from(most).unwrap_or(i64::MAX));
        }
        room
    }
}

/// Keeps the bound with the greatest shortage.
#[derive(Default)]
pub(in crate::fit) struct Strongest(pub(in crate::fit) Option<Bound>);

impl Strongest {
    pub(in crate::fit) fn offer(&mut self, kind: BoundKind, items: Vec<usize>, held: i64) {
        let bound = Bound { kind, items, held };
        if bound.short() <= 0 {
            return;
        }
        if self.0.as_ref().is_none_or(|old| bound.order() < old.order()) {
            self.0 = Some(bound);
        }
    }
}

/// Items of which so many, at most, can stand: pairs without a common member lose one each.
fn pin_clash(today: &[Alike], misplaced: &[usize]) -> (Vec<usize>, usize) {
    let mut items = misplaced.to_vec();
    let mut pairs = 0;
    let pinned = today.iter().filter(|alike| alike.pinned);
    let mut free: Vec<(usize, Region)> =
        pinned.filter_map(|alike| Some((*alike.items.first()?, *alike.regions.first()?))).collect();
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

/// Area, load and cover: what the items have in sum against what the ground has.
fn sum_bounds(held: &[&Alike], plots: &[(Plot, i64)], best: &mut Strongest) {
    let size = |(width, depth): (i64, i64)| i128::from(width.max(0)) * i128::from(depth.max(0));
    let (mut ground, mut cover, mut load) = (0_i128, 0_i128, Some(0_i128));
    let mut allowance = false;
    for (plot, times) in plots {
        let times = i128::from(*times);
        let apart = plot.parts.iter().fold(0_i128, |sum, &part| sum.saturating_add(size(part)));
        let area = apart.min(size(plot.around));
        let covered = plot.cover.map_or(area, |most| most.clamp(0, area));
        allowance |= covered < area;
        ground = ground.saturating_add(area.saturating_mul(times));
        cover = cover.saturating_add(covered.saturating_mul(times));
        load = load.zip(plot.load).map(|(sum, load)| sum + i128::from(load.max(0)) * times);
    }
    let mut offer = |kind: BoundKind, of: &dyn Fn(&Alike) -> i128, room: i128| {
        let sizes: Vec<(i128, &Alike)> = held.iter().map(|&alike| (of(alike).max(0), alike)).collect();
        let all = sizes.iter().map(|(size, alike)| size.saturating_mul(i128::from(alike.number())));
        if all.fold(0, i128::saturating_add) > room {
            let (items, stand) = fewest(&sizes, room);
            best.offer(kind, items, stand);
        }
    };
    offer(BoundKind::Area, &Alike::area, ground);
    if allowance {
        offer(BoundKind::Cover, &Alike::area, cover);
    }
    if let Some(load) = load {
        offer(BoundKind::Load, &|alike| i128::from(alike.grams), load);
    }
}

/// The fewest of the items that prove as great a shortage of room as all of them, and how many of
/// them can stand.
fn fewest(sizes: &[(i128, &Alike)], room: i128) -> (Vec<usize>, i64) {
    let each = |&(size, alike): &(i128, &Alike)| alike.items.iter().map(move |&item| (size, item)).collect::<Vec<_>>();
    let mut sizes: Vec<(i128, usize)> = sizes.iter().flat_map(each).collect();
    // As many as possible stand if it is the smallest ones; the largest prove the most.
    sizes.sort_unstable();
    let mut left = room;
    let stand = sizes
        .iter()
        .take_while(|(size, _)| {
            left -= size;
            left >= 0
        })
        .count();
    let short = sizes.len() - stand;
    let (mut sum, mut number) = (0_i128, 0);
    for (size, _) in sizes.iter().rev() {
        number += 1;
        // Without the largest `short - 1`, the others must still be too many.
        if number >= short {
            sum = sum.saturating_add(*size);
        }
        if sum > room {
            break;
        }
    }
    let mut items: Vec<usize> = sizes.iter().rev().take(number).map(|(_, item)| *item).collect();
    items.sort_unstable();
    (items, i64::try_from(number - short).unwrap_or(i64::MAX))
}

/// Evenly spaced ones of too many, first and last among them.
pub(in crate::fit) fn thin_out(sides: BTreeSet<i64>) -> Vec<i64> {
    let sides: Vec<i64> = sides.into_iter().collect();
    let n = sides.len();
    if n <= MOST_SIDES {
        return sides;
    }
    (0..MOST_SIDES).filter_map(|at| sides.get(at * (n - 1) / (MOST_SIDES - 1)).copied()).collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::fit::samples::{most_standing, problems, shelves, tray, whole};
    use crate::fit::{Item, Rect, RegionSet, Shelf, Spot};
    use proptest::prelude::*;

    fn problem(shelves: Vec<Shelf>, items: Vec<Item>) -> Problem {
        Problem { shelves, items }
    }

    fn day(problem: &Problem, day: i32) -> DayProof {
        Prover::new(&Cancel::default()).day_by_prices(problem, day)
    }

    #[track_caller]
    fn proves(problem: &Problem, kind: BoundKind, wanted: usize, held: i64) {
        let bound = prove_day(problem, 0).expect("a crunch");
        assert_eq!((bound.kind, bound.items.len(), bound.held), (kind, wanted, held));
    }

    #[test]
    fn one_flat_more_than_the_count_is_a_crunch_though_the_area_would_do() {
        let shelf = whole(&[(610, 1219)]);
        let flats = vec![tray(0, 1, 545, 278, &shelf); 5];
        let bound = prove_day(&problem(shelves(1), flats), 0).expect("a crunch");
        assert_eq!((bound.short(), bound.held), (1, 4));
        assert!(matches!(bound.kind, BoundKind::Count { .. }));
        // On 762 x 762, 3 fit by area and 2 in truth.
        let shelf = whole(&[(762, 762)]);
        let flats = vec![tray(0, 1, 545, 278, &shelf); 3];
        let bound = prove_day(&problem(shelves(1), flats), 0).expect("a crunch");
        assert_eq!((bound.items.len(), bound.held), (3, 2));
    }

    #[test]
    fn what_fits_nowhere_does_not_hide_the_true_crunch() {
        let shelf = whole(&[(10, 10)]);
        let mut items = vec![tray(0, 1, 20, 1, &shelf)];
        proves(&problem(shelves(1), items.clone()), BoundKind::NoRegion, 1, 0);
        items.extend(vec![tray(0, 1, 10, 5, &shelf); 4]);
        let found = day(&problem(shelves(1), items), 0);
        assert_eq!(found.short, 3);
        let bound = found.bound.expect("a crunch");
        assert_eq!((bound.items, bound.held), (vec![1, 2, 3, 4], 2));
    }

    #[test]
    fn choosy_items_are_counted_on_their_own_shelf_alone() {
        let lit = whole(&[(10, 10)]);
        let any = whole(&[(10, 10), (10, 10)]);
        let mut items = vec![tray(0, 1, 10, 5, &lit); 3];
        items.push(tray(0, 1, 10, 5, &any));
        let bound = prove_day(&problem(shelves(2), items), 0).expect("a crunch");
        assert_eq!((bound.items, bound.held), (vec![0, 1, 2], 2));
    }

    #[test]
    fn a_heat_mat_is_smaller_than_its_shelf() {
        let mat: RegionSet = Arc::from([Region { shelf: 0, rect: Rect { x: 4, y: 0, w: 5, d: 10 } }]);
        let bound = prove_day(&problem(shelves(1), vec![tray(0, 1, 5, 5, &mat); 3]), 0).expect("a crunch");
        assert_eq!(bound.held, 2);
    }

    #[test]
    fn load_and_packing_allowance_are_limits_of_their_own() {
        let shelf = whole(&[(10, 10)]);
        let mut items = vec![tray(0, 1, 1, 1, &shelf); 3];
        for (item, grams) in items.iter_mut().zip([5, 6, 7]) {
            item.phases[0].grams = grams;
        }
        let loaded = Shelf { load: Some(17), cover: None };
        proves(&problem(vec![loaded], items.clone()), BoundKind::Load, 3, 2);
        let covered = Shelf { load: None, cover: Some(2) };
        let bound = prove_day(&problem(vec![covered], items), 0).expect("a crunch");
        assert_eq!(bound.held, 2);
    }

    #[test]
    fn two_trays_pinned_to_one_spot_clash() {
        let shelf = whole(&[(10, 10)]);
        let mut items = vec![tray(0, 1, 5, 5, &shelf); 3];
        items[0].pinned = Some(Spot { shelf: 0, x: 0, y: 0, turned: false });
        items[1].pinned = Some(Spot { shelf: 0, x: 4, y: 4, turned: false });
        proves(&problem(shelves(1), items.clone()), BoundKind::PinClash, 2, 1);
        items[1].pinned = Some(Spot { shelf: 0, x: 6, y: 6, turned: false });
        proves(&problem(shelves(1), items), BoundKind::PinClash, 1, 0);
    }

    #[test]
    fn a_large_tray_counts_for_all_the_small_ones_in_its_place() {
        // Halves: a whole flat is two of them, and the shelf holds four.
        let shelf = whole(&[(20, 20)]);
        let items = vec![
            tray(0, 1, 20, 10, &shelf),
            tray(0, 1, 10, 10, &shelf),
            tray(0, 1, 10, 10, &shelf),
            tray(0, 1, 10, 9, &shelf),
        ];
        let bound = prove_day(&problem(shelves(1), items), 0).expect("a crunch");
        assert_eq!((bound.short(), bound.items.len()), (1, 4));
    }

    #[test]
    fn absurd_sizes_prove_nothing_false_and_do_not_overflow() {
        let far = Region { shelf: 0, rect: Rect { x: i64::MAX, y: i64::MIN, w: i64::MAX, d: i64::MAX } };
        let regions: RegionSet = Arc::from([far, Region { shelf: 9, ..far }]);
        let items = vec![tray(0, 1, i64::MAX, i64::MAX, &regions), tray(0, 1, 1, 1, &regions)];
        drop(prove_day(&problem(shelves(1), items), 0));
        assert_eq!(prove_day(&Problem::default(), 0), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]
        #[test]
        fn shelves_cut_up_into_trays_are_never_a_crunch(
            cuts in prop::collection::vec((0..64_usize, any::<bool>(), 1..100_i64, any::<bool>()), 0..40),
            sizes in prop::collection::vec((50..2_000_i64, 50..800_i64), 1..4),
        ) {
            let ground = whole(&sizes);
            let mut pieces: Vec<Region> = ground.to_vec();
            let mut turns = vec![false; pieces.len()];
            for (at, along, share, turned) in cuts {
                let at = at % pieces.len();
                let Rect { x, y, w, d } = pieces[at].rect;
                let (first, second) = if along {
                    let cut = w * share / 100;
                    (Rect { x, y, w: cut, d }, Rect { x: x + cut, y, w: w - cut, d })
                } else {
                    let cut = d * share / 100;
                    (Rect { x, y, w, d: cut }, Rect { x, y: y + cut, w, d: d - cut })
                };
                if first.area() > 0 && second.area() > 0 {
                    let shelf = pieces[at].shelf;
                    pieces[at].rect = first;
                    pieces.push(Region { shelf, rect: second });
                    turns.push(turned);
                }
            }
            let items: Vec<Item> = pieces.iter().zip(turns).map(|(piece, turned)| {
                let Rect { w, d, .. } = piece.rect;
                let (w, d) = if turned { (d, w) } else { (w, d) };
                // Some know their shelf, others may go anywhere.
                let own: RegionSet = Arc::from([ground[piece.shelf]]);
                let mut item = tray(0, 1, w, d, if turned { &own } else { &ground });
                item.phases[0].grams = w + d;
                item
            }).collect();
            let shelves = (0..sizes.len()).map(|shelf| {
                let here = || pieces.iter().filter(move |piece| piece.shelf == shelf);
                let load = here().map(|piece| piece.rect.w + piece.rect.d).sum();
                Shelf { load: Some(load), cover: Some(here().map(|piece| piece.rect.area()).sum()) }
            }).collect();
            prop_assert_eq!(prove_day(&problem(shelves, items), 0), None);
        }

        #[test]
        fn no_bound_contradicts_trying_everything(problem in problems(5), day in 0..8_i32) {
            let proof = super::tests::day(&problem, day);
            let present: Vec<usize> =
                (0..problem.items.len()).filter(|&n| problem.items[n].phase_on(day).is_some()).collect();
            let most = most_standing(&problem, day, &present);
            prop_assert!(proof.short <= i64::try_from(present.len() - most).unwrap());
            if let Some(bound) = proof.bound {
                let most = most_standing(&problem, day, &bound.items);
                prop_assert!(i64::try_from(most).unwrap() <= bound.held, "{bound:?}");
            }
        }
    }
}
