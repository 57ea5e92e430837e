use chrono::{Datelike as _, Days, IsoWeek, NaiveDate, Weekday};

use super::{Settings, WeekLabels};

/// What sets the day on which plants go out, so that it can move by itself: with a new frost date, or
/// into another year.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OutRule {
    /// That day of the month. A frost date doesn't move it.
    #[default]
    Day,
    /// Days after (negative: before) the date with even chances of a later frost.
    Frost {
        days: i16,
        /// Nor before the date whose risk the grower has chosen.
        waits: bool,
    },
    /// The so-manieth such weekday of a month; −1 is the last. Labour Day in New Zealand is the fourth
    /// Monday of October.
    Nth { nth: i8, weekday: Weekday, month: u8 },
    /// A day of a week, by the season's own count of weeks.
    Week { week: i16, weekday: Weekday },
}

impl OutRule {
    /// The day it comes to in the year of `near`; `None` where the day itself is the rule, where the
    /// season has no frost date, or where that year has no such day.
    pub fn date(self, near: NaiveDate, settings: &Settings) -> Option<NaiveDate> {
        match self {
            Self::Day => None,
            Self::Frost { days, waits } => {
                let frost = settings.frost.as_ref()?;
                let even = frost.even();
                let out = match u64::try_from(days) {
                    Ok(days) => even.checked_add_days(Days::new(days)),
                    Err(_) => even.checked_sub_days(Days::new(u64::from(days.unsigned_abs()))),
                }?;
                Some(if waits { out.max(frost.date) } else { out })
            }
            Self::Nth { nth, weekday, month } => nth_weekday(near.year(), month, weekday, nth),
            Self::Week { week, weekday } => match settings.weeks {
                WeekLabels::Iso => {
                    NaiveDate::from_isoywd_opt(IsoWeek::year(&near.iso_week()), u32::try_from(week).ok()?, weekday)
                }
                WeekLabels::From(monday) => {
                    // before week 1 comes week −1
                    let weeks = if week < 0 { i64::from(week) } else { i64::from(week) - 1 };
                    let days = weeks * 7 + i64::from(weekday.num_days_from_monday());
                    monday.checked_add_signed(chrono::TimeDelta::days(days))
                }
            },
        }
    }
}

fn nth_weekday(year: i32, month: u8, weekday: Weekday, nth: i8) -> Option<NaiveDate> {
    let month = u32::from(month);
    if let Ok(n) = u8::try_from(nth) {
        return NaiveDate::from_weekday_of_month_opt(year, month, weekday, n);
    }
    let back = nth.unsigned_abs();
    let all = (1..=5).filter_map(|n| NaiveDate::from_weekday_of_month_opt(year, month, weekday, n));
    all.collect::<Vec<_>>().into_iter().rev().nth(usize::from(back) - 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::Frost;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn weekdays_of_a_month() {
        let labour_day = OutRule::Nth { nth: 4, weekday: Weekday::Mon, month: 10 };
        let settings = Settings::default();
        assert_eq!(labour_day.date(day("2025-01-01"), &settings), Some(day("2025-10-27")));
        assert_eq!(labour_day.date(day("2026-12-31"), &settings), Some(day("2026-10-26")));
        let last = OutRule::Nth { nth: -1, weekday: Weekday::Mon, month: 5 };
        assert_eq!(last.date(day("2027-01-01"), &settings), Some(day("2027-05-31")));
        for nth in [0, 6, -6] {
            assert_eq!(OutRule::Nth { nth, weekday: Weekday::Mon, month: 5 }.date(day("2027-01-01"), &settings), None);
        }
        assert_eq!(OutRule::Nth { nth: 1, weekday: Weekday::Mon, month: 13 }.date(day("2027-01-01"), &settings), None);
    }

    #[test]
    fn weeks_by_the_season_s_count() {
        let rule = OutRule::Week { week: 25, weekday: Weekday::Mon };
        let own = Settings { weeks: WeekLabels::From(day("2009-09-07")), ..Settings::default() };
        assert_eq!(rule.date(day("2010-02-22"), &own), Some(day("2010-02-22")));
        let iso = OutRule::Week { week: 8, weekday: Weekday::Mon };
        assert_eq!(iso.date(day("2010-06-01"), &Settings::default()), Some(day("2010-02-22")));
        assert_eq!(
            OutRule::Week { week: 54, weekday: Weekday::Mon }.date(day("2010-06-01"), &Settings::default()),
            None
        );
    }

    #[test]
    fn days_from_the_frost() {
        let settings = Settings { frost: Some(Frost::on(day("2027-05-01"))), ..Settings::default() };
        let rule = |days| OutRule::Frost { days, waits: false };
        assert_eq!(rule(7).date(day("2027-01-01"), &settings), Some(day("2027-05-08")));
        assert_eq!(rule(-14).date(day("2027-01-01"), &settings), Some(day("2027-04-17")));
        assert_eq!(rule(7).date(day("2027-01-01"), &Settings::default()), None);
    }
}
