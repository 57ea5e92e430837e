//! Goes through the days where one spot for all an item's days wasn't found.
//!
//! At every point of the walk all items that stand or are still to come have spots that hold for
//! the rest of their days. Where an arrival finds no room, standing items are moved, as few as it
//! takes; where that doesn't help, it waits and tries again on the next day on which something
//! changes. Nothing that stands ever loses its spot without getting another.

use std::collections::BTreeMap;

use crate::fit::answer::Layout;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::ejection::{eject, place_all};
use crate::fit::place::exhaust::{Exhausted, exhaust};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::{Attempt, Placement};
use crate::fit::place::repair::improve;
use crate::fit::problem::{Days, Problem, Spot};
use crate::fit::proof::from_patterns::StandingNow;
use crate::fit::proof::prover::Prover;
use crate::fit::work::{Cancel, Cancelled, Progress};

/// A standing item may not lose its spot; an arrival counts more than any number still to come.
pub(super) const STANDS: u64 = 1 << 46;
const ARRIVES: u64 = 1 << 30;

/// About what a pass from nothing takes for each job.
const PASS: u64 = 10_000;

/// One of so many parts of what is left goes to those still to come, where a day was packed anew.
const LATER: u64 = 32;

pub(super) struct Walk<'a> {
    pub(super) problem: &'a Problem,
    /// None where nothing is to be proven.
    pub(super) prover: Option<&'a mut Prover>,
    pub(super) lattices: &'a mut Lattices,
    pub(super) cancel: &'a Cancel,
    /// What may still be spent, in the board's unit.
    pub(super) budget: u64,
    /// The spot that an item has, or will have when it comes.
    spots: Vec<Option<Spot>>,
    layout: Layout,
    /// Items by their first day, and how many of them the walk has come to.
    order: Vec<usize>,
    come: usize,
    /// Those of them that have not stood on an earlier day.
    without: Vec<usize>,
    /// Items that go on where another ends, and so may not lose their spots either.
    goes_on: Vec<bool>,
}

impl<'a> Walk<'a> {
    /// Starts from one spot, or none, per item, which fit together over all days.
    pub(super) fn new(
        problem: &'a Problem,
        spots: Vec<Option<Spot>>,
        prover: Option<&'a mut Prover>,
        lattices: &'a mut Lattices,
        budget: u64,
        cancel: &'a Cancel,
    ) -> Self {
        let first = |(item, spot): (&crate::fit::Item, &Option<Spot>)| {
            spot.map(|spot| (item.days().from, spot)).into_iter().collect()
        };
        let layout = Layout { spots: problem.items.iter().zip(&spots).map(first).collect() };
        let mut order: Vec<usize> = (0..problem.items.len()).collect();
        order.sort_by_key(|&number| problem.items.get(number).map(|item| item.days().from));
        let (without, goes_on) = (Vec::new(), Vec::new());
        Self { problem, prover, lattices, cancel, budget, spots, layout, order, come: 0, without, goes_on }
    }

    /// Some items are the rest of another's stay.
    pub(super) fn with_rests(self, goes_on: Vec<bool>) -> Self {
        Self { goes_on, ..self }
    }

    /// The layout, and what is left of the budget.
    ///
    /// # Errors
    /// [`Cancelled`] once the work is no longer wanted.
    pub(super) fn run(self, progress: &Progress) -> Result<(Layout, u64), Cancelled> {
        let days: Vec<(i32, u64)> = self.problem.change_days().into_iter().map(|day| (day, 0)).collect();
        self.run_on(&days, false, progress)
    }

    /// As [`run`](Self::run), on some days, in order, on which no more than so many may wait; it may end with the
    /// budget.
    pub(super) fn run_on(
        mut self,
        days: &[(i32, u64)],
        may_end: bool,
        progress: &Progress,
    ) -> Result<(Layout, u64), Cancelled> {
        for (done, &(day, may_wait)) in days.iter().enumerate() {
            self.cancel.check()?;
            if may_end && self.budget == 0 {
                break;
            }
            progress.set(days.len() + done, 2 * days.len());
            if self.waiting(day) > may_wait {
                self.day(day)?;
            }
        }
        Ok((self.layout, self.budget))
    }

