//! Next year's season from this one: rules move, dates follow; what was done stays behind, what was
//! learned comes along.

mod change;
mod dates;
mod learned;
mod rate;

pub use change::{Change, NextYear, NoNextYear, NotLearned};
pub(super) use learned::came_up_of;
pub use learned::{CameUp, came_up};
pub use rate::{Learned, Rate};

use std::sync::Arc;

use chrono::{Datelike as _, NaiveDate};

use crate::season::{
    Away, Edit, EditError, EditLabel, Library, Op, Rule, Season, Spot, SpotFrom, TrayKey, Verdict, WeekLabels,
};
use crate::units::{DateSpan, shifted};

use super::{Course, Forecast, forecast};

pub use dates::years_on;

/// The year a season belongs to: its frost's, else the one in which most sowings go out, the earlier of
/// two. A season that crosses New Year is one.
pub fn year_of(season: &Season) -> Option<i32> {
    if let Some(frost) = &season.settings().frost {
        return Some(frost.date.year());
    }
    let mut years: Vec<i32> = season.sowings().filter_map(|sowing| Some(sowing.out()?.year())).collect();
    years.sort_unstable();
    years.chunk_by(|a, b| a == b).rev().max_by_key(|alike| alike.len()).and_then(|alike| alike.first().copied())
}

/// The season for that year, with the list of what changed.
///
/// Dates move by their rules: so many days from the frost, a weekday of a month, a week of the grower's
/// own count; a date that was given is the same day of the month, 28 February for the 29th. Places, crops
/// and the layout come along; records stay behind. Where they say more than the crop's figures do, the
/// new year starts from them, pulled towards the crop's by how few they are; `own_records` words the source
/// of figures from so many sowings, as the season keeps it.
///
/// # Errors
/// A season without any date, its own year, or one outside the calendar that a season may have.
pub fn next_year(
    season: &Season,
    library: &Library,
    year: i32,
    own_records: impl Fn(u32) -> Arc<str>,
) -> Result<NextYear, NoNextYear> {
    let from = year_of(season).ok_or(NoNextYear::NoDates)?;
    if from == year {
        return Err(NoNextYear::SameYear(year));
    }
    let years = year - from;
    let mut changes = Vec::new();
    let mut ops = settings(season, years, &mut changes);
    ops.extend(learned::crops(season, library, &own_records, &mut changes));
    let now = forecast(season, library);
    ops.extend(sowings(season, library, &now, years, &mut changes));
    ops.extend(spans(season, years, &mut changes));
    let mut next = season.clone();
    next.apply(&Edit::new(EditLabel::ChangeSettings, ops))?;
    let (before, after) = (planned(season, library), forecast(&next, library));
    next = moved_layout(season, next, (&before, &after), years)?;
    changes.extend(dates::of_sowings(season, &next, &before, &after));
    let name = renamed(season.name(), from, year);
    next.apply(&Op::Rename(name).into())?;
    Ok(NextYear { season: next, years, changes })
}

/// This year as it was planned, before anything was seen.
fn planned(season: &Season, library: &Library) -> Forecast {
    let mut plan = season.clone();
    for sowing in season.sowings().filter(|sowing| !sowing.seen.is_empty()) {
        let mut unseen = sowing.clone();
        unseen.seen.clear();
        if plan.apply(&Op::PutSowing(unseen).into()).is_err() {
            return forecast(season, library);
        }
    }
    forecast(&plan, library)
}

fn settings(season: &Season, years: i32, changes: &mut Vec<Change>) -> Vec<Op> {
    let mut settings = season.settings().clone();
    if let Some(frost) = &mut settings.frost {
        let from = frost.date;
        dates::move_frost(frost, years);
        changes.push(Change::Frost { from, to: frost.date });
    }
    let old_weeks = settings.weeks;
    if let WeekLabels::From(from) = old_weeks {
        let to = dates::nearest_monday(years_on(from, years));
        settings.weeks = WeekLabels::From(to);
        changes.push(Change::WeekOne { from, to });
    }
    let mut ops = Vec::new();
    for away in season.away() {
        if !away.every_year {
            changes.push(Change::TripLeft { away: away.clone() });
            ops.push(Op::RemoveAway(away.id));
            continue;
        }
        // by weeks where the grower counts them, else by the day of the month
        let span = match (old_weeks, settings.weeks) {
            (WeekLabels::From(old), WeekLabels::From(new)) => dates::span_shifted(away.span, (new - old).num_days()),
            _ => dates::span_years_on(away.span, years),
        };
        changes.push(Change::Holiday { name: away.name.clone(), from: away.span, to: span });
        ops.push(Op::PutAway(Away { span, ..away.clone() }));
    }
    ops.push(Op::SetSettings(settings));
    ops
}

