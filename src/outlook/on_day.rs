//! The season's layout on one day, and from when on a move made that day counts.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::forecast::{Forecast, Phase, Problem, Stay};
use crate::season::{Role, Season, ShelfId, Spot, SpotFrom, TrayKey};

use super::layout::{RectOnShelf, Spots, ground, spot_of};

/// One day of a season, and what a move made on it replaces.
#[derive(Clone, Copy, Debug)]
pub struct OnDay<'a> {
    pub season: &'a Season,
    pub forecast: &'a Forecast,
    pub day: NaiveDate,
    /// Moves count from this day on; else in place of the spot in force.
    pub from_day: bool,
}

/// What tells apart all that stands on a day: trays that harden off may have one spot by day and
/// one by night.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlacedId {
    pub tray: TrayKey,
    pub role: Role,
}

/// A stay of the day, and its spot.
#[derive(Clone, Copy, Debug)]
pub struct Placed<'a> {
    pub id: PlacedId,
    pub stay: &'a Stay,
    pub spot: Option<&'a Spot>,
}

/// What is there on a day, each tray once: while it is carried out and in it has two spots.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnDayCount {
    pub trays: usize,
    pub plants: u32,
    /// Seeds, or cells of them, that are not up yet.
    pub sown: u32,
    /// Trays that lack a spot.
    pub without: usize,
}

impl OnDayCount {
    pub fn of(placed: &[Placed<'_>]) -> Self {
        let mut all: BTreeMap<TrayKey, (&Stay, bool)> = BTreeMap::new();
        for one in placed {
            let (_, without) = all.entry(one.id.tray).or_insert((one.stay, false));
            *without |= one.spot.is_none();
        }
        let number = |sown: bool| {
            let those = all.values().filter(|(stay, _)| (stay.phase == Phase::Germinating) == sown);
            those.map(|(stay, _)| stay.plants).sum()
        };
        Self {
            trays: all.len(),
            plants: number(false),
            sown: number(true),
            without: all.values().filter(|(_, without)| *without).count(),
        }
    }
}

/// Trays of which one spot is that of the day and another that of the night.
pub fn carried(placed: &[Placed<'_>]) -> BTreeSet<TrayKey> {
    let mut seen = BTreeSet::new();
    placed.iter().map(|one| one.id.tray).filter(|tray| !seen.insert(*tray)).collect()
}

/// Trays that stand on the same ground on that day, of those that do on some day.
pub fn in_each_others_way(season: &Season, placed: &[Placed<'_>], problems: &[Problem]) -> BTreeSet<TrayKey> {
    let grounds = |tray: TrayKey| {
        let its = placed.iter().filter(move |one| one.id.tray == tray);
        its.filter_map(|one| Some((one.spot?.shelf, ground(season, one.stay, one.spot?))))
    };
    let pairs = problems.iter().filter_map(|problem| match problem {
        Problem::Clash { one, other, .. } => Some((*one, *other)),
        _ => None,
    });
    let there = pairs.filter(|(one, other)| {
        grounds(*one).any(|(shelf, rect)| grounds(*other).any(|(its, other)| shelf == its && rect.overlaps(other)))
    });
    there.flat_map(|(one, other)| [one, other]).collect()
}

impl<'a> Placed<'a> {
    fn of(stay: &'a Stay, spot: Option<&'a Spot>) -> Option<Self> {
        Some(Self { id: PlacedId { tray: stay.tray()?, role: stay.needs.role }, stay, spot })
    }
}

impl Spots {
    /// Everything that wants to stand somewhere on that day.
    pub fn placed<'a>(&'a self, forecast: &'a Forecast, day: NaiveDate) -> Vec<Placed<'a>> {
        let of = |stay: &'a Stay| Placed::of(stay, self.of_stay(stay, day));
        forecast.on(day).filter_map(of).collect()
    }
}

impl<'a> OnDay<'a> {
    /// Everything that wants to stand somewhere.
    pub fn placed(&self) -> Vec<Placed<'a>> {
        let Self { season, forecast, day, .. } = *self;
        forecast.on(day).filter_map(|stay| Placed::of(stay, spot_of(season, stay, day))).collect()
    }

    pub fn stay_of(&self, tray: TrayKey) -> Option<&'a Stay> {
        let Self { forecast, day, .. } = *self;
        forecast.stays_of(tray).find(|stay| stay.span.contains(day))
    }

    /// Trays that have a spot, from the back of each shelf to its front.
    pub fn standing(&self) -> Vec<TrayKey> {
        let mut spots: Vec<&Spot> = self.placed().iter().filter_map(|one| one.spot).collect();
        spots.sort_by_key(|spot| (spot.shelf, spot.y, spot.x));
        spots.into_iter().map(|spot| spot.tray).collect()
    }

    /// The ground taken on a shelf, gaps included, but for that tray.
    pub fn grounds_on(&self, shelf: ShelfId, except: TrayKey) -> Vec<RectOnShelf> {
        self.placed()
            .iter()
            .filter_map(|one| Some((one.stay, one.spot?)))
            .filter(|(_, spot)| spot.shelf == shelf && spot.tray != except)
            .map(|(stay, spot)| RectOnShelf::with_gap(self.season, stay, spot))
            .collect()
    }

    /// From when a spot given on this day counts: in place of the one in force, unless it is to count
    /// from this day on; where none is in force, from when the tray first goes without.
    pub fn counts_from(&self, stay: &Stay) -> SpotFrom {
        let Some(tray) = stay.tray() else { return SpotFrom::Start };
        if self.from_day && self.day > stay.span.from() {
            return SpotFrom::On(self.day);
        }
        if let Some(current) = spot_of(self.season, stay, self.day) {
            return current.from;
        }
        let ends = self.season.spots_of(tray).filter_map(|spot| spot.until);
        let taken_up = ends.filter(|until| *until <= self.day).max();
        if let Some(until) = taken_up.filter(|until| *until > stay.span.from()) {
            return SpotFrom::On(until);
        }
        self.first_without(tray, stay)
    }

    /// The first day of the run of stays that ends with this one and has no spot at all.
    fn first_without(&self, tray: TrayKey, stay: &Stay) -> SpotFrom {
        let mut first = stay.span.from();
        let before = self.forecast.stays_of(tray).filter(|other| other.span.from() < stay.span.from());
        let mut before: Vec<&Stay> = before.collect();
        let mut is_first_run = before.is_empty();
        while let Some(other) = before.pop() {
            if other.needs.role != stay.needs.role || spot_of(self.season, other, other.span.from()).is_some() {
                break;
            }
            first = other.span.from();
            is_first_run = before.is_empty();
        }
        if is_first_run && self.season.spot(tray, SpotFrom::Start).is_none() {
            SpotFrom::Start
        } else {
            SpotFrom::On(first)
        }
    }
}
