//! The dates of one lot, each with its reason.

use chrono::{Days, NaiveDate};

use crate::season::{Begun, Crop, Library, Lot, Observed, OutRule, PartOfDay, Role, Rule, Season, Slack, Sowing, Step};
use crate::trade;
use crate::units::DateSpan;

use super::away;
use super::clock::{Clock, Tick};
use super::{Event, Interval, Problem, Scenario, SowCount, What, Why};

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

/// When a tray first stands outside by day, and when it first stays there at night.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hardening {
    pub(super) from: NaiveDate,
    /// The day it goes for good, where no place outside is open at night.
    pub(super) first_night: NaiveDate,
    waits_for_place: bool,
}

/// Plants that are ready no more days than these before they go out are not told: our choice, no source.
const READY_EARLY_DAYS: i64 = 7;

pub(super) fn after(date: NaiveDate, days: i64) -> NaiveDate {
    let moved = match u64::try_from(days) {
        Ok(days) => date.checked_add_days(Days::new(days)),
        Err(_) => date.checked_sub_days(Days::new(days.unsigned_abs())),
    };
    moved.unwrap_or(date)
}

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

pub(super) fn seen(sowing: &Sowing, wanted: impl Fn(&Observed) -> bool) -> Option<NaiveDate> {
    sowing.seen.iter().find(|seen| wanted(&seen.what)).map(|seen| seen.date)
}

/// Whether it is known that the plants are there.
pub(super) fn has_come_up(sowing: &Sowing) -> bool {
    let later = |what: &Observed| matches!(what, Observed::Up { .. } | Observed::TrueLeaves(_) | Observed::MovedOn(_));
    sowing.begun.is_some() || seen(sowing, later).is_some()
}

/// The day on which all that was wanted has left.
fn seen_out(sowing: &Sowing) -> Option<NaiveDate> {
    let mut left = 0_u32;
    sowing.seen.iter().find_map(|seen| {
        if let Observed::PutOut(plants) | Observed::Sold(plants) = seen.what {
            left = left.saturating_add(plants);
        }
        (left >= sowing.plants_wanted()).then_some(seen.date)
    })
}

/// What has left, then what is left of the numbers wanted, by date.
fn leaving_days(sowing: &Sowing) -> Vec<(NaiveDate, u32)> {
    let mut days: Vec<(NaiveDate, u32)> = Vec::new();
    let mut gone = 0_u32;
    for seen in &sowing.seen {
        if let Observed::PutOut(plants) | Observed::Sold(plants) = seen.what {
            gone = gone.saturating_add(plants);
            days.push((seen.date, plants));
        }
    }
    let mut wanted = sowing.wanted.clone();
    wanted.sort_by_key(|wanted| wanted.date);
    for one in wanted {
        let went = gone.min(one.plants);
        gone -= went;
        if one.plants > went {
            days.push((one.date, one.plants - went));
        }
    }
    days.sort_unstable();
    days
}

/// Work whose day nobody is there on, on another day inside its window; a problem where there is none.
fn bend(
    season: &Season,
    sowing: &Sowing,
    work: What,
    (date, why): (NaiveDate, Why),
    slack: Slack,
    problems: &mut Vec<Problem>,
) -> (NaiveDate, Why) {
    let is_work = why != Why::Seen && !matches!(why, Why::Stage { .. });
    if !is_work || !away::is_away(season, date) {
        return (date, why);
    }
    if let Some(bent) = away::bent(season, date, slack) {
        let days = i16::try_from((bent - date).num_days()).unwrap_or(i16::MAX);
        return (bent, Why::Bent { days });
    }
    let (before, after) = away::home_days(season, date);
    problems.push(Problem::NobodyThere { sowing: sowing.id, work, date, before, after });
    (date, why)
}

/// A day that the grower set gives way only as far as was said.
fn sowing_slack(sowing: &Sowing) -> Slack {
    let step = sowing.steps.first();
    let set = step.is_some_and(|step| matches!(step.start, Rule::On(_)));
    step.and_then(|step| step.slack).unwrap_or(if set { Slack { early: 0, late: 0 } } else { away::SOWING_SLACK })
}

/// As far as the crop's own range is early, and until the container before holds it back.
fn step_slack(
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
    let weeks = before
        .and_then(|before| season.container(library, &before.container))
        .and_then(|container| trade::latest_weeks(crop, container));
    let until_latest = weeks.map(|weeks| (after(sown, i64::from(weeks) * 7) - date).num_days().max(0));
    let late = until_latest.and_then(|days| u16::try_from(days).ok()).unwrap_or(days.late - days.likely);
    Slack { early: days.likely - days.early, late }
}