    /// How many want a spot on a day, later than or the same as when last asked, and have none.
    fn waiting(&mut self, day: i32) -> u64 {
        let days = |number: usize| self.problem.items.get(number).map_or(Days::new(0, 0), crate::fit::Item::days);
        while let Some(&next) = self.order.get(self.come).filter(|&&next| days(next).from <= day) {
            self.without.push(next);
            self.come += 1;
        }
        // whoever stood before today never loses its spot again
        let mut without = std::mem::take(&mut self.without);
        without.retain(|&number| day < days(number).until && !self.stood_before(number, day));
        self.without = without;
        self.without.iter().filter(|&&number| self.spot_of(number).is_none()).count() as u64
    }

    fn day(&mut self, day: i32) -> Result<(), Cancelled> {
        let jobs = self.jobs_from(day, true);
        self.cancel.check()?;
        self.seat(day, &jobs);
        self.cancel.check()?;
        let waiting = self.waiting(day);
        let proven = self.prover.as_mut().map_or(0, |prover| {
            let proven = u64::try_from(prover.day(self.problem, day).short).unwrap_or(0);
            if waiting <= proven {
                return proven;
            }
            u64::try_from(prover.day_by_prices(self.problem, day).short).unwrap_or(0)
        });
        if waiting <= proven {
            return Ok(());
        }
        let share = self.budget / 32;
        let present = proven.saturating_mul(ARRIVES);
        // Moves first among all that is known of later days.
        let start = self.spots_now(&jobs);
        let enough = jobs.left_out(&start) % ARRIVES + present;
        let attempt = self.attempt(&jobs, enough, share);
        let found = improved(attempt, &start, proven == 0)?;
        self.budget = self.budget.saturating_sub(found.work);
        self.take(day, &jobs, &found.spots);
        if self.waiting(day) <= proven {
            return Ok(());
        }
        // Then as if those still to come were not; from nothing if the ground is too broken up.
        let here = self.jobs_from(day, false);
        self.cancel.check()?;
        let start = self.spots_now(&here);
        let before = here.left_out(&start);
        let mut best = start;
        // Where the day can't fit anyway, the patterns are as good as a search for few moves.
        if proven > 0 {
            self.by_patterns(day, &here, &mut best);
        }
        for afresh in [false, true] {
            let left = here.left_out(&best);
            // A pass from nothing can't be cut short: not where it would eat up what is left.
            if left <= present || (afresh && self.budget < PASS * here.list.len() as u64) {
                continue;
            }
            let attempt = self.attempt(&here, present, share);
            let found = if afresh { place_all(attempt)? } else { improved(attempt, &best, proven == 0)? };
            self.budget = self.budget.saturating_sub(found.work);
            if here.left_out(&found.spots) < left {
                best = found.spots;
            }
        }
        if here.left_out(&best) > present {
            self.by_patterns(day, &here, &mut best);
        }
        if here.left_out(&best) > present
            && let Exhausted::Fits(spots) = exhaust(self.attempt(&here, 0, share))
        {
            best = spots.into_iter().map(Some).collect();
        }
        if here.left_out(&best) < before {
            self.rearrange(day, &jobs, &here, &best);
        }
        Ok(())
    }

    fn attempt<'b>(&'b self, jobs: &'b Jobs, enough: u64, budget: u64) -> Attempt<'b> {
        Attempt { jobs, shelves: &self.problem.shelves, enough, budget, cancel: self.cancel }
    }

    fn by_patterns(&mut self, day: i32, here: &Jobs, best: &mut Vec<Option<Spot>>) {
        if let Some(found) = self.spots_by_patterns(day, here)
            && here.left_out(&found) < here.left_out(best)
        {
            *best = found;
        }
    }

