//! What a drop, a turn or a nudge would do, and what stands against it: asked before anything is done.

use chrono::NaiveDate;

use crate::forecast::{Forecast, Stay};
use crate::season::{Edit, EditLabel, Op, Spot, SpotFrom};
use crate::units::Length;

use super::layout::spot_of;
use super::on_day::OnDay;
use super::standing::{Obstacle, Overload, Standing, standing};

/// A spot where a tray may stand, and what is to be said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Landing {
    /// As it is to be written down: from the day asked about where it was not free before.
    pub spot: Spot,
    /// Free until that day; `None` for as long as the tray needs it.
    pub until: Option<NaiveDate>,
    /// It would have counted from an earlier day, on which something stood there.
    pub not_before: bool,
    pub sticks_out: Length,
    pub beyond_lamp: bool,
    /// With it the shelf bears more than it is rated for.
    pub overload: Option<Overload>,
    pub counts: Counts,
}

/// From when a spot counts, where that is worth saying.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// From the tray's first day.
    AllAlong,
    /// The tray stood elsewhere, or nowhere, until that day.
    MovesOn(NaiveDate),
    /// From a day before the one asked about.
    Since(NaiveDate),
}

/// The day from which an entry counts, never before the tray's first.
fn first_day(forecast: &Forecast, spot: &Spot) -> Option<NaiveDate> {
    match spot.from {
        SpotFrom::On(day) => Some(day),
        SpotFrom::Start => forecast.stays_of(spot.tray).map(|stay| stay.span.from()).min(),
    }
}

/// How long the stay may stand at `spot` from the day on.
///
/// # Errors
/// What is in the way on that very day.
pub fn landing(at: &OnDay<'_>, stay: &Stay, mut spot: Spot) -> Result<Landing, Obstacle> {
    let (until, beyond_lamp, sticks_out, overload) = match standing(at.season, at.forecast, &spot, at.day) {
        Standing::Refused(obstacle) => return Err(obstacle),
        Standing::Free { until, beyond_lamp, sticks_out, overload } => (until, beyond_lamp, sticks_out, overload),
    };
    let begins = first_day(at.forecast, &spot).unwrap_or(at.day);
    let not_before = begins < at.day && !stands_through(at, &spot, begins);
    if not_before {
        spot.from = SpotFrom::On(at.day);
    }
    let counts = match spot.from {
        SpotFrom::On(from) if from == at.day && from > stay.span.from() => Counts::MovesOn(from),
        _ if begins < at.day => Counts::Since(begins),
        _ => Counts::AllAlong,
    };
    Ok(Landing { spot, until, not_before, sticks_out, beyond_lamp, overload, counts })
}

/// True if nothing is in the way from `begins` up to the day.
fn stands_through(at: &OnDay<'_>, spot: &Spot, begins: NaiveDate) -> bool {
    match standing(at.season, at.forecast, spot, begins) {
        Standing::Free { until, .. } => until.is_none_or(|until| until > at.day),
        // A spot of another role's phase: nothing was there before that could be in the way.
        Standing::Refused(Obstacle::NotForIt) => true,
        Standing::Refused(_) => false,
    }
}

/// The edit that stands a tray there, named for what the grower did.
pub fn put(at: &OnDay<'_>, stay: &Stay, spot: Spot, turned_only: bool) -> Edit {
    let label = if turned_only {
        EditLabel::TurnTray(spot.tray)
    } else if spot_of(at.season, stay, at.day).is_some() {
        EditLabel::MoveTray(spot.tray)
    } else {
        EditLabel::PlaceTray(spot.tray)
    };
    Edit::new(label, vec![Op::PutSpot(spot)])
}

/// A quarter turn where it stands: about its corner, else about its middle, else pushed back from
/// the edge; the first that may be.
///
/// # Errors
/// What is in the way of a turn about its corner.
pub fn turned(at: &OnDay<'_>, stay: &Stay, spot: &Spot) -> Result<Landing, Obstacle> {
    let (width, depth) = stay.shape.turned(spot.quarter_turns);
    let quarter_turns = (spot.quarter_turns + 1) % 4;
    let half = (width - depth) / 2;
    let pushed = at.season.shelf(spot.shelf).map_or((spot.x, spot.y), |shelf| {
        let room_x = (shelf.width.value() - depth).max(Length::ZERO);
        let room_y = (shelf.usable_depth() - width).max(Length::ZERO);
        (spot.x.min(room_x), spot.y.min(room_y))
    });
    let there = |(x, y)| landing(at, stay, Spot { x, y, quarter_turns, ..*spot });
    let about_corner = there((spot.x, spot.y));
    if about_corner.is_ok() {
        return about_corner;
    }
    let elsewhere = [(spot.x + half, spot.y - half), pushed];
    elsewhere.into_iter().find_map(|corner| there(corner).ok()).map_or(about_corner, Ok)
}
