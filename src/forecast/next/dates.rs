//! Days of one year in another.

use chrono::{Datelike as _, Days, NaiveDate};

use crate::forecast::{Forecast, What};
use crate::season::{Frost, Rule, Season};
use crate::units::{DateSpan, shifted};

use super::change::Change;

/// The same day of the month so many years on; 28 February for the 29th.
pub fn years_on(date: NaiveDate, years: i32) -> NaiveDate {
    let year = date.year() + years;
    date.with_year(year).or_else(|| NaiveDate::from_ymd_opt(year, 2, 28)).unwrap_or(date)
}

pub(super) fn span_years_on(span: DateSpan, years: i32) -> DateSpan {
    let (from, last) = (years_on(span.from(), years), years_on(span.last(), years));
    DateSpan::new(from, shifted(last, 1)).unwrap_or(span)
}

pub(super) fn span_shifted(span: DateSpan, days: i64) -> DateSpan {
    DateSpan::new(shifted(span.from(), days), shifted(span.until(), days)).unwrap_or(span)
}

/// At most three days off.
pub(super) fn nearest_monday(date: NaiveDate) -> NaiveDate {
    let past = u64::from(date.weekday().num_days_from_monday());
    let moved =
        if past <= 3 { date.checked_sub_days(Days::new(past)) } else { date.checked_add_days(Days::new(7 - past)) };
    moved.unwrap_or(date)
}

pub(super) fn move_frost(frost: &mut Frost, years: i32) {
    frost.date = years_on(frost.date, years);
    frost.table.iter_mut().for_each(|entry| entry.date = years_on(entry.date, years));
}

/// Days out and starts of steps that are not where they were.
pub(super) fn of_sowings(season: &Season, next: &Season, before: &Forecast, after: &Forecast) -> Vec<Change> {
    let mut changes = Vec::new();
    for sowing in season.sowings() {
        let Some(new) = next.sowing(sowing.id) else { continue };
        for (was, is) in sowing.wanted.iter().zip(&new.wanted) {
            changes.push(Change::Out { sowing: sowing.id, rule: is.rule, from: was.date, to: is.date });
        }
        let started = |forecast: &Forecast, what| forecast.courses_of(sowing.id).find_map(|course| course.date(what));
        for (at, step) in sowing.steps.iter().enumerate() {
            let what = if at == 0 { What::Sown } else { What::MovedOn(step.id) };
            let (Some(from), Some(to)) = (started(before, what), started(after, what)) else { continue };
            let (sowing, step_id) = (sowing.id, step.id);
            changes.push(match step.start {
                Rule::On(_) => Change::StartOn { sowing, step: step_id, from, to },
                _ => Change::Start { sowing, step: step_id, from, to },
            });
        }
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn the_same_day_of_the_month() {
        assert_eq!(years_on(day("2024-02-29"), 1), day("2025-02-28"));
        assert_eq!(years_on(day("2024-02-29"), 4), day("2028-02-29"));
        assert_eq!(years_on(day("2027-05-08"), 1), day("2028-05-08"));
    }

    #[test]
    fn week_one_starts_on_the_nearest_monday() {
        assert_eq!(nearest_monday(day("2010-09-07")), day("2010-09-06"));
        assert_eq!(nearest_monday(day("2010-09-10")), day("2010-09-13"));
        assert_eq!(nearest_monday(day("2010-09-06")), day("2010-09-06"));
    }

    #[test]
    fn a_span_keeps_its_last_day() {
        let span = DateSpan::new(day("2024-02-20"), day("2024-03-01")).expect("in order");
        assert_eq!(span_years_on(span, 1).last(), day("2025-02-28"));
    }
}
