//! The panel on the right: a tray, several, or the day.

use chrono::NaiveDate;

use crate::forecast::Stay;
use crate::outlook::OnDayCount;
use crate::season::TrayKey;

use super::{Words, counted, day, shelves, span};

pub const NEEDS: &str = "Needs";
pub const WHERE_IT_STANDS: &str = "Where it stands";
pub const FIND_IT_A_SPOT: &str = "Find it a spot";
pub const SHELF: &str = "shelf";
pub const LEFT: &str = "left";
pub const BACK: &str = "back";
pub const WHAT_MOVES_COUNT_FROM: &str =
    "Off: a move replaces the spot that counts on this day. Alt while dragging does the same once";
pub const TURN: &str = "Turn";
pub const WHAT_TURN_DOES: &str = "A quarter turn (R)";
pub const PIN: &str = "Pin";
pub const UNPIN: &str = "Unpin";
pub const WHAT_PIN_DOES: &str = "A pinned tray stays where it is when spots are found (P)";
pub const LIFT: &str = "Take off the shelf";
pub const WHAT_LIFT_DOES: &str = "It then has no spot (Delete)";
pub const NO_LAYOUT: &str = "No layout was found with room for it";
pub const ITS_SOWING: &str = "Its sowing in the plan";
pub const ITS_RECORDS: &str = "What was seen of it";
pub const WHY_THESE_DATES: &str = "Why these dates";
pub const WHERE_IT_GOES: &str = "Where it goes";
pub const OUTLINE_LATER: &str = "Outline what it becomes";
pub const CHOSEN: &str = "Chosen";
pub const WHAT_SEVERAL_CAN: &str = "Drag one and the others come along; Ctrl and a click adds or takes away";
pub const TURN_EACH: &str = "Turn each";
pub const PIN_OR_UNPIN: &str = "Pin or unpin";
pub const SWAP_THE_TWO: &str = "Swap the two";
pub const CHOOSE_ONE: &str = "Choose a tray to see what it is, what it needs, and why then";

/// `18 plants in 3 stacked trays`, `26 sown` where they stand as they were sown; nothing for one tray without plants.
pub fn facts(plants: u32, as_sown: bool, trays: usize) -> Option<String> {
    let of = || if as_sown { format!("{plants} sown") } else { counted(plants, "plant", "plants") };
    let plants = (plants > 0).then(of);
    let trays = (trays > 1).then(|| format!("{trays} stacked trays"));
    let facts: Vec<String> = plants.into_iter().chain(trays).collect();
    (!facts.is_empty()).then(|| facts.join(" in "))
}

pub fn moves_count_from(from: NaiveDate) -> String {
    format!("Moves count from {} on", day(from))
}

pub fn no_room_on(mark: &str, shelf: &str) -> String {
    format!("{mark} has no room on {shelf}")
}

pub fn stays(mark: &str, why: &str) -> String {
    format!("{mark} stays where it is: {why}")
}

/// How long a spot is free, or what is in the way there.
pub fn of_spot(is_free: bool, said: &str, pinned: bool) -> String {
    let pinned = if pinned { format!(", {}", shelves::PINNED) } else { String::new() };
    if is_free { format!("{said}{pinned}") } else { format!("in the way here: {said}{pinned}") }
}

pub fn not_there(on: NaiveDate) -> String {
    format!("not there on {}", day(on))
}

pub fn all_of_clear(sowing: &str) -> String {
    format!("All of {sowing} clear, the rest faint")
}

pub fn stands(when: crate::units::DateSpan, shelf: Option<&str>) -> String {
    format!("{}: {}", span(when), shelf.unwrap_or(super::NO_SPOT_YET))
}

impl Words<'_> {
    /// `potted on 18 Apr into To 9, 18 pots of 9 cm square`.
    pub fn becomes_on(&self, child: TrayKey, first: &Stay) -> String {
        let done = match child {
            TrayKey::Own { step, .. } => self.verb_into(step).done,
            _ => self.verb().done,
        };
        format!("{done} {} into {}, {}", day(first.span.from()), self.tray(child), self.what_briefly(first))
    }
}

pub fn chosen(trays: usize) -> String {
    format!("{} chosen", counted(trays, "tray", "trays"))
}

pub fn stand_on_a_shelf(trays: usize, on: NaiveDate) -> String {
    format!("{trays} stand on a shelf on {}", day(on))
}

pub fn and_more(more: usize) -> String {
    format!("and {more} more")
}

/// What stands there that day: `35 trays, 1196 plants`; seeds that are not up yet are no plants.
pub fn of_day(there: &OnDayCount) -> String {
    let plants = (there.plants > 0).then(|| counted(there.plants, "plant", "plants"));
    let sown = (there.sown > 0).then(|| format!("{} sown and not up yet", there.sown));
    let all: Vec<String> = [counted(there.trays, "tray", "trays")].into_iter().chain(plants).chain(sown).collect();
    all.join(", ")
}
