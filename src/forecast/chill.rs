//! What the warmth of the places in which a lot stands does to it, day by day, once it is up.

use chrono::NaiveDate;

use crate::season::{Crop, LotId, PartOfDay, Place, PlaceId, Role, Season, Sowing, Temperatures};
use crate::trade::{self, Bears};
use crate::units::{DateSpan, shifted};

use super::climate::{grows, is_open, stands_in, would_grow_in};
use super::dates::Dates;
use super::hardening::{HardeningDays, Hardens, hardening_places};
use super::problem::Problem;

/// What the warmth of its places does to a lot that is up.
pub(super) fn of_course(season: &Season, crop: &Crop, sowing: &Sowing, lot: LotId, dates: &Dates) -> Vec<Problem> {
    let known = |place: &Place| place.temperatures.day.is_some() || place.temperatures.night.is_some();
    if !season.places().any(known) {
        return Vec::new();
    }
    let places = hardening_places(season);
    let last_start = dates.starts.last().copied().unwrap_or(dates.out);
    let rule = trade::hardening_days(crop, sowing);
    let (nights_from, seen) = (dates.nights_from, dates.outside.before(dates.out));
    let hardens = Hardens { crop, rule, last_start, out: dates.out, nights_from, seen };
    let course = Stands { season, crop, sowing, lot, dates, hardening: hardens.in_places(&places) };
    let mut problems = Vec::new();
    if let Some((place, from, nights_alone)) = hardens.too_cold(&places) {
        problems.push(Problem::TooColdToHarden { sowing: sowing.id, place, from, nights_alone });
    }
    problems.extend(course.bolts());
    problems.extend(course.too_warm());
    problems
}

/// A lot from the day it is up.
struct Stands<'a> {
    season: &'a Season,
    crop: &'a Crop,
    sowing: &'a Sowing,
    lot: LotId,
    dates: &'a Dates,
    hardening: Option<HardeningDays>,
}

/// Days that are alike in something.
struct Days {
    first: NaiveDate,
    number: u16,
    place: PlaceId,
}

impl<'a> Stands<'a> {
    /// Each day with the places in which it stands by day and by night.
    fn days(&self) -> Vec<(NaiveDate, &'a Place, &'a Place)> {
        let mut all = Vec::new();
        for (at, step) in self.sowing.steps.iter().enumerate() {
            let Some(&start) = self.dates.starts.get(at) else { continue };
            let until = self.dates.starts.get(at + 1).copied().unwrap_or(self.dates.out);
            let from = if at == 0 { start.max(self.dates.up) } else { start };
            let Ok(span) = DateSpan::new(from, until) else { continue };
            let half = shifted(from, span.days() / 2);
            let stood = stands_in(self.season, (self.lot, step.id), half, grows);
            let outside = |place: &Place| place.role == Role::Hardening;
            let hardened = stands_in(self.season, (self.lot, step.id), span.last(), outside);
            let mut date = from;
            while date < until {
                let inside = || stood.or_else(|| would_grow_in(self.season, self.crop, date));
                let out = || hardened.or_else(|| self.would_harden_in(date));
                let hardens = self.hardening.filter(|hardening| hardening.from <= date);
                let day = if hardens.is_some() { out() } else { inside() };
                let night = if hardens.is_some_and(|days| days.first_night <= date) { out() } else { inside() };
                all.extend(day.zip(night).map(|(day, night)| (date, day, night)));
                let next = shifted(date, 1);
                if next == date {
                    break;
                }
                date = next;
            }
        }
        all
    }

    fn would_harden_in(&self, on: NaiveDate) -> Option<&'a Place> {
        let suits =
            |place: &&Place| place.role == Role::Hardening && place.part != PartOfDay::Nights && is_open(place, on);
        let bears = Bears::plants(self.crop);
        let harmed = |place: &&Place| bears.harm(&place.temperatures, PartOfDay::Whole, false).is_some();
        self.season.places().filter(suits).min_by_key(harmed)
    }

    /// Those days on which `is` holds of the places by day and by night, counted together.
    fn count(&self, is: impl Fn(&Place, &Place) -> bool) -> Option<(Days, Vec<NaiveDate>)> {
        let days = self.days().into_iter().filter(|(_, day, night)| is(day, night));
        let days: Vec<_> = days.collect();
        let &(first, day, _) = days.first()?;
        let number = u16::try_from(days.len()).unwrap_or(u16::MAX);
        Some((Days { first, number, place: day.id }, days.into_iter().map(|(date, ..)| date).collect()))
    }

    /// Chilled for so many days in all that it flowers before its time.
    ///
    /// Held against the mean of the day, which the published trials were kept at (celery at 10, 14 and 18 °C,
    /// Chinese cabbage at 12 °C).
    fn bolts(&self) -> Option<Problem> {
        let chill = &self.crop.bolts.as_ref()?.value;
        let chilled = |day: &Place, night: &Place| {
            let of =
                Temperatures { day: day.temperatures.day.clone(), night: night.temperatures.night.clone(), mat: None };
            trade::mean_temperature(&of).is_some_and(|mean| mean < chill.below)
        };
        let (Days { first, number, place }, dates) = self.count(chilled)?;
        let reached = *dates.get(usize::from(chill.days).saturating_sub(1))?;
        Some(Problem::Bolts { sowing: self.sowing.id, place, from: first, days: number, reached })
    }

    fn too_warm(&self) -> Option<Problem> {
        let bears = Bears::plants(self.crop);
        let (Days { first, number, place }, _) = self.count(|day, _| trade::checks(bears, &day.temperatures))?;
        Some(Problem::TooWarm { sowing: self.sowing.id, place, from: first, days: number })
    }
}
