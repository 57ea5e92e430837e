//! Work on another day with all that is past left as it is.

use chrono::NaiveDate;

use crate::season::{Library, Rule, Season, Sowing};

use super::all::Forecast;
use super::course::{Event, What};
use super::moved::dates_moved;
use super::work_out::of_one;

/// A piece of work of one sowing, from one day to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Put {
    pub work: What,
    pub from: NaiveDate,
    pub to: NaiveDate,
}

/// The sowing with that work on its other day and all that lies before `today` where it was; `None` where that can't be.
pub fn with_the_past(
    (season, library): (&Season, &Library),
    forecast: &Forecast,
    sowing: &Sowing,
    put: Put,
    today: NaiveDate,
) -> Option<Sowing> {
    let next = forecast.on_another_day(sowing, put.work, put.from, put.to).filter(|_| put.to >= today)?;
    let before = of_one(season, library, sowing);
    let keeps = |next: &Sowing| !moves_the_past(&before, &of_one(season, library, next), put, today);
    if keeps(&next) {
        return Some(next);
    }
    Some(held(next, &before, put, today)).filter(keeps)
}

/// What was done before `today`, held on its day.
fn held(mut sowing: Sowing, before: &Forecast, put: Put, today: NaiveDate) -> Sowing {
    // the others count from it
    let first = sowing.lots.iter().find(|lot| lot.later == 0).map(|lot| lot.id);
    let Some(course) = before.courses.iter().find(|course| Some(course.lot) == first) else { return sowing };
    for (index, step) in sowing.steps.iter_mut().enumerate() {
        let what = if index == 0 { What::Sown } else { What::MovedOn(step.id) };
        let was = course.date(what).filter(|was| *was < today && (what, *was) != (put.work, put.from));
        step.start = was.map_or(step.start, Rule::On);
    }
    sowing
}

/// Whether something else that is past would have another day, or would be past.
fn moves_the_past(before: &Forecast, after: &Forecast, put: Put, today: NaiveDate) -> bool {
    let moved = dates_moved(before, after).moved.into_iter();
    let mut others = moved.filter(|moved| is_of_hands(moved.what) && (moved.what, moved.from) != (put.work, put.from));
    // what follows work that was put off has not been either
    others.any(|moved| moved.to < today || moved.from < today.min(put.from))
}

/// Whether work of the sowing would fall on days on which nobody is there that does not now.
pub fn puts_work_away((season, library): (&Season, &Library), next: &Sowing, today: NaiveDate) -> bool {
    let away = |sowing: &Sowing| -> Vec<(What, NaiveDate)> {
        let is_away = |event: &&Event| is_of_hands(event.what) && event.date >= today && season.is_away(event.date);
        let courses = of_one(season, library, sowing).courses;
        courses.iter().flat_map(|course| &course.events).filter(is_away).map(|event| (event.what, event.date)).collect()
    };
    let now = season.sowing(next.id).map(away).unwrap_or_default();
    away(next).iter().any(|one| !now.contains(one))
}

const fn is_of_hands(what: What) -> bool {
    matches!(
        what,
        What::Prepared(_)
            | What::Sown
            | What::Unstacked
            | What::MovedOn(_)
            | What::Spaced
            | What::GappedUp
            | What::Hardening
            | What::FirstNightOut
            | What::Out { .. }
    )
}
