//! Plugs moved together out of trays in which cells failed.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::season::{Library, Observation, Observed, Op, RecordId, Season, Sowing, SowingId, StepId, TrayKey};

use super::all::Forecast;
use super::scenario::Scenario;
use super::work_out::{drawn, of_one};

/// The record that says so, and how many trays there are before and after.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GapUp {
    pub record: Observation,
    pub before: usize,
    pub after: usize,
}

/// Whether fewer trays would hold the plugs, on that day or the nearest on which they stand in their
/// cells.
pub fn gap_up(
    season: &Season,
    library: &Library,
    forecast: &Forecast,
    sowing: &Sowing,
    on: NaiveDate,
) -> Option<GapUp> {
    let counted = sowing.seen.iter().rev().find(|seen| matches!(seen.what, Observed::Up { plants: Some(_) }))?;
    let done = |what: &Observed| {
        matches!(what, Observed::GappedUp | Observed::PutOut(_) | Observed::Sold(_) | Observed::MovedOn(_))
    };
    if sowing.seen.iter().any(|seen| done(&seen.what)) {
        return None;
    }
    let first = sowing.steps.first()?.id;
    let own = |tray: &TrayKey| matches!(tray, TrayKey::Own { step, .. } if *step == first);
    let stands = forecast.stays.iter().filter(|stay| stay.sowing == Some(sowing.id) && stay.trays.iter().any(own));
    let last = stands.map(|stay| stay.span.last()).max().filter(|last| *last >= counted.date)?;
    let record = Observation {
        id: RecordId(season.next_id()),
        date: on.clamp(counted.date, last),
        what: Observed::GappedUp,
        lot: None,
    };
    let then = if forecast.shared_by(sowing.id).is_empty() {
        of_one(season, library, &sowing.with_record(record))
    } else {
        // its rows beside others stay theirs: only its own trays become fewer
        let mut then = season.clone();
        then.apply(&Op::PutRecord(sowing.id, record).into()).ok()?;
        drawn(&then, library, &Scenario::none())
    };
    let trays = |forecast| trays_on(forecast, sowing.id, first, record.date);
    let (before, after) = (trays(forecast), trays(&then));
    (after > 0 && after < before).then_some(GapUp { record, before, after })
}

/// Trays of that step which stand on a day with nobody else's plants.
fn trays_on(forecast: &Forecast, sowing: SowingId, of: StepId, day: NaiveDate) -> usize {
    let trays = forecast.on(day).filter(|stay| stay.sowing == Some(sowing)).flat_map(|stay| &stay.trays);
    let own = trays.filter(|tray| matches!(tray, TrayKey::Own { step, .. } if *step == of));
    own.collect::<BTreeSet<_>>().len()
}
