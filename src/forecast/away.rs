//! Days on which nobody is there: work bends round them inside its windows, and plants go dry.

use chrono::NaiveDate;

use crate::season::{Away, Season, Slack};
use crate::units::DateSpan;

use super::dates::after;
use super::{Forecast, Problem};

/// Days by which a sowing may be early or late where the grower says nothing: our choice, no source.
pub(super) const SOWING_SLACK: Slack = Slack { early: 3, late: 7 };

pub(super) fn is_away(season: &Season, date: NaiveDate) -> bool {
    season.settings().away.iter().any(|away| away.span.contains(date))
}

/// The last day before, and the first one after, on which somebody is there.
pub(super) fn home_days(season: &Season, date: NaiveDate) -> (NaiveDate, NaiveDate) {
    let walk = |step: i64| {
        let mut day = date;
        while is_away(season, day) {
            let next = after(day, step);
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
pub(super) fn bent(season: &Season, date: NaiveDate, slack: Slack) -> Option<NaiveDate> {
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

/// Days on end without water, where plants stand then: absences that touch count as one.
pub(super) fn dry_days(season: &Season, result: &mut Forecast) {
    let mut gaps: Vec<DateSpan> = Vec::new();
    for away in season.settings().away.iter().filter(|away: &&Away| away.waters.trim().is_empty()) {
        match gaps.last_mut() {
            Some(last) if away.span.from() <= last.until() => {
                let until = last.until().max(away.span.until());
                *last = DateSpan::new(last.from(), until).unwrap_or(*last);
            }
            _ => gaps.push(away.span),
        }
    }
    for span in gaps.into_iter().filter(|span| span.days() >= i64::from(season.settings().water_every)) {
        let mut trays: Vec<_> = result
            .stays
            .iter()
            .filter(|stay| stay.span.overlaps(span))
            .flat_map(|stay| stay.trays.iter().copied())
            .collect();
        trays.sort_unstable();
        trays.dedup();
        if !trays.is_empty() {
            result.problems.push(Problem::NobodyWaters { span, trays });
        }
    }
}
