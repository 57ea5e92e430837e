//! The season as it might go: a late spring, other days for a group of crops or a place.

use crate::outlook::Otherwise;
use crate::season::{FieldId, Shift, Shifting, WhatIf};

use super::refusal::field;
use super::{Words, counted, family, listed};

pub const PAGE: &str = "What if";
pub const OPEN: &str = "What if…";
pub const WHAT_IT_IS: &str = "A late spring, or work on other days: what it would mean for the shelves. The strip below follows. Nothing touches the season until you do it";
pub const LAST_FROST: &str = "Last frost";
pub const CROPS: &str = "Crops";
pub const ALL_CROPS: &str = "all crops";
pub const GO_OUT: &str = "go out";
pub const ARE_SOWN: &str = "are sown";
pub const WHAT_MOVES: &str = "What moves";
pub const NO_CHANGE: &str = "as planned";
pub const AS_PLANNED: &str = "As planned";
pub const THEN: &str = "As it might go";
pub const NAME: &str = field(FieldId::WhatIfName);
pub const NAME_HINT: &str = "Cold April";
pub const KEEP: &str = "Keep it by this name";
pub const KEPT: &str = "Kept";
pub const SHOW: &str = "Show it";
pub const DROP: &str = "Drop it";
pub const START_OVER: &str = "As planned again";
pub const WORKING: &str = "Being worked out";
pub const NOTHING_WRONG: &str = "No rule of the trade is broken by it";
pub const BROKEN: &str = "What is wrong then and isn’t now";
pub const NOT_POSSIBLE: &str = "Dates that no season may have";

/// `14 days later`, for a slider and a list.
pub fn by(days: i16) -> String {
    match days {
        0 => NO_CHANGE.to_owned(),
        later @ 1.. => format!("{} later", counted(later, "day", "days")),
        sooner => format!("{} sooner", counted(sooner.unsigned_abs(), "day", "days")),
    }
}

pub fn named(button: &str, what_if: &str) -> String {
    format!("{button}: {what_if}")
}

impl Words<'_> {
    /// What is moved: `the tomato family goes out`.
    pub fn shifting(&self, what: &Shifting) -> String {
        let crops = |of: &Option<String>| of.as_deref().map_or(ALL_CROPS, family);
        match what {
            Shifting::LastFrost => "the last frost".to_owned(),
            Shifting::Out(of) => format!("{} out", crops(of)),
            Shifting::Sowing(of) => format!("{} sown", crops(of)),
            Shifting::Place(id) => {
                format!("{} open", self.season.place(*id).map_or("a place that is gone", |place| &place.name))
            }
        }
    }

    /// `the last frost 14 days later and herbs out 7 days later`.
    pub fn shifts(&self, what_if: &WhatIf) -> String {
        let one = |shift: &Shift| format!("{} {}", self.shifting(&shift.what), by(shift.days));
        let all: Vec<String> = what_if.shifts.iter().filter(|shift| shift.days != 0).map(one).collect();
        if all.is_empty() { NO_CHANGE.to_owned() } else { listed(&all) }
    }

    /// In the line that stands there while it is shown.
    pub fn as_it_might_go(&self, what_if: &WhatIf) -> String {
        let shifts = self.shifts(what_if);
        if what_if.name.is_empty() { format!("What if: {shifts}") } else { format!("{}: {shifts}", what_if.name) }
    }

    /// Verdict, and what is broken, in a line.
    pub fn otherwise(&self, of: &Otherwise) -> String {
        let then = Words { forecast: &of.forecast, ..*self };
        let broken = match of.broken.len() {
            0 => String::new(),
            number => format!("; {} more to look at", counted(number, "thing", "things")),
        };
        format!("{}{broken}", then.headline(&of.outlook))
    }
}
