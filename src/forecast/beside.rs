//! What was planned of a sowing, beside what became of it.

use chrono::NaiveDate;

use crate::season::{Library, Season, Sowing, StepId};

use super::all::Forecast;
use super::course::{Course, Event, What, Why};
use super::work_out::of_one;

/// One lot's dates and trays, planned and actual.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotBeside {
    /// From 0.
    pub at: usize,
    /// Of the sowing's plants, those of the lot that can go out.
    pub go_out: u32,
    /// In order of date.
    pub dates: Vec<DateBeside>,
    pub trays: Vec<TraysBeside>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DateBeside {
    pub what: What,
    /// Without one, it was not planned.
    pub planned: Option<NaiveDate>,
    /// Without one, it does not happen any more.
    pub actual: Option<NaiveDate>,
    /// The actual day was seen; else it is what is expected now.
    pub seen: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TraysBeside {
    pub step: StepId,
    pub planned: u32,
    pub actual: u32,
}

/// The plan is the sowing's course had nothing been seen of it.
pub fn planned_beside(season: &Season, library: &Library, forecast: &Forecast, sowing: &Sowing) -> Vec<LotBeside> {
    let unseen = Sowing { seen: Vec::new(), ..sowing.clone() };
    let plan = of_one(season, library, &unseen);
    let lot = |(at, actual): (usize, &Course)| {
        let planned = plan.courses.iter().find(|course| course.lot == actual.lot)?;
        Some(LotBeside { at, go_out: actual.go_out, dates: dates(planned, actual), trays: trays(planned, actual) })
    };
    forecast.courses_of(sowing.id).enumerate().filter_map(lot).collect()
}

fn dates(planned: &Course, actual: &Course) -> Vec<DateBeside> {
    let mut left: Vec<&Event> = planned.events.iter().filter(|event| happens(event.what)).collect();
    let mut dates: Vec<DateBeside> = Vec::new();
    for event in actual.events.iter().filter(|event| happens(event.what)) {
        let at = left.iter().position(|one| alike(one.what, event.what));
        let planned = at.map(|at| left.remove(at).date);
        let seen = event.why == Why::Seen;
        dates.push(DateBeside { what: event.what, planned, actual: Some(event.date), seen });
    }
    let gone = |event: &Event| DateBeside { what: event.what, planned: Some(event.date), actual: None, seen: false };
    dates.extend(left.into_iter().map(gone));
    dates.sort_by_key(|one| one.actual.or(one.planned));
    dates
}

/// Not a limit that nothing happens on.
const fn happens(what: What) -> bool {
    !matches!(what, What::Latest(_) | What::LeavesMeet(_))
}

fn alike(one: What, other: What) -> bool {
    one == other || matches!((one, other), (What::Out { .. }, What::Out { .. }))
}

fn trays(planned: &Course, actual: &Course) -> Vec<TraysBeside> {
    let beside = |&(step, actual): &(StepId, u32)| {
        let planned = planned.trays.iter().find(|(planned, _)| *planned == step)?.1;
        Some(TraysBeside { step, planned, actual })
    };
    actual.trays.iter().filter_map(beside).collect()
}
