//! Where a date comes from: the rule, and who published its figure.

use crate::forecast::{Event, What, Why};
use crate::season::{Crop, Sourced, SowingId, Trust};

use super::Words;

impl Words<'_> {
    /// `published: Harrington and Minges 1954 …`; nothing for a date that the grower gave or saw.
    pub fn event_source(&self, sowing: SowingId, event: &Event) -> Option<String> {
        let crop = self.season.crop(self.library, &self.season.sowing(sowing)?.crop)?;
        match (event.why, event.what) {
            (Why::Warmth { .. }, _) => crop.emergence_warmth.as_ref().map(source),
            (Why::ByTemperature { .. }, _) => self.library.emergence.get(crop.emergence_row.as_ref()?).map(source),
            (Why::LeavesByWarmth { .. }, _) => crop.leaf_warmth.as_ref().map(source),
            (Why::Leaves(_) | Why::Age, _) => Some(source(&crop.moving_on)),
            (Why::RootsByOut { .. } | Why::ToRoot { .. }, _) => Some(rooting_source(crop)),
            (Why::WeeksBeforeOut(_), _) => Some(source(&crop.weeks_to_planting_out)),
            (Why::LatestWeeks(_) | Why::LatestDays(_), _) => Some(source(&crop.latest)),
            (Why::WeeksToFlower { .. }, _) => crop.weeks_to_sale.as_ref().map(source),
            (Why::CropDays, What::Hardening | What::FirstNightOut) => Some(source(&crop.hardening)),
            (Why::CropDays, _) => Some(source(&crop.emergence)),
            (Why::Out(_), _) => self.frost_weeks(crop),
            _ => None,
        }
    }

    fn frost_weeks(&self, crop: &Crop) -> Option<String> {
        self.season.settings().frost.as_ref()?;
        crop.planting_out_after_frost.as_ref().map(source)
    }
}

/// Of the days in which it roots through.
pub fn rooting_source(crop: &Crop) -> String {
    crop.rooting_days.as_ref().map_or_else(|| USUAL_ROOTING.to_owned(), source)
}

/// What `trade::rooting_days` says of itself.
const USUAL_ROOTING: &str =
    "common practice, two weeks; a nursery’s note has 2 to 3 weeks for tomato (farm magazine, 2014)";

/// `own figure`, `from memory`, or what was read.
pub fn source<T>(figure: &Sourced<T>) -> String {
    let trust = match figure.trust {
        Trust::Own if figure.source.is_empty() => return "own figure".to_owned(),
        Trust::Own => return figure.source.to_string(),
        Trust::Published => "published",
        Trust::Derived => "derived",
        Trust::CommonPractice => "common practice",
        Trust::FromMemory => "from memory",
    };
    if figure.source.starts_with(trust) {
        figure.source.to_string()
    } else if figure.source.is_empty() {
        trust.to_owned()
    } else {
        format!("{trust}: {}", figure.source)
    }
}
