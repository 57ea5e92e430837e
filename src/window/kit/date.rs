//! A date in a field: one text of it everywhere, and which year is meant where none is written.

use chrono::{Days, NaiveDate};

use crate::units::{DateError, read_date};

/// A day without its year is the one nearest to `shown`.
pub(in crate::window) fn near(text: &str, shown: NaiveDate) -> Result<NaiveDate, DateError> {
    const HALF_A_YEAR: Days = Days::new(183);
    read_date(text, shown.checked_sub_days(HALF_A_YEAR).unwrap_or(shown))
}

/// A day without its year is the first such one from `from` on.
pub(in crate::window) fn from(text: &str, from: NaiveDate) -> Result<NaiveDate, DateError> {
    read_date(text, from)
}
