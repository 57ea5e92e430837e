//! The dates of one lot, each with its reason.

use chrono::NaiveDate;

use crate::season::{Crop, Library, Lot, OutRule, Rule, Season, Sowing};
use crate::trade;

use super::away::{self, bend, sowing_slack, step_slack};
use super::clock::{Clock, Tick};
use super::course::{Event, SowCount, What, Why};
use super::days::after;
use super::hardening::{hardening, hardening_places};
use super::problem::Problem;
use super::records::{leaving_days, seen_out};
use super::scenario::{Interval, Scenario};
use super::starts::{moved_on, sown_on};

/// The days on which a lot changes its place or container.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Dates {
    /// Growth counts from here: before the first start where the plants stood there already.
    pub(super) sown: NaiveDate,
    /// Start of each step, in order; the first is the sowing.
    pub(super) starts: Vec<NaiveDate>,
    pub(super) up: NaiveDate,
    pub(super) out: NaiveDate,
    /// How many go on which day, in order: those that went, then those that are to go.
    pub(super) leaving: Vec<(NaiveDate, u32)>,
    /// A late frost lets nobody out before it is over.
    pub(super) kept_until: Option<NaiveDate>,
}

/// Plants that are ready no more days than these before they go out are not told: our choice, no source.
const READY_EARLY_DAYS: i64 = 7;

/// Cells to sow for so many plants of this sowing.
pub(super) fn sow_count(season: &Season, crop: &Crop, sowing: &Sowing, plants: u32) -> SowCount {
    let percent = sowing.germination_percent.unwrap_or(crop.germination_percent.value);
    let success = trade::cell_success(
        f64::from(percent) / 100.0,
        sowing.seeds_per_cell,
        f64::from(sowing.losses_percent) / 100.0,
    );
    let sure_percent = season.settings().sure_percent;
    let on_average = trade::cells_on_average(plants, success).unwrap_or(plants);
    let sure = trade::cells_sure(plants, success, f64::from(sure_percent) / 100.0).unwrap_or(on_average);
    SowCount { on_average, sure, sure_percent }
}

