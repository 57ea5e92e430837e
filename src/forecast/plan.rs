//! The dates of one lot, each with its reason.

use chrono::{Days, NaiveDate};

use crate::season::{Begun, Crop, Library, Lot, PartOfDay, Role, Rule, Season, Seen, Sowing, Step};
use crate::trade;
use crate::units::DateSpan;

use super::{Event, Interval, Luck, Problem, SowCount, What, Why};

/// The days on which a lot changes its place or container.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Dates {
    /// Growth counts from here: before the first start where the plants stood there already.
    pub(super) sown: NaiveDate,
    /// Start of each step, in order; the first is the sowing.
    pub(super) starts: Vec<NaiveDate>,
    pub(super) up: NaiveDate,
    pub(super) out: NaiveDate,
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

/// Works the dates of one lot out, forwards and backwards, and lists what does not add up. Luck
/// says which of the days that a crop may take it takes.
pub(super) fn dates(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    lot: &Lot,
    luck: &Luck,
    problems: &mut Vec<Problem>,
) -> Option<(Dates, Vec<Event>)> {
    let days_until_up = luck.of(&crop.emergence.value, &crop.key, sowing.id, Interval::Emergence);
    let days_until_due = luck.of(&crop.moving_on.value.days, &crop.key, sowing.id, Interval::Leaves);
    let planned = sowing.out()?;
    let first_out = sowing.wanted.iter().map(|wanted| wanted.date).min()?;
    let mut events = Vec::new();
    let (sown, why) = sown_on(crop, sowing, first_out)?;
    let begun = sowing.begun.map(|begun| begun.on);
    let first = begun.unwrap_or(sown);
    let what = if begun.is_some() { What::Begun } else { What::Sown };
    events.push(Event { what, date: first, range: None, why });

    let emergence = crop.emergence.value;
    let (up, up_event) = if let Some(date) = seen(sowing, |what| matches!(what, Seen::Up { .. })) {
        (date, Event { what: What::Up, date, range: None, why: Why::Seen })
    } else {
        let date = after(sown, i64::from(days_until_up));
        let range = (after(sown, i64::from(emergence.early)), after(sown, i64::from(emergence.late)));
        (date, Event { what: What::Up, date, range: Some(range), why: Why::CropDays })
    };
    if let Some(stack) = sowing.stack {
        // what is up wants light, however long the stack was to stand
        let date = after(sown, i64::from(stack.days));
        let (date, why) = if up < date { (up, up_event.why) } else { (date, Why::StackDays(stack.days)) };
        events.push(Event { what: What::Unstacked, date, range: None, why });
    }
    // What was over by then is not told again.
    if begun.is_none_or(|on| up > on) {
        events.push(up_event);
    }
    let due = due_event(crop, sown, days_until_due);
    let mut starts = vec![first];
    for (index, step) in sowing.steps.iter().enumerate().skip(1) {
        let before = starts.last().copied().unwrap_or(first);
        let (date, why) = moved_on(crop, sowing, lot, step, index, days_until_due, (sown, before, first_out));
        let overdue =
            begun.is_some_and(|on| date <= on) && index == 1 && step.start == Rule::WhenDue && why != Why::Seen;
        let (date, why) = if overdue { (after(before, 1), Why::DueAlready) } else { (date, why) };
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
        let range = (index == 1 && why == leaves_or_age(crop)).then_some(due.range).flatten();
        events.push(Event { what: What::MovedOn(step.id), date, range, why });
        starts.push(date);
    }
    let last = starts.last().copied().unwrap_or(first);
    let kept_until = kept_until(season, crop, luck);
    let out = seen_out(sowing).unwrap_or_else(|| kept_until.map_or(planned, |frost| planned.max(frost)));
    let leaving = sowing.wanted.iter().map(|wanted| wanted.date).chain([out]);
    if let (Some(date), Some(step)) = (leaving.min().filter(|date| *date <= last), sowing.steps.last()) {
        problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date, not_before: last });
    }
    let out = out.max(after(last, 1));
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
    let mut leaving: Vec<NaiveDate> =
        sowing.wanted.iter().map(|wanted| wanted.date.min(out).max(after(last, 1))).chain([out]).collect();
    leaving.sort_unstable();
    leaving.dedup();
    for out in leaving {
        let Some(hardening) = hardening(&places, crop, last, out) else { continue };
        let why = if hardening.waits_for_place { Why::PlaceOpens } else { Why::CropDays };
        events.push(Event { what: What::Hardening, date: hardening.from, range: None, why });
        if hardening.first_night < out {
            let date = hardening.first_night;
            events.push(Event { what: What::FirstNightOut, date, range: None, why: Why::CropDays });
        }
    }
    for wanted in &sowing.wanted {
        let why = if seen_out(sowing).is_some() { Why::Seen } else { Why::Set };
        events.push(Event { what: What::Out { plants: wanted.plants }, date: wanted.date, range: None, why });
    }
    events.sort_by_key(|event| event.date);
    Some((Dates { sown, starts, up, out, kept_until }, events))
}

