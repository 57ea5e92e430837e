//! Dates as people type them: `16 May`, `May 16th 2027`, `2027-05-16`.

use chrono::{Datelike as _, NaiveDate};

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// The years a date may lie in; a season refuses others too.
pub const DATE_YEARS: std::ops::RangeInclusive<i32> = 1950..=2150;

/// Why a typed date was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DateError {
    #[error("nothing is written here; write a date such as 16 May or 2027-05-16")]
    Empty,
    #[error("found {0:?}; write a date such as 16 May or 2027-05-16")]
    NotADate(String),
    #[error("found {0:?}, a day that the calendar doesn't have")]
    NoSuchDay(String),
    #[error("found the year {0}; it must be from 1950 to 2150")]
    Year(i32),
}

/// A day of the year, and the year if one was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayTyped {
    day: u32,
    month: u32,
    year: Option<i32>,
}

impl DayTyped {
    /// # Errors
    /// Says what was found in place of a date.
    pub fn read(text: &str) -> Result<Self, DateError> {
        let found = text.trim();
        if found.is_empty() {
            return Err(DateError::Empty);
        }
        let found = ["on ", "On ", "ON "].iter().find_map(|on| found.strip_prefix(on)).unwrap_or(found).trim_start();
        let read = iso(found).or_else(|| in_words(found)).ok_or_else(|| DateError::NotADate(found.to_owned()))?;
        if let Some(year) = read.year.filter(|year| !DATE_YEARS.contains(year)) {
            return Err(DateError::Year(year));
        }
        // 2000 has every day that some year has
        match NaiveDate::from_ymd_opt(read.year.unwrap_or(2000), read.month, read.day) {
            Some(_) => Ok(read),
            None => Err(DateError::NoSuchDay(found.to_owned())),
        }
    }

    /// The date; without a year the first such one that is not before `near`.
    pub fn on_or_after(self, near: NaiveDate) -> Option<NaiveDate> {
        self.in_years(near.year()..=near.year().saturating_add(8)).find(|date| self.year.is_some() || *date >= near)
    }

    /// The date; without a year the nearest such one, the later of two that are equally near.
    pub fn nearest(self, near: NaiveDate) -> Option<NaiveDate> {
        let (before, after) = (self.last_before(near), self.on_or_after(near));
        let days = |date: &NaiveDate| (*date - near).num_days().abs();
        before.into_iter().chain(after).min_by_key(|date| (days(date), std::cmp::Reverse(*date)))
    }

    /// The date; without a year the last such one before `end`.
    pub fn last_before(self, end: NaiveDate) -> Option<NaiveDate> {
        let years = (0..=8).map(|back| end.year().saturating_sub(back));
        self.in_years(years).find(|date| self.year.is_some() || *date < end)
    }

    fn in_years(self, years: impl IntoIterator<Item = i32>) -> impl Iterator<Item = NaiveDate> {
        let written = self.year.into_iter();
        written.chain(years).filter_map(move |year| NaiveDate::from_ymd_opt(year, self.month, self.day))
    }
}

/// Reads a date; without a year it is the first such one that is not before `near`.
///
/// # Errors
/// Says what was found in place of a date.
pub fn read_date(text: &str, near: NaiveDate) -> Result<NaiveDate, DateError> {
    let typed = DayTyped::read(text)?;
    typed.on_or_after(near).ok_or_else(|| DateError::NoSuchDay(text.trim().to_owned()))
}

fn iso(text: &str) -> Option<DayTyped> {
    let mut parts = text.split('-').map(|part| part.trim().parse::<u32>().ok());
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let year = i32::try_from(year).ok()?;
    (parts.next().is_none() && year >= 1000).then_some(DayTyped { day, month, year: Some(year) })
}

fn in_words(text: &str) -> Option<DayTyped> {
    let words: Vec<&str> = text.split([' ', ',', '.', '\u{a0}']).filter(|word| !word.is_empty()).collect();
    let (first, second, year) = match *words.as_slice() {
        [first, second] => (first, second, None),
        [first, second, year] => (first, second, Some(year.parse().ok().filter(|year| *year >= 1000)?)),
        _ => return None,
    };
    let (day, month) = match (month(first), month(second)) {
        (None, Some(month)) => (day(first)?, month),
        (Some(month), None) => (day(second)?, month),
        _ => return None,
    };
    Some(DayTyped { day, month, year })
}

fn month(word: &str) -> Option<u32> {
    let word = word.to_lowercase();
    let at =
        MONTHS.iter().position(|month| word.len() >= 3 && month.starts_with(&word)).or((word == "sept").then_some(8))?;
    u32::try_from(at + 1).ok()
}

fn day(word: &str) -> Option<u32> {
    let word = word.to_lowercase();
    let digits = ["st", "nd", "rd", "th"].iter().find_map(|end| word.strip_suffix(end)).unwrap_or(&word);
    digits.parse().ok().filter(|_| digits.len() <= 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn dates_are_read_as_people_write_them() {
        let near = date("2027-01-10");
        for (text, wanted) in [
            ("16 May", "2027-05-16"),
            ("16th May", "2027-05-16"),
            ("may 16", "2027-05-16"),
            ("May 16, 2028", "2028-05-16"),
            (" 16 MAY 2026 ", "2026-05-16"),
            ("2027-05-16", "2027-05-16"),
            ("9 Jan", "2028-01-09"),
            ("10 January", "2027-01-10"),
            ("1 Sept", "2027-09-01"),
            ("29 Feb", "2028-02-29"),
        ] {
            assert_eq!(read_date(text, near), Ok(date(wanted)), "{text}");
        }
    }

    #[test]
    fn what_is_no_date_is_named() {
        let near = date("2027-01-10");
        for (text, wanted) in [
            ("", DateError::Empty),
            ("May", DateError::NotADate("May".to_owned())),
            ("16 Mango", DateError::NotADate("16 Mango".to_owned())),
            ("16/5", DateError::NotADate("16/5".to_owned())),
            ("16 May 27", DateError::NotADate("16 May 27".to_owned())),
            ("31 June", DateError::NoSuchDay("31 June".to_owned())),
            ("0 May", DateError::NoSuchDay("0 May".to_owned())),
            ("29 Feb 2027", DateError::NoSuchDay("29 Feb 2027".to_owned())),
            ("1 May 1900", DateError::Year(1900)),
            ("2300-01-01", DateError::Year(2300)),
        ] {
            assert_eq!(read_date(text, near), Err(wanted), "{text}");
        }
    }

    #[test]
    fn a_sowing_day_lies_before_the_day_out() {
        let out = date("2027-01-20");
        let read = |text| DayTyped::read(text).unwrap().last_before(out);
        assert_eq!(read("7 Feb"), Some(date("2026-02-07")));
        assert_eq!(read("19 Jan"), Some(date("2027-01-19")));
        assert_eq!(read("1 Mar 2027"), Some(date("2027-03-01")));
    }
}
