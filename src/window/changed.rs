//! What was known before an edit, until it is worked out what the edit changed.

use chrono::NaiveDate;

use crate::outlook::{Changed, Known};

use super::derived::Derived;

pub(super) struct Awaited {
    before: Known,
    /// What was done, where that is said whatever comes of it.
    pub(super) done: Option<String>,
    /// That much is said already.
    pub(super) is_said: bool,
    /// Of the season before it.
    revision: u64,
}

impl Awaited {
    /// To be asked before an edit is made; of several in a row nothing is known between them.
    pub(super) fn of(earlier: Option<Self>, derived: &Derived, done: Option<String>, revision: u64) -> Option<Self> {
        let before = earlier.map(|awaited| awaited.before).or_else(|| known(derived))?;
        Some(Self { before, done, is_said: false, revision })
    }

    /// Whether the edit that it was asked for was made.
    pub(super) const fn is_made(&self, revision: u64) -> bool {
        self.revision != revision
    }

    /// What it changed, and whether that is told in words.
    pub(super) fn changed(&self, after: &Known, today: NaiveDate) -> (Changed, bool) {
        let is_told = self.done.is_some() || self.before.room != after.room || self.before.weeks != after.weeks;
        (Changed::of(&self.before, after, today), is_told)
    }
}

/// Nothing while it is being worked out.
pub(super) fn known(derived: &Derived) -> Option<Known> {
    let outlook = derived.outlook.as_ref().filter(|_| derived.is_fresh())?;
    Some(Known::of(outlook, &derived.forecast, &derived.problems))
}
