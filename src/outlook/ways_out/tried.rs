//! A change held against the shelves, and against the rules.

use chrono::NaiveDate;

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Prepared, Scenario, broken, drawn};
use crate::outlook::{Crunch, Effort, Keep, Outlook, Verdict, look_ahead};
use crate::season::{Edit, Library, Season};

use super::way::{Beyond, Effect, ShortOf};

/// A season as it stands, and what is known of it.
#[derive(Clone, Copy)]
pub struct Standing<'a> {
    pub season: &'a Season,
    pub library: &'a Library,
    pub forecast: &'a Forecast,
    pub outlook: &'a Outlook,
    /// Nothing is proposed for a day before it; whoever knows no day proposes what they like.
    pub today: Option<NaiveDate>,
}

/// The same with a change made.
pub(super) struct Tried {
    pub(super) forecast: Forecast,
    pub(super) outlook: Outlook,
}

/// What is known of the season, to try changes of it by.
pub(super) struct Known<'a, 'm> {
    pub(super) prepared: Prepared<'a>,
    /// Mended after each change: soon, and good enough to choose by.
    pub(super) soon: Memory,
    /// What is offered is what this says.
    pub(super) whole: &'m mut Memory,
}

impl<'a, 'm> Known<'a, 'm> {
    pub(super) fn of(of: &Standing<'a>, whole: &'m mut Memory, cancel: &Cancel) -> Result<Self, Cancelled> {
        let mut soon = whole.mending_beside();
        let progress = Progress::default();
        look_ahead(of.season, of.forecast, Keep::Pinned, Effort::default(), &mut soon, &progress, cancel)?;
        Ok(Self { prepared: Prepared::of(of.season, of.library), soon, whole })
    }
}

/// Makes the edit on a copy and holds that against its shelves; `None` where the season does not take it, or
/// a rule is broken that was kept before.
pub(super) fn tried(
    of: &Standing<'_>,
    edit: &Edit,
    memory: &mut Memory,
    cancel: &Cancel,
) -> Result<Option<Tried>, Cancelled> {
    let mut season = of.season.clone();
    if season.apply(edit).is_err() {
        return Ok(None);
    }
    let forecast = drawn(&season, of.library, &Scenario::none());
    if broken(&of.forecast.problems, &forecast.problems).is_some() {
        return Ok(None);
    }
    let progress = Progress::default();
    let outlook = look_ahead(&season, &forecast, Keep::Pinned, Effort::default(), memory, &progress, cancel)?;
    let keeps = broken(&of.outlook.problems, &outlook.problems).is_none();
    Ok(keeps.then_some(Tried { forecast, outlook }))
}

impl Tried {
    /// What comes of it, for that crunch.
    pub(super) fn effect(&self, before: &Outlook, crunch: &Crunch) -> Effect {
        Effect {
            verdict: self.outlook.verdict,
            of_crunch: left_of(crunch, &self.outlook),
            crunch_before: ShortOf { open_days: open_days(crunch, before), ..of_one(crunch) },
            after: ShortOf::of(&self.outlook),
            before: ShortOf::of(before),
            beyond_lamps: Beyond::of(&self.outlook),
            beyond_before: Beyond::of(before),
            spare: self.spare(crunch),
        }
    }

    /// Room for so many more on the fullest day of those shelves, where no day is short of it.
    fn spare(&self, crunch: &Crunch) -> Option<(chrono::NaiveDate, u32)> {
        if self.outlook.verdict != Verdict::Fits {
            return None;
        }
        let kinds: Vec<_> = crunch.pools.iter().map(|pool| pool.kind).collect();
        let weeks = self.outlook.weeks.iter().filter(|week| kinds.contains(&week.pool.kind) && week.needed > 0);
        weeks.min_by_key(|week| (week.spare, week.worst_day)).map(|week| (week.worst_day, week.spare))
    }
}

fn of_one(crunch: &Crunch) -> ShortOf {
    ShortOf { tray_days: crunch.tray_days, trays: crunch.short, crunches: 1, open_days: 0 }
}

/// What is short of room on those shelves on its days.
fn left_of(crunch: &Crunch, after: &Outlook) -> ShortOf {
    let same = after.crunches.iter().filter(|left| {
        left.span.overlaps(crunch.span)
            && left.concerned().iter().any(|pool| crunch.concerned().iter().any(|of| of.kind == pool.kind))
    });
    let mut sum = ShortOf { open_days: open_days(crunch, after), ..ShortOf::default() };
    for left in same {
        sum.tray_days = sum.tray_days.saturating_add(left.tray_days);
        sum.trays = sum.trays.max(left.short);
        sum.crunches += 1;
    }
    sum
}

fn open_days(crunch: &Crunch, outlook: &Outlook) -> u64 {
    let open = outlook.weeks.iter().filter(|week| {
        week.verdict == Verdict::Unsettled
            && crunch.span.contains(week.worst_day)
            && crunch.pools.iter().any(|pool| pool.kind == week.pool.kind)
    });
    7 * u64::try_from(open.count()).unwrap_or(u64::MAX)
}
