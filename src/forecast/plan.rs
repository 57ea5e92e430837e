//! The dates of one lot, each with its reason.

use chrono::{Days, NaiveDate};

use crate::season::{Crop, Library, Lot, PartOfDay, Role, Rule, Season, Seen, Sowing, Step};
use crate::trade;
use crate::units::DateSpan;

use super::{Event, Problem, SowCount, What, Why};

/// The days on which a lot changes its place or container.
#[derive(Clone, Debug)]
pub(super) struct Dates {
    /// Start of each step, in order; the first is the sowing.
    pub(super) starts: Vec<NaiveDate>,
    pub(super) up: NaiveDate,
    pub(super) out: NaiveDate,
    /// When it first stands in the hardening place, and when it first stays there at night.
    pub(super) hardening: Option<Hardening>,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Hardening {
    pub(super) from: NaiveDate,
    pub(super) first_night: NaiveDate,
    pub(super) part: PartOfDay,
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

/// Works the dates of one lot out, forwards and backwards, and lists what does not add up.
pub(super) fn dates(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    lot: &Lot,
    problems: &mut Vec<Problem>,
) -> Option<(Dates, Vec<Event>)> {
    let out = seen_out(sowing).or_else(|| sowing.out())?;
    let mut events = Vec::new();
    let (sown, why) = sown_on(crop, sowing, out)?;
    events.push(Event { what: What::Sown, date: sown, range: None, why });

    let emergence = crop.emergence.value;
    let (up, up_event) = if let Some(date) = seen(sowing, |what| matches!(what, Seen::Up { .. })) {
        (date, Event { what: What::Up, date, range: None, why: Why::Seen })
    } else {
        let date = after(sown, i64::from(emergence.likely));
        let range = (after(sown, i64::from(emergence.early)), after(sown, i64::from(emergence.late)));
        (date, Event { what: What::Up, date, range: Some(range), why: Why::CropDays })
    };
    if let Some(stack) = sowing.stack {
        // what is up wants light, however long the stack was to stand
        let date = after(sown, i64::from(stack.days));
        let (date, why) = if up < date { (up, up_event.why) } else { (date, Why::StackDays(stack.days)) };
        events.push(Event { what: What::Unstacked, date, range: None, why });
    }
    events.push(up_event);
    let due = due_event(crop, sown);
    let mut starts = vec![sown];
    for (index, step) in sowing.steps.iter().enumerate().skip(1) {
        let before = starts.last().copied().unwrap_or(sown);
        let (date, why) = moved_on(crop, sowing, lot, step, index, (sown, before, out));
        if index == 1 {
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
    let last = starts.last().copied().unwrap_or(sown);
    if out <= last
        && let Some(step) = sowing.steps.last()
    {
        problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date: out, not_before: last });
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
    let hardening = hardening(season, crop, last, out, &mut events);
    for wanted in &sowing.wanted {
        let why = if seen_out(sowing).is_some() { Why::Seen } else { Why::Set };
        events.push(Event { what: What::Out { plants: wanted.plants }, date: wanted.date, range: None, why });
    }
    events.sort_by_key(|event| event.date);
    Some((Dates { starts, up, out, hardening }, events))
}

fn seen(sowing: &Sowing, wanted: impl Fn(&Seen) -> bool) -> Option<NaiveDate> {
    sowing.seen.iter().find(|seen| wanted(&seen.what)).map(|seen| seen.date)
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

fn sown_on(crop: &Crop, sowing: &Sowing, out: NaiveDate) -> Option<(NaiveDate, Why)> {
    if let Some(date) = seen(sowing, |what| *what == Seen::Sown) {
        return Some((date, Why::Seen));
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

fn due_event(crop: &Crop, sown: NaiveDate) -> Event {
    let days = crop.moving_on.value.days;
    Event {
        what: What::Due,
        date: after(sown, i64::from(days.likely)),
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
            (after(from, i64::from(crop.moving_on.value.days.likely)), leaves_or_age(crop))
        }
    };
    match lot.later {
        0 => (date, why),
        later => (after(date, i64::from(later)), Why::LaterLot(later)),
    }
}

fn hardening(
    season: &Season,
    crop: &Crop,
    last_start: NaiveDate,
    out: NaiveDate,
    events: &mut Vec<Event>,
) -> Option<Hardening> {
    let rule = crop.hardening.value;
    let wanted = after(out, -i64::from(rule.days)).max(after(last_start, 1));
    let whole = DateSpan::new(wanted, out).ok()?;
    let (from, part) = season
        .places()
        .filter(|place| place.role == Role::Hardening)
        .filter_map(|place| {
            let opens = if place.open.is_empty() {
                Some(wanted)
            } else {
                place.open.iter().filter_map(|open| open.within(whole)).map(DateSpan::from).min()
            };
            opens.map(|from| (place.part == PartOfDay::Nights, from, place.part))
        })
        .min()
        .map(|(_, from, part)| (from, part))?;
    let why = if from > wanted { Why::PlaceOpens } else { Why::CropDays };
    events.push(Event { what: What::Hardening, date: from, range: None, why });
    // a place for the day alone leaves the tray its indoor spot for every night
    let first_night = match part {
        PartOfDay::Whole => after(from, i64::from(rule.first_night_after)).min(out),
        PartOfDay::Days | PartOfDay::Nights => out,
    };
    if first_night < out {
        events.push(Event { what: What::FirstNightOut, date: first_night, range: None, why: Why::CropDays });
    }
    Some(Hardening { from, first_night, part })
}
