//! Which work may slip, and the sowing with it so many days later.

use chrono::NaiveDate;

use crate::forecast::{Course, Forecast, What, dates_moved, of_one, start_late, still_to_go};
use crate::season::{Library, Observed, OutRule, Rule, Season, Sowing, SowingId};
use crate::units::shifted;

use super::answer::Work;

/// A work and how it slips: all that comes before it is done on its day, and what follows it by a rule follows.
pub(super) struct Slip {
    pub(super) work: Work,
    pub(super) on: NaiveDate,
    /// All that comes before on its day.
    done: Sowing,
    how: How,
}

/// What is written down so that it is done so many days later.
#[derive(Clone, Copy)]
enum How {
    Starts { index: usize, rule: Rule },
    Out,
}

/// Every work of the sowing that is still to be done, in order.
pub(super) fn slips(season: &Season, library: &Library, forecast: &Forecast, sowing: &Sowing) -> Vec<Slip> {
    let Some(course) = forecast.courses_of(sowing.id).next() else { return Vec::new() };
    let pins = Pins { season, library, course, now: of_one(season, library, sowing) };
    let mut done = sowing.clone();
    let mut all = Vec::new();
    for (index, step) in sowing.steps.iter().enumerate() {
        let what = if index == 0 { What::Sown } else { What::MovedOn(step.id) };
        let Some(on) = course.date(what) else { continue };
        let Some(rule) = pins.rule(&done, index, on) else { continue };
        if !is_done(sowing, index) && is_there(forecast, sowing.id, on) {
            let work = if index == 0 { Work::Sown } else { Work::MovedOn(step.id) };
            all.push(Slip { work, on, done: done.clone(), how: How::Starts { index, rule } });
        }
        if let Some(step) = done.steps.get_mut(index) {
            step.start = rule;
        }
    }
    let mut days: Vec<NaiveDate> = still_to_go(sowing, 0).iter().map(|wanted| wanted.date).collect();
    days.dedup();
    let days = days.into_iter().filter(|on| is_there(forecast, sowing.id, *on));
    all.extend(days.map(|on| Slip { work: Work::Out, on, done: done.clone(), how: How::Out }));
    all
}

/// Whether the start of that step, or something that comes after it, was seen.
fn is_done(sowing: &Sowing, index: usize) -> bool {
    let went = |what: &Observed| matches!(what, Observed::PutOut(_) | Observed::Sold(_));
    let moved = |what: &Observed| sowing.steps.iter().skip(index).any(|step| *what == Observed::MovedOn(step.id));
    let mut seen = sowing.seen.iter().map(|seen| &seen.what);
    match index {
        0 => sowing.begun.is_some() || !sowing.seen.is_empty(),
        _ => seen.any(|what| went(what) || moved(what)),
    }
}

/// Whether plants of it are there then, or come.
fn is_there(forecast: &Forecast, sowing: SowingId, on: NaiveDate) -> bool {
    let mut later = forecast.stays.iter().filter(|stay| stay.span.until() >= on);
    later.any(|stay| forecast.is_in(sowing, stay))
}

struct Pins<'a> {
    season: &'a Season,
    library: &'a Library,
    course: &'a Course,
    now: Forecast,
}

impl Pins<'_> {
    /// A rule without the crop's own by which every batch starts that step on the day on which it does.
    fn rule(&self, sowing: &Sowing, index: usize, on: NaiveDate) -> Option<Rule> {
        let lot = sowing.lots.iter().find(|lot| lot.id == self.course.lot);
        let on_day = Rule::On(shifted(on, -lot.map_or(0, |lot| i64::from(start_late(sowing, lot, index)))));
        let sown = self.course.date(What::Sown).and_then(|sown| u16::try_from((on - sown).num_days()).ok());
        let out = sowing.wanted.iter().map(|wanted| wanted.date).min();
        let before = out.and_then(|out| u16::try_from((out - on).num_days()).ok());
        let rules = [Some(on_day), sown.map(Rule::DaysAfterSowing), before.map(Rule::DaysBeforeOut)];
        rules.into_iter().flatten().find(|rule| {
            let mut same = sowing.clone();
            if let Some(step) = same.steps.get_mut(index) {
                step.start = *rule;
            }
            let work = |what: What| matches!(what, What::Sown | What::MovedOn(_) | What::Out { .. });
            let then = of_one(self.season, self.library, &same);
            !dates_moved(&self.now, &then).moved.iter().any(|moved| work(moved.what))
        })
    }
}

impl Slip {
    pub(super) fn by(&self, days: u16) -> Sowing {
        let mut sowing = self.done.clone();
        match self.how {
            How::Starts { index, rule } => {
                if let Some(step) = sowing.steps.get_mut(index) {
                    step.start = match rule {
                        Rule::On(date) => Rule::On(shifted(date, i64::from(days))),
                        Rule::DaysAfterSowing(after) => Rule::DaysAfterSowing(after.saturating_add(days)),
                        Rule::DaysBeforeOut(before) => Rule::DaysBeforeOut(before.saturating_sub(days)),
                        Rule::WhenDue => Rule::WhenDue,
                    };
                }
            }
            How::Out => {
                for wanted in sowing.wanted.iter_mut().filter(|wanted| wanted.date == self.on) {
                    (wanted.date, wanted.rule) = (shifted(self.on, i64::from(days)), OutRule::Day);
                }
            }
        }
        sowing
    }
}
