//! A season as it might go, held against its shelves beside the plan.

use chrono::NaiveDate;

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Problem, Scenario, What, all_broken, drawn, forecast, of_one};
use crate::season::{
    Edit, EditError, EditLabel, Library, Op, Place, PlaceId, Rule, Season, Settings, Shift, Shifting, Sowing, WhatIf,
};
use crate::units::{DateSpan, shifted};

use super::answer::{Effort, Keep, Outlook};
use super::other_days::{out_shifted, sown_shifted};
use super::verdict::look_ahead;

/// What comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Otherwise {
    pub forecast: Forecast,
    pub outlook: Outlook,
    /// What is wrong then and isn't now.
    pub broken: Vec<Problem>,
}

/// All of it as one edit, as the grower would make it. What would come to lie before `today` stays as it is planned.
///
/// # Errors
/// A date that no season may have.
pub fn what_if_edit(
    season: &Season,
    library: &Library,
    what_if: &WhatIf,
    today: Option<NaiveDate>,
) -> Result<Edit, EditError> {
    let mut then = season.clone();
    let mut all = Vec::new();
    // what follows the frost by rule is moved by it first
    let mut shifts: Vec<&Shift> = what_if.shifts.iter().filter(|shift| shift.days != 0).collect();
    shifts.sort_by(|one, other| one.what.cmp(&other.what));
    for shift in shifts {
        let mut ops = ops(&then, library, shift);
        ops.retain(|op| !is_before(&then, library, op, today));
        let before = then.clone();
        then.apply(&Edit::new(EditLabel::WhatIf(what_if.name.clone()), ops.clone()))?;
        all.extend(ops);
        if let (Shifting::LastFrost, Some(today)) = (&shift.what, today) {
            let held = sown_as_before(&before, &then, library, today);
            then.apply(&Edit::new(EditLabel::WhatIf(what_if.name.clone()), held.clone()))?;
            all.extend(held);
        }
    }
    Ok(Edit::new(EditLabel::WhatIf(what_if.name.clone()), all))
}

/// Holds the season as it might go against its shelves; the plan itself where nothing is shifted.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted. `None` where the season does not take it.
pub fn otherwise(
    (season, library, today): (&Season, &Library, Option<NaiveDate>),
    before: (&Forecast, &Outlook),
    what_if: &WhatIf,
    memory: &mut Memory,
    cancel: &Cancel,
) -> Result<Option<Otherwise>, Cancelled> {
    let mut then = season.clone();
    let edit = what_if_edit(season, library, what_if, today).ok();
    if edit.is_none_or(|edit| then.apply(&edit).is_err()) {
        return Ok(None);
    }
    let forecast = forecast(&then, library);
    let progress = Progress::default();
    let outlook = look_ahead(&then, &forecast, Keep::Pinned, Effort::default(), memory, &progress, cancel)?;
    let of_dates = all_broken(&before.0.problems, &forecast.problems);
    let broken = of_dates.chain(all_broken(&before.1.problems, &outlook.problems)).cloned().collect();
    Ok(Some(Otherwise { forecast, outlook, broken }))
}

/// What was sown before that day stays sown on its day, though its days out move.
fn sown_as_before(before: &Season, then: &Season, library: &Library, today: NaiveDate) -> Vec<Op> {
    let sown = |season: &Season, sowing: &Sowing| {
        let first = sowing.lots.iter().find(|lot| lot.later == 0).map(|lot| lot.id);
        of_one(season, library, sowing).courses.iter().find(|one| Some(one.lot) == first)?.date(What::Sown)
    };
    let held = before.sowings().filter_map(|was| {
        let mut next = then.sowing(was.id).filter(|next| *next != was)?.clone();
        let date = sown(before, was).filter(|date| *date < today)?;
        if sown(then, &next) == Some(date) {
            return None;
        }
        next.steps.first_mut()?.start = Rule::On(date);
        Some(Op::PutSowing(next))
    });
    held.collect()
}

fn ops(season: &Season, library: &Library, shift: &Shift) -> Vec<Op> {
    let days = i64::from(shift.days);
    match &shift.what {
        Shifting::LastFrost => frost_shifted(season, days).into_iter().collect(),
        Shifting::Place(id) => place_shifted(season, *id, days).into_iter().collect(),
        Shifting::Out(family) => {
            let now = drawn(season, library, &Scenario::none());
            of_family(season, library, family.as_deref()).filter_map(|sowing| out_shifted(&now, sowing, days)).collect()
        }
        Shifting::Sowing(family) => {
            let now = drawn(season, library, &Scenario::none());
            of_family(season, library, family.as_deref())
                .filter_map(|sowing| sown_shifted(&now, sowing, days))
                .collect()
        }
    }
}

/// Whether it puts something that is to be done on a day that is past already.
fn is_before(season: &Season, library: &Library, op: &Op, today: Option<NaiveDate>) -> bool {
    let Some(today) = today else { return false };
    match op {
        Op::PutSowing(sowing) => season
            .sowing(sowing.id)
            .is_some_and(|now| puts_before(&of_one(season, library, now), &of_one(season, library, sowing), today)),
        Op::PutPlace(place) => season.place(place.id).is_some_and(|now| {
            place.open.iter().any(|span| span.from() < today && !now.open.iter().any(|one| one.from() <= span.from()))
        }),
        _ => false,
    }
}

/// Whether something happens before that day that does not happen on that day now, or what was sown before is not.
pub(super) fn puts_before(now: &Forecast, then: &Forecast, today: NaiveDate) -> bool {
    let dates = |of: &Forecast| -> Vec<NaiveDate> {
        of.courses.iter().flat_map(|course| &course.events).map(|event| event.date).collect()
    };
    // what was to be sown by then was
    let is_sown_anew = now.courses.iter().any(|course| {
        let same = then.courses.iter().find(|other| (other.sowing, other.lot) == (course.sowing, course.lot));
        let sown = course.date(What::Sown).filter(|date| *date < today);
        sown.is_some() && same.is_some_and(|same| same.date(What::Sown) != sown)
    });
    let now = dates(now);
    is_sown_anew || dates(then).iter().any(|date| *date < today && !now.contains(date))
}

fn frost_shifted(season: &Season, days: i64) -> Option<Op> {
    let mut frost = season.settings().frost.clone()?;
    frost.date = shifted(frost.date, days);
    frost.table.iter_mut().for_each(|one| one.date = shifted(one.date, days));
    Some(Op::SetSettings(Settings { frost: Some(frost), ..season.settings().clone() }))
}

fn place_shifted(season: &Season, id: PlaceId, days: i64) -> Option<Op> {
    let place = season.place(id)?;
    let moved = |span: &DateSpan| DateSpan::new(shifted(span.from(), days), shifted(span.until(), days)).ok();
    Some(Op::PutPlace(Place { open: place.open.iter().filter_map(moved).collect(), ..place.clone() }))
}

fn of_family<'a>(
    season: &'a Season,
    library: &'a Library,
    family: Option<&'a str>,
) -> impl Iterator<Item = &'a Sowing> {
    season.sowings().filter(move |sowing| {
        family.is_none_or(|family| season.crop(library, &sowing.crop).is_some_and(|crop| crop.family == family))
    })
}
