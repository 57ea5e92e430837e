//! Days from a day.

use chrono::{Days, NaiveDate};

/// So many days later, earlier if negative; the day itself past the calendar's end.
pub(super) fn after(date: NaiveDate, days: i64) -> NaiveDate {
    let moved = match u64::try_from(days) {
        Ok(days) => date.checked_add_days(Days::new(days)),
        Err(_) => date.checked_sub_days(Days::new(days.unsigned_abs())),
    };
    moved.unwrap_or(date)
}
