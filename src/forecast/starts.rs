//! The day on which each step starts, and why then.

use chrono::NaiveDate;

use crate::season::{Begun, Crop, Library, LotId, Observed, Rule, Season, Slack, Sowing, Step};
use crate::trade;

use super::clock::{Tick, days_to_due};
use super::course::Why;
use super::late::Late;
use super::records::seen;
use crate::units::shifted;

/// Worked back from the first day out: those who leave later wait in the same trays. What was seen to
/// leave does not move the sowing.
/// `course` is as long as it takes in these containers, where that is known.
pub(super) fn sown_on(
    crop: &Crop,
    sowing: &Sowing,
    course: Option<LongCourse>,
    out: NaiveDate,
) -> Option<(NaiveDate, Why)> {
    if let Some(date) = seen(sowing, |what| matches!(what, Observed::Sown { .. })).filter(|_| sowing.begun.is_none()) {
        return Some((date, Why::Seen));
    }
    if let Some(Begun { on, stage }) = sowing.begun {
        let days = trade::days_to_stage(crop, stage);
        return Some((shifted(on, -i64::from(days)), Why::Stage { days, stage }));
    }
    if let Some(date) = seen(sowing, |what| *what == Observed::Prepared)
        && let Some(days) = trade::days_before_sowing(&crop.before_sowing)
    {
        return Some((shifted(date, i64::from(days)), Why::Prepared { days }));
    }
    Some(match sowing.steps.first()?.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysBeforeOut(days) => (shifted(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        Rule::WhenDue | Rule::DaysAfterSowing(_) => {
            let weeks = trade::sowing_weeks_before_out(crop, sowing.is_to_sell(), sowing.steps.len() > 1);
            match course.filter(|course| course.days() > 7 * u16::from(weeks)) {
                Some(course) => {
                    let LongCourse { moved_on, rooting } = course;
                    (shifted(out, -i64::from(course.days())), Why::RootsByOut { moved_on, rooting })
                }
                None => (shifted(out, -7 * i64::from(weeks)), Why::WeeksBeforeOut(weeks)),
            }
        }
    })
}

/// The day it is sown, by the crop's weeks alone.
pub(super) fn sown_about(crop: &Crop, sowing: &Sowing) -> NaiveDate {
    let out = sowing.wanted.iter().map(|wanted| wanted.date).min();
    out.and_then(|out| sown_on(crop, sowing, None, out)).map(|(date, _)| date).unwrap_or_default()
}

/// Days from sowing until it is moved on for the last time, if all is as likely, and those it roots
/// through in.
#[derive(Clone, Copy)]
pub(super) struct LongCourse {
    moved_on: u16,
    rooting: u16,
}

impl LongCourse {
    /// `None` where it is not moved on, or on days that don't follow the sowing.
    pub(super) fn of(season: &Season, library: &Library, crop: &Crop, sowing: &Sowing) -> Option<Self> {
        let mut moved_on = 0_u16;
        for (index, step) in sowing.steps.iter().enumerate().skip(1) {
            moved_on = match step.start {
                Rule::DaysAfterSowing(days) => days,
                Rule::WhenDue if index == 1 => days_to_due(season, library, crop, sowing, sown_about(crop, sowing)),
                Rule::WhenDue => moved_on.saturating_add(crop.moving_on.value.days.likely),
                Rule::On(_) | Rule::DaysBeforeOut(_) => return None,
            };
        }
        (moved_on > 0).then_some(Self { moved_on, rooting: trade::rooting_days(crop) })
    }

    const fn days(self) -> u16 {
        self.moved_on.saturating_add(self.rooting)
    }
}

/// Between which days it is moved on, by the crop's own range, to root through before it goes out.
#[derive(Clone, Copy)]
pub(super) struct InTime {
    earliest: NaiveDate,
    latest: NaiveDate,
}

impl InTime {
    /// Of what is due on that day, and no sooner than on the `earliest` if that is known.
    pub(super) fn of(crop: &Crop, due: NaiveDate, earliest: Option<NaiveDate>, out: NaiveDate) -> Self {
        let days = crop.moving_on.value.days;
        let early = shifted(due, -i64::from(days.likely.saturating_sub(days.early)));
        let earliest = earliest.map_or(early, |earliest| early.max(earliest));
        Self { earliest, latest: shifted(out, -i64::from(trade::rooting_days(crop))) }
    }

    pub(super) fn moved_on(self, date: NaiveDate, why: Why) -> (NaiveDate, Why) {
        let sooner = self.latest.max(self.earliest);
        match u16::try_from((date - sooner).num_days()) {
            Ok(days) if days > 0 => (sooner, Why::ToRoot { days }),
            _ => (date, why),
        }
    }

    /// As much of it as is left on that day.
    pub(super) fn slack(self, slack: Slack, date: NaiveDate) -> Slack {
        let days =
            |from: NaiveDate, until: NaiveDate| u16::try_from((until - from).num_days().max(0)).unwrap_or(u16::MAX);
        let late = if date <= self.latest { slack.late.min(days(date, self.latest)) } else { slack.late };
        Slack { early: slack.early.min(days(self.earliest, date)), late }
    }
}

fn leaves_or_age(crop: &Crop) -> Why {
    crop.moving_on.value.true_leaves.map_or(Why::Age, Why::Leaves)
}

pub(super) fn moved_on(
    crop: &Crop,
    sowing: &Sowing,
    (lot, late): (LotId, Late),
    (index, step): (usize, &Step),
    (sown, before, out): (NaiveDate, NaiveDate, NaiveDate),
    (due, days_until_due): (Tick, u16),
) -> (NaiveDate, Why) {
    if let Some(date) = sowing.saw_of(lot, |what| *what == Observed::MovedOn(step.id)) {
        return (date, Why::Seen);
    }
    let (date, why) = match step.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysAfterSowing(days) => (shifted(sown, i64::from(days)), Why::DaysAfterSowing(days)),
        Rule::DaysBeforeOut(days) => (shifted(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        // a plant takes about as long again to fill the next container: from memory, editable
        Rule::WhenDue if index == 1 => (due.date, due.why),
        Rule::WhenDue => (shifted(before, i64::from(days_until_due)), leaves_or_age(crop)),
    };
    // counted from the step before, the lot is late by that already
    match late.moved_on {
        later if later > 0 && !(index > 1 && step.start == Rule::WhenDue) => {
            (shifted(date, i64::from(later)), Why::LaterLot(later))
        }
        _ => (date, why),
    }
}
