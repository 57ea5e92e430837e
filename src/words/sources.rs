//! Where a date comes from: the rule, and who published its figure.

use crate::forecast::{Event, What, Why};
use crate::season::{Crop, Sourced, SowingId, Trust};

use super::Words;

impl Words<'_> {
    /// `Harrington and Minges 1954 … (published)`; nothing for a date that the grower gave or saw.
    pub fn event_source(&self, sowing: SowingId, event: &Event) -> Option<String> {
        let crop = self.season.crop(self.library, &self.season.sowing(sowing)?.crop)?;
        match (event.why, event.what) {
            (Why::Warmth { .. }, _) => crop.emergence_warmth.as_ref().map(said),
            (Why::ByTemperature { .. }, _) => self.library.emergence.get(crop.emergence_row.as_ref()?).map(said),
            (Why::LeavesByWarmth { .. }, _) => crop.leaf_warmth.as_ref().map(said),
            (Why::Leaves(_) | Why::Age, _) => Some(said(&crop.moving_on)),
            (Why::WeeksBeforeOut(_), _) => Some(said(&crop.weeks_to_planting_out)),
            (Why::LatestWeeks(_), _) => Some(said(&crop.latest)),
            (Why::CropDays, What::Hardening | What::FirstNightOut) => Some(said(&crop.hardening)),
            (Why::CropDays, _) => Some(said(&crop.emergence)),
            (Why::Out(_), _) => self.frost_weeks(crop),
            _ => None,
        }
    }

    fn frost_weeks(&self, crop: &Crop) -> Option<String> {
        self.season.settings().frost.as_ref()?;
        crop.planting_out_after_frost.as_ref().map(said)
    }
}

fn said<T>(figure: &Sourced<T>) -> String {
    let trust = trust_name(figure.trust);
    if figure.source.is_empty() { trust.to_owned() } else { format!("{} ({trust})", figure.source) }
}

/// `published`, `from memory`.
pub const fn trust_name(trust: Trust) -> &'static str {
    match trust {
        Trust::Published => "published",
        Trust::Derived => "derived from published figures",
        Trust::CommonPractice => "common practice",
        Trust::FromMemory => "from memory: a guess",
        Trust::Own => "your own figure",
    }
}
