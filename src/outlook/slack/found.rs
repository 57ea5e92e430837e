//! Every work of a season, slipped day after day until something ends it.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};

use chrono::NaiveDate;

use crate::fit::{Cancel, Cancelled, Progress};
use crate::forecast::{Prepared, Problem, broken, of_one};
use crate::outlook::chance::side_by_side;
use crate::outlook::question::date_of;
use crate::outlook::view::pool;
use crate::outlook::ways_out::Standing;
use crate::season::{Op, Sowing, SowingId};
use crate::units::shifted;

use super::answer::{CanWait, End, Overflow, Slack};
use super::on_days::{NoWorse, OnDays, Worse};
use super::slips::{Slip, slips};

/// No more days than these are looked at: beyond them it is another plan. Our choice.
const MOST_DAYS: u16 = 28;

/// How long every work of the season can wait; on so many threads, or as many as the machine offers.
///
/// Where the season is short of room as it is planned, a slip is safe while no day is short of more.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn can_wait(
    of: &Standing<'_>,
    threads: Option<NonZero<usize>>,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<CanWait, Cancelled> {
    found(of, &of.season.sowings().collect::<Vec<_>>(), threads, progress, cancel)
}

/// The same for one sowing.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn can_wait_of(
    of: &Standing<'_>,
    sowing: SowingId,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<CanWait, Cancelled> {
    let sowing: Vec<&Sowing> = of.season.sowing(sowing).into_iter().collect();
    found(of, &sowing, None, progress, cancel)
}

fn found(
    of: &Standing<'_>,
    sowings: &[&Sowing],
    threads: Option<NonZero<usize>>,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<CanWait, Cancelled> {
    let asks = Asks { of, days: OnDays::of(*of), prepared: Prepared::of(of.season, of.library), cancel };
    let mut asked: Vec<(&Sowing, Slip)> = Vec::new();
    for sowing in sowings {
        cancel.check()?;
        asked.extend(slips(of.season, of.library, of.forecast, sowing).into_iter().map(|slip| (*sowing, slip)));
    }
    let done = AtomicUsize::new(0);
    let each = side_by_side(asked.len(), threads, cancel, |at| {
        let Some((sowing, slip)) = asked.get(at) else { return Ok(None) };
        let slack = asks.slack(sowing, slip)?;
        progress.set(done.fetch_add(1, Ordering::Relaxed) + 1, asked.len());
        Ok(Some(slack))
    })?;
    let each: Vec<Option<Slack>> = each.into_iter().collect::<Result<_, Cancelled>>()?;
    let mut all: Vec<Slack> = each.into_iter().flatten().collect();
    all.sort_by_key(Slack::rank);
    Ok(CanWait { all })
}

/// All that is asked for a slip.
struct Asks<'a> {
    of: &'a Standing<'a>,
    days: OnDays<'a>,
    prepared: Prepared<'a>,
    cancel: &'a Cancel,
}

impl Asks<'_> {
    fn slack(&self, sowing: &Sowing, slip: &Slip) -> Result<Slack, Cancelled> {
        let Self { of, days, prepared, cancel } = self;
        let planned = of_one(of.season, of.library, sowing).problems;
        let mut no_worse = NoWorse::new();
        let Slip { work, on, .. } = *slip;
        let mut found = Slack { sowing: sowing.id, work, on, until: on, end: End::Never };
        for by in 1..=MOST_DAYS {
            cancel.check()?;
            let to = shifted(on, i64::from(by));
            // nobody is there to do it
            if of.season.is_away(to) {
                continue;
            }
            let later = slip.by(by);
            if let Some(problem) = self.breaks(&planned, &later) {
                found.end = End::Rule { to, problem };
                return Ok(found);
            }
            let mut then = of.season.clone();
            let is_taken = then.apply(&Op::PutSowing(later).into()).is_ok();
            let Some(put) = then.sowing(sowing.id).filter(|_| is_taken) else {
                found.end = End::NoOther;
                return Ok(found);
            };
            if let Some(worse) = days.worse(&prepared.with(put), &mut no_worse, cancel)? {
                found.end = self.overflow(to, worse);
                return Ok(found);
            }
            found.until = to;
        }
        if found.until == on {
            found.end = End::NoOther;
        }
        Ok(found)
    }

    fn overflow(&self, to: NaiveDate, worse: Worse) -> End {
        let Worse { day, short, before, is_proven } = worse;
        let over = Overflow {
            to,
            day: date_of(day),
            pools: short.pools.iter().map(|kind| pool(&self.days.room, *kind)).collect(),
            needed: short.needed,
            short: short.short,
            short_at_most: short.at_most,
            before,
        };
        if is_proven { End::Short(over) } else { End::Open(over) }
    }

    /// The first rule that the sowing breaks then and not as it is planned.
    fn breaks(&self, planned: &[Problem], later: &Sowing) -> Option<Problem> {
        let then = of_one(self.of.season, self.of.library, later).problems;
        broken(planned, &then).cloned()
    }
}
