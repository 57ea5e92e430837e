//! What a tray becomes: the trays its plants are moved on into, where they would stand that day, and
//! which of them have no room.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::forecast::{Forecast, Stay};
use crate::season::{Op, Spot, TrayKey};
use crate::units::Length;

use super::free_spot::free_spot;
use super::layout::spot_of;
use super::on_day::OnDay;

/// So many are looked for; a tray that becomes more is one for the solver.
const MOST_LOOKED_FOR: usize = 24;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Becomes {
    pub tray: TrayKey,
    /// The first day of any of them.
    pub day: NaiveDate,
    /// How many there are in all.
    pub number: usize,
    /// The first of them.
    pub later: Vec<Later>,
}

/// A tray to come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Later {
    pub tray: TrayKey,
    pub width: Length,
    pub depth: Length,
    pub spot: Option<Spot>,
}

impl Becomes {
    /// Those of [`Self::later`] that have no room.
    pub fn without(&self) -> impl Iterator<Item = &Later> {
        self.later.iter().filter(|one| one.spot.is_none())
    }
}

/// The first stay of a tray.
fn first(forecast: &Forecast, tray: TrayKey) -> Option<&Stay> {
    forecast.stays_of(tray).min_by_key(|stay| stay.span.from())
}

/// Nothing for a tray that is never moved on.
pub fn becomes(at: &OnDay<'_>, tray: TrayKey) -> Option<Becomes> {
    let all = at.forecast.moved_on_from(tray);
    let day = all.iter().filter_map(|key| Some(first(at.forecast, *key)?.span.from())).min()?;
    let mut trial = at.season.clone();
    let mut no_room: BTreeSet<(Length, Length)> = BTreeSet::new();
    let mut later = Vec::new();
    for &tray in all.iter().take(MOST_LOOKED_FOR) {
        let Some(stay) = first(at.forecast, tray) else { continue };
        let (width, depth) = (stay.shape.width(), stay.shape.depth());
        let mut spot = spot_of(&trial, stay, stay.span.from()).copied();
        if spot.is_none() && !no_room.contains(&(width, depth)) {
            let then = OnDay { season: &trial, day: stay.span.from(), from_day: false, ..*at };
            spot = free_spot(&then, stay, None);
            match spot {
                Some(spot) => drop(trial.apply(&Op::PutSpot(spot).into())),
                None => drop(no_room.insert((width, depth))),
            }
        }
        later.push(Later { tray, width, depth, spot });
    }
    Some(Becomes { tray, day, number: all.len(), later })
}
