//! A change that makes room: what it does, what it costs, what comes of it.

use chrono::NaiveDate;

use crate::season::{
    ContainerKey, Edit, Matter, Matters, PlaceChange, PlaceId, ShelfId, SowingChange, SowingId, StepId, Unwanted,
};
use crate::units::{DateSpan, Measure, Size};

use crate::forecast::Problem;
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

impl WayOut {
    /// What removes a crunch first, then what is cheapest for what it takes away.
    pub(super) fn rank(&self, matters: Matters) -> (bool, u64, ShortOf) {
        let points = self.price.points(&matters);
        let gone = self.effect.crunch_before.tray_days.saturating_sub(self.effect.of_crunch.tray_days).max(1);
        let each = if self.effect.removes() { points } else { points / gone };
        (!self.effect.removes(), each, self.effect.of_crunch)
    }
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
    /// Hardened off for longer: outside sooner, under the cover that there is.
    Hardened {
        sowing: SowingId,
        from: NaiveDate,
        to: NaiveDate,
        /// The first night out, which makes room indoors.
        nights: NaiveDate,
    },
    /// Its trays that are not full take another sowing's plants, and its plants stand in others'.
    Shared { sowing: SowingId },
    /// Plugs moved together out of trays in which cells failed.
    GappedUp { sowing: SowingId, on: NaiveDate, from: usize, to: usize },
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
    /// Only so many of them into other pots, as a sowing of their own; those of whole trays as was planned.
    SomeInto {
        sowing: SowingId,
        step: StepId,
        from: ContainerKey,
        to: ContainerKey,
        carried_in: Option<ContainerKey>,
        plants: u32,
        of: u32,
        soon: bool,
    },
    /// Pots stand rim to rim until they go.
    Tight { sowing: SowingId, step: StepId },
    /// Fewer plants, and whole trays less.
    Fewer { sowing: SowingId, from: u32, to: u32 },
    /// Shelves of one size more, lit if others of the place are, with a heat mat where it is a copy of one that has one.
    Shelves { place: PlaceId, size: Size, number: u32, lit: bool, mat: bool },
    /// A lamp over a shelf that has none.
    Lamp { place: PlaceId, shelf: ShelfId },
    /// Trays may stick out over the front edge of those shelves.
    StickOut { place: PlaceId, shelves: Vec<ShelfId>, by: Measure },
    /// A place open on more days.
    Open { place: PlaceId, was: DateSpan, then: DateSpan },
}

impl Change {
    /// Whether something is put up, or loaded otherwise than it was made for: its cautions stand beside it.
    pub const fn builds(&self) -> bool {
        matches!(self, Self::Shelves { .. } | Self::Lamp { .. } | Self::StickOut { .. })
    }

