//! Where trays stand in the season's own layout, what is wrong there, and where one more may go.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::fit::Rect;
use crate::forecast::{Forecast, Problem, Stay};
use crate::season::{Role, Season, Shelf, ShelfId, Spot, SpotFrom, TrayKey, ZoneKind};
use crate::units::{DateSpan, Length};

use super::ask::{Room, clip, footprint, is_open, slack, suits_part, too_low, whole_shelf};

/// Whether a tray may stand there on that day, and until when: what a ghost says before the drop.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// Free until that day (not included); `None` for as long as the tray needs it.
    Free {
        until: Option<NaiveDate>,
        beyond_lamp: bool,
        sticks_out: Length,
    },
    Refused(Obstacle),
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
    Unlit,
}

/// Whether trays in the stay's role stand on that shelf at all.
pub(super) fn shelf_suits(season: &Season, shelf: ShelfId, stay: &Stay) -> bool {
    let role = season.shelf(shelf).and_then(|shelf| season.place_of(shelf)).map(|place| place.role);
    match stay.needs.role {
        Role::Germinating => matches!(role, Some(Role::Germinating | Role::Growing)),
        wanted => role == Some(wanted),
    }
}

/// The spot a stay has on that day: its tray's latest one on a shelf for the stay's role.
///
/// While it hardens off, a tray has two: one outside, and the indoor one it comes back to.
pub fn spot_of<'a>(season: &'a Season, stay: &Stay, day: NaiveDate) -> Option<&'a Spot> {
    let tray = stay.tray()?;
    let begun = |spot: &&Spot| spot.from <= SpotFrom::On(day) && shelf_suits(season, spot.shelf, stay);
    season.spots_of(tray).filter(begun).last().filter(|spot| spot.until.is_none_or(|until| day < until))
}

/// The ground a stay covers there, gap included, in 1/8000 mm.
fn ground(season: &Season, stay: &Stay, spot: &Spot) -> Rect {
    let (w, d) = footprint(season, &stay.shape);
    let (w, d) = if spot.is_turned() { (d, w) } else { (w, d) };
    Rect { x: spot.x.units(), y: spot.y.units(), w: w.units(), d: d.units() }
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
    if let Some(missing) = too_low(shelf, stay) {
        return Some(Obstacle::TooTall { missing });
    }
    if !is_open(place, shelf, span) || !suits_part(place, stay.part) || !shelf_suits(season, shelf.id, stay) {
        return Some(Obstacle::NotForIt);
    }
    let number = room.number(shelf.id)?;
    let regions = room.regions(stay, span);
    if regions.iter().any(|region| region.shelf == number && region.rect.holds(rect)) {
        None
    } else if stay.needs.heat {
        Some(Obstacle::NoHeat)
    } else {
        Some(Obstacle::Unlit)
    }
}

/// The first of those days on which something keeps the stay from standing there.
fn first_obstacle(
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
    let rect = ground(season, first, spot);
    let beyond_lamp = shelf.is_some_and(|shelf| first.needs.light && shelf.has(ZoneKind::Lamp) && !lit(shelf, rect));
    let sticks_out = shelf.map_or(Length::ZERO, |shelf| {
        let front = spot.y + if spot.is_turned() { first.shape.width() } else { first.shape.depth() };
        (front - shelf.depth.value()).max(Length::ZERO)
    });
    Standing::Free { until: free_until, beyond_lamp, sticks_out }
}

/// Whether its middle lies in a lamp's good reach: a tray may stick out of it a little.
fn lit(shelf: &Shelf, rect: Rect) -> bool {
    let all = whole_shelf(shelf);
    let middle = Rect { x: rect.x + rect.w / 2, y: rect.y + rect.d / 2, w: 0, d: 0 };
    shelf
        .zones
        .iter()
        .filter(|zone| zone.kind == ZoneKind::Lamp)
        .filter_map(|zone| clip(zone, all))
        .any(|zone| zone.holds(middle))
}

