//! A change that makes room: what it does, what it costs, what comes of it.

use chrono::NaiveDate;

use crate::season::{ContainerKey, Edit, EditLabel, Matter, Matters, Op, PlaceId, ShelfId, Sowing, SowingId, StepId};
use crate::units::{Measure, Size};

use crate::outlook::{Outlook, Verdict};

/// One change to a season, or several together, that removes or shrinks a crunch. Verified: the season with
/// the edit was held against its shelves.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    pub changes: Vec<Change>,
    pub edit: Edit,
    pub price: Price,
    pub effect: Effect,
}

/// What is changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// Moved on later, by waiting in the cells before.
    Held {
        sowing: SowingId,
        /// The one that starts later.
        step: StepId,
        from: NaiveDate,
        to: NaiveDate,
        /// From then on what it waits in holds it back, where that is known.
        latest: Option<NaiveDate>,
    },
    /// Half of it is moved on on the day that was planned, the other half later.
    HeldHalf { sowing: SowingId, step: StepId, from: NaiveDate, to: NaiveDate },
    /// Sown on another day; all that is counted from it follows.
    Sown { sowing: SowingId, from: NaiveDate, to: NaiveDate },
    /// Half of it is sown on the day that was planned, the other half later.
    SownHalf { sowing: SowingId, from: NaiveDate, to: NaiveDate },
    /// Out, or sold, on another day.
    Out { sowing: SowingId, from: NaiveDate, to: NaiveDate },
    /// In equal lots, so many days after each other.
    OutInLots { sowing: SowingId, from: NaiveDate, lots: u16, apart: u16 },
    /// Other pots, or the same in a tray.
    Into {
        sowing: SowingId,
        step: StepId,
        from: ContainerKey,
        to: ContainerKey,
        carried_in: Option<ContainerKey>,
        /// Less than three times what it comes from: it moves again soon.
        soon: bool,
    },
    /// Pots stand rim to rim until they go.
    Tight { sowing: SowingId, step: StepId },
    /// Fewer plants, and whole trays less.
    Fewer { sowing: SowingId, from: u32, to: u32 },
    /// Shelves of one size more, lit if others of the place are.
    Shelves { place: PlaceId, size: Size, number: u32, lit: bool },
    /// A lamp over a shelf that has none.
    Lamp { shelf: ShelfId },
    /// Trays may stick out over the front edge of those shelves.
    StickOut { shelves: Vec<ShelfId>, by: Measure },
}

impl Change {
    pub const fn sowing(&self) -> Option<SowingId> {
        match self {
            Self::Held { sowing, .. }
            | Self::HeldHalf { sowing, .. }
            | Self::Sown { sowing, .. }
            | Self::Out { sowing, .. }
            | Self::SownHalf { sowing, .. }
            | Self::OutInLots { sowing, .. }
            | Self::Into { sowing, .. }
            | Self::Tight { sowing, .. }
            | Self::Fewer { sowing, .. } => Some(*sowing),
            Self::Shelves { .. } | Self::Lamp { .. } | Self::StickOut { .. } => None,
        }
    }
}

/// What a change costs, in what the grower counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Price {
    /// Days of waiting in the cells, times plants.
    pub held: u64,
    /// Days by which sowing is moved, times plants.
    pub sown: u64,
    /// Days by which going out is moved, times plants.
    pub out: u64,
    /// Pots smaller than were planned; of them, those that are soon too small.
    pub smaller: u32,
    pub soon: u32,
    pub fewer: u32,
    pub shelves: u32,
    pub lamps: u32,
    /// Shelves over whose edge trays stick out.
    pub edges: u32,
}

/// Points of each thing where it matters fairly: our choice, no source. A plant that waits a day is one.
const SOWN: u64 = 1;
const OUT: u64 = 3;
const SMALLER: u64 = 7;
const SOON: u64 = 14;
const FEWER: u64 = 60;
const SHELF: u64 = 3_000;
const LAMP: u64 = 1_500;
const EDGE: u64 = 500;

const fn times(matter: Matter) -> u64 {
    match matter {
        Matter::Little => 1,
        Matter::Fairly => 3,
        Matter::Much => 9,
    }
}

