//! Days, spans and weeks as they are written.

use chrono::{Datelike as _, NaiveDate, Weekday};

use crate::outlook::{WeekLabel, week_label};
use crate::season::Season;
use crate::units::DateSpan;
pub use crate::units::{full_day, short_day as day};

use super::Words;

impl Words<'_> {
    /// `5 Apr (week 31)`, by the season's own count of weeks.
    pub(super) fn day_and_week(&self, date: NaiveDate) -> String {
        let week = match week_label(self.season, date) {
            WeekLabel::Iso { week, .. } => i64::from(week),
            WeekLabel::Own(week) => week,
        };
        format!("{} (week {week})", day(date))
    }
}

/// `14 Apr 2027 at 09:05`.
pub fn moment(at: chrono::NaiveDateTime) -> String {
    at.format("%-d %b %Y at %H:%M").to_string()
}

/// `Wed 14 Apr`, where the year is plain.
pub fn weekday_and_day(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// As it stands in a field, and is read back: `19 Apr 2027`.
pub fn typed_day(date: NaiveDate) -> String {
    date.format("%-d %b %Y").to_string()
}

/// `April`.
pub(super) fn month(date: NaiveDate) -> String {
    date.format("%B").to_string()
}

/// `April 2027`.
pub fn month_and_year(date: NaiveDate) -> String {
    date.format("%B %Y").to_string()
}

/// `Apr`, along an axis; January with its year where there is room.
pub fn month_on_axis(date: NaiveDate, room: bool) -> String {
    date.format(if room && date.month() == 1 { "%b %Y" } else { "%b" }).to_string()
}

/// `12 Apr – 16 May`, the last day included.
pub fn span(span: DateSpan) -> String {
    if span.days() == 1 { day(span.from()) } else { format!("{} – {}", day(span.from()), day(span.last())) }
}

/// `2027-W15`, or `week 12` of the grower's own count: in a table.
pub fn week_code(label: WeekLabel) -> String {
    match label {
        WeekLabel::Iso { year, week } => format!("{year}-W{week:02}"),
        WeekLabel::Own(week) => format!("week {week}"),
    }
}

/// `the week of 12 Apr`, or `week 12` of the grower's own count: in a sentence.
pub fn week(label: WeekLabel) -> String {
    match label {
        WeekLabel::Iso { year, week } => NaiveDate::from_isoywd_opt(year, week, Weekday::Mon)
            .map_or_else(|| week_code(label), |monday| format!("the week of {}", day(monday))),
        WeekLabel::Own(_) => week_code(label),
    }
}

/// `Mon 22 Feb 2010: week 25, ISO 2010-W08`; nothing where ISO weeks are the season's own.
pub fn every_label(season: &Season, date: NaiveDate) -> Option<String> {
    match week_label(season, date) {
        WeekLabel::Iso { .. } => None,
        own @ WeekLabel::Own(_) => {
            let iso = date.iso_week();
            let iso = week_code(WeekLabel::Iso { year: iso.year(), week: iso.week() });
            Some(format!("{}: {}, ISO {iso}", full_day(date), week(own)))
        }
    }
}

pub fn weekday_name(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

pub fn month_name(month: u8) -> &'static str {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    usize::from(month).checked_sub(1).and_then(|at| NAMES.get(at)).copied().unwrap_or("no month")
}

/// `7`, `6.7`.
pub fn weeks(days: i64) -> String {
    if days % 7 == 0 { (days / 7).to_string() } else { format!("{:.1}", days as f64 / 7.0) }
}
