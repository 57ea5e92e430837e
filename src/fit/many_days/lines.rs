//! Bounds on demands: sums of counts that no demand which fits can exceed.
//!
//! The bounds of a single day, taken for all days at once: how many bases lie within one of a kind
//! and how many fit on the ground doesn't hang on how many there are of it.

use std::collections::{BTreeMap, BTreeSet};

use crate::fit::count::oler_bound;
use crate::fit::problem::{Days, Item, Phase, Problem, Shelf};
use crate::fit::proof::counts::{Counts, thin_out};
use crate::fit::proof::ground::{Plot, is_within, plots};
use crate::fit::proof::on_day::{Alike, OnDay, grounds};
use crate::fit::work::Cancel;

use super::kinds::{Counted, Demand, DemandKind};

/// So much at most, of what each of some kinds brings.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Line {
    each: BTreeMap<usize, i128>,
    room: i128,
}

impl Line {
    pub(super) fn is_broken_by(&self, demand: &Demand) -> bool {
        let brings = |&(kind, number): &(usize, u32)| {
            self.each.get(&kind).map_or(0, |each| each.saturating_mul(i128::from(number)))
        };
        demand.iter().map(brings).fold(0, i128::saturating_add) > self.room
    }

    pub(super) fn counts(&self, kind: usize) -> bool {
        self.each.contains_key(&kind)
    }

    /// Whether any demand breaks it.
    fn matters(&self, most: &[u32]) -> bool {
        let all =
            self.each.iter().map(|(kind, each)| each.saturating_mul(i128::from(most.get(*kind).copied().unwrap_or(0))));
        all.fold(0, i128::saturating_add) > self.room
    }
}

/// The lines for some kinds by themselves, without those that no demand breaks.
pub(super) fn lines(shelves: &[Shelf], kinds: &[DemandKind], of: &[usize], most: &[u32], cancel: &Cancel) -> Vec<Line> {
    let mut problem = Problem { shelves: shelves.to_vec(), items: Vec::new() };
    // by item: its kind, and how many of the item one of the kind is
    let mut stands_for: Vec<(usize, i128)> = Vec::new();
    let day = Days::new(0, 1);
    for (number, kind) in of.iter().filter_map(|number| Some((*number, kinds.get(*number)?))) {
        let Counted::As { w, d, grams, regions, times } = &kind.counted else { continue };
        let phases = vec![Phase { days: day, w: *w, d: *d, grams: *grams }];
        // what is counted singly isn't pinned singly
        let pinned = kind.pinned.filter(|_| (*w, *d) == (kind.w, kind.d));
        problem.items.push(Item { phases, regions: regions.clone(), pinned, wish: None });
        stands_for.push((number, i128::from(*times)));
    }
    let on_day = OnDay::of(&problem, 0);
    let mut made = Made { found: BTreeSet::new(), stands_for, most };
    for item in on_day.homeless.iter().chain(&on_day.misplaced) {
        made.offer([(*item, 1)], 0);
    }
    let pinned: Vec<&Alike> = on_day.alike.iter().filter(|alike| alike.pinned).collect();
    for (at, a) in pinned.iter().enumerate() {
        for b in pinned.iter().take(at) {
            let clash =
                a.regions.iter().zip(b.regions.iter()).any(|(a, b)| a.shelf == b.shelf && a.rect.overlaps(b.rect));
            if clash {
                made.offer(a.items.iter().chain(&b.items).map(|item| (*item, 1)), 1);
            }
        }
    }
    let mut counts = Counts::default();
    for ground in grounds(&on_day.alike) {
        if cancel.is_cancelled() {
            break;
        }
        let held: Vec<&Alike> = on_day.alike.iter().filter(|alike| is_within(&alike.regions, &ground)).collect();
        if !held.is_empty() {
            made.on_ground(&held, &plots(&problem, &ground), &mut counts);
        }
    }
    made.round_pots(shelves, kinds, of);
    made.found.into_iter().collect()
}

struct Made<'a> {
    found: BTreeSet<Line>,
    stands_for: Vec<(usize, i128)>,
    most: &'a [u32],
}

