//! What an edit changed: what was known of the season before, beside what is known after.

use std::collections::{BTreeMap, BTreeSet};
use std::mem::discriminant;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::forecast::{Forecast, Moved, Problem, What, Why, dates_moved};
use crate::units::DateSpan;

use super::answer::{Outlook, PoolKind, Verdict};

/// Whether there is room, in the figures that the verdict is told by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoomLeft {
    /// For so many more of the commonest kind at the fullest, where anything stands anywhere.
    Fits {
        spare: Option<u32>,
    },
    Unsettled {
        weeks: usize,
    },
    Short(Short),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Short {
    /// Of the worst run of days, and that run.
    pub least: u32,
    pub most: u32,
    pub worst: DateSpan,
    /// Of all such runs the first day, and how many there are.
    pub first: NaiveDate,
    pub times: usize,
}

impl RoomLeft {
    pub fn of(outlook: &Outlook) -> Self {
        if let Some((_, worst)) = outlook.worst() {
            let first = outlook.crunches.iter().map(|crunch| crunch.span.from()).min();
            return Self::Short(Short {
                least: worst.short,
                most: worst.short_at_most,
                worst: worst.span,
                first: first.unwrap_or(worst.span.from()),
                times: outlook.crunches.len(),
            });
        }
        match outlook.verdict {
            Verdict::Unsettled => Self::Unsettled {
                weeks: outlook.weeks.iter().filter(|week| week.verdict == Verdict::Unsettled).count(),
            },
            Verdict::Fits | Verdict::Crunch => {
                Self::Fits { spare: outlook.weeks.iter().filter(|week| week.needed > 0).map(|week| week.spare).min() }
            }
        }
    }
}

/// A season as far as a change of it is told.
#[derive(Clone, Debug)]
pub struct Known {
    pub room: RoomLeft,
    /// How many are short in each week of which shelves.
    pub weeks: BTreeMap<(NaiveDate, PoolKind), u32>,
    pub forecast: Arc<Forecast>,
    pub problems: Vec<Problem>,
}

impl Known {
    pub fn of(outlook: &Outlook, forecast: &Arc<Forecast>, problems: &[Problem]) -> Self {
        let weeks = outlook.weeks.iter().map(|week| ((week.from, week.pool.kind), week.short));
        Self {
            room: RoomLeft::of(outlook),
            weeks: weeks.collect(),
            forecast: Arc::clone(forecast),
            problems: problems.to_vec(),
        }
    }
}

/// A week that is short of so many more, or fewer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WeekChanged {
    pub monday: NaiveDate,
    pub before: u32,
    pub after: u32,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    pub before: RoomLeft,
    pub after: RoomLeft,
    /// By day.
    pub weeks: Vec<WeekChanged>,
    /// Work from today on that has another day now, by that day.
    pub moved: Vec<Moved>,
    /// What somebody has to see to, or falls on days when nobody is there, and did not before: what days away bring
    /// first, then by day.
    pub to_see_to: Vec<Problem>,
    /// The other problems it brings.
    pub others: Vec<Problem>,
}

impl Changed {
    pub fn of(before: &Known, after: &Known, today: NaiveDate) -> Self {
        let is_new = |problem: &&Problem| !before.problems.iter().any(|known| is_same(known, problem));
        let (mut to_see_to, others): (Vec<Problem>, Vec<Problem>) =
            after.problems.iter().filter(is_new).cloned().partition(|problem| {
                problem.see_to_by(today).is_some()
                    || matches!(problem, Problem::NobodyThere { .. } | Problem::TooFew { .. })
            });
        to_see_to.sort_by_key(|problem| (!problem.is_of_days_away(), day_to_see_to(problem, today)));
        Self {
            before: before.room,
            after: after.room,
            weeks: weeks_changed(before, after),
            moved: works_moved(&before.forecast, &after.forecast, today),
            to_see_to,
            others,
        }
    }

    /// All that it brings, what is to be seen to first.
    pub fn brings(&self) -> impl Iterator<Item = &Problem> {
        self.to_see_to.iter().chain(&self.others)
    }

    /// The room is as it was, and so is all else that is told.
    pub fn is_nothing(&self) -> bool {
        self.before == self.after
            && self.weeks.is_empty()
            && self.moved.is_empty()
            && self.to_see_to.is_empty()
            && self.others.is_empty()
    }
}

/// The day under which it stands as work.
pub fn day_to_see_to(problem: &Problem, today: NaiveDate) -> Option<NaiveDate> {
    match *problem {
        Problem::NobodyThere { date, .. } => Some(date),
        ref problem => problem.see_to_by(today),
    }
}

fn weeks_changed(before: &Known, after: &Known) -> Vec<WeekChanged> {
    let weeks: BTreeSet<&(NaiveDate, PoolKind)> = before.weeks.keys().chain(after.weeks.keys()).collect();
    let short = |known: &Known, week| known.weeks.get(week).copied().unwrap_or_default();
    let changed = weeks.into_iter().map(|week| WeekChanged {
        monday: week.0,
        before: short(before, week),
        after: short(after, week),
    });
    changed.filter(|week| week.before != week.after).collect()
}

/// Whether both say the same of the same; how many are missing matters, how far it goes otherwise doesn't.
pub fn is_same(one: &Problem, other: &Problem) -> bool {
    match (one, other) {
        (Problem::TooFew { .. } | Problem::SownTooFew { .. }, _) => one == other,
        _ => discriminant(one) == discriminant(other) && one.about() == other.about(),
    }
}

/// Each once for all lots that go together; what was seen is written down, not moved.
fn works_moved(before: &Forecast, after: &Forecast, today: NaiveDate) -> Vec<Moved> {
    let courses: BTreeMap<_, _> = after.courses.iter().map(|course| ((course.sowing, course.lot), course)).collect();
    let was_seen = |moved: &Moved| {
        courses.get(&(moved.sowing, moved.lot)).is_some_and(|course| {
            course
                .events
                .iter()
                .any(|event| (event.what, event.date) == (moved.what, moved.to) && event.why == Why::Seen)
        })
    };
    let is_work = |what| {
        matches!(
            what,
            What::Sown | What::MovedOn(_) | What::Spaced | What::Hardening | What::FirstNightOut | What::Out { .. }
        )
    };
    let mut found = dates_moved(before, after).moved;
    found.retain(|moved| is_work(moved.what) && moved.to >= today && !was_seen(moved));
    let mut known = BTreeSet::new();
    found.retain(|moved| known.insert((moved.sowing, moved.from, moved.to)));
    found.sort_by_key(|moved| moved.to);
    found
}
