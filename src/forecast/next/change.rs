//! What is not the same in next year's season.

use chrono::NaiveDate;

use crate::season::{Away, CropKey, EditError, OutRule, Season, SowingId, StepId};
use crate::units::DateSpan;

use super::rate::Learned;

/// A season made from another, and what is not the same in it.
#[derive(Clone, Debug)]
pub struct NextYear {
    pub season: Season,
    /// Years from the one to the other.
    pub years: i32,
    pub changes: Vec<Change>,
}

/// One thing that differs between the years.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    Frost {
        from: NaiveDate,
        to: NaiveDate,
    },
    /// The Monday on which week 1 starts.
    WeekOne {
        from: NaiveDate,
        to: NaiveDate,
    },
    /// A day out, and the rule that it follows.
    Out {
        sowing: SowingId,
        rule: OutRule,
        from: NaiveDate,
        to: NaiveDate,
    },
    /// The start of a step that follows from a rule.
    Start {
        sowing: SowingId,
        step: StepId,
        from: NaiveDate,
        to: NaiveDate,
    },
    /// The start of a step on a day that the grower gave: the same day of the month.
    StartOn {
        sowing: SowingId,
        step: StepId,
        from: NaiveDate,
        to: NaiveDate,
    },
    /// Plants that stood there already are sown like others.
    SownAnew {
        sowing: SowingId,
    },
    /// A trip is not taken again.
    TripLeft {
        away: Away,
    },
    Holiday {
        name: String,
        from: DateSpan,
        to: DateSpan,
    },
    /// Open or closed days of places and shelves, and the stays of guests.
    Spans {
        number: usize,
    },
    /// Records that stay with the old year.
    DoneLeft {
        records: usize,
    },
    Learned(Learned),
    /// What was written down of it teaches no rate.
    NotLearned {
        sowing: SowingId,
        why: NotLearned,
    },
    /// It made up for plants of another that were missing; the other is sown whole again.
    AgainLeft {
        crop: CropKey,
        variety: String,
        plants: u32,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotLearned {
    /// So many came up of nobody knows how many.
    SownNotCounted { up: u32 },
    /// Of so many nobody counted what came up.
    UpNotCounted { cells: u32 },
    /// How many had been sown is not known of plants that stood there already.
    StoodHere { up: u32 },
}

/// Why there is no such year.
#[derive(Clone, Debug, PartialEq)]
pub enum NoNextYear {
    /// Nothing is sown in it and it knows no frost.
    NoDates,
    /// It is the season's own.
    SameYear(i32),
    Edit(EditError),
}

impl From<EditError> for NoNextYear {
    fn from(why: EditError) -> Self {
        Self::Edit(why)
    }
}
