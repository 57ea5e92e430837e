//! Fewer moves in a layout that has some: whoever moves is given one spot for longer, others making way without a move.
//!
//! Nobody comes later, leaves sooner or moves on any other day than before.

use crate::fit::answer::Layout;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::problem::{Days, Item, Problem, Spot};
use crate::fit::work::{Cancel, Cancelled};

/// Rounds over all that move, at most.
const MOST_ROUNDS: usize = 8;
/// More stretches of one item than this aren't joined.
const MOST_STRETCHES: usize = 12;
/// More that stand on a spot than this don't make way for one.
const MOST_MAKING_WAY: usize = 4;

/// An item that moves: its stretches between moves, and which of them are joined into one job now.
struct Mover {
    /// By first and last stretch, the job of both and all between.
    jobs: Vec<Vec<usize>>,
    spots: Vec<Spot>,
    /// First and last stretch of each job that stands.
    now: Vec<(usize, usize)>,
}

/// All jobs that there may be, one for every row of stretches, and the spots that those have which are not joined.
#[derive(Default)]
struct Stretches {
    list: Vec<Job>,
    spots: Vec<Option<Spot>>,
    movers: Vec<Mover>,
}

impl Stretches {
    /// `None` for a layout of nonsense.
    fn add(&mut self, number: usize, item: &Item, spots: &[(i32, Spot)]) -> Option<()> {
        let ends = spots.iter().skip(1).map(|&(from, _)| from).chain([item.days().until]);
        let days: Vec<Days> = spots.iter().zip(ends).map(|(&(from, _), until)| Days::new(from, until)).collect();
        let joined = days.len() <= MOST_STRETCHES;
        let mut jobs: Vec<Vec<usize>> = Vec::new();
        for (first, &(_, spot)) in spots.iter().enumerate() {
            let until = if joined { days.len() } else { first + 1 };
            jobs.push((self.list.len()..self.list.len() + until - first).collect());
            for last in first..until {
                self.list.push(Job::new(number, item, Days::new(days[first].from, days[last].until))?);
                self.spots.push((last == first).then_some(spot));
            }
        }
        if joined && jobs.len() > 1 {
            let now = (0..jobs.len()).map(|at| (at, at)).collect();
            self.movers.push(Mover { jobs, spots: spots.iter().map(|&(_, spot)| spot).collect(), now });
        }
        Some(())
    }
}

/// The layout with no more moves than before, and the work that it took.
///
/// # Errors
/// [`Cancelled`] once the work is no longer wanted.
pub(super) fn fewer_moves(
    problem: &Problem,
    layout: Layout,
    lattices: &mut Lattices,
    budget: u64,
    cancel: &Cancel,
) -> Result<(Layout, u64), Cancelled> {
    let before = layout.moves();
    let mut stretches = Stretches::default();
    for (number, (item, spots)) in problem.items.iter().zip(&layout.spots).enumerate() {
        cancel.check()?;
        if before == 0 || stretches.add(number, item, spots).is_none() {
            return Ok((layout, 0));
        }
    }
    let Stretches { list, spots, mut movers } = stretches;
    let jobs = Jobs::new(list, lattices);
    cancel.check()?;
    let mut board = Board::with(&jobs, &problem.shelves, &spots);
    for _ in 0..MOST_ROUNDS {
        let mut changed = false;
        for mover in &mut movers {
            cancel.check()?;
            changed |= mover.now.len() > 1 && board.work < budget && join(&mut board, mover);
        }
        if !changed {
            break;
        }
    }
    let found = laid_out(problem, &board);
    Ok((if found.moves() < before { found } else { layout }, board.work))
}

fn laid_out(problem: &Problem, board: &Board<'_>) -> Layout {
    let mut layout = Layout { spots: vec![Vec::new(); problem.items.len()] };
    for (job, spot) in board.jobs().iter().zip(board.spots()) {
        if let (Some(spot), Some(spots)) = (spot, layout.spots.get_mut(job.item)) {
            spots.push((job.days().from, *spot));
        }
    }
    for spots in &mut layout.spots {
        spots.sort_unstable_by_key(|&(from, _)| from);
        spots.dedup_by_key(|(_, spot)| *spot);
    }
    layout
}

/// Gives one spot to as many stretches as can have one, from the first on; whether there are fewer moves now.
fn join(board: &mut Board<'_>, mover: &mut Mover) -> bool {
    let before = board.spots().to_vec();
    for &(first, last) in &mover.now {
        let job = mover.jobs[first][last - first];
        let spot = board.spot(job);
        for own in mover.spots.iter_mut().take(last + 1).skip(first) {
            *own = spot.unwrap_or(*own);
        }
        board.remove(job);
    }
    let mut next: Vec<(usize, usize)> = Vec::new();
    let mut first = 0;
    while first < mover.jobs.len() {
        let found = (first..mover.jobs.len()).rev().find(|&last| stand(board, mover, first, last));
        let Some(last) = found else { break };
        next.push((first, last));
        first = last + 1;
    }
    if first == mover.jobs.len() && next.len() < mover.now.len() {
        mover.now = next;
        return true;
    }
    restore(board, &before);
    false
}

/// As it was: whoever made way comes back too.
fn restore(board: &mut Board<'_>, before: &[Option<Spot>]) {
    let changed: Vec<usize> = (0..before.len()).filter(|&job| board.spot(job) != before[job]).collect();
    for &job in &changed {
        board.remove(job);
    }
    for job in changed {
        if let Some(spot) = before[job] {
            board.place(job, spot);
        }
    }
}

fn put_back(board: &mut Board<'_>, held: &[(usize, Option<Spot>)]) {
    for &(job, spot) in held {
        if let Some(spot) = spot {
            board.place(job, spot);
        }
    }
}

/// Puts some stretches of a mover on one spot, if there is one.
fn stand(board: &mut Board<'_>, mover: &Mover, first: usize, last: usize) -> bool {
    let job = mover.jobs[first][last - first];
    let own = mover.spots[first..=last].iter().copied();
    let spot =
        own.clone().find(|&spot| board.admits(job, spot)).or_else(|| board.find(job, Rule::Lattice, Prefer::Scarce));
    if let Some(spot) = spot {
        board.place(job, spot);
        return true;
    }
    last > first && own.into_iter().any(|spot| make_way(board, job, spot))
}

/// Puts a job on a spot, if all that stand on it find others.
fn make_way(board: &mut Board<'_>, job: usize, spot: Spot) -> bool {
    let there = board.conflicts(job, spot);
    if there.len() > MOST_MAKING_WAY || there.iter().any(|&other| board.jobs()[other].fixed) {
        return false;
    }
    let held: Vec<(usize, Option<Spot>)> = there.iter().map(|&other| (other, board.spot(other))).collect();
    for &other in &there {
        board.remove(other);
    }
    if board.admits(job, spot) {
        board.place(job, spot);
        let placed = |board: &mut Board<'_>, other: usize| {
            let found = board.find(other, Rule::Lattice, Prefer::Scarce);
            found.is_some_and(|spot| {
                board.place(other, spot);
                true
            })
        };
        if there.iter().all(|&other| placed(board, other)) {
            return true;
        }
        board.remove(job);
        for &other in &there {
            board.remove(other);
        }
    }
    put_back(board, &held);
    false
}
