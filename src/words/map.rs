//! What is written on the shelf map.

use chrono::NaiveDate;

use crate::outlook::Week;
use crate::season::ZoneKind;

use super::amounts::capital;
use super::weeks::counts;
use super::{Words, full_day};

pub const NO_SHELVES: &str = "There are no shelves in this season";
pub const CLOSED: &str = "closed that day";
pub const BY_DAY: &str = "by day only";
pub const BY_NIGHT: &str = "by night only";
pub const FRONT: &str = "front";
pub const OUT_BY_DAY: &str = "out by day";
pub const IN_BY_NIGHT: &str = "in by night";
pub const A_SCALE: &str = "write a scale from 1:1 to 1:1000, such as 1:10";

pub fn title(season: &str, on: NaiveDate) -> String {
    format!("{season}: the shelves on {}", full_day(on))
}

pub fn head(season: &str, on: NaiveDate) -> String {
    format!("{season}, {}", full_day(on))
}

pub fn how_to_read(scale: impl std::fmt::Display) -> String {
    format!("Scale {scale}, seen from above, the back of each shelf at the top")
}

pub fn shelf(tier: impl std::fmt::Display) -> String {
    format!("Shelf {tier}")
}

pub fn high(height: &str) -> String {
    format!("{height} high")
}

pub fn into_the_aisle(by: &str) -> String {
    format!("sticks out {by} into the aisle")
}

/// Of a lamp or mat, beyond its shelf.
pub fn sticks_out(kind: ZoneKind, by: &str) -> String {
    let what = match kind {
        ZoneKind::Lamp => "lamp",
        ZoneKind::Heat => "mat",
    };
    format!("{what} sticks out {by}")
}

/// `No spot yet, growing shelves: To 1, To 2`.
pub fn no_spot_yet(wanted: &str, marks: &[String]) -> String {
    format!("{}, {wanted}: {}", super::WAITING, marks.join(", "))
}

impl Words<'_> {
    /// `Growing shelves (Room): 32 wanted, room for 28, 4 short`, of a day.
    pub fn room_on_map(&self, of: &Week) -> String {
        format!("{}: {}", capital(&self.pools(&of.together)), counts(of, ""))
    }
}