/// Works the dates of one lot out, forwards and backwards, and lists what does not add up. Scenario
/// says which of the days that a crop may take it takes.
pub(super) fn dates(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    lot: &Lot,
    scenario: &Scenario,
    problems: &mut Vec<Problem>,
) -> Option<(Dates, Vec<Event>)> {
    let days_until_due = scenario.of(&crop.moving_on.value.days, &crop.key, sowing.id, Interval::Leaves);
    let planned = sowing.out()?;
    let first_out = sowing.wanted.iter().map(|wanted| wanted.date).min()?;
    let mut events = Vec::new();
    let (sown, why) = sown_on(crop, sowing, first_out)?;
    let (sown, why) = bend(season, sowing, What::Sown, (sown, why), sowing_slack(sowing), problems);
    let begun = sowing.begun.map(|begun| begun.on);
    let first = begun.unwrap_or(sown);
    let what = if begun.is_some() { What::Begun } else { What::Sown };
    events.push(Event { what, date: first, range: None, why });

    let clock = Clock::of(season, library, crop, sowing, sown, scenario, problems);
    let up = clock.up.date;
    let event = |what, tick: Tick| Event { what, date: tick.date, range: tick.range, why: tick.why };
    if let Some(stack) = sowing.stack {
        // what is up wants light, however long the stack was to stand
        let date = after(sown, i64::from(stack.days));
        let (date, why) = if up < date { (up, clock.up.why) } else { (date, Why::StackDays(stack.days)) };
        events.push(Event { what: What::Unstacked, date, range: None, why });
    }
    // What was over by then is not told again.
    if begun.is_none_or(|on| up > on) {
        events.push(event(What::Up, clock.up));
    }
    let due = event(What::Due, clock.due);
    let mut starts = vec![first];
    for (index, step) in sowing.steps.iter().enumerate().skip(1) {
        let before = starts.last().copied().unwrap_or(first);
        let (date, why) =
            moved_on(crop, sowing, lot, (index, step), (sown, before, first_out), (clock.due, days_until_due));
        let overdue =
            begun.is_some_and(|on| date <= on) && index == 1 && step.start == Rule::WhenDue && why != Why::Seen;
        let (date, why) = if overdue { (after(before, 1), Why::DueAlready) } else { (date, why) };
        let slack = step_slack(season, library, crop, sowing, index, (sown, date));
        let (date, why) = bend(season, sowing, What::MovedOn(step.id), (date, why), slack, problems);
        if index == 1 && !overdue {
            events.push(due.clone());
            if why != Why::Seen && date < due.range.map_or(due.date, |(early, _)| early) {
                problems.push(Problem::MovedEarly { sowing: sowing.id, step: step.id, due: due.date, date });
            }
        }
        if date <= before {
            problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date, not_before: before });
        }
        let date = date.max(after(before, 1));
        let range = (index == 1 && why == due.why).then_some(due.range).flatten();
        events.push(Event { what: What::MovedOn(step.id), date, range, why });
        starts.push(date);
    }
    let last = starts.last().copied().unwrap_or(first);
    let kept_until = kept_until(season, crop, scenario);
    let out = seen_out(sowing).unwrap_or_else(|| kept_until.map_or(planned, |frost| planned.max(frost)));
    let leaving = leaving_days(sowing);
    if away::is_away(season, planned) && seen_out(sowing).is_none() {
        let (before, after) = away::home_days(season, planned);
        let work = What::Out { plants: sowing.plants_wanted() };
        problems.push(Problem::NobodyThere { sowing: sowing.id, work, date: planned, before, after });
    }
    let days = leaving.iter().map(|(date, _)| *date).chain([out]);
    if let (Some(date), Some(step)) = (days.min().filter(|date| *date <= last), sowing.steps.last()) {
        problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date, not_before: last });
    }
    let out = out.max(after(last, 1));
    let ready = after(sown, 7 * i64::from(crop.weeks_to_planting_out.value.1));
    if (first_out - ready).num_days() > READY_EARLY_DAYS && begun.is_none() && seen_out(sowing).is_none() {
        problems.push(Problem::ReadyEarly { sowing: sowing.id, ready, out: first_out });
    }
    for (index, step) in sowing.steps.iter().enumerate() {
        let until = starts.get(index + 1).copied().unwrap_or(out);
        let Some(container) = season.container(library, &step.container) else { continue };
        let Some(weeks) = trade::latest_weeks(crop, container) else { continue };
        let latest = after(sown, i64::from(weeks) * 7);
        events.push(Event { what: What::Latest(step.id), date: latest, range: None, why: Why::LatestWeeks(weeks) });
        if until > latest {
            problems.push(Problem::HeldTooLong { sowing: sowing.id, step: step.id, latest, until });
        }
    }
    let places = hardening_places(season);
    let mut days: Vec<NaiveDate> =
        leaving.iter().map(|(date, _)| (*date).min(out).max(after(last, 1))).chain([out]).collect();
    days.sort_unstable();
    days.dedup();
    for out in days {
        let Some(hardening) = hardening(&places, crop, last, out) else { continue };
        let why = if hardening.waits_for_place { Why::PlaceOpens } else { Why::CropDays };
        events.push(Event { what: What::Hardening, date: hardening.from, range: None, why });
        if hardening.first_night < out {
            let date = hardening.first_night;
            events.push(Event { what: What::FirstNightOut, date, range: None, why: Why::CropDays });
        }
    }
    for wanted in &sowing.wanted {
        let why = match wanted.rule {
            _ if seen_out(sowing).is_some() => Why::Seen,
            OutRule::Day => Why::Set,
            rule => Why::Out(rule),
        };
        events.push(Event { what: What::Out { plants: wanted.plants }, date: wanted.date, range: None, why });
    }
    events.sort_by_key(|event| event.date);
    Some((Dates { sown, starts, up, out, leaving, kept_until }, events))
}

/// The day on which a frost later than the season reckons with is over, for a crop that it kills.
fn kept_until(season: &Season, crop: &Crop, scenario: &Scenario) -> Option<NaiveDate> {
    let frost = season.settings().frost.as_ref().filter(|_| scenario.frost_days() > 0 && trade::is_tender(crop))?;
    Some(after(frost.date, scenario.frost_days()))
}
