//! Days from a day, and days as they are written.

use chrono::{Datelike as _, Days, NaiveDate};

/// So many days later, earlier if negative; the day itself past the calendar's end.
pub fn shifted(date: NaiveDate, days: i64) -> NaiveDate {
    let moved = match u64::try_from(days) {
        Ok(days) => date.checked_add_days(Days::new(days)),
        Err(_) => date.checked_sub_days(Days::new(days.unsigned_abs())),
    };
    moved.unwrap_or(date)
}

/// The Monday of its week.
pub fn monday(date: NaiveDate) -> NaiveDate {
    shifted(date, -i64::from(date.weekday().num_days_from_monday()))
}

/// `14 Apr`.
pub fn short_day(date: NaiveDate) -> String {
    date.format("%-d %b").to_string()
}

/// `Wed 14 Apr 2027`.
pub fn full_day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_go_both_ways_and_stop_where_the_calendar_ends() {
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        assert_eq!(shifted(day("2027-02-27"), 2), day("2027-03-01"));
        assert_eq!(shifted(day("2028-03-01"), -1), day("2028-02-29"));
        assert_eq!(shifted(NaiveDate::MAX, 1), NaiveDate::MAX);
        assert_eq!(shifted(NaiveDate::MIN, i64::MIN), NaiveDate::MIN);
        for text in ["2027-04-12", "2027-04-14", "2027-04-18"] {
            assert_eq!(monday(day(text)), day("2027-04-12"), "{text}");
        }
    }
}
