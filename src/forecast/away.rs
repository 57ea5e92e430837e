//! Days on which nobody is there: work bends round them inside its windows, and plants go dry.

use chrono::NaiveDate;

use crate::season::{Away, AwayId, Crop, Library, Rule, Season, Slack, Sowing, TrayKey};
use crate::trade;
use crate::units::{DateSpan, shifted};

use super::all::Forecast;
use super::course::{What, Why};
use super::problem::Problem;
use super::stay::Stay;

/// Days by which a sowing may be early or late where the grower says nothing: our choice, no source.
const SOWING_SLACK: Slack = Slack { early: 3, late: 7 };

pub(super) fn is_away(season: &Season, date: NaiveDate) -> bool {
    season.is_away(date)
}

/// The last day before, and the first one after, on which somebody is there.
pub(super) fn home_days(season: &Season, date: NaiveDate) -> (NaiveDate, NaiveDate) {
    let walk = |step: i64| {
        let mut day = date;
        while is_away(season, day) {
            let next = shifted(day, step);
            if next == day {
                break;
            }
            day = next;
        }
        day
    };
    (walk(-1), walk(1))
}

/// The nearest day inside the window on which somebody is there, the earlier of two; `None` if there
/// is none, or if nobody is away on the day itself.
fn bent_to(season: &Season, date: NaiveDate, slack: Slack) -> Option<NaiveDate> {
    if !is_away(season, date) {
        return None;
    }
    let (before, behind) = home_days(season, date);
    let early = (date - before).num_days();
    let late = (behind - date).num_days();
    let may_early = early <= i64::from(slack.early) && !is_away(season, before);
    let may_late = late <= i64::from(slack.late) && !is_away(season, behind);
    match (may_early, may_late) {
        (true, true) => Some(if late < early { behind } else { before }),
        (true, false) => Some(before),
        (false, true) => Some(behind),
        (false, false) => None,
    }
}

/// Work whose day nobody is there on, on another day inside its window; a problem where there is none.
pub(super) fn bend(
    season: &Season,
    sowing: &Sowing,
    work: What,
    (date, why): (NaiveDate, Why),
    slack: Slack,
    problems: &mut Vec<Problem>,
) -> (NaiveDate, Why) {
    let is_work = why != Why::Seen && !matches!(why, Why::Stage { .. });
    if !is_work || !is_away(season, date) {
        return (date, why);
    }
    if let Some(bent) = bent_to(season, date, slack) {
        let days = i16::try_from((bent - date).num_days()).unwrap_or(i16::MAX);
        return (bent, Why::Bent { days });
    }
    problems.extend(nobody_there(season, sowing, work, date));
    (date, why)
}

/// Where nobody is there on that day.
pub(super) fn nobody_there(season: &Season, sowing: &Sowing, work: What, date: NaiveDate) -> Option<Problem> {
    let (before, after) = home_days(season, date);
    is_away(season, date).then_some(Problem::NobodyThere { sowing: sowing.id, work, date, before: Some(before), after })
}

/// A day that the grower set gives way only as far as was said; the crop's own never so far that its
/// plants are too young on the day they go out.
pub(super) fn sowing_slack(crop: &Crop, sowing: &Sowing, sown: NaiveDate, out: NaiveDate) -> Slack {
    let step = sowing.steps.first();
    if let Some(slack) = step.and_then(|step| step.slack) {
        return slack;
    }
    if step.is_some_and(|step| matches!(step.start, Rule::On(_))) {
        return Slack { early: 0, late: 0 };
    }
    let spare = (out - sown).num_days() - i64::from(trade::least_days_to_out(crop, sowing.is_to_sell()));
    let late = u16::try_from(spare.max(0)).map_or(SOWING_SLACK.late, |spare| spare.min(SOWING_SLACK.late));
    Slack { late, ..SOWING_SLACK }
}

