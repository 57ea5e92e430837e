//! What is asked of the shelves, and what the answer says.

use chrono::NaiveDate;

use crate::forecast::{Problem, Stay};
use crate::season::{PlaceId, Role, ShelfId, SowingId, Spot, TrayKey};
use crate::units::{DateSpan, Length};

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

/// A stable hash of what the solver was question.
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

/// One week of one pool, at its worst day, or one day. Counts are of trays, stacks and loose pots.
#[derive(Clone, Debug, PartialEq)]
pub struct Week {
    /// The Monday, or the day.
    pub from: NaiveDate,
    pub label: WeekLabel,
    pub pool: Pool,
    pub verdict: Verdict,
    pub worst_day: NaiveDate,
    /// With this one, those that its counts are of: pools that are in each other's way that day.
    pub together: Vec<Pool>,
    pub needed: u32,
    /// `needed − short`; where all have room, with `spare` more of the commonest kind.
    pub held: u32,
    /// The fewest that must leave, proven.
    pub short: u32,
    /// With so many away, a layout was found.
    pub short_at_most: u32,
    /// At least so many more have room: a layout was found.
    pub spare: u32,
    /// How many lamps serve well; `None` where no lamp is drawn.
    pub lit: Option<u32>,
    pub over_lit: u32,
    pub trays: u32,
    pub plants: u32,
    /// Whose they are, most first: together as many as `needed`.
    pub who: Vec<Stands>,
}

/// So many of those that are counted, and the sowings whose plants stand in them: several where they share trays,
/// none for what was not sown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stands {
    pub sowings: Vec<SowingId>,
    pub number: u32,
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
    /// Those that are counted on the worst day; that which the proof is most about comes first.
    pub pools: Vec<Pool>,
    /// The days on which each pool is short, others that are so on other days among them.
    pub days: Vec<ShortOn>,
    /// Of all in these pools on the worst day.
    pub needed: u32,
    /// `needed − short`.
    pub held: u32,
    /// The fewest that must leave, proven.
    pub short: u32,
    /// With so many away, a layout was found; equal to `short` when that is exact.
    pub short_at_most: u32,
    /// The fewest that must leave, summed over its days.
    pub tray_days: u64,
    /// Those that `needed` counts on the worst day, each by its first tray.
    pub counted: Vec<TrayKey>,
    /// The fewest of them that prove it.
    pub proof: Vec<TrayKey>,
    pub proven: Proven,
    pub reason: Reason,
}

/// Days of a crunch on which a pool is short.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShortOn {
    pub pool: Pool,
    pub span: DateSpan,
}

/// The set that proves a crunch: so many of those needed, of which the shelves hold so many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proven {
    pub needed: u32,
    pub held: u32,
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
    /// Every place that is there for them is too cold or too warm.
    Warmth {
        /// The one that is nearest to what they bear.
        place: PlaceId,
    },
    /// Every place that is there for them is dark.
    Dark,
    /// Spots pinned by the grower are in each other's way.
    Pins,
}

impl Reason {
    /// Those on which the proof counts what may stand there.
    pub fn shelves(&self) -> &[ShelfId] {
        match self {
            Self::Count { shelves, .. }
            | Self::Pots { shelves, .. }
            | Self::Ground { shelves }
            | Self::Together { shelves }
            | Self::Weight { shelves }
            | Self::Allowance { shelves } => shelves,
            Self::Height { .. } | Self::NoShelf | Self::Warmth { .. } | Self::Dark | Self::Pins => &[],
        }
    }
}

impl Crunch {
    /// Every pool that is short on some day of it; those of the worst day first.
    pub fn concerned(&self) -> Vec<&Pool> {
        let mut all: Vec<&Pool> = Vec::new();
        for pool in self.pools.iter().chain(self.days.iter().map(|days| &days.pool)) {
            if !all.contains(&pool) {
                all.push(pool);
            }
        }
        all
    }

    /// Whether shelves of that kind are short on any of those days of it.
    pub fn concerns(&self, pool: PoolKind, span: DateSpan) -> bool {
        self.days.iter().any(|days| days.pool.kind == pool && days.span.overlaps(span))
    }
}

impl Outlook {
    /// The crunch of which most must leave; of those like it, that of most, and the first.
    pub fn worst(&self) -> Option<(usize, &Crunch)> {
        let rank = |(at, crunch): &(usize, &Crunch)| (crunch.short, crunch.needed, std::cmp::Reverse(*at));
        self.crunches.iter().enumerate().max_by_key(rank)
    }

    /// The crunch that leaves the stay without a spot on that day.
    pub fn crunch_of(&self, stay: &Stay, day: NaiveDate) -> Option<&Crunch> {
        let without = |(tray, span): &(TrayKey, DateSpan)| Some(*tray) == stay.tray() && span.contains(day);
        let of_pool = |kind: PoolKind| match kind {
            PoolKind::BottomHeat => stay.needs.role == Role::Germinating && stay.needs.heat,
            PoolKind::Of(role) => stay.needs.role == role,
        };
        let is_of =
            |crunch: &&Crunch| crunch.days.iter().any(|days| days.span.contains(day) && of_pool(days.pool.kind));
        self.crunches.iter().find(is_of).filter(|_| self.no_spot.iter().any(without))
    }

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
