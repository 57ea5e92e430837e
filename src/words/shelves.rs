//! The shelves: what they are to a screen reader, what a drag says, what wants a spot.

use chrono::NaiveDate;

use crate::forecast::Heights;
use crate::units::Length;

use super::{counted, day};

pub const NO_SHELVES: &str = "There are no shelves in this season yet";
pub const ADD_SHELVES: &str = "Add shelves";
pub const PINNED: &str = "pinned";

/// When a tray stands there that is carried out in the morning and in for the night.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Day,
    Night,
}

impl Part {
    /// Behind its mark.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Night => "night",
        }
    }

    pub const fn said(self) -> &'static str {
        match self {
            Self::Day => "by day",
            Self::Night => "by night",
        }
    }
}
pub const NOT_OPEN: &str = "not open on this day";
pub const HEAT_MAT: &str = "heat mat";
/// Over a tray that has none.
pub const NO_ROOM: &str = "no room";
pub const LAMP: &str = "lamp";
pub const NO_LAMP: &str = "no lamp";
pub const DAYLIGHT: &str = "daylight";
pub const DARK: &str = "dark";

pub const NO_ROOM_TO_TURN: &str = "No room to turn them here";
pub const NOT_SWAPPED: &str = "Not swapped";
pub const LIFTS_ALL: &str = "takes them off their shelves";
pub const LIFTS: &str = "takes it off its shelf";
pub const STAYS_WITHOUT: &str = "stays without a spot";
pub const NO_SHELF_HERE: &str = "no shelf here";

pub const NOTHING_STANDS: &str = "Nothing stands anywhere on this day";
pub const ALL_HAVE_A_SPOT: &str = "All of them have a spot";
pub const NOT_BEFORE_SHELVES: &str = "Nothing can have a spot before there are shelves";

pub fn closed_until(until: NaiveDate) -> String {
    format!("closed until {}", day(until))
}

const NO_HEIGHT: &str = "how high it is was not given";
pub const NO_CLEAR_HEIGHT: &str = "clear height not given";

impl super::Words<'_> {
    /// `6 in of plants over 3 in of container, 2 in to the lamp`; by how much that is more than the shelf has clear.
    pub fn from_the_front(&self, heights: &Heights, over: Length) -> String {
        let Heights { container, plants, gap } = *heights;
        if container + plants == Length::ZERO {
            return NO_HEIGHT.to_owned();
        }
        let mut said = if plants > Length::ZERO {
            format!("{} of plants over {} of container", self.length(plants), self.length(container))
        } else {
            format!("{} high", self.length(container))
        };
        if gap > Length::ZERO {
            said = format!("{said}, {} to the lamp", self.length(gap));
        }
        if over > Length::ZERO { format!("{said}; {} too tall for this shelf", self.length(over)) } else { said }
    }
}

pub fn clear(height: &str) -> String {
    format!("{height} clear")
}

pub fn may_stick_out(by: &str) -> String {
    format!("{by} may stick out")
}

pub fn stands_at(shelf: &str, left: &str, back: &str) -> String {
    format!("on {shelf}, {left} from the left, {back} from the back")
}

pub fn drawing_of(name: &str) -> String {
    format!("Drawing: {name}")
}

pub fn nothing_moved(why: &str) -> String {
    format!("Nothing was moved: {why}")
}

pub fn drag_it_first(mark: &str) -> String {
    format!("{mark} has {}: drag it to a shelf first", super::NO_SPOT_YET)
}

pub fn no_room_to_turn(mark: &str, why: &str) -> String {
    format!("{mark} has no room to turn here: {why}")
}

pub fn went_back(mark: &str, why: &str) -> String {
    format!("{mark} went back: {why}")
}

pub fn all_went_back(why: &str) -> String {
    format!("All went back: {why}")
}

pub fn all_have_room(place: &str, trays: usize) -> String {
    format!("{place} · all {trays} have room")
}

/// `3 of 14 trays on 19 Apr`.
pub fn waiting(without: usize, trays: usize, on: NaiveDate) -> String {
    format!("{without} of {} on {}", counted(trays, "tray", "trays"), day(on))
}

pub fn waiting_list(without: usize) -> String {
    format!("{}, {}", super::WAITING, counted(without, "tray", "trays"))
}
