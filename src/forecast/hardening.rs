//! When trays harden off, and where they may.

use chrono::NaiveDate;

use crate::season::{Crop, PartOfDay, Role, Season};
use crate::trade;
use crate::units::{DateSpan, Temperature, Typed, shifted};

/// When a tray first stands outside by day, and when it first stays there at night.
#[derive(Clone, Copy, Debug)]
pub(super) struct HardeningDays {
    pub(super) from: NaiveDate,
    /// The day it goes for good, where no place outside is fit for it at night.
    pub(super) first_night: NaiveDate,
    pub(super) waits_for_place: bool,
    /// The last frost keeps it in at night for longer than the crop's days would.
    pub(super) waits_for_frost: bool,
}

/// A place to harden off in: by day, and at night as well if it is whole.
pub(super) struct HardeningPlace {
    open: Vec<DateSpan>,
    whole: bool,
    /// Its nights, where they are known.
    night: Option<Temperature>,
}

pub(super) fn hardening_places(season: &Season) -> Vec<HardeningPlace> {
    season
        .places()
        .filter(|place| place.role == Role::Hardening && place.part != PartOfDay::Nights)
        .map(|place| HardeningPlace {
            open: place.open.clone(),
            whole: place.part == PartOfDay::Whole,
            night: place.temperatures.night.as_ref().map(Typed::value),
        })
        .collect()
}

/// The hardening of a tray that leaves on that day and may stay out at night from another on; `None`
/// where no place is open for it, and for a crop that is not hardened.
pub(super) fn hardening(
    places: &[HardeningPlace],
    crop: &Crop,
    last_start: NaiveDate,
    out: NaiveDate,
    nights_from: Option<NaiveDate>,
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
    let planned = shifted(from, i64::from(rule.first_night_after));
    let night = nights_from.map_or(planned, |safe| planned.max(safe));
    // a place for the day alone leaves the tray its indoor spot for every night, as do nights too cold for it
    let safe = trade::safe_night(crop);
    let bears = |place: &&HardeningPlace| place.whole && place.night.is_none_or(|night| night >= safe);
    let first_night = places.iter().filter(bears).filter_map(|place| opens(place, night)).min();
    Some(HardeningDays {
        from,
        first_night: first_night.unwrap_or(out),
        waits_for_place: from > wanted,
        waits_for_frost: night > planned,
    })
}
