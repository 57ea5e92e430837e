//! When trays harden off, and where they may.

use chrono::NaiveDate;

use crate::season::{Crop, Hardening, Light, PartOfDay, PlaceId, Role, Season};
use crate::trade;
use crate::units::{DateSpan, Temperature, shifted};

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

/// What was seen of a lot's days outside, and the days on which it leaves: the first record is of what leaves first.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SeenOutside {
    pub(super) hardening: Vec<NaiveDate>,
    pub(super) nights: Vec<NaiveDate>,
    /// In order.
    pub(super) outs: Vec<NaiveDate>,
}

/// The same of what leaves on one day.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SeenBefore {
    pub(super) from: Option<NaiveDate>,
    pub(super) night: Option<NaiveDate>,
}

impl SeenOutside {
    pub(super) fn before(&self, out: NaiveDate) -> SeenBefore {
        let at = self.outs.partition_point(|day| *day < out).min(self.outs.len().saturating_sub(1));
        let of = |days: &[NaiveDate]| days.get(at).copied().filter(|day| *day < out);
        SeenBefore { from: of(&self.hardening), night: of(&self.nights) }
    }
}

/// A place to harden off in: by day, and at night as well if it is whole.
pub(super) struct HardeningPlace {
    id: PlaceId,
    open: Vec<DateSpan>,
    whole: bool,
    by_day: Option<Temperature>,
    coldest: Option<Temperature>,
}

impl HardeningPlace {
    fn is_warm_by_day(&self, crop: &Crop) -> bool {
        self.by_day.is_none_or(|day| day >= crop.come_in.value.value())
    }

    fn is_warm_at_night(&self, crop: &Crop) -> bool {
        self.coldest.is_none_or(|coldest| coldest >= trade::safe_night(crop))
    }
}

pub(super) fn hardening_places(season: &Season) -> Vec<HardeningPlace> {
    season
        .places()
        .filter(|place| place.role == Role::Hardening && place.part != PartOfDay::Nights && place.light != Light::Dark)
        .map(|place| HardeningPlace {
            id: place.id,
            open: place.open.clone(),
            whole: place.part == PartOfDay::Whole,
            by_day: trade::coldest(&place.temperatures, PartOfDay::Days),
            coldest: trade::coldest(&place.temperatures, PartOfDay::Whole),
        })
        .collect()
}

/// A tray that is to harden off before it leaves.
#[derive(Clone, Copy)]
pub(super) struct Hardens<'a> {
    pub(super) crop: &'a Crop,
    pub(super) rule: Hardening,
    /// The day on which it is moved on for the last time, or sown.
    pub(super) last_start: NaiveDate,
    pub(super) out: NaiveDate,
    /// It may stay out at night from then on.
    pub(super) nights_from: Option<NaiveDate>,
    pub(super) seen: SeenBefore,
}

impl Hardens<'_> {
    /// `None` where no place is open for it, and for a crop that is not hardened. A place too cold for it at
    /// night is one for the day.
    pub(super) fn in_places(self, places: &[HardeningPlace]) -> Option<HardeningDays> {
        let warm = |place: &&HardeningPlace| place.is_warm_by_day(self.crop);
        self.hardened(places, warm, |place| place.whole && place.is_warm_at_night(self.crop))
    }

    /// A place that is too cold for it to harden off there, from which day on, and whether only its nights are.
    pub(super) fn too_cold(self, places: &[HardeningPlace]) -> Option<(PlaceId, NaiveDate, bool)> {
        let wanted = self.however_cold(places)?;
        let Some(found) = self.in_places(places) else {
            let place = places.iter().find(|place| !place.is_warm_by_day(self.crop))?;
            return Some((place.id, wanted.from, false));
        };
        let place = places.iter().find(|place| place.whole && !place.is_warm_at_night(self.crop))?;
        (found.first_night > wanted.first_night).then_some((place.id, wanted.first_night, true))
    }

    /// As [`in_places`](Self::in_places), as if no place were too cold.
    pub(super) fn however_cold(self, places: &[HardeningPlace]) -> Option<HardeningDays> {
        self.hardened(places, |_| true, |place| place.whole)
    }

    /// In places that suit by day, and in those that suit at night.
    fn hardened(
        self,
        places: &[HardeningPlace],
        by_day: impl Fn(&&HardeningPlace) -> bool,
        at_night: impl Fn(&&HardeningPlace) -> bool,
    ) -> Option<HardeningDays> {
        let Self { rule, last_start, out, nights_from, seen, .. } = self;
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
        let opens_from = places.iter().filter(by_day).filter_map(|place| opens(place, wanted)).min()?;
        // what stood outside did, whatever the rules said
        let from = seen.from.or(seen.night.filter(|night| *night < opens_from)).unwrap_or(opens_from);
        let planned = shifted(from, i64::from(rule.first_night_after));
        let night = nights_from.map_or(planned, |safe| planned.max(safe));
        // a place for the day alone leaves the tray its indoor spot for every night
        let first_night = places.iter().filter(at_night).filter_map(|place| match seen.night {
            Some(night) => Some(night.max(from)),
            None => opens(place, night),
        });
        let first_night = first_night.min();
        Some(HardeningDays {
            from,
            first_night: first_night.unwrap_or(out),
            waits_for_place: seen.from.is_none() && from > wanted,
            waits_for_frost: night > planned,
        })
    }
}
