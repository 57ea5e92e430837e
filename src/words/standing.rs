//! Where plants stand: too cold, too warm, in the dark.

use chrono::NaiveDate;

use crate::season::{Crop, PartOfDay, PlaceId, ShelfId, SowingId, TrayKey};
use crate::trade::{self, Bears, Harm};
use crate::units::{DateSpan, Temperature};

use super::{Words, counted, day, plural, span};

impl Words<'_> {
    fn warmth(&self, at: Temperature) -> String {
        at.in_words(self.unit)
    }

    pub(super) fn place(&self, id: PlaceId) -> String {
        self.season.place(id).map_or_else(|| format!("place {id}"), |place| place.name.clone())
    }

    fn crop_with(&self, sowing: SowingId) -> Option<&Crop> {
        self.season.sowing(sowing).and_then(|sowing| self.season.crop(self.library, &sowing.crop))
    }

    /// `6 °C at night`, `6 °C` where the place has but one figure.
    fn coldest_of(&self, id: PlaceId) -> String {
        let Some(place) = self.season.place(id) else { return String::new() };
        let of = &place.temperatures;
        let Some(coldest) = trade::coldest(of, PartOfDay::Whole) else { return String::new() };
        let by_night = of.day.is_some() && trade::coldest(of, PartOfDay::Nights) == Some(coldest);
        format!("{}{}", self.warmth(coldest), if by_night { " at night" } else { "" })
    }

    /// `too cold here: 1 °C, and it wants 10 °C at least`.
    pub(super) fn obstacle_of(&self, harm: Harm) -> String {
        let (word, at, limit, most) = match harm {
            Harm::TooCold { at, least } => ("cold", at, least, "wants"),
            Harm::TooWarm { at, most } => ("warm", at, most, "bears"),
        };
        let which = if most == "wants" { "at least" } else { "at most" };
        format!("too {word} here: {}, and it {most} {} {which}", self.warmth(at), self.warmth(limit))
    }

    /// What is wrong with a place, by itself: `1 °C there, and it comes in below 10 °C`.
    fn harm(&self, harm: Harm, grows: bool) -> String {
        match harm {
            Harm::TooCold { at, least } if grows => {
                format!("{} there, and it comes in below {}", self.warmth(at), self.warmth(least))
            }
            Harm::TooCold { at, least } => {
                format!("a mix of {} there, and its seed wants {} at least", self.warmth(at), self.warmth(least))
            }
            Harm::TooWarm { at, most } => {
                format!("a mix of {} there, and its seed bears {} at most", self.warmth(at), self.warmth(most))
            }
        }
    }

    pub(super) fn too_cold_to_harden(
        &self,
        sowing: SowingId,
        place: PlaceId,
        from: NaiveDate,
        nights_alone: bool,
    ) -> String {
        let least = self.crop_with(sowing).map_or_else(String::new, |crop| self.warmth(crop.come_in.value.value()));
        let (which, name) = (self.which(sowing), self.place(place));
        if nights_alone {
            format!(
                "{which}: {name} has {}, and it comes in below {least}: it hardens off there by day alone and keeps \
                 its spot indoors for the nights, from {} until it goes out",
                self.coldest_of(place),
                day(from)
            )
        } else {
            format!(
                "{which}: {name} is too cold to harden it off from {}, even by day: it comes in below {least}",
                day(from)
            )
        }
    }

    pub(super) fn bolts(
        &self,
        sowing: SowingId,
        place: PlaceId,
        from: NaiveDate,
        days: u16,
        reached: NaiveDate,
    ) -> String {
        let which = self.which(sowing);
        let Some(chill) = self.crop_with(sowing).and_then(|crop| crop.bolts.as_ref()) else { return which };
        let (below, words) = (self.warmth(chill.value.below), &chill.value.words);
        let why = if words.is_empty() { String::new() } else { format!(" ({words})") };
        format!(
            "{which}: {} with a mean below {below} from {} on, in {}; {} make it bolt, by {}{why}: keep it warmer, \
             and harden it off by less water",
            counted(days, "day", "days"),
            day(from),
            self.place(place),
            chill.value.days,
            day(reached)
        )
    }

    pub(super) fn too_warm(&self, sowing: SowingId, place: PlaceId, from: NaiveDate, days: u16) -> String {
        let at = self.season.place(place).and_then(|place| trade::coldest(&place.temperatures, PartOfDay::Days));
        let most = self.crop_with(sowing).map(trade::too_warm_above);
        let warmth = |at: Option<Temperature>| at.map_or_else(String::new, |at| self.warmth(at));
        format!(
            "{}: {} at {} by day in {}, from {} on, and above {} it stops growing well: air or shade the place, or \
             stand it elsewhere",
            self.which(sowing),
            counted(days, "day", "days"),
            warmth(at),
            self.place(place),
            day(from),
            warmth(most)
        )
    }

    pub(super) fn no_place_bears(
        &self,
        tray: TrayKey,
        trays: u32,
        when: DateSpan,
        place: PlaceId,
        bears: Bears,
    ) -> String {
        let of = self.season.place(place).map(|place| &place.temperatures);
        let part = self.forecast.stays_of(tray).find(|stay| stay.span.contains(when.from()));
        let part = part.map_or(PartOfDay::Whole, |stay| stay.part);
        let harm = of.and_then(|of| [true, false].into_iter().find_map(|mat| bears.harm(of, part, mat)));
        let grows = matches!(bears, Bears::Air { .. });
        let why =
            harm.map_or_else(String::new, |harm| format!("; {} has {}", self.place(place), self.harm(harm, grows)));
        let what = match harm {
            Some(Harm::TooWarm { .. }) => ("cool", "find a cooler place"),
            _ => ("warm", "heat it, find a warmer place or start later"),
        };
        format!("No place is {} enough for {} {}{why}: {}", what.0, self.and_others(tray, trays), span(when), what.1)
    }

    pub(super) fn harmed_there(&self, tray: TrayKey, shelf: ShelfId, from: NaiveDate, harm: Harm) -> String {
        let cold = matches!(harm, Harm::TooCold { .. });
        let stay = self.forecast.stays_of(tray).find(|stay| stay.span.contains(from));
        let grows = stay.is_some_and(|stay| matches!(stay.needs.bears, Bears::Air { .. }));
        format!(
            "{} stands too {} on {} from {}: {}; move it to a {} place",
            self.tray_of(tray),
            if cold { "cold" } else { "warm" },
            self.shelf(shelf),
            day(from),
            self.harm(harm, grows),
            if cold { "warmer" } else { "cooler" }
        )
    }

    pub(super) fn no_light(&self, tray: TrayKey, trays: u32, when: DateSpan) -> String {
        format!(
            "{} {} no place with light {}: hang a lamp, or give {} daylight",
            self.and_others(tray, trays),
            plural(trays, "has", "have"),
            span(when),
            plural(trays, "it", "them")
        )
    }

    pub(super) fn in_the_dark(&self, tray: TrayKey, shelf: ShelfId, from: NaiveDate) -> String {
        format!(
            "{} stands in the dark on {} from {}: move it under a lamp or into daylight that day",
            self.tray_of(tray),
            self.shelf(shelf),
            day(from)
        )
    }

    pub(super) fn stack_in_the_dark(&self, sowing: SowingId, days: u16) -> String {
        format!(
            "{}: its seed wants light to sprout, so its trays stand side by side in the light from the first day, not \
             {} in a stack",
            self.which(sowing),
            counted(days, "day", "days")
        )
    }

    pub(super) fn cover_seed(&self, sowing: SowingId, until: NaiveDate) -> String {
        format!(
            "{}: its seed wants dark to sprout, and no shelf is dark: cover it with mix, or its trays, until the first \
             are up, about {}",
            self.which(sowing),
            day(until)
        )
    }

    /// `To 7 (tomato) and 3 others`.
    fn and_others(&self, tray: TrayKey, trays: u32) -> String {
        match trays.saturating_sub(1) {
            0 => self.tray_of(tray),
            others => format!("{} and {others} {}", self.tray_of(tray), plural(others, "other", "others")),
        }
    }
}

pub(super) fn beyond_lamps(when: DateSpan, most: u32, pots: u32, days: u32) -> String {
    let things = match (most, pots) {
        (1, 0) => "tray",
        (1, _) => "loose pot",
        (_, 0) => "trays",
        (most, pots) if most == pots => "loose pots",
        _ => "trays and loose pots",
    };
    format!(
        "Up to {most} {things} beyond the lamps' good reach, on {days} {} between {}: hang more light, or let them \
         take turns under the lamps",
        plural(days, "day", "days"),
        span(when)
    )
}
