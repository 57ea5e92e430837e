//! What a drop, turn or nudge would do, and what stands against it: asked before anything is done.

use chrono::NaiveDate;

use crate::forecast::{Forecast, Shape, Stay};
use crate::outlook::{Obstacle, Standing as Stands, spot_of, standing};
use crate::season::{Edit, EditLabel, Op, Season, ShelfId, Spot, SpotFrom, TrayKey};
use crate::units::Length;
use crate::window::scene::Scene;
use crate::words;

use super::snap::RectOnShelf;

/// What comes of standing a tray somewhere.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Plan {
    /// It may; `words` says until when, and from which day it counts.
    May { spot: Spot, words: String },
    /// It may not; `words` says what is in the way.
    MayNot { words: String },
}

/// Size of the stay as it lies after so many quarter turns.
pub(crate) fn size_turned(stay: &Stay, quarter_turns: u8) -> (Length, Length) {
    let (width, depth) = (stay.shape.width(), stay.shape.depth());
    if quarter_turns % 2 == 1 { (depth, width) } else { (width, depth) }
}

/// The ground that a stay covers at that spot.
pub(crate) fn ground(stay: &Stay, spot: &Spot) -> RectOnShelf {
    let (width, depth) = size_turned(stay, spot.quarter_turns);
    RectOnShelf { x: spot.x, y: spot.y, width, depth }
}

/// The same with the gap kept beside trays; loose pots may touch.
pub(crate) fn footprint(season: &Season, stay: &Stay, spot: &Spot) -> RectOnShelf {
    let ground = ground(stay, spot);
    let gap = match stay.shape {
        Shape::Tray { .. } => season.settings().gap.value(),
        Shape::Pots { .. } => Length::ZERO,
    };
    RectOnShelf { width: ground.width + gap, depth: ground.depth + gap, ..ground }
}

/// From when a spot given on the day shown counts: in place of the one in force, unless it is to
/// count from that day on; where none is in force, from when the tray first goes without.
pub(crate) fn counts_from(
    season: &Season,
    forecast: &Forecast,
    stay: &Stay,
    day: NaiveDate,
    from_day: bool,
) -> SpotFrom {
    let Some(tray) = stay.tray() else { return SpotFrom::Start };
    if from_day && day > stay.span.from() {
        return SpotFrom::On(day);
    }
    if let Some(current) = spot_of(season, stay, day) {
        return current.from;
    }
    let taken_up = season.spots_of(tray).filter_map(|spot| spot.until).filter(|until| *until <= day).max();
    if let Some(until) = taken_up.filter(|until| *until > stay.span.from()) {
        return SpotFrom::On(until);
    }
    let mut first = stay.span.from();
    let before = forecast.stays_of(tray).filter(|other| other.span.from() < stay.span.from());
    let mut before: Vec<&Stay> = before.collect();
    let is_first_stay = before.is_empty();
    let mut is_first_run = is_first_stay;
    while let Some(other) = before.pop() {
        if other.needs.role != stay.needs.role || spot_of(season, other, other.span.from()).is_some() {
            break;
        }
        first = other.span.from();
        is_first_run = before.is_empty();
    }
    if is_first_run && season.spot(tray, SpotFrom::Start).is_none() { SpotFrom::Start } else { SpotFrom::On(first) }
}

/// The day from which an entry counts, never before the tray's first.
pub(crate) fn first_day(forecast: &Forecast, spot: &Spot) -> Option<NaiveDate> {
    match spot.from {
        SpotFrom::On(day) => Some(day),
        SpotFrom::Start => forecast.stays_of(spot.tray).map(|stay| stay.span.from()).min(),
    }
}

/// What stands against `spot` on the day shown, and how long it is free.
pub(crate) fn plan(scene: &Scene<'_>, stay: &Stay, spot: Spot) -> Plan {
    let words = scene.words();
    let today = standing(scene.season, scene.forecast, &spot, scene.day);
    let (until, beyond_lamp, sticks_out) = match today {
        Stands::Refused(obstacle) => return Plan::MayNot { words: refusal(scene, &obstacle) },
        Stands::Free { until, beyond_lamp, sticks_out } => (until, beyond_lamp, sticks_out),
    };
    let mut spot = spot;
    let begins = first_day(scene.forecast, &spot).unwrap_or(scene.day);
    let free =
        until.map_or_else(|| "free for its whole stay".to_owned(), |until| format!("free until {}", words::day(until)));
    let mut said = vec![free];
    if begins < scene.day && !stands_through(scene, &spot, begins) {
        spot.from = SpotFrom::On(scene.day);
        said.push("not before".to_owned());
    }
    if sticks_out > Length::ZERO {
        said.push(format!("sticks out by {}", words.length(sticks_out)));
    }
    if beyond_lamp {
        said.push("beyond the lamp".to_owned());
    }
    match spot.from {
        SpotFrom::On(from) if from == scene.day && from > stay.span.from() => {
            said.push(format!("moves on {}", words::day(from)));
        }
        _ if begins < scene.day => said.push(format!("counts from {}", words::day(begins))),
        _ => {}
    }
    Plan::May { spot, words: said.join(", ") }
}

