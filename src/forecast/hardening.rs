//! When trays harden off, and where they may.

use chrono::NaiveDate;

use crate::season::{Crop, PartOfDay, Role, Season};
use crate::units::{DateSpan, shifted};

/// When a tray first stands outside by day, and when it first stays there at night.
#[derive(Clone, Copy, Debug)]
pub(super) struct HardeningDays {
    pub(super) from: NaiveDate,
    /// The day it goes for good, where no place outside is open at night.
    pub(super) first_night: NaiveDate,
    pub(super) waits_for_place: bool,
}

/// A place to harden off in: by day, and at night as well if it is whole.
pub(super) struct HardeningPlace {
    open: Vec<DateSpan>,
    whole: bool,
}

pub(super) fn hardening_places(season: &Season) -> Vec<HardeningPlace> {
    season
        .places()
        .filter(|place| place.role == Role::Hardening && place.part != PartOfDay::Nights)
        .map(|place| HardeningPlace { open: place.open.clone(), whole: place.part == PartOfDay::Whole })
        .collect()
}

/// The hardening of a tray that leaves on that day; `None` where no place is open for it, and for a crop
/// that is not hardened.
pub(super) fn hardening(
    places: &[HardeningPlace],
    crop: &Crop,
    last_start: NaiveDate,
    out: NaiveDate,
) -> Option<HardeningDays> {
    let rule = crop.hardening.value;
    if rule.days == 0 {
        // what bolts of cold nights stays in until it goes
        return None;
    }
    let wanted = shifted(out, -i64::from(rule.days)).max(shifted(last_start, 1));
    let opens = |place: &HardeningPlace, from: NaiveDate| {
        let days = DateSpan::new(from, out).ok()?;
        if place.open.is_empty() {
            return Some(from);
        }
        place.open.iter().filter_map(|open| open.within(days)).map(DateSpan::from).min()
    };
    let from = places.iter().filter_map(|place| opens(place, wanted)).min()?;
    // a place for the day alone leaves the tray its indoor spot for every night
    let night = shifted(from, i64::from(rule.first_night_after));
    let first_night = places.iter().filter(|place| place.whole).filter_map(|place| opens(place, night)).min();
    Some(HardeningDays { from, first_night: first_night.unwrap_or(out), waits_for_place: from > wanted })
}