/// As far as the crop's own range is early, and until the container before holds it back.
pub(super) fn step_slack(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    index: usize,
    (sown, date): (NaiveDate, NaiveDate),
) -> Slack {
    let none = Slack { early: 0, late: 0 };
    let Some(step) = sowing.steps.get(index) else { return none };
    if let Some(slack) = step.slack {
        return slack;
    }
    if matches!(step.start, Rule::On(_)) {
        return none;
    }
    let days = crop.moving_on.value.days;
    let before = index.checked_sub(1).and_then(|before| sowing.steps.get(before));
    let latest = before
        .and_then(|before| season.container(library, &before.container))
        .and_then(|container| trade::latest_days(crop, container));
    let until_latest = latest.map(|days| (shifted(sown, i64::from(days)) - date).num_days().max(0));
    let late = until_latest.and_then(|days| u16::try_from(days).ok()).unwrap_or(days.late - days.likely);
    Slack { early: days.likely - days.early, late }
}

/// Days on end on which nobody looks after the plants: absences that touch count as one, by the first of them.
fn nobody_looks_after(season: &Season) -> Vec<(AwayId, DateSpan)> {
    let mut gaps: Vec<(AwayId, DateSpan)> = Vec::new();
    for away in season.away().into_iter().filter(|away: &&Away| away.waters.trim().is_empty()) {
        match gaps.last_mut() {
            Some((_, last)) if away.span.from() <= last.until() => {
                let until = last.until().max(away.span.until());
                *last = DateSpan::new(last.from(), until).unwrap_or(*last);
            }
            _ => gaps.push((away.id, away.span)),
        }
    }
    gaps
}

/// Days on end without water, where plants stand then.
pub(super) fn dry_days(season: &Season, result: &mut Forecast) {
    let every = i64::from(season.settings().water_every);
    for (away, span) in nobody_looks_after(season).into_iter().filter(|(_, span)| span.days() >= every) {
        let mut trays: Vec<_> = result
            .stays
            .iter()
            .filter(|stay| stay.span.overlaps(span))
            .flat_map(|stay| stay.trays.iter().copied())
            .collect();
        trays.sort_unstable();
        trays.dedup();
        if !trays.is_empty() {
            result.problems.push(Problem::NobodyWaters { away, span, trays });
        }
    }
}

/// Trays that are to be carried out and in meanwhile, once for days on end: not those of which something was written down
/// on the day, as somebody was there.
pub(super) fn carried(season: &Season, result: &mut Forecast) {
    for (away, span) in nobody_looks_after(season) {
        let stays: Vec<&Stay> =
            result.stays.iter().filter(|stay| stay.is_carried_in() && stay.span.overlaps(span)).collect();
        let was_seen = |stay: &Stay, day: NaiveDate| {
            let sowings = result.sowings_in(stay).into_iter().filter_map(|id| season.sowing(id));
            sowings.flat_map(|sowing| &sowing.seen).any(|seen| seen.date == day)
        };
        let mut runs: Vec<(DateSpan, Vec<TrayKey>)> = Vec::new();
        let mut day = span.from();
        while let Some(next) = day.succ_opt().filter(|_| !stays.is_empty() && day < span.until()) {
            let here = stays.iter().filter(|stay| stay.span.contains(day) && !was_seen(stay, day));
            let here: Vec<TrayKey> = here.flat_map(|stay| stay.trays.iter().copied()).collect();
            match runs.last_mut().filter(|_| !here.is_empty()) {
                Some((run, trays)) if run.until() == day => {
                    *run = DateSpan::new(run.from(), next).unwrap_or(*run);
                    trays.extend(here);
                }
                _ => runs.extend(DateSpan::new(day, next).ok().filter(|_| !here.is_empty()).map(|run| (run, here))),
            }
            day = next;
        }
        result.problems.extend(runs.into_iter().map(|(span, mut trays)| {
            trays.sort_unstable();
            trays.dedup();
            Problem::NobodyCarries { away, span, trays }
        }));
    }
}