/// True if nothing is in the way from `begins` up to the day shown.
fn stands_through(scene: &Scene<'_>, spot: &Spot, begins: NaiveDate) -> bool {
    match standing(scene.season, scene.forecast, spot, begins) {
        Stands::Free { until, .. } => until.is_none_or(|until| until > scene.day),
        // A spot of another role's phase: nothing was there before that could be in the way.
        Stands::Refused(Obstacle::NotForIt) => true,
        Stands::Refused(_) => false,
    }
}

fn refusal(scene: &Scene<'_>, obstacle: &Obstacle) -> String {
    scene.words().obstacle(obstacle)
}

/// The edit that stands a tray there, named for what the grower did.
pub(crate) fn put(scene: &Scene<'_>, stay: &Stay, spot: Spot, turned_only: bool) -> Edit {
    let label = if turned_only {
        EditLabel::TurnTray(spot.tray)
    } else if spot_of(scene.season, stay, scene.day).is_some() {
        EditLabel::MoveTray(spot.tray)
    } else {
        EditLabel::PlaceTray(spot.tray)
    };
    Edit::new(label, vec![Op::PutSpot(spot)])
}

/// A quarter turn where it stands: about its corner, else about its middle, else pushed back from
/// the edge; the first that may be.
pub(crate) fn turned(scene: &Scene<'_>, stay: &Stay, spot: &Spot) -> Plan {
    let (width, depth) = size_turned(stay, spot.quarter_turns);
    let turns = (spot.quarter_turns + 1) % 4;
    let half = (width - depth) / 2;
    let pushed = scene.season.shelf(spot.shelf).map_or((spot.x, spot.y), |shelf| {
        let room_x = (shelf.width.value() - depth).max(Length::ZERO);
        let room_y = (shelf.usable_depth() - width).max(Length::ZERO);
        (spot.x.min(room_x), spot.y.min(room_y))
    });
    let corners = [(spot.x, spot.y), (spot.x + half, spot.y - half), pushed];
    let mut first = None;
    for (x, y) in corners {
        let plan = plan(scene, stay, Spot { x, y, quarter_turns: turns, ..*spot });
        if matches!(plan, Plan::May { .. }) {
            return plan;
        }
        first.get_or_insert(plan);
    }
    first.unwrap_or(Plan::MayNot { words: String::new() })
}

/// The first spot that is free for the whole stay, else the one that is free longest; on that
/// shelf, or on any.
pub(crate) fn free_spot(scene: &Scene<'_>, stay: &Stay, on: Option<ShelfId>) -> Option<Spot> {
    let tray = stay.tray()?;
    let from = counts_from(scene.season, scene.forecast, stay, scene.day, scene.from_day);
    let mut best: Option<(NaiveDate, Spot)> = None;
    let mut asked = 0_u32;
    let shelves = scene.season.racks();
    let shelves = shelves.iter().flat_map(|rack| scene.season.shelves_of(rack.id));
    for shelf in shelves.filter(|shelf| on.is_none_or(|on| on == shelf.id)) {
        let others = scene.grounds_on(shelf.id, tray);
        let mut corners = vec![(Length::ZERO, Length::ZERO)];
        // a mat or a lamp need not begin at the shelf's corner
        corners.extend(shelf.zones.iter().map(|zone| (zone.x.value(), zone.y.value())));
        for a in &others {
            corners.extend([(a.right(), Length::ZERO), (Length::ZERO, a.front())]);
            corners.extend([(a.right(), a.y), (a.x, a.front())]);
        }
        corners.sort_unstable_by_key(|(x, y)| (*y, *x));
        corners.dedup();
        for (quarter_turns, (x, y)) in [0_u8, 1].into_iter().flat_map(|t| corners.iter().map(move |c| (t, *c))) {
            asked += 1;
            if asked > MOST_ASKED {
                return best.map(|(_, spot)| spot);
            }
            let spot = Spot { tray, from, until: None, shelf: shelf.id, x, y, quarter_turns, pinned: false };
            let Plan::May { spot, .. } = plan(scene, stay, spot) else { continue };
            match standing(scene.season, scene.forecast, &spot, scene.day) {
                Stands::Free { until: None, beyond_lamp: false, .. } => return Some(spot),
                Stands::Free { until, beyond_lamp, .. } => {
                    let last = until.unwrap_or(stay.span.until());
                    let worth = if beyond_lamp { scene.day } else { last };
                    if best.as_ref().is_none_or(|(before, _)| worth > *before) {
                        best = Some((worth, spot));
                    }
                }
                Stands::Refused(_) => {}
            }
        }
    }
    best.map(|(_, spot)| spot)
}

/// So many questions take a blink; a room where that is not enough is one for "Find spots".
const MOST_ASKED: u32 = 5_000;

/// The stay of that tray on the day shown.
pub(crate) fn stay_of<'a>(scene: &Scene<'a>, tray: TrayKey) -> Option<&'a Stay> {
    let forecast = scene.forecast;
    let day = scene.day;
    forecast.stays_of(tray).find(|stay| stay.span.contains(day))
}
