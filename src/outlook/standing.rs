//! Whether a tray may stand at a spot, and until when.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit::Rect;
use crate::forecast::{Forecast, Stay};
use crate::season::{Role, Season, Spot, TrayKey};
use crate::trade::Harm;
use crate::units::{DateSpan, Length};

use super::layout::{ground, spot_of, spots_during};
use super::light::{Corner, well_lit};
use super::room::{Room, Unfit, is_open, missing_above, shelf_suits, slack, suits_part, whole_shelf};
use super::view::weight;

/// Whether a tray may stand there on that day, and until when: what a ghost says before the drop.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// Free until that day (not included); `None` for as long as the tray needs it.
    Free {
        until: Option<NaiveDate>,
        beyond_lamp: bool,
        sticks_out: Length,
        /// With it the shelf bears more than it is rated for.
        overload: Option<Overload>,
    },
    Refused(Obstacle),
}

/// What a shelf bears on the first day on which that is more than it is rated for, in grams.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Overload {
    pub day: NaiveDate,
    pub grams: u64,
    pub rated: u64,
}

/// What is in the way of a drop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Obstacle {
    Tray(TrayKey),
    Edge {
        by: Length,
    },
    TooTall {
        missing: Length,
    },
    /// Closed then, or for another role.
    NotForIt,
    NoHeat,
    /// Dark, where it grows or wants light to sprout.
    Unlit,
    /// Too cold for it, or too warm.
    Harms(Harm),
}

/// What keeps a stay from standing at a spot during those days, other trays aside.
fn obstacle(season: &Season, room: &Room<'_>, stay: &Stay, spot: &Spot, span: DateSpan) -> Option<Obstacle> {
    let shelf = season.shelf(spot.shelf)?;
    let place = season.place_of(shelf)?;
    let rect = ground(season, stay, spot);
    let slack = slack(season, &stay.shape).units();
    let bare = whole_shelf(shelf);
    let all = Rect { w: bare.w + slack, d: bare.d + slack, ..bare };
    if !all.holds(rect) {
        let over = [-rect.x, -rect.y, rect.x + rect.w - all.w, rect.y + rect.d - all.d];
        return Some(Obstacle::Edge { by: Length::from_units(over.into_iter().max().unwrap_or(0)) });
    }
    if let Some(missing) = missing_above(shelf, stay, span.from()) {
        return Some(Obstacle::TooTall { missing });
    }
    if !is_open(place, shelf, span) || !suits_part(place, stay.part) || !shelf_suits(season, shelf.id, stay) {
        return Some(Obstacle::NotForIt);
    }
    match room.unfit(stay, shelf.id) {
        Some(Unfit::Harm(harm)) => return Some(Obstacle::Harms(harm)),
        Some(Unfit::Dark) => return Some(Obstacle::Unlit),
        None => {}
    }
    let number = room.number(shelf.id)?;
    let regions = room.regions(stay, span);
    if regions.iter().any(|region| region.shelf == number && region.rect.holds(rect)) {
        None
    } else if stay.needs.heat {
        Some(Obstacle::NoHeat)
    } else {
        Some(Obstacle::NotForIt)
    }
}

/// The first of those days on which something keeps the stay from standing there.
pub(super) fn first_obstacle(
    season: &Season,
    room: &Room<'_>,
    stay: &Stay,
    spot: &Spot,
    span: DateSpan,
) -> Option<(NaiveDate, Obstacle)> {
    room.cuts(span).into_iter().find_map(|cut| Some((cut.from(), obstacle(season, room, stay, spot, cut)?)))
}

