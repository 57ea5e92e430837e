//! What the needs mean on these shelves: verdict by day and week, crunches with their reasons, a
//! layout, and the problems of the layout that stands.
//!
//! Never a guess: a day *fits* only with a layout that `fit::check` accepted, and is a *crunch*
//! only with a proof; else it is unsettled.

mod ask;
mod chance;
mod job;
mod proof;
mod standing;
mod verdict;
mod view;
mod weeks;

pub use chance::{Chance, ChanceWeek, Draws, chance, chance_hash};
pub use job::{Job, JobState};
pub use standing::{Obstacle, Standing, layout_problems, spot_of, standing};
pub use weeks::week_label;

use chrono::NaiveDate;

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Problem};
use crate::season::{PlaceId, Role, Season, ShelfId, Spot, TrayKey};
use crate::units::{DateSpan, Length};

/// Everything worth a look: of the plan, of the shelves, and of the layout as it stands; each once.
pub fn problems(season: &Season, forecast: &Forecast, outlook: Option<&Outlook>) -> Vec<Problem> {
    let of_layout = layout_problems(season, forecast);
    let of_shelves = outlook.map_or(&[][..], |outlook| &outlook.problems);
    let mut problems: Vec<Problem> = Vec::new();
    for problem in forecast.problems.iter().chain(of_shelves).chain(&of_layout) {
        if !problems.contains(problem) {
            problems.push(problem.clone());
        }
    }
    problems
}

/// The season held against its shelves.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// The problem this answers; an edit that leaves it as it was leaves the answer good.
    pub problem: ProblemHash,
    pub verdict: Verdict,
    /// By pool, then by date.
    pub weeks: Vec<Week>,
    pub crunches: Vec<Crunch>,
    /// Of the needs themselves: too tall, too large, beyond the lamps.
    pub problems: Vec<Problem>,
    /// The best layout found, pinned spots included.
    pub layout: Vec<Spot>,
    /// Trays that change their spot though nothing about them changed.
    pub moves: usize,
    /// Trays without a spot in that layout, and when.
    pub no_spot: Vec<(TrayKey, DateSpan)>,
}

/// A stable hash of what the solver was asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ProblemHash(pub u128);

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Fits,
    Unsettled,
    Crunch,
}

/// Shelves that are counted together: all places of one role, or all bottom heat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pool {
    pub kind: PoolKind,
    pub places: Vec<PlaceId>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PoolKind {
    BottomHeat,
    Of(Role),
}

/// One week of one pool, at its worst day. Counts are of trays, stacks and blocks of pots.
#[derive(Clone, Debug, PartialEq)]
pub struct Week {
    /// The Monday.
    pub from: NaiveDate,
    pub label: WeekLabel,
    pub pool: Pool,
    pub verdict: Verdict,
    pub worst_day: NaiveDate,
    pub needed: u32,
    /// How many of them have room; with `spare` more of the commonest kind where all have.
    pub held: u32,
    pub spare: u32,
    /// How many lamps serve well; `None` where no lamp is drawn.
    pub lit: Option<u32>,
    pub over_lit: u32,
    /// Of `needed`, those still in the container they were sown in.
    pub plugs: u32,
    pub trays: u32,
    pub plants: u32,
}

/// A week's number, and the year it belongs to where that is not plain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WeekLabel {
    Iso {
        year: i32,
        week: u32,
    },
    /// Counted from the grower's own Monday; weeks before it are negative.
    Own(i64),
}

/// A run of days on which the stays cannot all have a spot, even if everything is moved about.
#[derive(Clone, Debug, PartialEq)]
pub struct Crunch {
    pub span: DateSpan,
    pub worst_day: NaiveDate,
    pub pool: Pool,
    pub needed: u32,
    pub held: u32,
    /// The fewest that must leave, proven.
    pub short: u32,
    /// With so many away, a layout was found; equal to `short` when that is exact.
    pub short_at_most: u32,
    /// The stays that prove it on the worst day, each by its first tray.
    pub proof: Vec<TrayKey>,
    pub reason: Reason,
}

/// Why a set of stays cannot stand on the shelves that can take them.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// So many of at least this size; the shelves hold fewer, turned either way.
    Count {
        width: Length,
        depth: Length,
        shelves: Vec<ShelfId>,
    },
    /// Loose pots, counted singly.
    Pots {
        across: Length,
        /// From middle to middle.
        apart: Length,
        shelves: Vec<ShelfId>,
    },
    /// Their ground together is more than the shelves have.
    Ground {
        shelves: Vec<ShelfId>,
    },
    /// Whichever of them stand together on each shelf, some are left.
    Together {
        shelves: Vec<ShelfId>,
    },
    Weight {
        shelves: Vec<ShelfId>,
    },
    /// The grower's own packing allowance.
    Allowance {
        shelves: Vec<ShelfId>,
    },
    /// No shelf is tall enough.
    Height {
        missing: Length,
    },
    /// No shelf that they may stand on is large enough, or none is there or open.
    NoShelf,
    /// Spots pinned by the grower are in each other's way.
    Pins,
}

impl Outlook {
    /// The weeks of one pool, by date.
    pub fn weeks_of(&self, pool: PoolKind) -> impl Iterator<Item = &Week> {
        self.weeks.iter().filter(move |week| week.pool.kind == pool)
    }
}

/// What a layout must leave where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// Pinned spots alone: what the season's verdict is about, wherever trays stand now.
    Pinned,
    /// Pinned spots, and all others where that costs nothing: for a layout to live with.
    Spots,
}

/// How hard to look, in fixed units of work: the same answer on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort(pub u64);

impl Default for Effort {
    fn default() -> Self {
        Self(20_000_000)
    }
}

/// Holds the season's needs against its shelves.
///
/// What `memory` holds of questions asked before makes the answer come sooner, and never changes it.
///
/// Judges what could stand where, not where things stand now: [`layout_problems`] does that.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn look_ahead(
    season: &Season,
    forecast: &Forecast,
    keep: Keep,
    effort: Effort,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Outlook, Cancelled> {
    verdict::look_ahead(season, forecast, (keep, effort), memory, progress, cancel)
}

/// The hash that [`look_ahead`] would answer under with the default effort, without the work.
pub fn problem_hash(season: &Season, forecast: &Forecast, keep: Keep) -> ProblemHash {
    verdict::problem_hash(season, forecast, keep)
}