    /// Spots from the day's own proof, where all of them hold for as long as their items stay.
    fn spots_by_patterns(&mut self, day: i32, here: &Jobs) -> Option<Vec<Option<Spot>>> {
        let spot = |item: usize| self.spots.get(item).copied().flatten();
        let now = StandingNow { problem: self.problem, day, spot: &spot };
        let spots: BTreeMap<usize, Spot> = self.prover.as_mut()?.spots(&now)?.into_iter().collect();
        let mut board = Board::new(here, &self.problem.shelves);
        for (number, job) in here.list.iter().enumerate() {
            if let Some(&spot) = spots.get(&job.item) {
                if !board.admits(number, spot) {
                    return None;
                }
                board.place(number, spot);
            }
        }
        Some(board.spots().to_vec())
    }

    /// Gives a spot to whoever waits and finds one without a move.
    fn seat(&mut self, day: i32, jobs: &Jobs) {
        let mut board = Board::new(jobs, &self.problem.shelves);
        for (number, job) in jobs.list.iter().enumerate() {
            if let Some(spot) = self.spot_of(job.item) {
                board.place(number, spot);
            }
        }
        for (number, job) in jobs.list.iter().enumerate() {
            if board.spot(number).is_none()
                && job.days().from <= day
                && let Some(spot) = board.find(number, Rule::Lattice, Prefer::Scarce)
            {
                board.place(number, spot);
            }
        }
        self.accept(day, jobs, board.spots());
    }

    /// Takes over spots for those present; whoever is still to come keeps its own where it is still
    /// free, or gets another, if that is soon found.
    fn rearrange(&mut self, day: i32, jobs: &Jobs, here: &Jobs, found: &[Option<Spot>]) {
        let places: BTreeMap<usize, Spot> =
            here.list.iter().zip(found).filter_map(|(job, &spot)| Some((job.item, spot?))).collect();
        let mut board = Board::new(jobs, &self.problem.shelves);
        for (number, job) in jobs.list.iter().enumerate() {
            if let Some(&spot) = places.get(&job.item) {
                board.place(number, spot);
            }
        }
        self.undo_needless(day, jobs, &mut board);
        let most = board.work + self.budget / LATER;
        for keep in [true, false] {
            for (number, job) in jobs.list.iter().enumerate() {
                if board.spot(number).is_some() || job.days().from <= day {
                    continue;
                }
                let spot = if keep {
                    self.spot_of(job.item).filter(|&spot| board.admits(number, spot))
                } else if board.work < most {
                    board.find(number, Rule::Lattice, Prefer::Scarce)
                } else {
                    None
                };
                if let Some(spot) = spot {
                    board.place(number, spot);
                }
            }
        }
        self.budget = self.budget.saturating_sub(board.work);
        self.accept(day, jobs, board.spots());
    }

    fn spots_now(&self, jobs: &Jobs) -> Vec<Option<Spot>> {
        jobs.list.iter().map(|job| self.spot_of(job.item)).collect()
    }

    fn spot_of(&self, item: usize) -> Option<Spot> {
        self.spots.get(item).copied().flatten()
    }

    fn goes_on(&self, item: usize) -> bool {
        self.goes_on.get(item).copied().unwrap_or(false)
    }

    /// Whether an item has been standing since an earlier day.
    fn stood_before(&self, item: usize, day: i32) -> bool {
        self.layout.spots.get(item).and_then(|spots| spots.first()).is_some_and(|&(from, _)| from < day)
    }

    /// What is left of all items from a day on; those still to come only if wanted.
    fn jobs_from(&mut self, day: i32, future: bool) -> Jobs {
        let mut list = Vec::new();
        for (number, item) in self.problem.items.iter().enumerate() {
            if self.cancel.is_cancelled() {
                break;
            }
            let days = item.days();
            if days.until <= day || (days.from > day && !future) {
                continue;
            }
            let Some(mut job) = Job::new(number, item, Days::new(day, days.until)) else {
                continue;
            };
            // Its spot so far is where every search starts from, or was given up.
            job.wish = None;
            job.weight = if self.stood_before(number, day) || self.goes_on(number) {
                STANDS
            } else if days.from <= day {
                ARRIVES
            } else {
                // The sooner it comes, the sooner somebody would have to make way for it.
                job.fixed = false;
                let wait = i64::from(days.from) - i64::from(day);
                1 + u64::try_from(4_096 / (1 + wait)).unwrap_or(0)
            };
            list.push(job);
        }
        Jobs::new(list, self.lattices)
    }

