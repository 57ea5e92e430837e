//! The page of days: how weeks are counted, and days on which nobody is there.

use chrono::{Datelike as _, NaiveDate};

use crate::season::{FieldId, Potting};

use super::amounts::counted;
use super::days::{day, full_day};
use super::fields::typed_day;
use super::potting::potting;
use super::refusal::field;

pub const WEEK_NUMBERS: &str = "Week numbers";
pub const WEEKS_ARE: &str = "Weeks are";
pub const WEEKS: [(bool, &str); 2] = [(false, "ISO weeks"), (true, "counted by yourself")];
pub const FIRST_WEEK: &str = field(FieldId::FirstWeek);
pub const FIRST_WEEK_HINT: &str = "a Monday";
pub const BY_ISO: &str = "By ISO 8601: week 1 holds the year’s first Thursday. A school counts from its first Monday";
pub const WATER: &str = "Water";
pub const LANGUAGE: &str = "Words";
pub const POTTING: &str = "Into a larger pot is";
pub const POTTINGS: [(Potting, &str); 3] = [
    (Potting::PotOn, potting(Potting::PotOn).doing),
    (Potting::PotUp, potting(Potting::PotUp).doing),
    (Potting::MoveOn, potting(Potting::MoveOn).doing),
];
pub const WATERINGS: &str = field(FieldId::WaterEvery);

pub const DAYS_AWAY: &str = "Days away";
pub const NONE_YET: &str =
    "None: work is planned for every day. A trip or a school holiday moves it inside its windows";
pub const NAME: &str = field(FieldId::AwayName);
pub const NAME_HINT: &str = "spring break";
pub const FIRST: &str = field(FieldId::AwayFirst);
pub const LAST: &str = field(FieldId::AwayLast);
pub const DAY_HINT: &str = "12 Mar";
pub const WATERS: &str = "Who waters";
pub const WATERS_HINT: &str = "nobody";
pub const EVERY_YEAR: &str = "Every year";
pub const REMOVE: &str = super::fields::REMOVE;
pub const MORE: &str = "More days away";
pub const COMES_EVERY_YEAR: &str = "Comes every year";
pub const ADD: &str = "Add days away";

/// Beside the button where no second one is made of them.
pub const IS_CHANGED: &str = "These days are away already: that one is changed";

pub const THIS_WEEK: &str = "Away that week";
pub const AWAY: &str = "Away…";
pub const WHAT_AWAY_DOES: &str = "a week on which nobody is there";

pub const STUCK: &str = "Work that nobody is there for";
pub const CHOOSE_A_DAY: &str = "Choose a day; the weeks below are worked out anew at once";
pub const MOVED: &str = "Work that moves by itself";
pub const DRY: &str = "Days without water";
pub const NONE: &str = "None";
pub const NONE_DRY: &str = "None: somebody waters, or nothing stands anywhere on those days";

/// What days away are called, for which nothing need be written.
pub fn called(name: &str) -> &str {
    if name.trim().is_empty() { "days away" } else { name }
}

/// One of several things that are called like that, the first at 0: `trip`, `trip, 2`.
pub fn which(name: &str, number: usize) -> String {
    super::fields::numbered(name, number)
}

/// `First day: trip`, for any field or button of one of several.
pub fn of(label: &str, which: &str) -> String {
    format!("{label}: {which}")
}

pub fn before_the_first(last: NaiveDate, first: NaiveDate) -> String {
    let said = if last.year() == first.year() { day } else { typed_day };
    format!("{} is before the first day, {}", said(last), said(first))
}

pub fn days(number: i64) -> String {
    counted(number, "day", "days")
}

pub fn and_more(number: usize) -> String {
    format!("and {number} more")
}

pub fn all_trays(number: usize) -> String {
    format!("All {}", counted(number, "tray", "trays"))
}

pub fn do_it_on(day: NaiveDate) -> String {
    format!("Do it on {}", full_day(day))
}

/// The same, told from others by the work.
pub fn do_it_named(text: &str, work: &str) -> String {
    format!("{text}, {work}")
}

/// `Tomato: into pots`, and what else is said of one sowing.
pub fn of_sowing(sowing: &str, what: &str) -> String {
    format!("{sowing}: {what}")
}
