//! The page on which a grower's own sowing table is taken in.

use std::fmt::Display;

use chrono::NaiveDate;

use super::{full_day, plural};

pub const TITLE: &str = "Take in a sowing table";
/// What leads to the page.
pub const OPEN: &str = "Take in a sowing table…";
pub const WHAT_IT_IS: &str = "A table of your own as CSV, with a heading over each column: crop, and a day out, or a day \
                              sown and days, or weeks from the frost. Nothing is changed before you take it in";
pub const FILE: &str = super::files::FILE;
pub const FILE_HINT: &str = "/home/me/sowings.csv";
pub const CHOOSE: &str = super::files::CHOOSE;
pub const READ: &str = "Read the table";
pub const READING: &str = super::files::READING;
pub const NOT_READ_YET: &str = "No table is read yet";
pub const NO_FROST: &str = "This season has no frost date: weeks from the frost, and days without a year, can’t be used \
                            until it has one";
pub const COLUMNS: &str = "Columns, and what each is taken for";
pub const NOT_USED: &str = "not used";
/// For a first cell with nothing in it.
pub const EMPTY: &str = "empty";
/// What leads to the page of the frost.
pub const LAST_FROST: &str = super::frost::OPEN;
pub const LEAVE: &str = "Leave it";
pub const NOTHING_CHANGED: &str = "Nothing is changed yet";
pub const TAKE_IN: &str = "Take in";

pub const ODD: &str = "What is odd";
pub const BEFORE: &str = "Those before";
pub const AFTER: &str = "Those after";
pub const OFF_RULE: &str = "Off their own rule";
pub const LEFT_OUT: &str = "Left out";
pub const OFF_DAYS: &str = "Days that don’t add up";
pub const NO_NUMBER: &str = "Without a number of plants";
pub const NO_CONTAINER: &str = "Without a tray or pot that is known";
pub const SHOWS_ROW: &str = "Shows the row in the table";

/// What is odd about a row, in the last column of the table.
pub const MARK_LEFT_OUT: &str = "left out";
pub const MARK_NO_NUMBER: &str = "no number";
pub const MARK_NO_CONTAINER: &str = "usual container";
pub const MARK_OFF_RULE: &str = "off its rule";
pub const MARK_BY_RULE: &str = "now by its rule";
pub const MARK_OFF_DAYS: &str = "other days";
/// The sowing of a row that names none.
pub const NO_CROP: &str = "no crop";

pub const NOT_READ: &str = "The table could not be read";

pub fn not_read(why: &str) -> String {
    format!("{NOT_READ}: {why}")
}

/// No number of plants stands in the row.
pub const ONE_IS_TAKEN: &str = "no number of plants, 1 is taken";

/// No container of that name, or several.
pub fn usual_is_taken(found: &str, which: &[String]) -> String {
    match which {
        [] => format!("no tray or pot {found:?}; the usual one is taken"),
        which => format!("{found:?} may be {}; the usual one is taken", which.join(", ")),
    }
}

pub fn left_out(why: impl Display) -> String {
    format!("{why}; the row is left out")
}

pub fn off_days(sow: NaiveDate, out: NaiveDate, days: u32, would_be: NaiveDate) -> String {
    format!(
        "sown {} and {days} days later is {}, not {}; the day out and the days are kept",
        full_day(sow),
        full_day(would_be),
        full_day(out)
    )
}

/// A day out that is not so many weeks from the frost, the days that would be with their sowings, and the
/// weeks that the row keeps to.
pub fn off_rule(
    out: NaiveDate,
    frost: NaiveDate,
    (least, most): (i16, i16),
    would_be: &[(i16, NaiveDate, Option<NaiveDate>)],
    kept_to: Option<i16>,
) -> String {
    let days = (out - frost).num_days();
    let side = if days < 0 { "before" } else { "after" };
    let weeks = |weeks: i16| weeks.unsigned_abs();
    let rule = if least == most {
        format!("not {}", weeks(least))
    } else {
        let (low, high) = (weeks(most).min(weeks(least)), weeks(most).max(weeks(least)));
        format!("no whole number from {low} to {high}")
    };
    let would_be: Vec<String> = would_be
        .iter()
        .map(|(number, out, sow)| {
            let sow = sow.map_or_else(String::new, |sow| format!(" (sown {})", full_day(sow)));
            format!("{} weeks = {}{sow}", weeks(*number), full_day(*out))
        })
        .collect();
    let sign = if would_be.is_empty() { "" } else { ": " };
    let kept = match kept_to {
        Some(kept) => format!("the row keeps to {} weeks", weeks(kept)),
        None => "the row's own dates are kept".to_owned(),
    };
    format!(
        "{} is {} days {side} the frost date of {}, {} weeks, {rule}{sign}{}; {kept}",
        full_day(out),
        days.abs(),
        full_day(frost),
        in_weeks(days),
        would_be.join(", ")
    )
}

