//! A date in a field: one text of it everywhere, and which year is meant where none is written.

use chrono::NaiveDate;

use crate::units::{DateError, read_date, shifted};

/// A day without its year is the one nearest to `shown`.
pub(in crate::window) fn near(text: &str, shown: NaiveDate) -> Result<NaiveDate, DateError> {
    const HALF_A_YEAR: i64 = 183;
    read_date(text, shifted(shown, -HALF_A_YEAR))
}

/// A day without its year is the first such one from `from` on.
pub(in crate::window) fn from(text: &str, from: NaiveDate) -> Result<NaiveDate, DateError> {
    read_date(text, from)
}
