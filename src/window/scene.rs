//! The document as the window shows it on one day: what drawing may read.
#![allow(clippy::similar_names, reason = "a shelf is a shelf, beside self")]

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::export;
use crate::forecast::{Forecast, Problem, Stay, may_be_seen};
use crate::outlook::{Chance, OnDay, Outlook, Placed, Spots, Week};
use crate::season::{Edit, EditError, Library, Light, Role, Season, Shelf, TrayKey, ZoneKind};
use crate::units::{Length, LengthUnit};
use crate::words::{self, CropStands, Words, shelves as said};

use super::shelves::Mark;
use super::state::Selection;
use super::waits::Waits;

#[derive(Clone, Copy)]
pub(crate) struct Scene<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'static Library,
    pub(super) forecast: &'a Forecast,
    /// The last answer, and whether it is one to the season as it is now.
    pub(super) outlook: Option<&'a Outlook>,
    pub(super) outlook_is_fresh: bool,
    /// Who fills each week of that answer.
    pub(super) fills: &'a [Vec<CropStands>],
    /// Where everything stands, to be asked often.
    pub(super) spots: &'a Spots,
    /// Everything worth a look, of the layout that stands too.
    pub(super) problems: &'a [Problem],
    /// Of the season as it is; `None` while it is not known, and where nothing varies.
    pub(super) chance: Option<&'a Chance>,
    /// The day that is shown.
    pub(super) day: NaiveDate,
    pub(super) today: NaiveDate,
    pub(super) unit: LengthUnit,
    pub(super) selection: &'a Selection,
    /// Moves count from the day shown on.
    pub(super) from_day: bool,
    /// Of the season, raised by every change.
    pub(super) revision: u64,
    /// How long works can wait, as far as somebody looked; `None` of a season that is only shown.
    pub(super) waits: Option<&'a Waits>,
    /// Everything that wants to stand somewhere on the day shown, where it was worked out for this frame.
    pub(super) standing: Option<&'a [Placed<'a>]>,
    /// Of them those with a spot by day and another by night.
    pub(super) carried: Option<&'a BTreeSet<TrayKey>>,
}

