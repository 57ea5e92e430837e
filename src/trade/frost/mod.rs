//! The last frost: when it was, how likely a later one is, and planting out by it.

mod chance;
mod springs;
mod table;
mod taken;

pub use chance::{LastFrosts, NormalLaw};
pub use springs::{Half, RefusedSpring, Spring, TOO_MANY_MISSING, springs};
pub use table::{FrostWish, NoFrostDate, frost_from_springs, frost_from_table, with_risk};
pub use taken::{another_risk, frost_of_table, frost_on_own_day, risk_taken};

use chrono::NaiveDate;

use crate::season::{Crop, Frost, Hardiness, OutRule};

/// The day a crop is planted out: the middle of its window of weeks about the last frost, the later
/// week of two, counted from the day after which 5 years in 10 have a later frost of 0 °C; a tender
/// crop waits for the grower's date if that is later. Both are never added. `None` for a crop whose
/// window is not known, or past the calendar's end.
///
/// The windows are the crop's own figures and name their sources; that the middle is proposed is our
/// choice, common practice, no source.
pub fn out_after_frost(crop: &Crop, frost: &Frost) -> Option<NaiveDate> {
    match out_rule(crop)? {
        OutRule::Frost { days, waits } => frost.out(days, waits),
        OutRule::Day | OutRule::Nth { .. } | OutRule::Week { .. } => None,
    }
}

/// [`out_after_frost`] as the rule that a sowing keeps, so that it moves with the frost.
pub fn out_rule(crop: &Crop) -> Option<OutRule> {
    let (first, last) = crop.planting_out_after_frost.as_ref()?.value;
    let weeks = (i16::from(first) + i16::from(last) + 1).div_euclid(2);
    Some(OutRule::Frost { days: 7 * weeks, waits: is_tender(crop) })
}

/// Whether a frost on the bed kills it.
pub const fn is_tender(crop: &Crop) -> bool {
    matches!(crop.hardiness, Hardiness::Tender | Hardiness::VeryTender)
}
