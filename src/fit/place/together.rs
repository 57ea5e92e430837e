//! Items that could stand in each other's place exchanged, until those of a kind stand together.

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::fit::answer::Layout;
use crate::fit::problem::{Days, Item, Problem, Rect, Region, Spot};

/// So many exchanges are weighed at most.
const MOST_WEIGHED: usize = 2_000_000;

/// The layout with spots exchanged between items of one outline that may stand on the same ground, so that each kind
/// is spread over fewer shelves and stands in one run on them. As many have a spot, and as many stand on each region; who
/// is `settled` stays.
///
/// Each exchange leaves every day free of overlaps. Shelves with a limit of weight or cover are left as they are.
pub fn together(problem: &Problem, layout: &Layout, kinds: &[u32], settled: &[bool]) -> Layout {
    let mut standing = Standing::of(problem, layout, kinds, settled);
    standing.gather();
    standing.line_up();
    let mut spots = layout.spots.clone();
    for one in &standing.items {
        if let Some([(_, spot)]) = spots.get_mut(one.item).map(Vec::as_mut_slice) {
            *spot = one.spot;
        }
    }
    Layout { spots }
}

/// An item that has one spot for all its days.
#[derive(Clone, Debug)]
struct One {
    item: usize,
    kind: u32,
    days: Days,
    spot: Spot,
    rect: Rect,
    /// Those with the same may stand where this one does.
    class: Option<usize>,
    /// Which of its regions it stands in: the first are better.
    ground: usize,
}

struct Standing {
    items: Vec<One>,
    /// Numbers into `items`.
    on_shelf: BTreeMap<usize, Vec<usize>>,
    /// What has moves stands there meanwhile.
    others: BTreeMap<usize, Vec<(Days, Rect)>>,
}

impl Standing {
    fn of(problem: &Problem, layout: &Layout, kinds: &[u32], settled: &[bool]) -> Self {
        let mut standing = Self { items: Vec::new(), on_shelf: BTreeMap::new(), others: BTreeMap::new() };
        let mut classes: BTreeMap<(i64, i64, &[Region]), usize> = BTreeMap::new();
        let limited =
            |shelf: usize| problem.shelves.get(shelf).is_none_or(|shelf| shelf.load.is_some() || shelf.cover.is_some());
        for (number, (item, spots)) in problem.items.iter().zip(&layout.spots).enumerate() {
            let one_size = item.phases.windows(2).all(|two| matches!(two, [a, b] if (a.w, a.d) == (b.w, b.d)));
            let (Some(first), [(from, spot)]) = (item.phases.first(), spots.as_slice()) else {
                standing.put_aside(item, spots);
                continue;
            };
            if !one_size || *from != item.days().from {
                standing.put_aside(item, spots);
                continue;
            }
            let may = item.pinned.is_none() && settled.get(number) == Some(&false) && !limited(spot.shelf);
            let next = classes.len();
            let class = may.then(|| *classes.entry((first.w, first.d, Arc::as_ref(&item.regions))).or_insert(next));
            let kind = kinds.get(number).copied().unwrap_or(0);
            let rect = spot.rect(first);
            let holds = |region: &Region| region.shelf == spot.shelf && region.rect.holds(rect);
            let ground = item.regions.iter().position(holds).unwrap_or(usize::MAX);
            let one = One { item: number, kind, days: item.days(), spot: *spot, rect, class, ground };
            standing.on_shelf.entry(spot.shelf).or_default().push(standing.items.len());
            standing.items.push(one);
        }
        standing
    }

    fn put_aside(&mut self, item: &Item, spots: &[(i32, Spot)]) {
        for phase in &item.phases {
            let ends = spots.iter().skip(1).map(|(from, _)| *from).chain([phase.days.until]);
            for ((from, spot), until) in spots.iter().zip(ends) {
                let days = Days::new(phase.days.from.max(*from), phase.days.until.min(until));
                if days.from < days.until {
                    self.others.entry(spot.shelf).or_default().push((days, spot.rect(phase)));
                }
            }
        }
    }

    /// Whether the ground of `at` is free of all but `at` itself for the days of `who`.
    fn is_free_for(&self, who: &One, at: &One) -> bool {
        let here = self.on_shelf.get(&at.spot.shelf).map_or(&[][..], Vec::as_slice);
        let in_the_way = here.iter().filter_map(|number| self.items.get(*number)).any(|other| {
            other.item != at.item
                && other.item != who.item
                && other.days.overlaps(who.days)
                && other.rect.overlaps(at.rect)
        });
        let others = self.others.get(&at.spot.shelf).map_or(&[][..], Vec::as_slice);
        !in_the_way && !others.iter().any(|(days, rect)| days.overlaps(who.days) && rect.overlaps(at.rect))
    }

    fn may_exchange(&self, a: &One, b: &One) -> bool {
        // who stands for longer keeps the better ground
        let length = |one: &One| i64::from(one.days.until) - i64::from(one.days.from);
        let no_worse = match length(a).cmp(&length(b)) {
            Ordering::Equal => true,
            Ordering::Less => a.ground <= b.ground,
            Ordering::Greater => b.ground <= a.ground,
        };
        no_worse && a.class.is_some() && a.class == b.class && self.is_free_for(a, b) && self.is_free_for(b, a)
    }