impl<'a> Scene<'a> {
    pub(super) fn words(&self) -> Words<'a> {
        Words { season: self.season, library: self.library, forecast: self.forecast, unit: self.unit }
    }

    /// Whether the season would take that edit, and what it writes down can be so.
    pub(super) fn may(&self, edit: &Edit) -> Result<(), EditError> {
        self.season.may(edit)?;
        may_be_seen(self.season, self.forecast, edit, self.today)
    }

    /// A day typed without its year is the first such one from here on.
    pub(super) fn near(&self) -> NaiveDate {
        self.forecast.span().map_or(self.day, crate::units::DateSpan::from)
    }

    /// The day shown, as rules about it are asked.
    pub(super) const fn on_day(&self) -> OnDay<'a> {
        OnDay { season: self.season, forecast: self.forecast, day: self.day, from_day: self.from_day }
    }

    /// Everything that wants to stand somewhere on the day shown.
    pub(super) fn placed(&self) -> Vec<Placed<'a>> {
        self.standing.map_or_else(|| self.spots.placed(self.forecast, self.day), <[_]>::to_vec)
    }

    /// Whose they are that week, by crop, most first.
    pub(super) fn who_fills(&self, week: &Week) -> &'a [CropStands] {
        let is_it = |one: &Week| one.from == week.from && one.pool.kind == week.pool.kind;
        let at = self.outlook.and_then(|outlook| outlook.weeks.iter().position(is_it));
        at.and_then(|at| self.fills.get(at)).map_or(&[], Vec::as_slice)
    }

    /// The chosen trays that are there on the day shown, the one looked at first.
    pub(super) fn chosen(&self) -> Vec<Placed<'a>> {
        let mut all: Vec<Placed<'a>> =
            self.placed().into_iter().filter(|one| self.selection.holds(one.id.tray)).collect();
        all.sort_by_key(|one| self.selection.tray != Some(one.id.tray));
        all
    }

    /// `To 7`; a stack says how many.
    pub(super) fn mark(&self, stay: &Stay) -> String {
        self.words().mark(stay)
    }

    /// What is written on it.
    pub(super) fn mark_on(&self, one: &Placed<'_>) -> Mark {
        Mark { tray: self.mark(one.stay), part_of_day: self.part_of_day(one).map(said::Part::short) }
    }

    /// Of a tray that is carried out and in.
    fn part_of_day(&self, one: &Placed<'_>) -> Option<said::Part> {
        let is_carried = self.carried.is_some_and(|carried| carried.contains(&one.id.tray));
        is_carried.then_some(if one.id.role == Role::Hardening { said::Part::Day } else { said::Part::Night })
    }

    /// `tomato ‘Early Red’`, or what a guest is called.
    pub(super) fn crop_name(&self, stay: &Stay) -> String {
        self.words().crop_on(stay, self.day)
    }

    /// The crop family that gives a tray its fill; empty for guests, and where several stand in it.
    pub(super) fn family(&self, stay: &Stay) -> &'a str {
        export::family_of(&self.words(), stay)
    }

    /// What a screen reader says of a tray.
    pub(super) fn tray_name(&self, placed: &Placed<'_>) -> String {
        let stay = placed.stay;
        let words = self.words();
        let place = placed.spot.map_or_else(
            || words::NO_SPOT_YET.to_owned(),
            |spot| {
                let (x, y) = (words.length(spot.x), words.length(spot.y));
                said::stands_at(&words.shelf(spot.shelf), &x, &y)
            },
        );
        let mut parts = vec![self.mark(stay), self.crop_name(stay), words.what(stay), place, words::span(stay.span)];
        parts.extend(self.part_of_day(placed).map(|part| part.said().to_owned()));
        if placed.spot.is_some_and(|spot| spot.pinned) {
            parts.push(said::PINNED.to_owned());
        }
        parts.join(", ")
    }

    /// What a screen reader says of a shelf.
    pub(super) fn shelf_name(&self, shelf: &Shelf, trays: usize) -> String {
        let words = self.words();
        let mut name = format!(
            "{}, {} × {}, {}",
            words.shelf(shelf.id),
            shelf.width.value().number(self.unit),
            words.length(shelf.depth.value()),
            words::counted(trays, "tray", "trays"),
        );
        for note in self.shelf_notes(shelf) {
            name.push_str(", ");
            name.push_str(&note);
        }
        name
    }

    /// Why nothing may stand there on this day.
    pub(super) fn shut_notes(&self, shelf: &Shelf) -> Vec<String> {
        let closed = shelf.closed.iter().find(|span| span.contains(self.day));
        let place = self.season.place_of(shelf).filter(|place| !place.open.is_empty());
        let is_shut = place.is_some_and(|place| !place.open.iter().any(|span| span.contains(self.day)));
        let not_open = is_shut.then(|| said::NOT_OPEN.to_owned());
        closed.map(|span| said::closed_until(span.until())).into_iter().chain(not_open).collect()
    }

    /// Closed, heat mat, lamp, overhang: what the drawing shows, in words.
    pub(super) fn shelf_notes(&self, shelf: &Shelf) -> Vec<String> {
        let words = self.words();
        let mut notes = self.shut_notes(shelf);
        if let Some(height) = &shelf.clear_height {
            notes.push(said::clear(&words.length(height.value())));
        }
        if shelf.has(ZoneKind::Heat) {
            notes.push(said::HEAT_MAT.to_owned());
        }
        let light = shelf.light.or_else(|| self.season.place_of(shelf).map(|place| place.light));
        let light = match light {
            _ if shelf.has(ZoneKind::Lamp) => said::LAMP,
            Some(Light::Daylight) => said::DAYLIGHT,
            Some(Light::Dark) => said::DARK,
            Some(Light::Lamps) | None => said::NO_LAMP,
        };
        notes.push(light.to_owned());
        if shelf.overhang.value() > Length::ZERO {
            notes.push(said::may_stick_out(&words.length(shelf.overhang.value())));
        }
        notes
    }
}
