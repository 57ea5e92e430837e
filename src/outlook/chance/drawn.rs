//! What is drawn, and what came of it.

use std::num::NonZero;

use chrono::NaiveDate;

use super::super::answer::{Pool, PoolKind, ProblemHash, Week, WeekLabel};

/// How many seasons are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// The first one's number: draws are the same whichever are asked for with them.
    pub first: u32,
    pub number: u32,
    /// As many as there are processors if not given; the answer is the same.
    pub threads: Option<NonZero<usize>>,
}

impl Default for Draws {
    fn default() -> Self {
        Self { first: 0, number: 1_000, threads: None }
    }
}

/// What came of the draws.
#[derive(Clone, Debug, PartialEq)]
pub struct Chance {
    /// The question this answers; see [`super::chance_hash`].
    pub problem: ProblemHash,
    pub draws: u32,
    /// Whether any two draws differ at all.
    pub varies: bool,
    /// By pool, then by date: those of the likely season, and those that other draws add.
    pub weeks: Vec<ChanceWeek>,
}

/// One week of one pool, over all draws.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChanceWeek {
    /// The Monday.
    pub from: NaiveDate,
    pub label: WeekLabel,
    pub pool: Pool,
    /// Draws in which some day of it is proven too full.
    pub proven: u32,
    /// Draws in which some day of it is not shown to fit.
    pub at_most: u32,
    /// Trays, stacks and pots wanted on the week's fullest day: 9 in 10 draws want at least the first
    /// figure, 1 in 10 at least the second.
    pub needed: (u32, u32),
}

impl Chance {
    /// The week as the outlook has it.
    pub fn of(&self, week: &Week) -> Option<&ChanceWeek> {
        self.weeks.iter().find(|own| own.from == week.from && own.pool.kind == week.pool.kind)
    }

    pub fn weeks_of(&self, pool: PoolKind) -> impl Iterator<Item = &ChanceWeek> {
        self.weeks.iter().filter(move |week| week.pool.kind == pool)
    }

    /// A number of draws as a part of one.
    pub fn share(&self, draws: u32) -> f64 {
        f64::from(draws) / f64::from(self.draws.max(1))
    }
}
