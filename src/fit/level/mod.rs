//! The cheapest choice for each of many batches, so that no day is over its capacity: resource levelling.
//!
//! A batch is sown, moved on and put out in one of several ways; each way costs something and takes so much of
//! some resources on some days. [`level()`] picks one way for each batch at the least cost, and proves it; where
//! nothing fits, [`closest()`] lacks least. What a finer check finds not to fit after all becomes a [`NoGood`],
//! and the next call starts from the last answer.
//!
//! Nothing is known here of what the amounts are: areas, trays, lamps. Amounts and costs are whole numbers.
//! The bounds come from prices of days, found by a linear program in floating point and proven in whole numbers
//! (`lp`, `exact`); the search (`tree`) splits the choices of one batch at a time.

mod answer;
mod branching;
mod cuts;
mod exact;
mod inverse;
mod levels;
mod lp;
mod neighbours;
mod pricing;
mod problem;
mod repair;
mod table;
mod tree;

pub use answer::{Closest, Levelled, Limit};
pub use problem::{Batch, Choice, DailyCapacity, LevelError, LevelProblem, Levels, NoGood, Over, Term, Use};

use super::problem::Days;
use super::work::{Cancel, Progress};
use neighbours::settle;
use table::{Aim, Table};
use tree::{Search, Stop};

/// The choices of least cost that fit.
///
/// `start` may hold a choice for each batch, such as the last answer; anything else is left aside. `budget` is in units
/// of work, a few nanoseconds each; it is overrun by at most one node
/// of the search. The same input gives the same answer, unless
/// it is cancelled.
///
/// # Errors
/// [`LevelError`] for a problem whose numbers are out of range.
pub fn level(
    problem: &LevelProblem,
    start: &[usize],
    budget: u64,
    cancel: &Cancel,
    progress: &Progress,
) -> Result<Levelled, LevelError> {
    problem.check()?;
    let Ok(table) = Table::new(problem, Aim::Cheapest, cancel) else {
        return Ok(Levelled::stopped(problem, start));
    };
    let mut search = Search::new(&table, table.dearest().saturating_add(1));
    if let Some(columns) = table.columns_of(start) {
        search.offer(&columns);
    }
    settle(&mut search, budget, cancel, progress);
    let chosen = search.best.as_ref().map(|columns| table.choices_of(columns));
    let cost = chosen.as_ref().map(|chosen| problem.levels(chosen).cost);
    let at_least = search.at_least();
    Ok(Levelled { chosen, cost, at_least, is_proven: search.is_done(), is_stopped: cancel.is_cancelled() })
}

/// The choices that lack least, in units × days above capacities; of those, with the least worst day and then
/// the least cost, as far as the budget goes: one half of it finds the least lack, of which progress is told,
/// a quarter each the rest.
///
/// # Errors
/// As [`level()`].
pub fn closest(
    problem: &LevelProblem,
    start: &[usize],
    budget: u64,
    cancel: &Cancel,
    progress: &Progress,
) -> Result<Closest, LevelError> {
    problem.check()?;
    let Ok(table) = Table::new(problem, Aim::Closest(None), cancel) else {
        return Ok(Closest::stopped(problem, start));
    };
    let mut search = Search::new(&table, i64::MAX);
    let any: Vec<usize> = table.batches.iter().map(|batch| batch.start).collect();
    search.offer(&any);
    if let Some(columns) = table.columns_of(start) {
        search.offer(&columns);
    }
    settle(&mut search, budget / 2, cancel, progress);
    let at_least = search.at_least();
    let chosen = search.best.as_ref().map_or_else(Vec::new, |columns| table.choices_of(columns));
    let chosen = flatter(problem, chosen, budget / 4, cancel);
    let chosen = cheaper(problem, chosen, budget / 4, cancel);
    Ok(Closest::new(problem, chosen, at_least, cancel.is_cancelled()))
}

/// So often the range of the worst day is halved.
const HALVINGS: u64 = 8;

/// As close, with a lower worst day where there is one.
fn flatter(problem: &LevelProblem, mut chosen: Vec<usize>, budget: u64, cancel: &Cancel) -> Vec<usize> {
    let mut low = 0;
    for _ in 0..HALVINGS {
        let levels = problem.levels(&chosen);
        let worst = levels.over.iter().map(|over| over.by).max().unwrap_or(0);
        if worst <= low || cancel.is_cancelled() {
            break;
        }
        let most = low.midpoint(worst).min(worst - 1);
        let Ok(table) = Table::new(problem, Aim::Closest(Some(most)), cancel) else { break };
        let lack = answer::lack(problem, &levels);
        let mut search = Search::new(&table, lack.saturating_add(1));
        let work = budget / HALVINGS;
        search.solve(Stop { work, budget: work, nodes: u64::MAX, enough: lack }, cancel);
        match &search.best {
            Some(columns) => chosen = table.choices_of(columns),
            None => low = most + 1,
        }
    }
    chosen
}

/// No day more above its capacity than now, and cheaper where that can be.
fn cheaper(problem: &LevelProblem, chosen: Vec<usize>, budget: u64, cancel: &Cancel) -> Vec<usize> {
    let levels = problem.levels(&chosen);
    let mut raised = problem.clone();
    for over in &levels.over {
        let capacity = &mut raised.resources[over.resource];
        let mut day = over.days.from;
        // A stretch that is over by the same may have days of several capacities.
        while day < over.days.until {
            let until = capacity.alike_until(day, over.days.until);
            let allowed = problem.resources[over.resource].on(day).saturating_add(over.by);
            capacity.other.push((Days::new(day, until), allowed));
            day = until;
        }
    }
    raised.nogoods = (0..problem.nogoods.len())
        .filter(|nogood| !levels.broken.contains(nogood))
        .map(|nogood| problem.nogoods[nogood].clone())
        .collect();
    let found = level(&raised, &chosen, budget, cancel, &Progress::default());
    found.ok().and_then(|found| found.chosen).unwrap_or(chosen)
}
