//! How long a work can wait, and what ends that.

use chrono::NaiveDate;

use crate::forecast::{Event, Problem, What};
use crate::outlook::Pool;
use crate::season::{SowingId, StepId};

/// Each work that is still to be done, the one whose slip overflows first before the others; then those of which that is
/// not settled, then those that a rule holds, then the others.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CanWait {
    pub all: Vec<Slack>,
}

impl CanWait {
    /// The one whose slip leaves the shelves short first.
    pub fn first(&self) -> Option<&Slack> {
        self.all.first().filter(|slack| matches!(slack.end, End::Short(_)))
    }

    /// What is known of an event of that sowing.
    pub fn of(&self, sowing: SowingId, event: &Event) -> Option<&Slack> {
        self.all.iter().find(|slack| slack.sowing == sowing && slack.is_of(event))
    }
}

/// Work of a sowing that may be done later than it is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    Sown,
    MovedOn(StepId),
    /// Out, or sold.
    Out,
}

/// How long a work can wait.
#[derive(Clone, Debug, PartialEq)]
pub struct Slack {
    pub sowing: SowingId,
    pub work: Work,
    /// The day for which it is planned; of the first batch where there are several, and all of them slip by as much.
    pub on: NaiveDate,
    /// The last day until which every day on which it may be done leaves no day worse than it is.
    pub until: NaiveDate,
    pub end: End,
}

impl Slack {
    pub fn days(&self) -> i64 {
        (self.until - self.on).num_days()
    }

    fn is_of(&self, event: &Event) -> bool {
        event.date == self.on
            && match self.work {
                Work::Sown => event.what == What::Sown,
                Work::MovedOn(step) => event.what == What::MovedOn(step),
                Work::Out => matches!(event.what, What::Out { .. }),
            }
    }

    /// Least slack first; of those alike, what overflows first.
    pub(super) fn rank(&self) -> (u8, i64, NaiveDate, NaiveDate, SowingId, Work) {
        let (class, day) = match &self.end {
            End::Short(over) => (0, over.day),
            End::Open(over) => (1, over.day),
            End::Rule { to, .. } => (2, *to),
            End::NoOther | End::Never => (3, self.until),
        };
        (class, self.days(), day, self.on, self.sowing, self.work)
    }
}

/// What comes after the last day that is safe.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// Done on the next day, it leaves a day short of room, proven.
    Short(Overflow),
    /// Whether it does is not settled: neither a layout nor a proof was found.
    Open(Overflow),
    /// Done on that day, it breaks a rule that it keeps on the days before.
    Rule { to: NaiveDate, problem: Problem },
    /// There is no such day: nobody is there for four weeks, or the season takes none of them.
    NoOther,
    /// Nothing within four weeks.
    Never,
}

/// A day that is worse than it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Overflow {
    /// The work done then.
    pub to: NaiveDate,
    /// The first day that is worse.
    pub day: NaiveDate,
    pub pools: Vec<Pool>,
    pub needed: u32,
    /// The fewest that must leave, proven.
    pub short: u32,
    /// With so many away, a layout was found.
    pub short_at_most: u32,
    /// As many at most are short that day as it is planned.
    pub before: u32,
}