fn sowings(season: &Season, library: &Library, now: &Forecast, years: i32, changes: &mut Vec<Change>) -> Vec<Op> {
    let mut records = 0;
    let mut ops = Vec::new();
    for sowing in season.sowings() {
        records += sowing.seen.len();
        changes.extend(learned::not_learned(sowing).map(|why| Change::NotLearned { sowing: sowing.id, why }));
        if sowing.again_of.is_some_and(|of| season.sowing(of).is_some()) {
            let (crop, variety) = (sowing.crop.clone(), sowing.variety.clone());
            changes.push(Change::AgainLeft { crop, variety, plants: sowing.plants_wanted() });
            ops.push(Op::RemoveSowing(sowing.id));
            continue;
        }
        let mut next = sowing.clone();
        next.seen.clear();
        next.again_of = None;
        if next.begun.take().is_some() {
            changes.push(Change::SownAnew { sowing: sowing.id });
        }
        if let Some(learned) = learned::of_variety(season, library, sowing) {
            (next.germination_percent, next.germination_from) = (Some(learned.percent), Some(learned.counted()));
            changes.push(Change::Learned(Learned::Germination { sowing: sowing.id, rate: learned }));
        }
        for wanted in &mut next.wanted {
            wanted.date = years_on(wanted.date, years);
        }
        for step in &mut next.steps {
            if let Rule::On(date) = step.start {
                step.start = Rule::On(years_on(date, years));
            }
        }
        let planned = now.courses_of(sowing.id).find_map(Course::sown);
        next.verdicts = learned::verdicts(sowing, planned);
        let verdict = |verdict: &Verdict| Change::Learned(Learned::Verdict { sowing: sowing.id, verdict: *verdict });
        changes.extend(next.verdicts.iter().map(verdict));
        ops.push(Op::PutSowing(next));
    }
    if records > 0 {
        changes.push(Change::DoneLeft { records });
    }
    ops
}

fn spans(season: &Season, years: i32, changes: &mut Vec<Change>) -> Vec<Op> {
    let on = |span: &DateSpan| dates::span_years_on(*span, years);
    let mut ops = Vec::new();
    let mut number = 0;
    for place in season.places().filter(|place| !place.open.is_empty()) {
        let mut next = place.clone();
        next.open = place.open.iter().map(on).collect();
        number += next.open.len();
        ops.push(Op::PutPlace(next));
    }
    for shelf in season.shelves().filter(|shelf| !shelf.closed.is_empty()) {
        let mut next = shelf.clone();
        next.closed = shelf.closed.iter().map(on).collect();
        number += next.closed.len();
        ops.push(Op::PutShelf(next));
    }
    for guest in season.guests() {
        let mut next = guest.clone();
        next.span = on(&guest.span);
        number += 1;
        ops.push(Op::PutGuest(next));
    }
    if number > 0 {
        changes.push(Change::Spans { number });
    }
    ops
}

/// Every spot with the day that the tray's own step or phase has now; where none starts on its day,
/// as far from the day out as before.
fn moved_layout(
    season: &Season,
    mut next: Season,
    (before, after): (&Forecast, &Forecast),
    years: i32,
) -> Result<Season, EditError> {
    let mut spots: Vec<Spot> = Vec::new();
    for spot in season.spots() {
        let on = |date: NaiveDate| moved_day(season, &next, spot.tray, (before, after), date, years);
        let from = match spot.from {
            SpotFrom::Start => SpotFrom::Start,
            SpotFrom::On(date) => SpotFrom::On(on(date)),
        };
        let until = spot.until.map(on);
        // two spots may come to lie on one day: the later one counts
        if !matches!((from, until), (SpotFrom::On(from), Some(until)) if until <= from) {
            spots.push(Spot { from, until, ..*spot });
        }
    }
    let old: Vec<_> = season.spots().map(|spot| (spot.tray, spot.from)).collect();
    for (tray, from) in old {
        if next.spot(tray, from).is_some() {
            next.apply(&Op::LiftTray { tray, from: SpotFrom::Start }.into())?;
        }
    }
    for spot in spots {
        next.apply(&Op::PutSpot(spot).into())?;
    }
    Ok(next)
}

fn moved_day(
    season: &Season,
    next: &Season,
    tray: TrayKey,
    (before, after): (&Forecast, &Forecast),
    date: NaiveDate,
    years: i32,
) -> NaiveDate {
    let (old, new): (Vec<_>, Vec<_>) = (before.stays_of(tray).collect(), after.stays_of(tray).collect());
    let alike = old.iter().zip(&new).filter(|(old, new)| old.phase == new.phase && old.part == new.part);
    for (was, is) in alike {
        if was.span.from() == date {
            return is.span.from();
        }
        if was.span.until() == date {
            return is.span.until();
        }
    }
    let lot = match tray {
        TrayKey::Own { lot, .. } => Some(lot),
        TrayKey::Shared(_) | TrayKey::Guest { .. } => None,
    };
    let of_lot = |season: &Season| {
        let sowing = lot.and_then(|lot| season.sowing_of(lot));
        sowing.and_then(crate::season::Sowing::out)
    };
    match (of_lot(season), of_lot(next)) {
        (Some(was), Some(is)) => shifted(date, (is - was).num_days()),
        _ => years_on(date, years),
    }
}

/// The name with the new year in the old one's place, `2025/26` too.
fn renamed(name: &str, from: i32, to: i32) -> String {
    let span = |year: i32| format!("{year}/{:02}", (year + 1).rem_euclid(100));
    if name.contains(&span(from)) {
        return name.replace(&span(from), &span(to));
    }
    if name.contains(&from.to_string()) {
        return name.replace(&from.to_string(), &to.to_string());
    }
    let mut short: String = name.chars().take(190).collect();
    short.push(' ');
    short.push_str(&to.to_string());
    short
}

#[cfg(test)]
mod tests {
    use super::renamed;

    #[test]
    fn a_name_gets_the_new_year() {
        assert_eq!(renamed("Spring 2027", 2027, 2028), "Spring 2028");
        assert_eq!(renamed("Season 2025/26", 2025, 2026), "Season 2026/27");
        assert_eq!(renamed("Community room", 2027, 2028), "Community room 2028");
    }
}