/// What is wrong with the layout that the season has: clashes, edges, heights, loads.
///
/// Each pair or tray is named once, on the first day.
pub fn layout_problems(season: &Season, forecast: &Forecast) -> Vec<Problem> {
    let room = Room::of(season);
    let mut problems = Vec::new();
    let mut standing: BTreeMap<ShelfId, Vec<(&Stay, &Spot, DateSpan, Rect)>> = BTreeMap::new();
    for stay in &forecast.stays {
        for (spot, span) in spots_during(season, stay) {
            let tray = spot.tray;
            match first_obstacle(season, &room, stay, spot, span) {
                Some((day, Obstacle::TooTall { missing })) => {
                    problems.push(Problem::TooTallThere { tray, shelf: spot.shelf, day, missing });
                }
                Some((day, _)) => problems.push(Problem::OffShelf { tray, shelf: spot.shelf, day }),
                None => {}
            }
            standing.entry(spot.shelf).or_default().push((stay, spot, span, ground(season, stay, spot)));
        }
    }
    for (&shelf, trays) in &standing {
        for (index, (_, spot, span, rect)) in trays.iter().enumerate() {
            for (_, other, other_span, other_rect) in trays.iter().skip(index + 1) {
                if spot.tray == other.tray || !rect.overlaps(*other_rect) {
                    continue;
                }
                if let Some(common) = span.within(*other_span) {
                    problems.push(Problem::Clash {
                        one: spot.tray.min(other.tray),
                        other: spot.tray.max(other.tray),
                        shelf,
                        day: common.from(),
                        pinned: spot.pinned && other.pinned,
                    });
                }
            }
        }
        let Some(rated) = season.shelf(shelf).and_then(|shelf| shelf.load_grams) else { continue };
        let mut days: Vec<NaiveDate> = trays.iter().map(|(_, _, span, _)| span.from()).collect();
        days.sort_unstable();
        let load = |day: NaiveDate| -> u64 {
            trays.iter().filter(|(_, _, span, _)| span.contains(day)).map(|(stay, ..)| u64::from(stay.grams)).sum()
        };
        if let Some((day, grams)) =
            days.into_iter().map(|day| (day, load(day))).find(|(_, grams)| *grams > u64::from(rated))
        {
            problems.push(Problem::Overloaded { shelf, day, grams, rated: u64::from(rated) });
        }
    }
    let first_of = |problem: &Problem| match *problem {
        Problem::Clash { one, other, .. } => (0, one, Some(other)),
        Problem::OffShelf { tray, .. } => (1, tray, None),
        Problem::TooTallThere { tray, .. } => (2, tray, None),
        _ => (3, TrayKey::Shared(crate::season::TrayId(0)), None),
    };
    let mut seen = std::collections::BTreeSet::new();
    problems.retain(|problem| {
        let key = first_of(problem);
        key.0 == 3 || seen.insert(key)
    });
    problems
}

/// The spots a stay has one after the other, and the days of each.
fn spots_during<'a>(season: &'a Season, stay: &Stay) -> Vec<(&'a Spot, DateSpan)> {
    let Some(tray) = stay.tray() else { return Vec::new() };
    let suiting: Vec<&Spot> = season.spots_of(tray).filter(|spot| shelf_suits(season, spot.shelf, stay)).collect();
    let from_of = |spot: &Spot| match spot.from {
        SpotFrom::Start => NaiveDate::MIN,
        SpotFrom::On(date) => date,
    };
    let mut during = Vec::new();
    for (index, spot) in suiting.iter().enumerate() {
        let next = suiting.get(index + 1).map_or(NaiveDate::MAX, |next| from_of(next));
        let until = spot.until.map_or(next, |until| until.min(next));
        if let Some(span) = DateSpan::new(from_of(spot), until).ok().and_then(|span| span.within(stay.span)) {
            during.push((*spot, span));
        }
    }
    during
}
