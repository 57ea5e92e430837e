//! One spot for each job, for all its days: several greedy passes.
//!
//! Keeps the best answer seen, by the weight of the jobs left out. It may miss a layout that exists.

use super::board::{Board, Prefer, Rule};
use super::jobs::Job;
use super::placement::{Attempt, Best, Placement};
use crate::fit::work::{Cancel, Cancelled};

/// Jobs in a pass's order are taken one by one.
#[derive(Clone, Copy, Debug)]
enum JobOrder {
    /// By first day; the choosier and larger first among those of a day.
    Start,
    /// Whoever may stand in the fewest regions first, then by first day.
    Choosy,
    /// Large ones first, then by first day.
    Large,
    /// Long sides first, then by first day.
    Long,
}

const PASSES: [(JobOrder, Rule, Prefer); 10] = [
    (JobOrder::Start, Rule::Lattice, Prefer::Given),
    (JobOrder::Start, Rule::Lattice, Prefer::Scarce),
    (JobOrder::Start, Rule::Touch, Prefer::Scarce),
    (JobOrder::Choosy, Rule::Lattice, Prefer::Scarce),
    (JobOrder::Choosy, Rule::Left, Prefer::Scarce),
    (JobOrder::Large, Rule::Lattice, Prefer::Scarce),
    (JobOrder::Large, Rule::Touch, Prefer::Scarce),
    (JobOrder::Long, Rule::Left, Prefer::Given),
    (JobOrder::Large, Rule::Front, Prefer::Scarce),
    (JobOrder::Start, Rule::Front, Prefer::Given),
];

/// The spots of the best of several plain passes, of which the first is always finished; content
/// once the jobs left out weigh `enough` or less.
pub(in crate::fit) fn greedy(attempt: Attempt<'_>) -> Result<Placement, Cancelled> {
    let Attempt { jobs, shelves, enough, budget, cancel } = attempt;
    let mut work = 0;
    let mut best: Option<Best> = None;
    let wishes = jobs.list.iter().any(|job| job.wish.is_some());
    for (number, &(order, rule, prefer)) in PASSES.iter().enumerate() {
        if best.as_ref().is_some_and(|best| best.cost <= enough || (work > budget / 2 && number > 0)) {
            break;
        }
        for keep_wishes in [true, false] {
            if keep_wishes && !wishes {
                continue;
            }
            let mut board = Board::new(jobs, shelves);
            pin(&mut board);
            if keep_wishes {
                grant(&mut board);
            }
            fill(&mut board, order, rule, prefer, cancel)?;
            work += board.work;
            Best::keep(&mut best, &board);
        }
    }
    Ok(best.map_or_else(Placement::default, |best| Placement { spots: best.spots, work }))
}

/// Pinned jobs first: nothing else may take their ground.
fn pin(board: &mut Board<'_>) {
    for (number, job) in board.jobs().iter().enumerate() {
        if let Some(spot) = job.pinned
            && board.admits(number, spot)
        {
            board.place(number, spot);
        }
    }
}

fn grant(board: &mut Board<'_>) {
    for (number, job) in board.jobs().iter().enumerate() {
        if let (None, Some(wish)) = (board.spot(number), job.wish)
            && board.admits(number, wish)
        {
            board.place(number, wish);
        }
    }
}

fn fill(board: &mut Board<'_>, order: JobOrder, rule: Rule, prefer: Prefer, cancel: &Cancel) -> Result<(), Cancelled> {
    cancel.check()?;
    let mut numbers: Vec<usize> = (0..board.jobs().len()).filter(|&n| board.spot(n).is_none()).collect();
    let jobs = board.jobs();
    numbers.sort_by_cached_key(|&number| {
        let job: Option<&Job> = jobs.get(number);
        job.map(|job| {
            let (from, choices, area) = (i128::from(job.days().from), job.regions.len() as i128, job.area());
            let long = i128::from(job.longest_side());
            let length = -(i128::from(job.days().until) - from);
            match order {
                JobOrder::Start => [from, choices, -area, length],
                JobOrder::Choosy => [choices, from, -area, length],
                JobOrder::Large => [-area, choices, from, length],
                JobOrder::Long => [-long, -area, from, length],
            }
        })
    });
    for number in numbers {
        cancel.check()?;
        if let Some(spot) = board.find(number, rule, prefer) {
            board.place(number, spot);
        }
    }
    Ok(())
}