/// Asks for one spot, with all other spots as the season has them.
pub fn standing(season: &Season, forecast: &Forecast, spot: &Spot, day: NaiveDate) -> Standing {
    let room = Room::of(season);
    let mut theirs: Vec<&Stay> = forecast
        .stays_of(spot.tray)
        .filter(|stay| stay.tray() == Some(spot.tray) && stay.span.until() > day)
        .filter(|stay| shelf_suits(season, spot.shelf, stay))
        .collect();
    theirs.sort_by_key(|stay| stay.span);
    let Some(first) = theirs.first().filter(|stay| stay.span.contains(day)) else {
        return Standing::Refused(Obstacle::NotForIt);
    };
    let mut free_until: Option<NaiveDate> = None;
    for stay in &theirs {
        let Ok(span) = DateSpan::new(stay.span.from().max(day), stay.span.until()) else { continue };
        if free_until.is_some_and(|until| until <= span.from()) {
            break;
        }
        if let Some((from, found)) = first_obstacle(season, &room, stay, spot, span) {
            if from == day {
                return Standing::Refused(found);
            }
            free_until = Some(free_until.map_or(from, |until| until.min(from)));
        }
        let rect = ground(season, stay, spot);
        for other in forecast.stays.iter().filter(|other| other.tray() != Some(spot.tray)) {
            let Some(common) = other.span.within(span) else { continue };
            let Some(there) = spot_of(season, other, common.from()) else { continue };
            if there.shelf != spot.shelf || !ground(season, other, there).overlaps(rect) {
                continue;
            }
            if common.from() == day {
                return Standing::Refused(Obstacle::Tray(there.tray));
            }
            free_until = Some(free_until.map_or(common.from(), |until| until.min(common.from())));
        }
    }
    let shelf = season.shelf(spot.shelf);
    let corner = Corner { x: spot.x.units(), y: spot.y.units(), quarter_turns: spot.quarter_turns };
    let lit = room.number(spot.shelf).and_then(|number| room.lit(number));
    let lit = shelf.zip(lit).map_or(0, |(shelf, lit)| well_lit(lit, shelf, first, corner));
    let beyond_lamp = first.needs.light && first.needs.role == Role::Growing && lit < weight(first);
    let sticks_out = shelf.map_or(Length::ZERO, |shelf| {
        let front = spot.y + if spot.is_turned() { first.shape.width() } else { first.shape.depth() };
        (front - shelf.depth.value()).max(Length::ZERO)
    });
    let overload = overload(season, forecast, spot, &theirs, (day, free_until));
    Standing::Free { until: free_until, beyond_lamp, sticks_out, overload }
}

/// With the tray there from a day on, until another or for as long as it stands.
fn overload(
    season: &Season,
    forecast: &Forecast,
    spot: &Spot,
    theirs: &[&Stay],
    (day, until): (NaiveDate, Option<NaiveDate>),
) -> Option<Overload> {
    let rated = u64::from(season.shelf(spot.shelf)?.load_grams?);
    let until = until.or_else(|| theirs.iter().map(|stay| stay.span.until()).max())?;
    let there = DateSpan::new(day, until).ok()?;
    let others = forecast.stays.iter().filter(|stay| stay.tray() != Some(spot.tray));
    let on_it =
        others.flat_map(|stay| spots_during(season, stay).into_iter().map(move |(spot, span)| (stay, spot, span)));
    let on_it = on_it.filter(|(_, other, _)| other.shelf == spot.shelf).map(|(stay, _, span)| (span, stay.grams));
    let own = theirs.iter().map(|stay| (stay.span, stay.grams));
    let all: Vec<(DateSpan, u32)> =
        on_it.chain(own).filter_map(|(span, grams)| Some((span.within(there)?, grams))).collect();
    let mut days: Vec<NaiveDate> = all.iter().map(|(span, _)| span.from()).collect();
    days.sort_unstable();
    days.dedup();
    days.into_iter().find_map(|day| {
        let grams = all.iter().filter(|(span, _)| span.contains(day)).map(|(_, grams)| u64::from(*grams)).sum();
        (grams > rated).then_some(Overload { day, grams, rated })
    })
}

/// The trays that want light on that day and have none: beyond a lamp's good reach, or without a spot.
pub fn without_lamp(season: &Season, forecast: &Forecast, day: NaiveDate) -> BTreeSet<TrayKey> {
    let dark = |stay: &&Stay| match spot_of(season, stay, day) {
        Some(spot) => matches!(standing(season, forecast, spot, day), Standing::Free { beyond_lamp: true, .. }),
        None => true,
    };
    let wants = forecast.on(day).filter(|stay| stay.needs.light && stay.needs.role == Role::Growing);
    wants.filter(dark).filter_map(Stay::tray).collect()
}
