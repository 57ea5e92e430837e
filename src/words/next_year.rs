//! The page of next year's season, before it is made.

use crate::units::DATE_YEARS;

use super::amounts::counted;

/// What leads there.
pub const OPEN: &str = "Make next year’s season…";
pub const TITLE: &str = "Next year’s season";
pub const WHAT_IT_IS: &str =
    "Made from this one: rules and dates move, the layout comes along, records teach. This season stays as it is";
pub const YEAR: &str = "For the year";
pub const YEAR_HINT: &str = "2028";
pub const COPY: &str = "Copy this list";

/// Opens the season of that name.
pub fn open(name: &str) -> String {
    const MOST: usize = 40;
    let some: String = name.chars().take(MOST).collect();
    let cut = if some.len() < name.len() { "…" } else { "" };
    format!("Open “{some}{cut}”")
}

pub fn no_such_year(found: i32) -> String {
    let (least, most) = (DATE_YEARS.start(), DATE_YEARS.end());
    format!("found {found}; a year from {least} to {most}")
}

pub fn differs(changes: usize) -> String {
    format!("What differs: {}", counted(changes, "change", "changes"))
}
