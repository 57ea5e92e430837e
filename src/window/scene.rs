//! The document as the window shows it on one day: what drawing may read.
#![allow(clippy::similar_names, reason = "a shelf is a shelf, beside self")]

use chrono::NaiveDate;

use crate::forecast::{Forecast, Stay};
use crate::outlook::{Chance, Outlook, spot_of};
use crate::season::{Library, Season, Shelf, ShelfId, Spot, TrayKey, ZoneKind};
use crate::units::{Length, LengthUnit};
use crate::words::{self, Words};

use super::shelves::{RectOnShelf, footprint};
use super::state::{Selection, Standing};

#[derive(Clone, Copy)]
pub(crate) struct Scene<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'static Library,
    pub(super) forecast: &'a Forecast,
    /// The last answer, and whether it is one to the season as it is now.
    pub(super) outlook: Option<&'a Outlook>,
    pub(super) outlook_is_fresh: bool,
    /// Of the season as it is; `None` while it is not known, and where nothing varies.
    pub(super) chance: Option<&'a Chance>,
    pub(super) day: NaiveDate,
    pub(super) unit: LengthUnit,
    pub(super) selection: &'a Selection,
    /// Moves count from the day shown on.
    pub(super) from_day: bool,
    /// Of the season, raised by every change.
    pub(super) revision: u64,
}

/// A stay of the day shown, and its spot.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    pub(super) standing: Standing,
    pub(super) stay: &'a Stay,
    pub(super) spot: Option<&'a Spot>,
}

impl<'a> Scene<'a> {
    pub(super) fn words(&self) -> Words<'a> {
        Words { season: self.season, library: self.library, forecast: self.forecast, unit: self.unit }
    }

    /// A day typed without its year is the first such one from here on.
    pub(super) fn near(&self) -> NaiveDate {
        self.forecast.span().map_or(self.day, crate::units::DateSpan::from)
    }

    /// Everything that wants to stand somewhere on the day shown.
    pub(super) fn placed(&self) -> Vec<Placed<'a>> {
        let season = self.season;
        let forecast = self.forecast;
        forecast
            .on(self.day)
            .filter_map(|stay| {
                let tray = stay.tray()?;
                let standing = Standing { tray, role: stay.needs.role };
                Some(Placed { standing, stay, spot: spot_of(season, stay, self.day) })
            })
            .collect()
    }

    /// The ground taken on a shelf on the day shown, gaps included, but for that tray.
    pub(super) fn grounds_on(&self, shelf: ShelfId, except: TrayKey) -> Vec<RectOnShelf> {
        self.placed()
            .iter()
            .filter_map(|placed| Some((placed.stay, placed.spot?)))
            .filter(|(_, spot)| spot.shelf == shelf && spot.tray != except)
            .map(|(stay, spot)| footprint(self.season, stay, spot))
            .collect()
    }

    /// `To 7`; a stack says how many.
    pub(super) fn mark(&self, stay: &Stay) -> String {
        let mark = stay.tray().map_or_else(String::new, |tray| self.words().tray(tray));
        if stay.trays.len() > 1 { format!("{mark} × {}", stay.trays.len()) } else { mark }
    }

    /// `tomato ‘Early Red’`, or what a guest is called.
    pub(super) fn crop_name(&self, stay: &Stay) -> String {
        if let Some(sowing) = stay.sowing {
            return self.words().sowing(sowing);
        }
        match stay.tray() {
            Some(TrayKey::Guest { guest, .. }) => {
                self.season.guests().find(|one| one.id == guest).map_or_else(String::new, |one| one.name.clone())
            }
            _ => "shared tray".to_owned(),
        }
    }

    /// The crop family that gives a tray its fill; empty for guests.
    pub(super) fn family(&self, stay: &Stay) -> &'a str {
        let (season, library) = (self.season, self.library);
        stay.sowing
            .and_then(|id| season.sowing(id))
            .and_then(|sowing| season.crop(library, &sowing.crop))
            .map_or("", |crop| crop.family.as_str())
    }

    /// What a screen reader says of a tray.
    pub(super) fn tray_name(&self, placed: &Placed<'_>) -> String {
        let stay = placed.stay;
        let words = self.words();
        let place = placed.spot.map_or_else(
            || "no spot yet".to_owned(),
            |spot| {
                let (x, y) = (words.length(spot.x), words.length(spot.y));
                format!("on {}, {x} from the left, {y} from the back", words.shelf(spot.shelf))
            },
        );
        let mut parts = vec![self.mark(stay), self.crop_name(stay), words.what(stay), place, words::span(stay.span)];
        if placed.spot.is_some_and(|spot| spot.pinned) {
            parts.push("pinned".to_owned());
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
            counted(trays, "tray"),
        );
        for note in self.shelf_notes(shelf) {
            name.push_str(", ");
            name.push_str(&note);
        }
        name
    }

    /// Closed, heat mat, lamp, overhang: what the drawing shows, in words.
    pub(super) fn shelf_notes(&self, shelf: &Shelf) -> Vec<String> {
        let words = self.words();
        let mut notes = Vec::new();
        if let Some(span) = shelf.closed.iter().find(|span| span.contains(self.day)) {
            notes.push(format!("closed until {}", words::day(span.until())));
        }
        if let Some(place) = self.season.place_of(shelf)
            && !place.open.is_empty()
            && !place.open.iter().any(|span| span.contains(self.day))
        {
            notes.push("not open on this day".to_owned());
        }
        if let Some(height) = &shelf.clear_height {
            notes.push(format!("{} clear", words.length(height.value())));
        }
        if shelf.has(ZoneKind::Heat) {
            notes.push("heat mat".to_owned());
        }
        notes.push(if shelf.has(ZoneKind::Lamp) { "lamp" } else { "no lamp" }.to_owned());
        if shelf.overhang.value() > Length::ZERO {
            notes.push(format!("{} may stick out", words.length(shelf.overhang.value())));
        }
        notes
    }
}

/// `1 tray`, `4 trays`.
pub(super) fn counted(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}
