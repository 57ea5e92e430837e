//! A few shelves, whoever stands on them and whoever waits: a problem small enough to be gone through again after an
//! edit, however large the season is.
//!
//! Whoever stands elsewhere stays there, so what is found for a nook holds for all of the problem.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::moves::{STANDS, Walk};
use crate::fit::answer::Layout;
use crate::fit::place::ejection::{STIRRED, eject};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::Attempt;
use crate::fit::place::press::press;
use crate::fit::problem::{Days, Item, Phase, Problem, Region, RegionSet, Spot};
use crate::fit::work::{Cancel, Cancelled, Progress};

/// So many shelves for each that waits, and no fewer or more than so many.
const SHELVES_EACH: usize = 2;
const LEAST_SHELVES: usize = 8;
const MOST_SHELVES: usize = 48;
/// One of so many parts of all work goes to putting others out, with spots drawn and with spots weighed; the rest to moves.
const DRAWN: u64 = 8;
const WEIGHED: u64 = 3;

pub(super) struct Nook {
    problem: Problem,
    /// The numbers that its items and its shelves have in all of the problem.
    of: Vec<usize>,
    shelves: Vec<usize>,
    /// Where they stand at first.
    spots: Vec<Option<Spot>>,
    /// They go on where another ends.
    goes_on: Vec<bool>,
}

/// Items of all of the problem, and where they stand from which day on.
pub(super) type Moved = Vec<(usize, Vec<(i32, Spot)>)>;

/// Where each item of a problem stands for all its days, and which of them go on where another ends.
#[derive(Clone, Copy)]
pub(super) struct Standing<'a> {
    pub(super) problem: &'a Problem,
    pub(super) spots: &'a [Option<Spot>],
    pub(super) goes_on: &'a [bool],
}

impl Standing<'_> {
    /// The shelves with the most ground left on some days, for each of those that wait; where it may stand.
    fn freest(&self, waiting: &[usize], days: Days) -> BTreeSet<usize> {
        let length = |days: Days| i128::from(days.until) - i128::from(days.from);
        let mut used: Vec<(i128, i128)> = vec![(0, 0); self.problem.shelves.len()];
        for (item, spot) in self.problem.items.iter().zip(self.spots) {
            let Some(used) = spot.and_then(|spot| used.get_mut(spot.shelf)) else { continue };
            for phase in item.phases.iter().filter(|phase| phase.days.overlaps(days)) {
                let common = length(common(phase.days, days));
                used.0 += i128::from(phase.w) * i128::from(phase.d) * common;
                used.1 += i128::from(phase.grams) * common;
            }
        }
        let mut grounds: BTreeMap<*const Region, (&Item, i128)> = BTreeMap::new();
        for item in waiting.iter().filter_map(|&number| self.problem.items.get(number)) {
            let grams = item.phases.iter().map(|phase| i128::from(phase.grams)).max().unwrap_or(0);
            let lightest = grounds.entry(item.regions.as_ptr()).or_insert((item, grams));
            lightest.1 = lightest.1.min(grams);
        }
        let most = (SHELVES_EACH * waiting.len()).clamp(LEAST_SHELVES, MOST_SHELVES);
        let most = (most / grounds.len().max(1)).max(LEAST_SHELVES / 2);
        let mut chosen = BTreeSet::new();
        for (item, grams) in grounds.values() {
            let bears = |region: &&Region| {
                let load = self.problem.shelves.get(region.shelf).map(|shelf| shelf.load);
                let heavy = |load: i64| used[region.shelf].1 + grams * length(days) > i128::from(load) * length(days);
                load.is_some_and(|load| !load.is_some_and(heavy))
            };
            let free = |region: &Region| {
                let room = region.rect.area().saturating_mul(length(days));
                (Reverse(room.saturating_sub(used[region.shelf].0)), region.shelf)
            };
            let mut shelves: Vec<_> = item.regions.iter().filter(bears).map(free).collect();
            shelves.sort_unstable();
            shelves.dedup_by_key(|(_, shelf)| *shelf);
            chosen.extend(shelves.into_iter().take(most).map(|(_, shelf)| shelf));
        }
        chosen
    }
}

