//! One sowing on other days, as a hand drags it along the time axis: each handle is one ordinary edit.

use chrono::NaiveDate;

use crate::forecast::{Course, Forecast, What};
use crate::season::{Observed, Op, OutRule, Rule, Sowing, StepId};
use crate::units::shifted;

/// What of a sowing is put on another day; what follows from it follows by the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Handle {
    /// Sowing and all that follows.
    Whole,
    Sown,
    MovedOn(StepId),
    /// The start of hardening off.
    Hardening,
    Out,
}

impl Handle {
    /// The day on which that happens; for the whole, its first.
    pub fn date(self, course: &Course) -> Option<NaiveDate> {
        let out = || course.events.iter().find(|event| matches!(event.what, What::Out { .. })).map(|event| event.date);
        match self {
            Self::Whole | Self::Sown => course.date(What::Sown),
            Self::MovedOn(step) => course.date(What::MovedOn(step)),
            Self::Hardening => course.date(What::Hardening),
            Self::Out => out(),
        }
    }
}

/// The handles of a sowing that a hand may take, in the order of the year: what was seen has happened, and stays.
pub fn handles(sowing: &Sowing, course: &Course) -> Vec<Handle> {
    let not_begun = sowing.begun.is_none() && sowing.seen.is_empty();
    let first = [Handle::Whole, Handle::Sown].into_iter().filter(|_| not_begun);
    let moved = sowing.steps.iter().skip(1).filter(|step| !was(sowing, |what| *what == Observed::MovedOn(step.id)));
    let moved = moved.map(|step| Handle::MovedOn(step.id));
    let last = [Handle::Hardening, Handle::Out].into_iter().filter(|_| !has_gone(sowing));
    first.chain(moved).chain(last).filter(|handle| handle.date(course).is_some()).collect()
}

/// The same sowing with that handle so many days later (negative: sooner); `None` where it can't be taken there.
pub fn on_other_days(now: &Forecast, sowing: &Sowing, handle: Handle, days: i64) -> Option<Op> {
    let course = now.courses_of(sowing.id).next()?;
    if !handles(sowing, course).contains(&handle) {
        return None;
    }
    let mut then = sowing.clone();
    match handle {
        Handle::Whole => {
            out_by(&mut then, days);
            for step in &mut then.steps {
                if let Rule::On(date) = step.start {
                    step.start = Rule::On(shifted(date, days));
                }
            }
        }
        Handle::Sown => then.steps.first_mut()?.start = Rule::On(shifted(handle.date(course)?, days)),
        Handle::MovedOn(id) => {
            let step = then.steps.iter_mut().find(|step| step.id == id)?;
            step.start = Rule::On(shifted(handle.date(course)?, days));
        }
        Handle::Hardening => {
            let (out, from) = (Handle::Out.date(course)?, handle.date(course)?);
            // with none at all there would be nothing left to take hold of
            then.harden_days = Some(u16::try_from((out - shifted(from, days)).num_days().max(1)).ok()?);
        }
        Handle::Out => return out_shifted(now, sowing, days),
    }
    Some(Op::PutSowing(then))
}

/// What has not gone yet goes on another day; it is sown as before.
pub(super) fn out_shifted(now: &Forecast, sowing: &Sowing, days: i64) -> Option<Op> {
    if has_gone(sowing) {
        return None;
    }
    let mut then = sowing.clone();
    out_by(&mut then, days);
    let sown = now.courses_of(sowing.id).next().and_then(|course| course.date(What::Sown));
    if let (Some(sown), Some(first), None) = (sown, then.steps.first_mut(), sowing.begun) {
        first.start = Rule::On(sown);
    }
    Some(Op::PutSowing(then))
}

/// What is not sown yet is sown on another day.
pub(super) fn sown_shifted(now: &Forecast, sowing: &Sowing, days: i64) -> Option<Op> {
    on_other_days(now, sowing, Handle::Sown, days)
}

fn out_by(sowing: &mut Sowing, days: i64) {
    for wanted in &mut sowing.wanted {
        (wanted.date, wanted.rule) = (shifted(wanted.date, days), OutRule::Day);
    }
}

fn was(sowing: &Sowing, what: impl Fn(&Observed) -> bool) -> bool {
    sowing.seen.iter().any(|seen| what(&seen.what))
}

fn has_gone(sowing: &Sowing) -> bool {
    was(sowing, |what| matches!(what, Observed::PutOut(_) | Observed::Sold(_)))
}
