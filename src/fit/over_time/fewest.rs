//! The fewest moves for a handful of items, by trying all.
//!
//! A move can wait until somebody comes or grows, so those days are the only ones to move on. Where no layout does
//! without more moves than are allowed, some of the others are at fault: a smallest set of moves, one of which is needed.
//! The fewest moves that hit all such sets are tried next, until a layout is found (implicit hitting sets: Moreno-Centeno
//! and Karp, "The implicit hitting set approach", Operations Research 61 (2013); recalled).

use crate::fit::answer::Layout;
use crate::fit::place::exhaust::{Exhausted, MOST_EXHAUSTED, Spent, exhaust_pieces};
use crate::fit::place::jobs::Job;
use crate::fit::problem::{Days, Problem, Spot};
use crate::fit::work::Cancel;

/// Work on one question, and on all.
const MOST_ONCE: u64 = 10_000_000;
const MOST_WORK: u64 = 100_000_000;
/// More days for a move than this aren't begun with.
const MOST_MOVES: usize = 100;

/// An item, and a day on which it may change its spot.
type Move = (usize, i32);

/// Each item's first day with a spot; it keeps one until its end.
pub(super) type Starts = Vec<Option<i32>>;

/// All items from their first days on.
pub(super) fn all_days(problem: &Problem) -> Starts {
    problem.items.iter().map(|item| Some(item.days().from)).collect()
}

/// As they have spots in a layout.
pub(super) fn as_placed(layout: &Layout) -> Starts {
    layout.spots.iter().map(|spots| spots.first().map(|&(from, _)| from)).collect()
}

/// A layout with fewer than so many moves, and as few as there can be; `None` if there is none, or that was not found out.
pub(super) fn fewest_moves(problem: &Problem, starts: &Starts, fewer_than: usize, cancel: &Cancel) -> Option<Layout> {
    let few = starts.iter().flatten().count() <= MOST_EXHAUSTED;
    let few = if few { Few::new(problem, starts, cancel) } else { None };
    few?.fewest(fewer_than).ok()?
}

struct Few<'a> {
    problem: &'a Problem,
    /// One for each item that has a spot, for all its days with one.
    jobs: Vec<Job>,
    moves: Vec<Move>,
    left: u64,
    cancel: &'a Cancel,
}

impl<'a> Few<'a> {
    fn new(problem: &'a Problem, starts: &Starts, cancel: &'a Cancel) -> Option<Self> {
        let mut jobs = Vec::new();
        for (number, item) in problem.items.iter().enumerate() {
            if let Some(from) = starts.get(number).copied().flatten() {
                jobs.push(Job::new(number, item, Days::new(from, i32::MAX))?);
            }
        }
        let mut days: Vec<i32> = jobs.iter().flat_map(|job| &job.phases).map(|phase| phase.days.from).collect();
        days.sort_unstable();
        days.dedup();
        let moves = |(at, job): (usize, &Job)| {
            let inside: Vec<Move> = days
                .iter()
                .filter(|&&day| job.days().from < day && day < job.days().until)
                .map(|&day| (at, day))
                .collect();
            if job.pinned.is_some() { Vec::new() } else { inside }
        };
        let moves: Vec<Move> = jobs.iter().enumerate().flat_map(moves).collect();
        (moves.len() <= MOST_MOVES).then_some(Self { problem, jobs, moves, left: MOST_WORK, cancel })
    }

    fn fewest(&mut self, fewer_than: usize) -> Result<Option<Layout>, Spent> {
        // by itself, each day can be packed
        if self.layout(&self.moves.clone())?.is_none() {
            return Ok(None);
        }
        let mut cores: Vec<Vec<Move>> = Vec::new();
        for most in 0..fewer_than {
            while let Some(moves) = self.hit(&cores, most)? {
                if let Some(layout) = self.layout(&moves)? {
                    return Ok(Some(layout));
                }
                cores.push(self.core(&moves)?);
            }
        }
        Ok(None)
    }

    /// A layout in which nobody moves but so, if there is one.
    fn layout(&mut self, moves: &[Move]) -> Result<Option<Layout>, Spent> {
        let mut pieces: Vec<Job> = Vec::new();
        for (at, job) in self.jobs.iter().enumerate() {
            let days = job.days();
            let mut cuts: Vec<i32> = moves.iter().filter(|(other, _)| *other == at).map(|&(_, day)| day).collect();
            cuts.extend([days.from, days.until]);
            cuts.sort_unstable();
            let item = self.problem.items.get(job.item).ok_or(Spent)?;
            for (&from, &until) in cuts.iter().zip(cuts.iter().skip(1)) {
                pieces.push(Job::new(job.item, item, Days::new(from, until)).ok_or(Spent)?);
            }
        }
        let budget = MOST_ONCE.min(self.left);
        let mut left = budget;
        let found = exhaust_pieces(&pieces, &self.problem.shelves, &mut left, self.cancel);
        self.left = self.left.checked_sub(100 + budget - left).ok_or(Spent)?;
        match found {
            Exhausted::Fits(spots) => Ok(Some(self.laid_out(&pieces, &spots))),
            Exhausted::Never => Ok(None),
            Exhausted::Open => Err(Spent),
        }
    }

    fn laid_out(&self, pieces: &[Job], found: &[Spot]) -> Layout {
        let mut layout = Layout { spots: vec![Vec::new(); self.problem.items.len()] };
        for (piece, &spot) in pieces.iter().zip(found) {
            let spots = &mut layout.spots[piece.item];
            if spots.last().is_none_or(|&(_, last)| last != spot) {
                spots.push((piece.days().from, spot));
            }
        }
        layout
    }

    /// Of the moves that are not allowed, a smallest set without any of which there is no layout.
    fn core(&mut self, allowed: &[Move]) -> Result<Vec<Move>, Spent> {
        let mut core: Vec<Move> = self.moves.iter().filter(|one| !allowed.contains(one)).copied().collect();
        let mut days: Vec<i32> = core.iter().map(|&(_, day)| day).collect();
        days.sort_unstable();
        days.dedup();
        // whole days first, then one after the other
        for day in days {
            self.shrink(&mut core, |one| one.1 == day)?;
        }
        for one in core.clone() {
            self.shrink(&mut core, |other| *other == one)?;
        }
        Ok(core)
    }

    fn shrink(&mut self, core: &mut Vec<Move>, out: impl Fn(&Move) -> bool) -> Result<(), Spent> {
        let fewer: Vec<Move> = core.iter().filter(|one| !out(one)).copied().collect();
        let allowed: Vec<Move> = self.moves.iter().filter(|one| !fewer.contains(one)).copied().collect();
        if self.layout(&allowed)?.is_none() {
            *core = fewer;
        }
        Ok(())
    }

    /// So many moves at most, of which each set has one.
    fn hit(&mut self, cores: &[Vec<Move>], most: usize) -> Result<Option<Vec<Move>>, Spent> {
        self.left = self.left.checked_sub(1 + cores.len() as u64).ok_or(Spent)?;
        let Some((core, others)) = cores.split_first() else { return Ok(Some(Vec::new())) };
        if most == 0 {
            return Ok(None);
        }
        for &one in core {
            let open: Vec<Vec<Move>> = others.iter().filter(|core| !core.contains(&one)).cloned().collect();
            if let Some(mut moves) = self.hit(&open, most - 1)? {
                moves.push(one);
                return Ok(Some(moves));
            }
        }
        Ok(None)
    }
}
