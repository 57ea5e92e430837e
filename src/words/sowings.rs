//! What a sowing comes to, before and after it is in the season.

use crate::forecast::{Forecast, Peak, What};
use crate::outlook::week_label;
use crate::season::{Begun, Sowing};
use crate::trade::QuickLineError;

use super::{Words, day, full_day, plural, stage_name, week};

/// A line that may be written for a sowing.
pub const LINE_EXAMPLE: &str = "72 tomato, out 16 May";

impl Words<'_> {
    /// What a sowing that is not in the season would mean: its trays and dates by its own forecast, and
    /// how full the growing shelves would be with it.
    pub fn would_mean(&self, name: &str, sowing: &Sowing, own: &Forecast, peak: Option<Peak>) -> String {
        let number = sowing.plants_wanted();
        let mut parts = Vec::new();
        for course in &own.courses {
            for (at, (id, trays)) in course.trays.iter().enumerate() {
                let Some(step) = sowing.steps.iter().find(|step| step.id == *id) else { continue };
                let trays =
                    format!("{trays} {} of {}", plural(*trays, "tray", "trays"), self.container(&step.container));
                let date = |what| course.date(what);
                parts.extend(match (at, sowing.begun) {
                    (0, Some(begun)) => Some(format!("{}, in {trays}", found(begun))),
                    (0, None) => date(What::Sown).map(|date| format!("sown {} into {trays}", full_day(date))),
                    _ => date(What::MovedOn(*id)).map(|date| format!("moved on {} into {trays}", day(date))),
                });
            }
        }
        parts.extend(sowing.out().map(|out| format!("out {}", full_day(out))));
        parts.extend(peak.map(|Peak { day, own, all }| {
            let trays = plural(all, "tray", "trays");
            let week = week(week_label(self.season, day));
            format!("with them the growing shelves are fullest in {week}, {own} of {all} {trays} theirs")
        }));
        format!("{number} {} of {name}: {}", plural(number, "plant", "plants"), parts.join("; "))
    }
}

/// `4 true leaves on 3 Apr`: what the list says of plants that were found there.
pub fn found(begun: Begun) -> String {
    format!("{} on {}", stage_name(begun.stage), day(begun.on))
}

/// Why a line was not understood, with an example where nothing of it was.
pub fn quick_line_error(why: &QuickLineError) -> String {
    match why {
        QuickLineError::NoPlants(_) => format!("{why}; write it as {LINE_EXAMPLE}"),
        why => why.to_string(),
    }
}
