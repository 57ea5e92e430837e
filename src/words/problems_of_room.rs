//! What is said of leaves that meet, and of trays too heavy for their shelves.

use chrono::NaiveDate;

use crate::forecast::RoomApart;
use crate::season::{SowingId, StepId, TrayKey};
use crate::units::{Length, measured_up};

use super::{Words, counted, day};

impl Words<'_> {
    pub(super) fn too_heavy(&self, tray: TrayKey, grams: u32, rated: u32) -> String {
        let [grams, rated] = [grams, rated].map(|grams| self.weight(u64::from(grams)));
        format!(
            "{} is about {grams} when watered, more than any shelf it may stand on is rated for: {rated} at most",
            self.tray_of(tray)
        )
    }

    /// `from 24 Apr leaves meet at 10 cm; 22 cm apart they would want the room of 18 trays instead of 5`.
    pub(super) fn leaves_meet(
        &self,
        (sowing, others): (SowingId, &[SowingId]),
        step: StepId,
        (from, until, spaced): (NaiveDate, NaiveDate, bool),
        (at, wide): (Length, Length),
        room: RoomApart,
    ) -> String {
        let all: Vec<SowingId> = std::iter::once(sowing).chain(others.iter().copied()).collect();
        let which = if others.is_empty() { self.which(sowing) } else { self.together(&all) };
        let (pots, at) = (self.step(sowing, step), self.length(at));
        let (from, until) = (day(from), day(until));
        if spaced {
            return format!(
                "{which}: leaves meet in {pots}, {at} apart, from {from} until they are spaced out on {until}"
            );
        }
        let (now, apart) = match room {
            RoomApart::Trays { now, apart } => {
                (now.to_string(), format!("the room of {}", counted(apart, "tray", "trays")))
            }
            RoomApart::Ground { now, apart } => (self.area(now), self.area(apart)),
        };
        let wide = measured_up(wide, self.unit);
        let meet = format!("{which}: from {from} leaves meet in {pots}, {at} apart; they are {wide} wide by {until}");
        // by so little more that it is said alike
        if now == apart { meet } else { format!("{meet}, and that far apart they would want {apart} instead of {now}") }
    }
}
