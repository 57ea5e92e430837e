//! The day on which each step starts, and why then.

use chrono::NaiveDate;

use crate::season::{Begun, Crop, Observed, Rule, Sowing, Step};
use crate::trade;

use super::clock::Tick;
use super::course::Why;
use super::late::Late;
use super::records::seen;
use crate::units::shifted;

/// Worked back from the first day out: those who leave later wait in the same trays. What was seen to
/// leave does not move the sowing.
pub(super) fn sown_on(crop: &Crop, sowing: &Sowing, out: NaiveDate) -> Option<(NaiveDate, Why)> {
    if let Some(date) = seen(sowing, |what| matches!(what, Observed::Sown { .. })).filter(|_| sowing.begun.is_none()) {
        return Some((date, Why::Seen));
    }
    if let Some(Begun { on, stage }) = sowing.begun {
        let days = trade::days_to_stage(crop, stage);
        return Some((shifted(on, -i64::from(days)), Why::Stage { days, stage }));
    }
    Some(match sowing.steps.first()?.start {
        Rule::On(date) => (date, Why::Set),
        Rule::DaysBeforeOut(days) => (shifted(out, -i64::from(days)), Why::DaysBeforeOut(days)),
        Rule::WhenDue | Rule::DaysAfterSowing(_) => {
            let sale = trade::sowing_weeks_before_sale(crop).filter(|_| sowing.for_sale);
            let weeks = sale.unwrap_or_else(|| trade::sowing_weeks_before_out(crop, sowing.steps.len() > 1));
            (shifted(out, -7 * i64::from(weeks)), Why::WeeksBeforeOut(weeks))
        }
    })
}

fn leaves_or_age(crop: &Crop) -> Why {
    crop.moving_on.value.true_leaves.map_or(Why::Age, Why::Leaves)
}

pub(super) fn moved_on(
    crop: &Crop,
    sowing: &Sowing,
    late: Late,
    (index, step): (usize, &Step),
    (sown, before, out): (NaiveDate, NaiveDate, NaiveDate),
    (due, days_until_due): (Tick, u16),
) -> (NaiveDate, Why) {
    if let Some(date) = seen(sowing, |what| *what == Observed::MovedOn(step.id)) {
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
