//! A layout over all days, and for each day whether it fits, cannot, or is unsettled.
//!
//! First one spot for each item for all its days: if that works out, nobody moves. Else `moves`
//! goes through the days. A day is called fit because of the layout alone, and a crunch because of
//! a bound alone; [`check`] has accepted every layout that leaves here.

use super::assign::assign;
use super::bound::{Bound, Prover};
use super::check::{Fault, check};
use super::jobs::{Job, Jobs, Lattices};
use super::moves::Walk;
use super::problem::{Days, Layout, Problem};
use super::work::{Cancel, Cancelled, Progress};

/// A layout and what it means for each day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    pub layout: Layout,
    /// In order and without gaps, from the first item's first day to the last one's end.
    pub days: Vec<DayVerdict>,
}

/// What is known of a run of days on which nothing changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayVerdict {
    pub days: Days,
    pub verdict: Verdict,
    /// At least so many items can't stand, proven.
    pub short_least: i64,
    /// So many items have no spot in the layout.
    pub short_most: i64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Every item of the day has a spot in the layout.
    Fits,
    /// Not every item of the day can have a spot, whatever is moved.
    Crunch(Bound),
    /// Neither a packing nor a proof was found.
    Unsettled,
}

impl Answer {
    pub fn is_fit(&self) -> bool {
        self.days.iter().all(|run| run.verdict == Verdict::Fits)
    }

    /// What is known of a day; `None` outside all items' days.
    pub fn on(&self, day: i32) -> Option<&DayVerdict> {
        self.days.iter().find(|run| run.days.contains(day))
    }

    /// The items that want a spot on a day and have none in the layout.
    pub fn no_spot_on(&self, problem: &Problem, day: i32) -> Vec<usize> {
        self.layout.no_spot_on(problem, day)
    }
}

/// Spots for all items over their days, and a verdict for every day.
///
/// The budget counts looks at obstacles while searching, some hundred million a second; the first
/// pass is always finished. Same problem and same budget: same answer.
///
/// # Errors
/// [`Cancelled`] once the work is no longer wanted.
pub fn solve(problem: &Problem, budget: u64, progress: &Progress, cancel: &Cancel) -> Result<Answer, Cancelled> {
    progress.set(0, 2);
    let mut lattices = Lattices::default();
    let mut prover = Prover::default();
    let ever = Days::new(i32::MIN, i32::MAX);
    let list = problem.items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, ever)).collect();
    let jobs = Jobs::new(list, &mut lattices);
    let found = assign(&jobs, &problem.shelves, budget / 2, cancel)?;
    progress.set(1, 2);
    let mut spots = vec![None; problem.items.len()];
    for (job, spot) in jobs.list.iter().zip(found) {
        if let Some(slot) = spots.get_mut(job.item) {
            *slot = spot;
        }
    }
    let walk = Walk::new(problem, spots, &mut prover, &mut lattices, budget - budget / 2, cancel);
    let mut layout = walk.run(progress)?;
    drop_faulty(problem, &mut layout);
    let days = verdicts(problem, &layout, &mut prover, cancel)?;
    progress.set(1, 1);
    Ok(Answer { layout, days })
}

/// A layout with a fault must not leave: whoever is part of one goes without a spot instead.
fn drop_faulty(problem: &Problem, layout: &mut Layout) {
    while let Err(faults) = check(problem, layout) {
        debug_assert!(false, "the solver made a faulty layout: {faults:?}");
        layout.spots.resize(problem.items.len(), Vec::new());
        for fault in faults {
            let items = match fault {
                Fault::Lists { .. } => Vec::new(),
                Fault::OutsideDays { item, .. }
                | Fault::OutOfOrder { item, .. }
                | Fault::OutsideRegions { item, .. }
                | Fault::NotAsPinned { item, .. } => vec![item],
                Fault::Overlap { a, b, .. } => vec![a, b],
                Fault::Overload { items, .. } | Fault::Overcover { items, .. } => items,
            };
            for item in items {
                if let Some(spots) = layout.spots.get_mut(item) {
                    spots.clear();
                }
            }
        }
    }
}

fn verdicts(
    problem: &Problem,
    layout: &Layout,
    prover: &mut Prover,
    cancel: &Cancel,
) -> Result<Vec<DayVerdict>, Cancelled> {
    let mut bounds = problem.change_days();
    bounds.extend(layout.spots.iter().flatten().map(|&(from, _)| from));
    bounds.sort_unstable();
    bounds.dedup();
    let mut runs = Vec::new();
    for (&from, &until) in bounds.iter().zip(bounds.iter().skip(1)) {
        cancel.check()?;
        let short_most = i64::try_from(layout.no_spot_on(problem, from).len()).unwrap_or(i64::MAX);
        let mut short_least = 0;
        let verdict = if short_most == 0 {
            Verdict::Fits
        } else {
            let proof = prover.day(problem, from);
            short_least = proof.short.min(short_most);
            proof.bound.map_or(Verdict::Unsettled, Verdict::Crunch)
        };
        runs.push(DayVerdict { days: Days::new(from, until), verdict, short_least, short_most });
    }
    Ok(runs)
}