/// The day on which a frost later than the season reckons with is over, for a crop that it kills.
fn kept_until(season: &Season, crop: &Crop, scenario: &Scenario) -> Option<NaiveDate> {
    let frost = season.settings().frost.as_ref().filter(|_| scenario.frost_days() > 0 && trade::is_tender(crop))?;
    Some(after(frost.date, scenario.frost_days()))
}

/// Worked back from the first day out: those who leave later wait in the same trays. What was seen to
/// leave does not move the sowing.
fn sown_on(crop: &Crop, sowing: &Sowing, out: NaiveDate) -> Option<(NaiveDate, Why)> {
    if let Some(date) = seen(sowing, |what| matches!(what, Observed::Sown { .. })).filter(|_| sowing.begun.is_none()) {
        return Some((date, Why::Seen));
    }
    if let Some(Begun { on, stage }) = sowing.begun {
        let days = trade::days_to_stage(crop, stage);
        return Some((after(on, -i64::from(days)), Why::Stage { days, stage }));
    }
    Some(match sowing.steps.first()?.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysBeforeOut(days) => (after(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        Rule::WhenDue | Rule::DaysAfterSowing(_) => {
            let weeks = trade::sowing_weeks_before_out(crop, sowing.steps.len() > 1);
            (after(out, -7 * i64::from(weeks)), Why::WeeksBeforeOut(weeks))
        }
    })
}

fn leaves_or_age(crop: &Crop) -> Why {
    crop.moving_on.value.true_leaves.map_or(Why::Age, Why::Leaves)
}

fn moved_on(
    crop: &Crop,
    sowing: &Sowing,
    lot: &Lot,
    (index, step): (usize, &Step),
    (sown, before, out): (NaiveDate, NaiveDate, NaiveDate),
    (due, days_until_due): (Tick, u16),
) -> (NaiveDate, Why) {
    if let Some(date) = seen(sowing, |what| *what == Observed::MovedOn(step.id)) {
        return (date, Why::Seen);
    }
    let (date, why) = match step.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysAfterSowing(days) => (after(sown, i64::from(days)), Why::DaysAfterSowing(days)),
        Rule::DaysBeforeOut(days) => (after(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        // a plant takes about as long again to fill the next container: from memory, editable
        Rule::WhenDue if index == 1 => (due.date, due.why),
        Rule::WhenDue => (after(before, i64::from(days_until_due)), leaves_or_age(crop)),
    };
    // counted from the step before, the lot is late by that already
    match lot.later {
        later if later > 0 && !(index > 1 && step.start == Rule::WhenDue) => {
            (after(date, i64::from(later)), Why::LaterLot(later))
        }
        _ => (date, why),
    }
}

/// A place to harden off in: by day, and at night as well if it is whole.
pub(super) struct HardeningPlace {
    open: Vec<DateSpan>,
    whole: bool,
}

pub(super) fn hardening_places(season: &Season) -> Vec<HardeningPlace> {
    season
        .places()
        .filter(|place| place.role == Role::Hardening && place.part != PartOfDay::Nights)
        .map(|place| HardeningPlace { open: place.open.clone(), whole: place.part == PartOfDay::Whole })
        .collect()
}

/// The hardening of a tray that leaves on that day; `None` where no place is open for it.
pub(super) fn hardening(
    places: &[HardeningPlace],
    crop: &Crop,
    last_start: NaiveDate,
    out: NaiveDate,
) -> Option<Hardening> {
    let rule = crop.hardening.value;
    let wanted = after(out, -i64::from(rule.days)).max(after(last_start, 1));
    let opens = |place: &HardeningPlace, from: NaiveDate| {
        let days = DateSpan::new(from, out).ok()?;
        if place.open.is_empty() {
            return Some(from);
        }
        place.open.iter().filter_map(|open| open.within(days)).map(DateSpan::from).min()
    };
    let from = places.iter().filter_map(|place| opens(place, wanted)).min()?;
    // a place for the day alone leaves the tray its indoor spot for every night
    let night = after(from, i64::from(rule.first_night_after));
    let first_night = places.iter().filter(|place| place.whole).filter_map(|place| opens(place, night)).min();
    Some(Hardening { from, first_night: first_night.unwrap_or(out), waits_for_place: from > wanted })
}
