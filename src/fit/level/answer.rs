//! What is known in the end.

use super::problem::{Batch, LevelProblem, Levels};

/// The cheapest choices found, and what is proven of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Levelled {
    /// A choice for each batch, which together fit; `None` where none was found.
    pub chosen: Option<Vec<usize>>,
    /// What they cost.
    pub cost: Option<i64>,
    /// No choices that fit cost less; proven. Says nothing if there are none that fit.
    pub at_least: i64,
    /// Nothing cheaper fits or, with nothing chosen, nothing fits at all.
    pub is_proven: bool,
    /// Cancelled: this is what was known until then.
    pub is_stopped: bool,
}

/// The choices that lack least.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closest {
    pub chosen: Vec<usize>,
    pub levels: Levels,
    /// What they lack, in units × days, broken nogoods at their price.
    pub lack: i64,
    /// No choices lack less; proven. Above 0 none fit.
    pub at_least: i64,
    /// What limits most; `None` where the choices fit.
    pub limit: Option<Limit>,
    /// Cancelled: this is what was known until then.
    pub is_stopped: bool,
}

/// A day of a resource that is over its capacity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit {
    pub resource: usize,
    pub day: i32,
    pub capacity: i64,
    /// What the closest choices use.
    pub used: i64,
    /// What any choices use, whatever the other days say. Above the capacity the day alone proves that nothing fits.
    pub least: i64,
}

impl Levelled {
    /// Stopped before anything was sought: what is known is the start, if it fits.
    pub(super) fn stopped(problem: &LevelProblem, start: &[usize]) -> Self {
        let levels = is_chosen(problem, start).then(|| problem.levels(start));
        let cost = levels.filter(|levels| levels.over.is_empty() && levels.broken.is_empty()).map(|levels| levels.cost);
        let cheapest = |batch: &Batch| batch.choices.iter().map(|choice| choice.cost).min();
        let at_least = problem.batches.iter().filter_map(cheapest).sum();
        Self { chosen: cost.map(|_| start.to_vec()), cost, at_least, is_proven: false, is_stopped: true }
    }
}

/// Whether there is a choice for each batch.
fn is_chosen(problem: &LevelProblem, chosen: &[usize]) -> bool {
    let is_choice = |(batch, &choice): (&Batch, &usize)| choice < batch.choices.len();
    chosen.len() == problem.batches.len() && problem.batches.iter().zip(chosen).all(is_choice)
}

impl Closest {
    /// As [`Levelled::stopped`]; without a start, any choices.
    pub(super) fn stopped(problem: &LevelProblem, start: &[usize]) -> Self {
        let any = || vec![0; problem.batches.len()];
        let chosen = if is_chosen(problem, start) { start.to_vec() } else { any() };
        Self::new(problem, chosen, 0, true)
    }

    /// Of choices that may lack; `at_least` is what is proven so far.
    pub(super) fn new(problem: &LevelProblem, chosen: Vec<usize>, at_least: i64, is_stopped: bool) -> Self {
        let levels = problem.levels(&chosen);
        let lack = lack(problem, &levels);
        let limit = limit(problem, &levels);
        Self { chosen, levels, lack, at_least: at_least.clamp(0, lack), limit, is_stopped }
    }
}

/// Units × days.
pub(super) fn lack(problem: &LevelProblem, levels: &Levels) -> i64 {
    let of_days =
        levels.over.iter().map(|over| over.by.saturating_mul(i64::from(over.days.until) - i64::from(over.days.from)));
    let broken = levels.broken.iter().filter_map(|&nogood| problem.nogoods.get(nogood));
    of_days.chain(broken.map(|nogood| nogood.short.max(1))).fold(0, i64::saturating_add)
}

/// The day that is over whatever is chosen, by the most; else the day that is over by the most.
fn limit(problem: &LevelProblem, levels: &Levels) -> Option<Limit> {
    let limits = levels.over.iter().filter_map(|over| {
        let (day, capacity) = (over.days.from, problem.resources.get(over.resource)?.on(over.days.from));
        let least = problem.least_used(over.resource, day);
        Some(Limit { resource: over.resource, day, capacity, used: capacity.saturating_add(over.by), least })
    });
    limits.min_by_key(|limit| {
        let alone = (limit.least - limit.capacity).max(0);
        (-alone, limit.capacity - limit.used, limit.resource, limit.day)
    })
}