impl Nook {
    /// The freest shelves on some days for those that wait.
    pub(super) fn of(standing: Standing<'_>, waiting: &[usize], days: Days) -> Self {
        let mut shelves = standing.freest(waiting, days);
        let pinned = |&number: &usize| standing.problem.items.get(number).and_then(|item| item.pinned);
        shelves.extend(waiting.iter().filter_map(pinned).map(|spot| spot.shelf));
        let shelves: Vec<usize> = shelves.into_iter().filter(|&shelf| shelf < standing.problem.shelves.len()).collect();
        let limits = shelves.iter().filter_map(|&shelf| standing.problem.shelves.get(shelf).cloned()).collect();
        let mut nook = Self {
            problem: Problem { shelves: limits, items: Vec::new() },
            of: Vec::new(),
            shelves,
            spots: Vec::new(),
            goes_on: Vec::new(),
        };
        let waiting: BTreeSet<usize> = waiting.iter().copied().collect();
        let mut grounds: BTreeMap<*const Region, RegionSet> = BTreeMap::new();
        for (number, item) in standing.problem.items.iter().enumerate() {
            let spot = standing.spots.get(number).copied().flatten();
            let here = spot.and_then(|spot| nook.in_nook(spot));
            if here.is_none() && !waiting.contains(&number) {
                continue;
            }
            let own = || {
                let here = |region: &Region| Some(Region { shelf: nook.number(region.shelf)?, ..*region });
                item.regions.iter().filter_map(here).collect()
            };
            let regions = RegionSet::clone(grounds.entry(item.regions.as_ptr()).or_insert_with(own));
            let pinned = item.pinned.and_then(|spot| nook.in_nook(spot));
            nook.problem.items.push(Item { phases: item.phases.clone(), regions, pinned, wish: None });
            nook.of.push(number);
            nook.spots.push(here);
            nook.goes_on.push(standing.goes_on.get(number) == Some(&true));
        }
        nook
    }

    fn number(&self, shelf: usize) -> Option<usize> {
        self.shelves.binary_search(&shelf).ok()
    }

    fn in_nook(&self, spot: Spot) -> Option<Spot> {
        Some(Spot { shelf: self.number(spot.shelf)?, ..spot })
    }

    fn jobs(&self, lattices: &mut Lattices) -> Jobs {
        let ever = Days::new(i32::MIN, i32::MAX);
        let mut list: Vec<Job> =
            self.problem.items.iter().enumerate().filter_map(|(at, item)| Job::new(at, item, ever)).collect();
        for job in list.iter_mut().filter(|job| self.goes_on.get(job.item) == Some(&true)) {
            job.weight = STANDS;
        }
        Jobs::new(list, lattices)
    }

    fn start(&self, jobs: &Jobs) -> Vec<Option<Spot>> {
        jobs.list.iter().map(|job| self.spots.get(job.item).copied().flatten()).collect()
    }

    /// Spots for more of them: first without a move, then with some on days on which more wait than may. Also the work
    /// that it took.
    ///
    /// `may_wait` is asked for a day, and for how many of the nook wait on it at first.
    pub(super) fn make_room(
        &self,
        may_wait: impl Fn(i32, usize) -> u64,
        lattices: &mut Lattices,
        budget: u64,
        cancel: &Cancel,
    ) -> Result<(Moved, u64), Cancelled> {
        let jobs = self.jobs(lattices);
        let attempt = Attempt { jobs: &jobs, shelves: &self.problem.shelves, enough: 0, budget, cancel };
        let found = eject(attempt.with_budget(budget / DRAWN), &self.start(&jobs), STIRRED)?;
        let pressed = press(attempt.with_budget(budget / WEIGHED), &found.spots, 1)?;
        let mut work = found.work + pressed.work;
        let mut layout = self.layout(&jobs, &pressed.spots);
        if jobs.left_out(&pressed.spots) > 0 {
            let mut spots = vec![None; self.of.len()];
            for (job, &spot) in jobs.list.iter().zip(&pressed.spots) {
                if let Some(slot) = spots.get_mut(job.item) {
                    *slot = spot;
                }
            }
            let days = self.problem.change_days();
            let at_first = self.layout(&jobs, &self.start(&jobs)).without_spot(&self.problem, &days);
            let days: Vec<(i32, u64)> =
                days.into_iter().zip(at_first).map(|(day, waiting)| (day, may_wait(day, waiting))).collect();
            let left = budget.saturating_sub(work);
            let walk = Walk::new(&self.problem, spots, None, lattices, left, cancel);
            let (walked, rest) = walk.with_rests(self.goes_on.clone()).run_on(&days, true, &Progress::default())?;
            work += left - rest;
            layout = walked;
        }
        let out =
            |&(from, spot): &(i32, Spot)| Some((from, Spot { shelf: self.shelves.get(spot.shelf).copied()?, ..spot }));
        let spots = layout.spots.iter().map(|spots| spots.iter().filter_map(out).collect());
        Ok((self.of.iter().copied().zip(spots).collect(), work))
    }

    fn layout(&self, jobs: &Jobs, of_jobs: &[Option<Spot>]) -> Layout {
        let mut layout = Layout { spots: vec![Vec::new(); self.of.len()] };
        for (job, spot) in jobs.list.iter().zip(of_jobs) {
            if let (Some(spots), Some(spot)) = (layout.spots.get_mut(job.item), spot) {
                spots.push((job.days().from, *spot));
            }
        }
        layout
    }
}

fn common(a: Days, b: Days) -> Days {
    Days::new(a.from.max(b.from), a.until.min(b.until))
}

/// An item on some of its days alone.
pub(super) fn within(item: &Item, days: Days) -> Item {
    let cut = |phase: &Phase| {
        let days = common(phase.days, days);
        (days.from < days.until).then_some(Phase { days, ..*phase })
    };
    Item { phases: item.phases.iter().filter_map(cut).collect(), ..item.clone() }
}
