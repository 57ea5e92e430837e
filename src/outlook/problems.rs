//! What is worth a look: of the plan, of the shelves, and of the layout as it stands.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::fit::Rect;
use crate::forecast::{Forecast, Problem, Stay};
use crate::season::{Season, ShelfId, Spot, TrayId, TrayKey};
use crate::units::DateSpan;

use super::answer::Outlook;
use super::floor::floor_problems;
use super::layout::{ground, spots_during};
use super::light::beyond_lamps_there;
use super::room::Room;
use super::standing::{Obstacle, first_obstacle};

/// Everything worth a look: of the plan, of the shelves, and of the layout as it stands; each once.
pub fn problems(season: &Season, forecast: &Forecast, outlook: Option<&Outlook>) -> Vec<Problem> {
    let of_layout = layout_problems(season, forecast);
    let of_shelves = outlook.map_or(&[][..], |outlook| &outlook.problems);
    // where all of it has a spot, that is what the lamps reach or not
    let there = beyond_lamps_there(season, forecast, &Room::of(season));
    let stands = |problem: &&Problem| there.is_none() || !matches!(problem, Problem::BeyondLamps { .. });
    let of_shelves = of_shelves.iter().filter(stands).chain(there.iter().flatten());
    let mut problems: Vec<Problem> = Vec::new();
    let of_floors: Vec<Problem> = floor_problems(season).collect();
    for problem in forecast.problems.iter().chain(of_shelves).chain(&of_layout).chain(&of_floors) {
        if !problems.contains(problem) {
            problems.push(problem.clone());
        }
    }
    // nearly every sowing has such a day, and it can wait
    problems.sort_by_key(|problem| matches!(problem, Problem::LeavesMeet { .. }));
    problems
}

/// Those of them that are about where that tray stands, or could.
pub fn problems_of_tray(problems: &[Problem], tray: TrayKey) -> impl Iterator<Item = &Problem> {
    problems.iter().filter(move |problem| problem.is_of_tray(tray))
}

fn stands_wrong(&Spot { tray, shelf, .. }: &Spot, day: NaiveDate, why: &Obstacle) -> Problem {
    match *why {
        Obstacle::TooTall { missing } => Problem::TooTallThere { tray, shelf, day, missing },
        Obstacle::Harms(harm) => Problem::HarmedThere { tray, shelf, day, harm },
        Obstacle::Unlit => Problem::InTheDark { tray, shelf, day },
        Obstacle::Edge { .. } | Obstacle::NotForIt | Obstacle::NoHeat | Obstacle::Tray(_) => {
            Problem::OffShelf { tray, shelf, day }
        }
    }
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
            let obstacle = first_obstacle(season, &room, stay, spot, span);
            problems.extend(obstacle.map(|(day, why)| stands_wrong(spot, day, &why)));
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
        Problem::HarmedThere { tray, .. } => (4, tray, None),
        Problem::InTheDark { tray, .. } => (5, tray, None),
        Problem::TooTallThere { tray, .. } => (2, tray, None),
        _ => (3, TrayKey::Shared(TrayId(0)), None),
    };
    let mut seen = BTreeSet::new();
    problems.retain(|problem| {
        let key = first_of(problem);
        key.0 == 3 || seen.insert(key)
    });
    problems
}