    /// What is said of a season in which it is not to be offered again.
    pub const fn refused(&self) -> Unwanted {
        match *self {
            Self::Held { sowing, .. } | Self::HeldHalf { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Held),
            Self::Sown { sowing, .. } | Self::SownHalf { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Sown),
            Self::Out { sowing, .. } | Self::OutInLots { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Out),
            Self::Hardened { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Hardened),
            Self::Shared { sowing } => Unwanted::OfSowing(sowing, SowingChange::Shared),
            Self::GappedUp { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::GappedUp),
            Self::Into { sowing, .. } | Self::SomeInto { sowing, .. } => {
                Unwanted::OfSowing(sowing, SowingChange::Container)
            }
            Self::Tight { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Tight),
            Self::Fewer { sowing, .. } => Unwanted::OfSowing(sowing, SowingChange::Fewer),
            Self::Shelves { place, .. } => Unwanted::OfPlace(place, PlaceChange::Shelves),
            Self::Lamp { place, .. } => Unwanted::OfPlace(place, PlaceChange::Lamps),
            Self::StickOut { place, .. } => Unwanted::OfPlace(place, PlaceChange::Edges),
            Self::Open { place, .. } => Unwanted::OfPlace(place, PlaceChange::Open),
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
    /// Days of hardening off beyond the usual, times plants.
    pub outside: u64,
    /// Pots smaller than were planned; of them, those that are soon too small.
    pub smaller: u32,
    pub soon: u32,
    /// Pots larger than were planned, and those of which nobody knows whether they are.
    pub larger: u32,
    pub other: u32,
    /// Plants left pot to pot, whose leaves meet.
    pub touching: u32,
    pub fewer: u32,
    pub shelves: u32,
    pub lamps: u32,
    /// Shelves over whose edge trays stick out.
    pub edges: u32,
    /// Sowings that share trays and did not, or are moved together.
    pub moved_together: u32,
    /// Days on which a place is open beyond those that were planned.
    pub open_days: u32,
    /// Days that more stand beyond the good reach of lamps than as it is planned, times plants; known once it was tried.
    pub dark: u64,
}

/// Points of each thing where it matters fairly: our choice, no source. A plant that waits a day is one.
const SOWN: u64 = 1;
const OUT: u64 = 3;
const OUTSIDE: u64 = 1;
const SMALLER: u64 = 7;
const SOON: u64 = 14;
const TOUCHING: u64 = 7;
const FEWER: u64 = 60;
const SHELF: u64 = 3_000;
const LAMP: u64 = 1_500;
const EDGE: u64 = 500;
const TOGETHER: u64 = 60;
const OPEN_DAY: u64 = 60;
/// In poor light plants get leggy, which no later day makes good (common practice, no source): as bad as the same day
/// spent waiting in the cells.
const DARK: u64 = 1;

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
            (matters.outside, OUTSIDE * self.outside),
            (matters.smaller, SMALLER * u64::from(self.smaller) + SOON * u64::from(self.soon)),
            (matters.smaller, SMALLER * u64::from(self.other)),
            (matters.smaller, TOUCHING * u64::from(self.touching)),
            (matters.fewer, FEWER * u64::from(self.fewer)),
            (matters.dark, DARK * self.dark),
            (matters.buying, SHELF * u64::from(self.shelves) + LAMP * u64::from(self.lamps)),
            (Matter::Fairly, EDGE * u64::from(self.edges)),
            (Matter::Fairly, TOGETHER * u64::from(self.moved_together)),
            (Matter::Fairly, OPEN_DAY * u64::from(self.open_days)),
        ];
        each.into_iter().fold(0, |sum, (matter, points)| sum.saturating_add(times(matter).saturating_mul(points)))
    }

    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self {
            held: self.held.saturating_add(other.held),
            sown: self.sown.saturating_add(other.sown),
            out: self.out.saturating_add(other.out),
            outside: self.outside.saturating_add(other.outside),
            smaller: self.smaller.saturating_add(other.smaller),
            soon: self.soon.saturating_add(other.soon),
            larger: self.larger.saturating_add(other.larger),
            other: self.other.saturating_add(other.other),
            touching: self.touching.saturating_add(other.touching),
            fewer: self.fewer.saturating_add(other.fewer),
            shelves: self.shelves.saturating_add(other.shelves),
            lamps: self.lamps.saturating_add(other.lamps),
            edges: self.edges.saturating_add(other.edges),
            moved_together: self.moved_together.saturating_add(other.moved_together),
            open_days: self.open_days.saturating_add(other.open_days),
            dark: self.dark.saturating_add(other.dark),
        }
    }

    /// With what came of it.
    pub(super) const fn with(self, effect: &Effect) -> Self {
        let (now, before) = (effect.beyond_lamps.plant_days, effect.beyond_before.plant_days);
        Self { dark: now.saturating_sub(before), ..self }
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

/// What stands beyond the good reach of lamps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Beyond {
    /// Trays and loose pots, on the worst day.
    pub most: u32,
    pub days: u32,
    /// Summed over the days.
    pub tray_days: u64,
    /// The plants in them, summed over the days.
    pub plant_days: u64,
}

impl Beyond {
    pub(super) fn of(outlook: &Outlook) -> Self {
        let told = outlook.problems.iter().find_map(|problem| match *problem {
            Problem::BeyondLamps { most, days, tray_days, plant_days, .. } => {
                Some(Self { most, days, tray_days, plant_days })
            }
            _ => None,
        });
        told.unwrap_or_default()
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
    /// Trays, or loose pots, that stand beyond the good reach of lamps at most, and for how many days; before as
    /// well.
    pub beyond_lamps: Beyond,
    pub beyond_before: Beyond,
    /// Where all fits: room for so many more on the fullest day of the crunch's places, and that day.
    pub spare: Option<(NaiveDate, u32)>,
}

impl Effect {
    /// Whether the crunch is gone.
    pub const fn removes(&self) -> bool {
        self.of_crunch.tray_days == 0 && self.of_crunch.open_days <= self.crunch_before.open_days
    }
}
