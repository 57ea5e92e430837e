//! Which rows the plan has, in their order: of every sowing one, in groups by date, crop or place.

use std::collections::BTreeSet;

use chrono::{Datelike as _, NaiveDate};

use crate::forecast::What;
use crate::outlook::spot_of;
use crate::season::{Sowing, SowingId};
use crate::words::{self, plan as said};

use crate::window::scene::Scene;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Group {
    #[default]
    Date,
    Crop,
    Place,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Row {
    /// Over a group, with how many there are.
    Head(String, usize),
    Sowing(SowingId),
}

/// Worked out once for a season at a revision.
#[derive(Default)]
pub(super) struct Rows {
    of: Option<(u64, Group)>,
    pub(super) rows: Vec<Row>,
}

impl Rows {
    /// Whether they are others now.
    pub(super) fn follow(&mut self, scene: &Scene<'_>, group: Group) -> bool {
        if self.of == Some((scene.revision, group)) {
            return false;
        }
        self.of = Some((scene.revision, group));
        self.rows = rows(scene, group);
        true
    }

    pub(super) fn at(&self, sowing: SowingId) -> Option<usize> {
        self.rows.iter().position(|row| *row == Row::Sowing(sowing))
    }

    /// The next sowing from that row on, or the one before.
    pub(super) fn beside(&self, at: Option<usize>, down: bool) -> Option<SowingId> {
        let sowing = |row: &Row| match row {
            Row::Sowing(id) => Some(*id),
            Row::Head(..) => None,
        };
        if down {
            let from = at.map_or(0, |at| at + 1);
            self.rows.iter().skip(from).find_map(sowing)
        } else {
            self.rows.iter().take(at.unwrap_or(self.rows.len())).rev().find_map(sowing)
        }
    }
}

fn begins(scene: &Scene<'_>, sowing: &Sowing) -> Option<NaiveDate> {
    let of = |course: &crate::forecast::Course| course.date(What::Sown).or_else(|| course.date(What::Begun));
    scene.forecast.courses_of(sowing.id).filter_map(of).min()
}

/// What a group is called, and what it is ordered by.
type Key = (Option<(i32, u32)>, String);

fn key(scene: &Scene<'_>, sowing: &Sowing, group: Group) -> Key {
    match group {
        Group::Date => {
            let from = begins(scene, sowing);
            let month = from.map_or_else(|| words::sowings::NO_DATE.to_owned(), said::month);
            (from.map(|from| (from.year(), from.month())), month)
        }
        Group::Crop => {
            let family = scene.season.crop(scene.library, &sowing.crop).map_or("", |crop| crop.family.as_str());
            (None, words::family(family).to_owned())
        }
        Group::Place => (None, place_of(scene, sowing.id)),
    }
}

/// Where it stands longest.
fn place_of(scene: &Scene<'_>, sowing: SowingId) -> String {
    let mut days: std::collections::BTreeMap<String, i64> = std::collections::BTreeMap::new();
    for stay in scene.forecast.stays.iter().filter(|stay| stay.sowing == Some(sowing)) {
        let shelf = spot_of(scene.season, stay, stay.span.from()).and_then(|spot| scene.season.shelf(spot.shelf));
        if let Some(place) = shelf.and_then(|shelf| scene.season.place_of(shelf)) {
            *days.entry(place.name.clone()).or_insert(0) += stay.span.days();
        }
    }
    let longest = days.into_iter().max_by_key(|(_, days)| *days);
    longest.map_or_else(|| said::NO_SPOT.to_owned(), |(place, _)| place)
}

fn rows(scene: &Scene<'_>, group: Group) -> Vec<Row> {
    let words = scene.words();
    let mut all: Vec<(Key, Option<NaiveDate>, String, SowingId)> = scene
        .season
        .sowings()
        .map(|sowing| (key(scene, sowing, group), begins(scene, sowing), words.sowing(sowing.id), sowing.id))
        .collect();
    all.sort();
    let groups: BTreeSet<&Key> = all.iter().map(|(key, ..)| key).collect();
    let mut rows = Vec::new();
    for group in groups {
        let own: Vec<SowingId> = all.iter().filter(|(key, ..)| key == group).map(|(.., id)| *id).collect();
        rows.push(Row::Head(group.1.clone(), own.len()));
        rows.extend(own.into_iter().map(Row::Sowing));
    }
    rows
}
