use chrono::{Days, NaiveDate};

use crate::season::{LotId, OutRule, SowingId, Stage, StepId};
use crate::trade::Germination;
use crate::units::{Length, Temperature};

/// What happens to one lot, when, and why then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    pub sowing: SowingId,
    pub lot: LotId,
    /// Plants that this lot is to give.
    pub plants: u32,
    /// Of them, those that can: no more than are alive.
    pub go_out: u32,
    /// Cells or seeds to sow, on average enough and as sure as the season asks.
    pub sow: SowCount,
    /// Trays in each step, by step.
    pub trays: Vec<(StepId, u32)>,
    /// Cells, pots or plants that each step starts with, by step.
    pub places: Vec<(StepId, u32)>,
    /// In order of date.
    pub events: Vec<Event>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SowCount {
    pub on_average: u32,
    pub sure: u32,
    pub sure_percent: u8,
    /// What was reckoned with.
    pub germination: Germination,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    pub what: What,
    pub date: NaiveDate,
    /// The range that the crop's profile gives, where there is one.
    pub range: Option<(NaiveDate, NaiveDate)>,
    pub why: Why,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// What is done to the seed of that step before it is sown begins.
    Prepared(StepId),
    Sown,
    /// They stand there already; the forecast goes on from here.
    Begun,
    Unstacked,
    Up,
    /// The leaves or age that moving on waits for.
    Due,
    MovedOn(StepId),
    /// From then on the container of the step holds it back.
    Latest(StepId),
    Spaced,
    /// Plants of that step are wider than their places are apart.
    LeavesMeet(StepId),
    /// Plugs were moved together out of trays with empty cells.
    GappedUp,
    Hardening,
    FirstNightOut,
    /// The first are in flower, as they are sold.
    InFlower,
    Out {
        plants: u32,
    },
}

/// Why a date is that date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Seen by the grower.
    Seen,
    /// Set by the grower.
    Set,
    DaysAfterSowing(u16),
    /// What is done to its seed was begun so many days before.
    Prepared {
        days: u16,
    },
    DaysBeforeOut(u16),
    /// The crop's days from sowing.
    CropDays,
    /// Published degree-days above a base, at that temperature of the mix.
    Warmth {
        at: Temperature,
        base: Temperature,
    },
    /// The table of days to emergence, at that temperature of the mix.
    ByTemperature {
        at: Temperature,
    },
    /// So many true leaves.
    Leaves(u8),
    /// So many true leaves, by published degree-days to a leaf.
    LeavesByWarmth {
        leaves: u8,
        at: Temperature,
    },
    /// Age or size, where leaves say nothing.
    Age,
    /// Worked back from planting out: the crop's weeks.
    WeeksBeforeOut(u8),
    /// The crop's weeks from sowing to the first flowers.
    WeeksToFlower {
        low: u8,
        high: u8,
    },
    /// Worked back from planting out: so many days until it is moved on for the last time, so many more
    /// to root through.
    RootsByOut {
        moved_on: u16,
        rooting: u16,
    },
    /// So many days before its leaves are likely, so that it roots through before it goes out.
    ToRoot {
        days: u16,
    },
    /// Not before the last frost that the season reckons with.
    LastFrost,
    /// So many weeks in a cell of that size.
    LatestWeeks(u8),
    /// So many days in a cell of that size.
    LatestDays(u16),
    /// A later lot of the sowing.
    LaterLot(u16),
    /// The place opens then.
    PlaceOpens,
    /// As many days as the stack stands.
    StackDays(u16),
    /// So old at that stage, by the crop's days.
    Stage {
        days: u16,
        stage: Stage,
    },
    /// Nobody is there on the day it was due: so many days later, earlier if negative.
    Bent {
        days: i16,
    },
    /// The rule that the day out keeps.
    Out(OutRule),
    /// Its day was past when the plants were found there.
    DueAlready,
    /// Leaves are wider than that, and as wide as this by the end of the step.
    Wider {
        at: Length,
        wide: Length,
    },
}

impl Course {
    pub fn date(&self, what: What) -> Option<NaiveDate> {
        self.events.iter().find(|event| event.what == what).map(|event| event.date)
    }

    /// Cells, pots or plants that the step starts with; none where it can't be made.
    pub fn places_in(&self, step: StepId) -> u32 {
        self.places.iter().find(|(known, _)| *known == step).map_or(0, |(_, places)| *places)
    }

    /// The day it was sown: worked back from its stage where it stood there already.
    pub fn sown(&self) -> Option<NaiveDate> {
        self.events.iter().find_map(|event| match (event.what, event.why) {
            (What::Sown, _) => Some(event.date),
            (What::Begun, Why::Stage { days, .. }) => event.date.checked_sub_days(Days::new(u64::from(days))),
            _ => None,
        })
    }
}