fn in_weeks(days: i64) -> String {
    format!("{:.1}", days.abs() as f64 / 7.0)
}

/// A column without a heading.
pub fn column(number: usize) -> String {
    format!("column {number}")
}

pub fn is_taken_for(number: usize, heading: &str) -> String {
    format!("Column {number}, {heading}, is taken for")
}

fn sowings(number: usize) -> String {
    format!("{number} {}", plural(number, "sowing", "sowings"))
}

pub fn take_in(number: usize) -> String {
    format!("{TAKE_IN} {}", sowings(number))
}

pub fn would_be_taken_in(number: usize) -> String {
    format!("What would be taken in: {}", sowings(number))
}

/// Beside the button that takes it in: so many odd things, and so many rows of them left out.
pub fn to_look_at(odd: usize, left_out: usize) -> String {
    if odd == 0 {
        return "Nothing is odd; one step to undo".to_owned();
    }
    let left = match left_out {
        0 => String::new(),
        rows => format!("; {rows} {} left out", plural(rows, "row", "rows")),
    };
    format!("{odd} {} to look at{left}; one step to undo", plural(odd, "thing", "things"))
}

/// `Off their own rule: 1`.
pub fn group(name: &str, number: usize) -> String {
    format!("{name}: {number}")
}

/// `41 to 80 of 95`.
pub fn part(first: usize, last: usize, all: usize) -> String {
    format!("{first} to {last} of {all}")
}

pub fn place(line: u64, column: usize) -> String {
    format!("Line {line}, column {column}")
}

pub fn show_row(line: u64, column: usize) -> String {
    format!("{}: show the row", place(line, column))
}

pub fn own_dates(out: NaiveDate) -> String {
    format!("its own dates: out {}", full_day(out))
}

/// `6 weeks before: out Thu 20 Mar 2008`.
pub fn by_weeks(weeks: i16, out: NaiveDate) -> String {
    let side = if weeks < 0 { "before" } else { "after" };
    let number = weeks.unsigned_abs();
    format!("{number} {} {side}: out {}", plural(number, "week", "weeks"), full_day(out))
}

/// A choice by its whole name, for who can't see what it stands below.
pub fn of_line(line: u64, choice: &str) -> String {
    format!("Line {line}: {choice}")
}

/// A row of the table as it would be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewRow {
    pub line: u64,
    /// The same as a text.
    pub number: String,
    pub sowing: String,
    pub plants: String,
    pub sow: String,
    /// Empty where the row is left out.
    pub out: String,
    pub rule: String,
    pub odd: &'static str,
}

/// The heads of its columns.
pub const HEADS: [&str; 7] = ["line", "sowing", "plants", "sow", "out", "out by", "odd"];

/// `line 12, pea, 1 plant, sow 23 Feb, out 15 Mar, the date given, off its rule`.
pub fn row(row: &PreviewRow) -> String {
    let PreviewRow { number: line, sowing, plants, sow, out, rule, odd, .. } = row;
    if out.is_empty() {
        return format!("line {line}, {sowing}, {odd}");
    }
    let odd = if odd.is_empty() { String::new() } else { format!(", {odd}") };
    let what = if plants == "1" { "plant" } else { "plants" };
    format!("line {line}, {sowing}, {plants} {what}, sow {sow}, out {out}, {rule}{odd}")
}

/// The rows together, and the one that the keys are on.
pub fn rows(number: usize, at: &str) -> String {
    format!("Rows of the table, {number}; {at}")
}
