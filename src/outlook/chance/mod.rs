//! How likely each week is too full, from many seasons drawn between early and late.
//!
//! No season is solved: each drawn day is so many trays of each kind, and `fit::ManyDays` says whether a
//! bound proves it too full, whether a packing of that day shows that it fits, or neither. So what
//! is *proven* is never more often than the truth, and *at most* never less. A place counts as having
//! room on a day if all that shares shelves with it is packed; or if only places that are proven too
//! full by themselves have trays left over, after they had the first choice. Where places share
//! shelves and only together are too full, that is proven for the one with the most trays, and open
//! for the others: which of them goes short is the grower's choice.
//!
//! Draws are known by their number alone (`forecast::Scenario`): a season before and after an edit meets
//! the same springs, and the answer is the same on any number of threads.

mod count;
mod kinds;
mod table;

use std::num::NonZero;

use chrono::NaiveDate;
use siphasher::sip128::{Hasher128 as _, SipHasher13};

use crate::fit::{Cancel, Cancelled, Progress};
use crate::season::{Library, Season};

use super::{Pool, PoolKind, ProblemHash, Week, WeekLabel};

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
    /// The question this answers; see [`chance_hash`].
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

/// Draws seasons and holds each against the shelves.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn chance(
    season: &Season,
    library: &Library,
    draws: Draws,
    problem: ProblemHash,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Chance, Cancelled> {
    let table = table::table(season, library, draws, cancel)?;
    let counted = count::count(&table, draws, progress, cancel)?;
    Ok(Chance { problem, draws: draws.number, varies: table.varies, weeks: counted.weeks(season, &table) })
}

/// The hash under which [`chance`] answers: of the likely season's `problem`, and of all that says
/// how it may turn out.
pub fn chance_hash(season: &Season, library: &Library, problem: ProblemHash) -> ProblemHash {
    let mut hasher = Feed(SipHasher13::new());
    let crops = season.sowings().filter_map(|sowing| season.crop(library, &sowing.crop));
    let crops: std::collections::BTreeMap<_, _> = crops.map(|crop| (&crop.key, crop)).collect();
    hasher.feed(&crops);
    season.sowings().for_each(|sowing| hasher.feed(sowing));
    season.places().for_each(|place| hasher.feed(place));
    hasher.feed(season.settings());
    ProblemHash(problem.0 ^ hasher.0.finish128().as_u128())
}

/// Hashes what a thing looks like in full.
struct Feed(SipHasher13);

impl Feed {
    fn feed(&mut self, thing: &impl std::fmt::Debug) {
        use std::fmt::Write as _;
        write!(self, "{thing:?};").ok(); // a hasher takes all that it is given
    }
}

impl std::fmt::Write for Feed {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        std::hash::Hasher::write(&mut self.0, text.as_bytes());
        Ok(())
    }
}