impl Price {
    /// One figure for all of it: what is cheaper has fewer points. Meaningless but beside another.
    pub fn points(&self, matters: &Matters) -> u64 {
        let each = [
            (matters.held, self.held),
            (matters.sown, SOWN * self.sown),
            (matters.out, OUT * self.out),
            (matters.smaller, SMALLER * u64::from(self.smaller) + SOON * u64::from(self.soon)),
            (matters.fewer, FEWER * u64::from(self.fewer)),
            (matters.buying, SHELF * u64::from(self.shelves) + LAMP * u64::from(self.lamps)),
            (Matter::Fairly, EDGE * u64::from(self.edges)),
        ];
        each.into_iter().fold(0, |sum, (matter, points)| sum.saturating_add(times(matter).saturating_mul(points)))
    }

    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self {
            held: self.held.saturating_add(other.held),
            sown: self.sown.saturating_add(other.sown),
            out: self.out.saturating_add(other.out),
            smaller: self.smaller.saturating_add(other.smaller),
            soon: self.soon.saturating_add(other.soon),
            fewer: self.fewer.saturating_add(other.fewer),
            shelves: self.shelves.saturating_add(other.shelves),
            lamps: self.lamps.saturating_add(other.lamps),
            edges: self.edges.saturating_add(other.edges),
        }
    }
}

/// How short of room a season is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct ShortOf {
    /// Trays that must leave, summed over the days.
    pub tray_days: u64,
    /// On the worst day.
    pub trays: u32,
    /// Runs of days.
    pub crunches: usize,
    /// Days of weeks with one on which neither a layout nor a proof was found.
    pub open_days: u64,
}

impl ShortOf {
    pub fn of(outlook: &Outlook) -> Self {
        let open = outlook.weeks.iter().filter(|week| week.verdict == Verdict::Unsettled);
        Self {
            tray_days: outlook.crunches.iter().map(|crunch| crunch.tray_days).sum(),
            trays: outlook.crunches.iter().map(|crunch| crunch.short).max().unwrap_or(0),
            crunches: outlook.crunches.len(),
            open_days: 7 * u64::try_from(open.count()).unwrap_or(u64::MAX),
        }
    }
}

/// What comes of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effect {
    pub verdict: Verdict,
    /// Of the crunch that it is a way out of: what is left of it, and what it was.
    pub of_crunch: ShortOf,
    pub crunch_before: ShortOf,
    /// Of the whole season.
    pub after: ShortOf,
    pub before: ShortOf,
    /// Where all fits: room for so many more on the fullest day of the crunch's places, and that day.
    pub spare: Option<(NaiveDate, u32)>,
}

impl Effect {
    /// Whether the crunch is gone.
    pub const fn removes(&self) -> bool {
        self.of_crunch.tray_days == 0 && self.of_crunch.open_days <= self.crunch_before.open_days
    }
}

/// A way that is not yet tried.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Draft {
    pub(super) changes: Vec<Change>,
    pub(super) ops: Vec<Op>,
    pub(super) price: Price,
    /// The edits of each change by itself, with its price.
    each: Vec<(Vec<Op>, Price)>,
}

impl Draft {
    pub(super) fn of_sowing(change: Change, sowing: Sowing, price: Price) -> Self {
        Self::new(change, vec![Op::PutSowing(sowing)], price)
    }

    pub(super) fn new(change: Change, ops: Vec<Op>, price: Price) -> Self {
        Self { changes: vec![change], each: vec![(ops.clone(), price)], ops, price }
    }

    /// Several at once; `None` if there is none.
    pub(super) fn together<'a>(all: impl Iterator<Item = &'a Self>) -> Option<Self> {
        all.cloned().reduce(|mut sum, one| {
            sum.changes.extend(one.changes);
            sum.ops.extend(one.ops);
            sum.each.extend(one.each);
            sum.price = sum.price.and(one.price);
            sum
        })
    }

    /// Each of its changes by itself.
    pub(super) fn parts(&self) -> Vec<Self> {
        let parts = self.changes.iter().zip(&self.each);
        parts.map(|(change, (ops, price))| Self::new(change.clone(), ops.clone(), *price)).collect()
    }

    pub(super) fn edit(&self) -> Edit {
        Edit::new(EditLabel::MakeRoom(self.changes.len()), self.ops.clone())
    }
}
