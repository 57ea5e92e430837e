use chrono::{Days, NaiveDate};

use super::days::full_day;

/// Days from one date up to, but not including, another: one crop leaves the day the next arrives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DateSpan {
    from: NaiveDate,
    until: NaiveDate,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the last day must come after the first, found {} to {}", full_day(*.from), full_day(*.until))]
pub struct EmptySpan {
    pub from: NaiveDate,
    pub until: NaiveDate,
}

impl DateSpan {
    pub const fn from(self) -> NaiveDate {
        self.from
    }

    /// The first day that is no longer inside.
    pub const fn until(self) -> NaiveDate {
        self.until
    }

    /// # Errors
    /// A span holds at least one day.
    pub fn new(from: NaiveDate, until: NaiveDate) -> Result<Self, EmptySpan> {
        if from < until { Ok(Self { from, until }) } else { Err(EmptySpan { from, until }) }
    }

    /// The single day `date`; `None` at the end of the calendar.
    pub fn day(date: NaiveDate) -> Option<Self> {
        date.checked_add_days(Days::new(1)).map(|until| Self { from: date, until })
    }

    pub fn contains(self, date: NaiveDate) -> bool {
        self.from <= date && date < self.until
    }

    pub fn overlaps(self, other: Self) -> bool {
        self.from < other.until && other.from < self.until
    }

    /// The days in both.
    pub fn within(self, other: Self) -> Option<Self> {
        Self::new(self.from.max(other.from), self.until.min(other.until)).ok()
    }

    pub fn days(self) -> i64 {
        (self.until - self.from).num_days()
    }

    /// The last day inside.
    pub fn last(self) -> NaiveDate {
        self.until.checked_sub_days(Days::new(1)).unwrap_or(self.from)
    }
}