fn seen(sowing: &Sowing, wanted: impl Fn(&Seen) -> bool) -> Option<NaiveDate> {
    sowing.seen.iter().find(|seen| wanted(&seen.what)).map(|seen| seen.date)
}

/// Whether it is known that the plants are there.
pub(super) fn has_come_up(sowing: &Sowing) -> bool {
    let later = |what: &Seen| matches!(what, Seen::Up { .. } | Seen::TrueLeaves(_) | Seen::MovedOn(_));
    sowing.begun.is_some() || seen(sowing, later).is_some()
}

/// The day on which all that was wanted has left.
fn seen_out(sowing: &Sowing) -> Option<NaiveDate> {
    let mut left = 0_u32;
    sowing.seen.iter().find_map(|seen| {
        if let Seen::PutOut(plants) | Seen::Sold(plants) = seen.what {
            left = left.saturating_add(plants);
        }
        (left >= sowing.plants_wanted()).then_some(seen.date)
    })
}

/// The day on which a frost later than the season reckons with is over, for a crop that it kills.
fn kept_until(season: &Season, crop: &Crop, luck: &Luck) -> Option<NaiveDate> {
    let frost = season.settings().frost.as_ref().filter(|_| luck.frost_days() > 0 && trade::is_tender(crop))?;
    Some(after(frost.date, luck.frost_days()))
}

/// Worked back from the first day out: those who leave later wait in the same trays. What was seen to
/// leave does not move the sowing.
fn sown_on(crop: &Crop, sowing: &Sowing, out: NaiveDate) -> Option<(NaiveDate, Why)> {
    if let Some(date) = seen(sowing, |what| *what == Seen::Sown).filter(|_| sowing.begun.is_none()) {
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

fn due_event(crop: &Crop, sown: NaiveDate, days_until_due: u16) -> Event {
    let days = crop.moving_on.value.days;
    Event {
        what: What::Due,
        date: after(sown, i64::from(days_until_due)),
        range: Some((after(sown, i64::from(days.early)), after(sown, i64::from(days.late)))),
        why: leaves_or_age(crop),
    }
}

fn moved_on(
    crop: &Crop,
    sowing: &Sowing,
    lot: &Lot,
    step: &Step,
    index: usize,
    days_until_due: u16,
    (sown, before, out): (NaiveDate, NaiveDate, NaiveDate),
) -> (NaiveDate, Why) {
    if let Some(date) = seen(sowing, |what| *what == Seen::MovedOn(step.id)) {
        return (date, Why::Seen);
    }
    let (date, why) = match step.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysAfterSowing(days) => (after(sown, i64::from(days)), Why::DaysAfterSowing(days)),
        Rule::DaysBeforeOut(days) => (after(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        // a plant takes about as long again to fill the next container: from memory, editable
        Rule::WhenDue => {
            let from = if index == 1 { sown } else { before };
            (after(from, i64::from(days_until_due)), leaves_or_age(crop))
        }
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