    fn exchange(&mut self, a: usize, b: usize) {
        let (Some(one), Some(other)) = (self.items.get(a).cloned(), self.items.get(b).cloned()) else { return };
        for (number, from) in [(a, &other), (b, &one)] {
            if let Some(item) = self.items.get_mut(number) {
                (item.spot, item.rect, item.ground) = (from.spot, from.rect, from.ground);
            }
        }
        for (shelf, gone, come) in [(one.spot.shelf, a, b), (other.spot.shelf, b, a)] {
            if let Some(here) = self.on_shelf.get_mut(&shelf).filter(|_| one.spot.shelf != other.spot.shelf) {
                here.retain(|number| *number != gone);
                here.push(come);
            }
        }
    }

    /// Of each kind as many as can be on the shelf that has most of it.
    fn gather(&mut self) {
        let mut counts: BTreeMap<(u32, usize), i64> = BTreeMap::new();
        for one in &self.items {
            *counts.entry((one.kind, one.spot.shelf)).or_insert(0) += 1;
        }
        let mut weighed = 0;
        loop {
            let mut changed = false;
            for a in 0..self.items.len() {
                let Some((b, looked_at)) = self.better_for(a, &counts) else { continue };
                weighed += looked_at;
                let (Some(b), Some(one)) = (b, self.items.get(a).cloned()) else { continue };
                let Some(other) = self.items.get(b).cloned() else { continue };
                for (kind, from, to) in
                    [(one.kind, one.spot.shelf, other.spot.shelf), (other.kind, other.spot.shelf, one.spot.shelf)]
                {
                    *counts.entry((kind, from)).or_insert(0) -= 1;
                    *counts.entry((kind, to)).or_insert(0) += 1;
                }
                self.exchange(a, b);
                changed = true;
            }
            if !changed || weighed > MOST_WEIGHED {
                return;
            }
        }
    }

    /// The item whose place serves both kinds best, if any does better than now, and how many were weighed.
    fn better_for(&self, a: usize, counts: &BTreeMap<(u32, usize), i64>) -> Option<(Option<usize>, usize)> {
        let one = self.items.get(a).filter(|one| one.class.is_some())?;
        let count = |kind: u32, shelf: usize| counts.get(&(kind, shelf)).copied().unwrap_or(0);
        // the sum of squares of how many of a kind stand on a shelf grows with every exchange, so that it ends
        let gain = |other: &One| {
            let (here, there) = (one.spot.shelf, other.spot.shelf);
            let leaves = [count(one.kind, here), count(other.kind, there)];
            let joins = [count(one.kind, there), count(other.kind, here)];
            let alone = |counts: [i64; 2], number: i64| counts.into_iter().filter(|count| *count == number).count();
            let spreads = alone(joins, 0) > alone(leaves, 1);
            if spreads { 0 } else { joins.into_iter().sum::<i64>() - leaves.into_iter().sum::<i64>() + 2 }
        };
        let kin = counts.range((one.kind, 0)..=(one.kind, usize::MAX)).filter(|(_, number)| **number > 0);
        let mut best: Option<(i64, usize)> = None;
        let mut looked_at = 0;
        for (&(_, shelf), _) in kin.filter(|((_, shelf), _)| *shelf != one.spot.shelf) {
            for &b in self.on_shelf.get(&shelf).map_or(&[][..], Vec::as_slice) {
                let Some(other) = self.items.get(b).filter(|other| other.kind != one.kind) else { continue };
                looked_at += 1;
                let gain = gain(other);
                if gain > 0 && best.is_none_or(|(most, _)| gain > most) && self.may_exchange(one, other) {
                    best = Some((gain, b));
                }
            }
        }
        Some((best.map(|(_, b)| b), looked_at))
    }

    /// Along each shelf, kind after kind, where the days of both allow it.
    fn line_up(&mut self) {
        let shelves: Vec<usize> = self.on_shelf.keys().copied().collect();
        for shelf in shelves {
            let mut here = self.on_shelf.get(&shelf).cloned().unwrap_or_default();
            here.sort_by_key(|number| self.items.get(*number).map(|one| (one.rect.y, one.rect.x)));
            for at in 1..here.len() {
                let kind_of = |number: usize| self.items.get(number).map(|one| one.kind);
                let [Some(&before), Some(&this)] = [here.get(at - 1), here.get(at)] else { continue };
                if kind_of(before) == kind_of(this) {
                    continue;
                }
                let like = here.iter().skip(at + 1).copied().find(|&later| {
                    kind_of(later) == kind_of(before)
                        && self.items.get(this).zip(self.items.get(later)).is_some_and(|(a, b)| self.may_exchange(a, b))
                });
                if let Some(later) = like {
                    self.exchange(this, later);
                    if let Some(to) = here.iter().position(|number| *number == later) {
                        here.swap(at, to);
                    }
                }
            }
        }
    }
}
