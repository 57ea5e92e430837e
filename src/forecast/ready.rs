//! Plants that leave before they are ready: too young, not rooted through, not hardened off.

use chrono::NaiveDate;

use crate::season::{Observed, Rule, Sowing, Step, StepId, Wanted};
use crate::trade;
use crate::units::shifted;

use super::hardening::{HardeningPlace, Hardens, SeenBefore};
use super::plan::Plan;
use super::problem::{Hurried, NotReady, Sooner};
use super::records::seen;

/// When a lot is sown and moved on, and when the next of it go.
#[derive(Clone, Copy)]
pub(super) struct Going<'a> {
    pub(super) sown: NaiveDate,
    pub(super) starts: &'a [NaiveDate],
    /// Its leaves may be there from then on.
    pub(super) leaves: NaiveDate,
    pub(super) out: NaiveDate,
}

fn days_between(from: NaiveDate, until: NaiveDate) -> u16 {
    u16::try_from((until - from).num_days().max(0)).unwrap_or(u16::MAX)
}

/// Whether it may still be sown on another day.
pub(super) fn may_be_sown(sowing: &Sowing) -> bool {
    sowing.begun.is_none() && seen(sowing, |what| matches!(what, Observed::Sown { .. })).is_none()
}

fn was_moved_into(sowing: &Sowing, step: &Step) -> bool {
    seen(sowing, |what| *what == Observed::MovedOn(step.id)).is_some()
}

pub(super) fn too_young(plan: Plan<'_>, sown: NaiveDate, wanted: &Wanted) -> Option<NotReady> {
    let Plan { crop, sowing, .. } = plan;
    let &Wanted { date: out, to_sell, .. } = wanted;
    let (days, least) = (days_between(sown, out), trade::least_days_to_out(crop, to_sell));
    let in_flower = to_sell && crop.weeks_to_sale.is_some();
    let sow_earlier = may_be_sown(sowing);
    (days < least).then_some(NotReady::TooYoung { out, days, least, to_sell, in_flower, sow_earlier })
}

/// Whether it leaves the container of that step before it has rooted through. What it was sown in is told
/// by its age, and by the leaves that moving on waits for.
pub(super) fn not_rooted(plan: Plan<'_>, going: Going<'_>, index: usize) -> Option<NotReady> {
    let Plan { crop, sowing, .. } = plan;
    let step = sowing.steps.get(index).filter(|_| index > 0)?;
    let from = *going.starts.get(index)?;
    let next = sowing.steps.get(index + 1);
    let was_moved = |step: &Step| was_moved_into(sowing, step);
    if next.is_some_and(was_moved) {
        return None;
    }
    let until = going.starts.get(index + 1).copied().unwrap_or(going.out);
    let least = trade::rooting_days(crop);
    let missing = i64::from(least) - (until - from).num_days();
    if until <= from || missing <= 0 {
        return None;
    }
    let may_wait = !was_moved(step) && next.is_none();
    let sooner = if was_moved(step) { None } else { sooner(sowing, step, shifted(from, -missing) >= going.leaves) };
    let stay_in = sowing.steps.get(index - 1).filter(|_| may_wait).and_then(|before| holds(plan, before, going));
    let goes_out = next.is_none();
    Some(NotReady::NotRooted { step: step.id, from, until, least, sooner, stay_in, goes_out })
}

/// What may be done sooner, so that it is moved on sooner.
fn sooner(sowing: &Sowing, step: &Step, has_leaves: bool) -> Option<Sooner> {
    let follows = matches!(step.start, Rule::WhenDue | Rule::DaysAfterSowing(_));
    match may_be_sown(sowing) {
        _ if !follows && has_leaves => Some(Sooner::MovedOn),
        true => Some(Sooner::Sown),
        false => None,
    }
}

/// The step, if its container holds the plants until they go.
fn holds(plan: Plan<'_>, step: &Step, going: Going<'_>) -> Option<StepId> {
    let days = trade::latest_days(plan.crop, plan.season.container(plan.library, &step.container)?)?;
    (shifted(going.sown, i64::from(days)) >= going.out).then_some(step.id)
}

/// Whether it has fewer days outside than it wants. That the season has no place at all is told once, and a
/// place that is too cold for it by itself.
pub(super) fn hardened_short(
    plan: Plan<'_>,
    places: &[HardeningPlace],
    going: Going<'_>,
    seen: SeenBefore,
) -> Option<NotReady> {
    let Plan { crop, sowing, .. } = plan;
    let Going { starts, out, .. } = going;
    let last = *starts.last()?;
    if places.is_empty() || out <= last {
        return None;
    }
    let wanted = crop.hardening.value.days;
    let rule = trade::hardening_days(crop, sowing);
    let found = Hardens { crop, rule, last_start: last, out, nights_from: None, seen }.however_cold(places);
    let days = found.map_or(0, |found| days_between(found.from, out));
    let because = match found {
        Some(found) if seen.from == Some(found.from) => Hurried::Began(found.from),
        _ if days == rule.days => Hurried::AsSaid,
        Some(found) if found.waits_for_place => Hurried::PlaceOpens(found.from),
        None if shifted(last, 1) < out => Hurried::NoneOpen,
        // plants that were sown there are told to be too young, those that were found there may be hard
        _ if starts.len() < 2 => return None,
        _ if sowing.steps.last().is_some_and(|step| was_moved_into(sowing, step)) => Hurried::WasMovedOn(last),
        _ => Hurried::MovedOn(last),
    };
    (days < wanted).then_some(NotReady::HardenedShort { out, days, wanted, because, in_time: true })
}
