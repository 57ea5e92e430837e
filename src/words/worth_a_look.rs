//! The page of what is wrong or odd, each a click away from where it can be changed.

use crate::forecast::{About, Problem};

pub const TITLE: &str = "Worth a look";
pub const NOTHING_ELSE: &str = "Nothing else: dates, heights, loads and spots are in order";
/// Behind what the last edit brought.
pub const NEW: &str = "new";
pub const CRUNCHES: &str = "Short of room";
pub const NOT_YET: &str = "Not worked out yet";
pub const BEFORE: &str = "Before the last change:";
pub const NOTHING_SOWN: &str = super::weeks::NOTHING_SOWN;
pub const TO_WORST_DAY: &str = "to the worst day; marks the trays that prove it";

/// Where a click on it leads.
pub const fn leads_to(problem: &Problem) -> &'static str {
    match problem.about() {
        _ if problem.is_of_days_away() => "to the days away",
        _ if matches!(problem, Problem::TooFew { .. }) => "to what was seen of the sowing",
        About::Season => "to the start page",
        About::Sowing(_) => "to the sowing",
        About::Tray(..) => "to the tray, on that day",
        About::Shelf(_, Some(_)) | About::Lamps(_) | About::Away(..) => "to the shelves, on that day",
        About::Shelf(_, None) => "to the shelf",
        About::Place(..) => "to the places",
        About::Floor(..) => "to the floor, from above",
    }
}
