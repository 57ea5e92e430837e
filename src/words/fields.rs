//! What fields and drawings say on every page.

use chrono::{Datelike as _, NaiveDate};

use crate::units::{EmptySpan, Length, LengthUnit, Measure};

pub use super::days::{month_and_year as month, typed_day};
use super::{full_day, measure};

pub const A_DAY: &str = "15 Mar";
pub const PICK: &str = "Pick…";
pub const EARLIER_MONTH: &str = "Earlier month";
pub const LATER_MONTH: &str = "Later month";
pub const WEEKDAYS: [&str; 7] = ["Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"];
pub const PART_OF_A_NAME: &str = "Part of a name";
pub const DUPLICATE: &str = "Duplicate";
pub const NOTE: &str = "Note";
pub const START_FROM: &str = "Start from this one";
pub const YOUR_OWN: &str = "Your own";
pub const REMOVE: &str = "Remove";
pub const FILE_FIRST: &str = "Choose a file, or write its path";
pub const UNKNOWN: &str = "unknown";
pub const FROM_ABOVE: &str = "From above";
pub const FROM_THE_FRONT: &str = "From the front";

/// What is called so, and what more is said of it, if anything is.
pub fn with_aside(what: &str, aside: &str) -> String {
    if aside.is_empty() { what.to_owned() } else { format!("{what}: {aside}") }
}

pub fn pick_a_day(field: &str) -> String {
    format!("Pick a day: {field}")
}

pub fn iso_week(date: NaiveDate) -> String {
    format!("W{}", date.iso_week().week())
}

/// The name of a field that stands there several times: `Closed from`, `Closed from, 2`.
pub fn numbered(label: &str, at: usize) -> String {
    if at == 0 { label.to_owned() } else { format!("{label}, {}", at + 1) }
}

/// The name of a field for one more of its kind.
pub fn newly(label: &str) -> String {
    format!("{label}, new")
}

/// Why a field keeps a form from being taken: `What for: a name is missing`.
pub fn of_field(label: &str, why: &str) -> String {
    if label.is_empty() { why.to_owned() } else { format!("{label}: {why}") }
}

pub fn too_large(text: &str) -> String {
    format!("found {text}, which is too large")
}

pub fn no_whole_number(text: &str) -> String {
    if text.is_empty() {
        return "nothing is written here; write a whole number".to_owned();
    }
    format!("found {text:?}; write a whole number")
}

pub fn not_after(empty: &EmptySpan) -> String {
    format!("{} must come after {}", full_day(empty.until), full_day(empty.from))
}

pub fn not_removed(why: &str) -> String {
    format!("Not removed: {why}")
}

pub fn not_done(why: &str) -> String {
    format!("Not done: {why}")
}

/// A figure of a drawing: as typed, or in that unit where the grower did not type it.
pub fn figure(of: &Measure, unit: Option<LengthUnit>) -> String {
    unit.map_or_else(|| of.typed().to_owned(), |unit| measure(of, unit))
}

/// `Drawing: 52.5 cm × 28 cm, 6 cm high`.
pub fn drawing(width: &Measure, depth: &Measure, height: Option<&Measure>, unit: Option<LengthUnit>) -> String {
    let size = format!("Drawing: {} × {}", figure(width, unit), figure(depth, unit));
    match height.filter(|height| height.value() > Length::ZERO) {
        Some(height) => format!("{size}, {} high", figure(height, unit)),
        None => size,
    }
}
