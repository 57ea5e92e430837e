//! A piece of work on its day.

use std::mem::discriminant;

use chrono::NaiveDate;

use crate::forecast::course::Why;
use crate::season::{Grown, Loss, LotId, Observed, RecordId, Sight, Sowing, SowingId, StepId, TrayKey};

/// What is to be done; on one day in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What is done to seed before it is sown begins.
    Prepare,
    Sow,
    /// A stack of sown trays is taken apart.
    Unstack,
    LookIfUp(UpThen),
    MoveOn,
    SpaceOut,
    /// Out by day from then on, in for the night until that day.
    Harden {
        until: NaiveDate,
    },
    FirstNightOut,
    PlantOut,
    Sell,
}

/// What follows from their being up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum UpThen {
    StayThere,
    /// From where they germinated.
    ToTheLight,
    OffTheHeat,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    pub kind: Kind,
    pub sowing: SowingId,
    /// The batches that it is done to.
    pub lots: Vec<LotId>,
    /// The container they are in, or go into.
    pub step: Option<StepId>,
    /// The day it is due.
    pub day: NaiveDate,
    pub why: Why,
    /// Between which days it may fall, by the crop's profile.
    pub range: Option<(NaiveDate, NaiveDate)>,
    /// As long as the plants, or the grower's own word, let it wait; `None` where nothing is known, or no day.
    pub may_wait_until: Option<NaiveDate>,
    /// Nobody is there on its day, nor on any to which it could give way: the last day before on which somebody is,
    /// unless that is past, and the first one after.
    pub nobody_there: Option<(Option<NaiveDate>, NaiveDate)>,
    /// Cells that are sown; else plants.
    pub number: u32,
    /// Of those that leave, how many have not.
    pub left: u32,
    /// The trays that are sown, filled or carried.
    pub trays: Vec<TrayKey>,
    /// The trays that plants are moved on from.
    pub from: Vec<TrayKey>,
    pub written: Written,
}

/// What is written down of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Written {
    NotYet,
    Done(Done),
    /// Not, but something that comes later is.
    Passed,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// The day of the last of its records.
    pub on: NaiveDate,
    pub records: Vec<RecordId>,
}

impl Kind {
    /// What a record of it says.
    pub const fn sight(self) -> Sight {
        match self {
            Self::Prepare => Sight::Prepared,
            Self::Sow => Sight::Sown,
            Self::Unstack => Sight::Unstacked,
            Self::LookIfUp(_) => Sight::Up,
            Self::MoveOn => Sight::MovedOn,
            Self::SpaceOut => Sight::SpacedOut,
            Self::Harden { .. } => Sight::HardeningBegun,
            Self::FirstNightOut => Sight::NightOut,
            Self::PlantOut => Sight::PutOut,
            Self::Sell => Sight::Sold,
        }
    }

    /// Plants leave the season by it.
    pub const fn leaves(self) -> bool {
        matches!(self, Self::PlantOut | Self::Sell)
    }
}

impl Job {
    /// What is written down when it was done as planned; `None` where it is not known into which step.
    pub fn as_planned(&self) -> Option<Observed> {
        let what = self.kind.sight().observed(self.step, Loss::NotKnown, Grown::Right)?;
        Some(match what {
            Observed::PutOut(_) => Observed::PutOut(self.left),
            Observed::Sold(_) => Observed::Sold(self.left),
            what => what,
        })
    }

    /// Of which lots a record of it speaks: of each that does it, where others do it on other days; else of all.
    pub fn lots_named(&self, sowing: &Sowing) -> Vec<Option<LotId>> {
        if self.kind.sight().is_of_a_lot() && self.lots.len() < sowing.lots.len() {
            self.lots.iter().copied().map(Some).collect()
        } else {
            vec![None]
        }
    }

    /// It is still to be done, and can be written down.
    pub fn is_open(&self) -> bool {
        self.written == Written::NotYet
    }

    pub const fn done(&self) -> Option<&Done> {
        match &self.written {
            Written::Done(done) => Some(done),
            _ => None,
        }
    }

    /// Whether both are the same to do for the same plants, on whatever days.
    pub fn is_same_work(&self, other: &Self) -> bool {
        (self.sowing, self.step, discriminant(&self.kind)) == (other.sowing, other.step, discriminant(&other.kind))
            && self.lots.iter().any(|lot| other.lots.contains(lot))
    }

    /// Whether both are the same piece of work.
    pub fn is(&self, other: &Self) -> bool {
        let of = |job: &Self| (job.sowing, job.kind, job.step, job.day, job.lots.first().copied());
        of(self) == of(other)
    }
}
