//! Proof that a day cannot be packed, however its items are turned or moved about.
//!
//! Every bound here holds for a set of items and for all the ground that any of them may stand on:
//! if more items of the set want a spot than the ground can hold, the day is a crunch. Pinned items
//! count only with their own ground. No bound says nothing: the day may or may not be packable.
//! Sets are found as unions of the items' own region sets, all of them up to a fixed number, in the
//! manner of Hall's theorem.

use std::collections::{BTreeMap, BTreeSet};

use super::bound::{DayProof, Strongest};
use super::ground::{Ground, Plot, is_within, plots};
use super::loads;
use super::on_day::{Alike, OnDay, grounds};
use crate::fit::answer::{Bound, BoundKind};
use crate::fit::count::{at_least, at_most};
use crate::fit::problem::{Problem, Region};
use crate::fit::work::Cancel;

/// Sides from which base rectangles are made, each way.
const MOST_SIDES: usize = 8;

/// How many bases fit where, as far as it was counted.
#[derive(Clone, Debug, Default)]
pub(in crate::fit) struct Counts {
    /// By ground and base rectangle.
    counts: BTreeMap<[i64; 4], i64>,
    copies: BTreeMap<[i64; 4], i64>,
}

impl Counts {
    /// With what another counted.
    pub(super) fn join(&mut self, mut other: Self) {
        self.counts.append(&mut other.counts);
        self.copies.append(&mut other.copies);
    }

    /// By all bounds but prices; whatever was proven by the time of a cancel.
    pub(in crate::fit) fn prove(&mut self, problem: &Problem, on_day: &OnDay, cancel: &Cancel) -> DayProof {
        let mut best = Strongest::default();
        let apart = on_day.apart();
        best.offer(BoundKind::NoRegion, on_day.homeless.clone(), 0);
        let clash = pin_clash(&on_day.alike, &on_day.misplaced);
        let clashes = clash.0.len() - on_day.misplaced.len() - clash.1;
        best.offer(BoundKind::PinClash, clash.0, i64::try_from(clash.1).unwrap_or(i64::MAX));

        let mut crowded = Strongest::default();
        for ground in grounds(&on_day.alike) {
            if cancel.is_cancelled() {
                break;
            }
            self.ground(problem, &on_day.alike, &ground, &mut crowded);
        }
        let short = crowded.0.as_ref().map_or(0, Bound::short).max(i64::try_from(clashes).unwrap_or(0));
        if let Some(bound) = crowded.0 {
            best.offer(bound.kind, bound.items, bound.held);
        }
        DayProof { bound: best.0, short: short + apart }
    }

    /// All bounds for the items that can only stand on some ground.
    fn ground(&mut self, problem: &Problem, on_day: &[Alike], ground: &Ground, best: &mut Strongest) {
        let held: Vec<&Alike> = on_day.iter().filter(|alike| is_within(&alike.regions, ground)).collect();
        if held.is_empty() {
            return;
        }
        let plots = plots(problem, ground);
        sum_bounds(&held, &plots, best);
        loads::offer(&held, &plots, best);
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
        let (mut room, mut by_size) = (0_i64, 0_i64);
        for (plot, times) in plots {
            room = room.saturating_add(self.room_on(plot, &covering, a, b).saturating_mul(*times));
            if room >= wanted {
                return;
            }
            by_size = by_size.saturating_add(self.ground_on(plot, a, b).saturating_mul(*times));
        }
        let kind = if room < by_size { BoundKind::Load } else { BoundKind::Count { w: a, d: b } };
        let sizes = covering.iter().map(|&(copies, alike)| (i128::from(copies), alike));
        offer_fewest(kind, sizes.collect(), i128::from(room), best);
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
        let room = self.ground_on(plot, a, b);
        let Some(load) = plot.load else { return room };
        // No item brings more bases a gram than the lightest for its bases.
        let by_load = |(copies, alike): &(i64, &Alike)| match alike.grams {
            grams if grams > 0 => i128::from(load.max(0)) * i128::from(*copies) / i128::from(grams),
            _ => i128::MAX,
        };
        let most = covering.iter().map(by_load).max().unwrap_or(0);
        room.min(i64::try_from(most).unwrap_or(i64::MAX))
    }

    /// The same whatever they weigh.
    fn ground_on(&mut self, plot: &Plot, a: i64, b: i64) -> i64 {
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
        room
    }
}

/// Items of which so many, at most, can stand: pairs without a common member lose one each.
fn pin_clash(on_day: &[Alike], misplaced: &[usize]) -> (Vec<usize>, usize) {
    let mut items = misplaced.to_vec();
    let mut pairs = 0;
    let pinned = on_day.iter().filter(|alike| alike.pinned);
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
            offer_fewest(kind, sizes, room, best);
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

/// Offers the fewest of the items that prove as great a shortage of room as all of them.
fn offer_fewest(kind: BoundKind, mut sizes: Vec<(i128, &Alike)>, room: i128, best: &mut Strongest) {
    sizes.sort_by_key(|(size, _)| *size);
    let number = |of: &[(i128, &Alike)]| of.iter().map(|(_, alike)| alike.items.len()).sum::<usize>();
    let by_size: Vec<&[(i128, &Alike)]> = sizes.chunk_by(|a, b| a.0 == b.0).collect();
    let fits = |size: i128, left: i128| {
        left.max(0).checked_div(size).map_or(usize::MAX, |n| n.try_into().unwrap_or(usize::MAX))
    };
    // As many as possible stand if it is the smallest ones; the largest prove the most.
    let (mut left, mut short) = (room, number(&sizes));
    for of in &by_size {
        let (size, all) = (of[0].0, number(of));
        let stand = fits(size, left).min(all);
        short -= stand;
        left -= size * (stand as i128);
        if stand < all {
            break;
        }
    }
    // Without the largest `short - 1`, the others must still be too many.
    let (mut left, mut without, mut needed) = (room, short.saturating_sub(1), 0);
    for of in by_size.iter().rev() {
        let (size, all) = (of[0].0, number(of));
        let gone = without.min(all);
        without -= gone;
        let stand = fits(size, left).min(all - gone);
        left -= size * (stand as i128);
        needed += gone + stand;
        if gone + stand < all {
            needed += 1;
            break;
        }
    }
    let items = || {
        let mut items: Vec<usize> = Vec::with_capacity(needed);
        for of in by_size.iter().rev() {
            let mut of: Vec<usize> = of.iter().flat_map(|(_, alike)| &alike.items).copied().collect();
            of.sort_unstable();
            items.extend(of.iter().rev().take(needed - items.len()));
        }
        items.sort_unstable();
        items
    };
    best.offer_about(kind, i64::try_from(short).unwrap_or(i64::MAX), needed, items);
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