impl Made<'_> {
    fn offer(&mut self, items: impl IntoIterator<Item = (usize, i128)>, room: i128) {
        let mut each = BTreeMap::new();
        for (item, size) in items {
            let Some(&(kind, times)) = self.stands_for.get(item) else { continue };
            if size > 0 {
                each.insert(kind, size.saturating_mul(times));
            }
        }
        self.keep(Line { each, room });
    }

    fn keep(&mut self, line: Line) {
        if line.matters(self.most) {
            self.found.insert(line);
        }
    }

    fn on_ground(&mut self, held: &[&Alike], plots: &[(Plot, i64)], counts: &mut Counts) {
        self.sums(held, plots);
        let shorts: BTreeSet<i64> = held.iter().map(|alike| alike.least).collect();
        let mut longs: BTreeSet<i64> = held.iter().map(|alike| alike.most).collect();
        longs.extend(held.iter().map(|alike| alike.most / 2).filter(|&half| half > 0));
        for &a in &thin_out(shorts) {
            for &b in &thin_out(longs.clone()) {
                let (a, b) = (a.min(b), a.max(b));
                let copies = held.iter().map(|&alike| (counts.copies_in(alike, a, b), alike));
                let covering: Vec<(i64, &Alike)> = copies.filter(|&(copies, _)| copies > 0).collect();
                let rooms =
                    plots.iter().map(|(plot, times)| counts.room_on(plot, &covering, a, b).saturating_mul(*times));
                let room = rooms.fold(0_i64, i64::saturating_add);
                self.offer(each(covering.iter().map(|&(copies, alike)| (i128::from(copies), alike))), i128::from(room));
            }
        }
    }

    /// Ground, packing allowance and load.
    fn sums(&mut self, held: &[&Alike], plots: &[(Plot, i64)]) {
        let size = |(width, depth): (i64, i64)| i128::from(width.max(0)) * i128::from(depth.max(0));
        let (mut cover, mut load) = (0_i128, Some(0_i128));
        for (plot, times) in plots {
            let times = i128::from(*times);
            let apart = plot.parts.iter().fold(0_i128, |sum, &part| sum.saturating_add(size(part)));
            let area = apart.min(size(plot.around));
            let covered = plot.cover.map_or(area, |most| most.clamp(0, area));
            cover = cover.saturating_add(covered.saturating_mul(times));
            load = load.zip(plot.load).map(|(sum, load)| sum + i128::from(load.max(0)) * times);
        }
        self.offer(each(held.iter().map(|&alike| (alike.area(), alike))), cover);
        if let Some(load) = load {
            self.offer(each(held.iter().map(|&alike| (i128::from(alike.grams), alike))), load);
        }
    }

    /// Round pots of one size, wherever they may stand.
    fn round_pots(&mut self, shelves: &[Shelf], kinds: &[DemandKind], of: &[usize]) {
        let mut by_size: BTreeMap<i64, Vec<(usize, i64)>> = BTreeMap::new();
        for (number, kind) in of.iter().filter_map(|number| Some((*number, kinds.get(*number)?))) {
            if let Counted::Round { apart, times } = kind.counted {
                by_size.entry(apart).or_default().push((number, times));
            }
        }
        for (apart, pots) in by_size {
            let mut sizes: BTreeMap<usize, (i64, i64)> = BTreeMap::new();
            let own = pots.iter().filter_map(|(number, _)| kinds.get(*number)).flat_map(|kind| kind.regions.iter());
            for region in own.filter(|region| region.shelf < shelves.len()) {
                let size = sizes.entry(region.shelf).or_default();
                *size = (size.0.max(region.rect.right()), size.1.max(region.rect.back()));
            }
            let room = sizes.values().map(|&(w, d)| i128::from(oler_bound(w, d, apart))).sum();
            let each = pots.iter().map(|&(number, times)| (number, i128::from(times))).collect();
            self.keep(Line { each, room });
        }
    }
}

/// What each item brings.
fn each<'a>(sizes: impl Iterator<Item = (i128, &'a Alike)>) -> Vec<(usize, i128)> {
    sizes.flat_map(|(size, alike)| alike.items.iter().map(move |&item| (item, size))).collect()
}