    /// Takes over a layout from a day on if it leaves out less, after undoing needless moves.
    fn take(&mut self, day: i32, jobs: &Jobs, found: &[Option<Spot>]) {
        let now = self.spots_now(jobs);
        if jobs.left_out(found) >= jobs.left_out(&now) {
            return;
        }
        let mut board = Board::new(jobs, &self.problem.shelves);
        for (number, spot) in found.iter().enumerate() {
            if let Some(spot) = *spot {
                board.place(number, spot);
            }
        }
        self.undo_needless(day, jobs, &mut board);
        self.accept(day, jobs, board.spots());
    }

    /// Lets moved items go back where nothing stands now, or swap with one that took their spot.
    fn undo_needless(&self, day: i32, jobs: &Jobs, board: &mut Board<'_>) {
        for _ in 0..3 {
            let mut changed = false;
            for (number, job) in jobs.list.iter().enumerate() {
                let (Some(old), Some(new)) = (self.spot_of(job.item), board.spot(number)) else {
                    continue;
                };
                if old == new || !self.stood_before(job.item, day) {
                    continue;
                }
                let there = board.conflicts(number, old);
                let other = match there.as_slice() {
                    [] => None,
                    [other] if self.is_away(day, jobs, board, *other) => Some(*other),
                    _ => continue,
                };
                let others = other.and_then(|other| board.spot(other));
                board.remove(number);
                if let Some(other) = other {
                    board.remove(other);
                }
                let mut back = board.admits(number, old);
                if back {
                    board.place(number, old);
                    if let Some(other) = other {
                        let turned = others.map_or(new.turned, |spot| spot.turned);
                        let mut swap = [new, Spot { turned, ..new }].into_iter();
                        if let Some(spot) = swap.find(|&spot| board.admits(other, spot)) {
                            board.place(other, spot);
                        } else {
                            board.remove(number);
                            back = false;
                        }
                    }
                }
                if back {
                    changed = true;
                } else {
                    board.place(number, new);
                    if let (Some(other), Some(spot)) = (other, others) {
                        board.place(other, spot);
                    }
                }
            }
            if !changed {
                break;
            }
        }
    }

    /// Moving it costs nothing: it has moved already, or has not stood before.
    fn is_away(&self, day: i32, jobs: &Jobs, board: &Board<'_>, number: usize) -> bool {
        jobs.list.get(number).is_some_and(|job| {
            job.pinned.is_none() && (!self.stood_before(job.item, day) || self.spot_of(job.item) != board.spot(number))
        })
    }

    fn accept(&mut self, day: i32, jobs: &Jobs, found: &[Option<Spot>]) {
        let holds = |item: usize| self.stood_before(item, day) || self.goes_on(item);
        let loses = |(job, spot): (&Job, &Option<Spot>)| spot.is_none() && holds(job.item);
        if jobs.list.iter().zip(found).any(loses) {
            return;
        }
        for (job, &spot) in jobs.list.iter().zip(found) {
            let (stood, old) = (self.stood_before(job.item, day), self.spot_of(job.item));
            let Some(spots) = self.layout.spots.get_mut(job.item) else {
                continue;
            };
            if stood {
                if let (true, Some(spot)) = (spot != old, spot) {
                    spots.retain(|&(from, _)| from < day);
                    // Back to where it was before today: no move at all.
                    if spots.last().is_none_or(|&(_, last)| last != spot) {
                        spots.push((day, spot));
                    }
                }
            } else {
                *spots = spot.map(|spot| (job.days().from, spot)).into_iter().collect();
            }
            if let Some(held) = self.spots.get_mut(job.item) {
                *held = spot;
            }
        }
    }
}

/// With few changes; where the day may fit, with as many as it takes.
fn improved(attempt: Attempt<'_>, start: &[Option<Spot>], may_fit: bool) -> Result<Placement, Cancelled> {
    if !may_fit {
        return improve(attempt, start);
    }
    let few = attempt.budget / 4;
    let found = improve(attempt.with_budget(few), start)?;
    let more = eject(attempt.with_budget(attempt.budget - few), &found.spots, 0)?;
    Ok(Placement { work: found.work + more.work, ..more })
}
