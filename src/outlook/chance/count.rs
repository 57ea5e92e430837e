//! Draws held against the shelves, week by week.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

use chrono::{Datelike as _, TimeDelta};

use crate::fit::{Cancel, Cancelled, Demand, FoundPatterns, Judged, Progress};
use crate::season::Season;

use super::super::question::date_of;
use super::super::weeks::label;
use super::drawn::{ChanceWeek, Draws};
use super::kinds::{KindRun, POOLS};
use super::table::{Table, side_by_side};

/// Demands that a thread remembers, of about a kilobyte each.
const REMEMBERED: usize = 20_000;

/// Of all draws what matters about each week of each pool.
pub(super) struct Counted {
    monday: i32,
    weeks: usize,
    /// By week and pool.
    drawn: Vec<Tally>,
    likely: Vec<OfWeek>,
}

/// What the draws come to in one week of one pool.
#[derive(Clone, Default)]
struct Tally {
    proven: u32,
    at_most: u32,
    /// How many draws need so many.
    needed: BTreeMap<u32, u32>,
}

#[derive(Clone, Copy, Default)]
struct OfWeek {
    needed: u32,
    proven: bool,
    open: bool,
}

pub(super) fn count(table: &Table, draws: Draws, progress: &Progress, cancel: &Cancel) -> Result<Counted, Cancelled> {
    let (first, last) = table.span;
    let weekday = date_of(first).weekday().num_days_from_monday();
    let monday = first - i32::try_from(weekday).unwrap_or(0);
    let weeks = usize::try_from((last - monday).div_euclid(7) + 1).unwrap_or(0);
    let number = usize::try_from(draws.number).unwrap_or(usize::MAX);
    let done = AtomicUsize::new(0);
    let memories: Mutex<Vec<JudgedBefore>> = Mutex::default();
    let drawn = Mutex::new(vec![Tally::default(); weeks * POOLS.len()]);
    side_by_side(number, draws.threads, cancel, |draw| {
        let lend = || memories.lock().unwrap_or_else(PoisonError::into_inner);
        let memory = lend().pop().unwrap_or_default();
        let mut sheet = Sheet { table, monday, weeks, memory };
        let of_weeks = sheet.judge(table.courses.runs(draw));
        let full = sheet.memory.judged.len() > REMEMBERED;
        lend().push(if full { JudgedBefore::default() } else { sheet.memory });
        let mut tallies = drawn.lock().unwrap_or_else(PoisonError::into_inner);
        tallies.iter_mut().zip(of_weeks).for_each(|(tally, of_week)| tally.add(of_week));
        progress.set(done.fetch_add(1, Ordering::Relaxed) + 1, number);
    })?;
    let likely = Sheet { table, monday, weeks, memory: JudgedBefore::default() }.needed(table.courses.likely_runs());
    let drawn = drawn.into_inner().unwrap_or_else(PoisonError::into_inner);
    Ok(Counted { monday, weeks, drawn, likely })
}

/// Demands judged before, by one thread; the answer is the same whether they were or not.
#[derive(Default)]
struct JudgedBefore {
    judged: BTreeMap<Vec<(usize, u32)>, Judged>,
    found: FoundPatterns,
}

struct Sheet<'a> {
    table: &'a Table,
    monday: i32,
    weeks: usize,
    memory: JudgedBefore,
}

impl Sheet<'_> {
    /// How many of each kind there are: by day, then by kind.
    fn by_day<'a>(&self, runs: impl Iterator<Item = &'a KindRun>) -> Vec<Vec<u32>> {
        let (days, kinds) = (self.weeks * 7, self.table.weights.len());
        let mut counts = vec![vec![0_u32; kinds]; days];
        let at = |day: i32| usize::try_from(day - self.monday).unwrap_or(0).min(days);
        for run in runs {
            for day in counts.get_mut(at(run.days.from)..at(run.days.until)).unwrap_or_default() {
                if let Some(count) = day.get_mut(run.kind) {
                    *count += run.number;
                }
            }
        }
        counts
    }

    fn needed<'a>(&self, runs: impl Iterator<Item = &'a KindRun>) -> Vec<OfWeek> {
        self.needed_by(&self.by_day(runs))
    }

    /// By week and pool.
    fn needed_by(&self, by_day: &[Vec<u32>]) -> Vec<OfWeek> {
        let mut found = vec![OfWeek::default(); self.weeks * POOLS.len()];
        for (of_week, days) in found.chunks_mut(POOLS.len()).zip(by_day.chunks(7)) {
            for day in days {
                let mut needed = [0_u32; POOLS.len()];
                for (count, (pool, weight)) in day.iter().zip(&self.table.weights) {
                    if let Some(needed) = needed.get_mut(usize::from(*pool)) {
                        *needed = needed.saturating_add(count.saturating_mul(*weight));
                    }
                }
                for (of, needed) in of_week.iter_mut().zip(needed) {
                    of.needed = of.needed.max(needed);
                }
            }
        }
        found
    }

    fn judge<'a>(&mut self, runs: impl Iterator<Item = &'a KindRun>) -> Vec<OfWeek> {
        let by_day = self.by_day(runs);
        let mut found = self.needed_by(&by_day);
        for (of_week, days) in found.chunks_mut(POOLS.len()).zip(by_day.chunks(7)) {
            let Judged { proven, open } = self.judge_week(days);
            for (pool, of) in of_week.iter_mut().enumerate() {
                of.proven = proven >> pool & 1 == 1;
                of.open = open >> pool & 1 == 1;
            }
        }
        found
    }

    fn judge_week(&mut self, days: &[Vec<u32>]) -> Judged {
        let kinds = self.table.weights.len();
        let mut of_parts: BTreeMap<usize, Vec<Vec<(usize, u32)>>> = BTreeMap::new();
        for day in days {
            let mut demands: BTreeMap<usize, Vec<(usize, u32)>> = BTreeMap::new();
            for (kind, &number) in day.iter().enumerate().filter(|(_, number)| **number > 0) {
                demands.entry(self.table.days.part_of(kind)).or_default().push((kind, number));
            }
            for (part, demand) in demands {
                of_parts.entry(part).or_default().push(demand);
            }
        }
        let mut week = Judged::default();
        for demands in of_parts.into_values() {
            let mut fullest = vec![0_u32; kinds];
            for &(kind, number) in demands.iter().flatten() {
                if let Some(most) = fullest.get_mut(kind) {
                    *most = number.max(*most);
                }
            }
            // what has room for the most of each kind has room on every day
            let all: Vec<(usize, u32)> = fullest.into_iter().enumerate().filter(|(_, number)| *number > 0).collect();
            if self.has_plenty(&all) {
                continue;
            }
            for demand in fullest_of(demands) {
                let JudgedBefore { judged, found } = &mut self.memory;
                let judged = *judged.entry(demand).or_insert_with_key(|demand| self.table.days.judge(demand, found));
                week.proven |= judged.proven;
                week.open |= judged.open;
            }
        }
        week
    }

    fn has_plenty(&self, demand: &Demand) -> bool {
        self.table.days.has_plenty(demand)
    }
}

/// Without those that are part of another.
fn fullest_of(mut demands: Vec<Vec<(usize, u32)>>) -> Vec<Vec<(usize, u32)>> {
    demands.sort_unstable();
    demands.dedup();
    let number_in = |demand: &[(usize, u32)], kind: usize| {
        demand.binary_search_by_key(&kind, |(own, _)| *own).ok().and_then(|at| demand.get(at)).map_or(0, |(_, n)| *n)
    };
    let within = |a: &[(usize, u32)], b: &[(usize, u32)]| a.iter().all(|&(kind, number)| number <= number_in(b, kind));
    let is_part = |demand: &Vec<(usize, u32)>| demands.iter().any(|other| other != demand && within(demand, other));
    let kept: Vec<bool> = demands.iter().map(|demand| !is_part(demand)).collect();
    demands.into_iter().zip(kept).filter_map(|(demand, kept)| kept.then_some(demand)).collect()
}

impl Counted {
    /// By pool: every week from the first that anything stands in it to the last.
    pub(super) fn weeks(&self, season: &Season, table: &Table) -> Vec<ChanceWeek> {
        let mut weeks = Vec::new();
        for (number, pool) in table.pools.iter().enumerate() {
            let at = |week: usize| week * POOLS.len() + number;
            // the likely season is listed, not counted
            let any = |week: &usize| {
                let likely = self.likely.get(at(*week)).is_some_and(|of| of.needed > 0);
                likely || self.drawn.get(at(*week)).is_some_and(Tally::needs_any)
            };
            let (Some(first), Some(last)) = ((0..self.weeks).find(any), (0..self.weeks).rev().find(any)) else {
                continue;
            };
            for week in first..=last {
                let Some(drawn) = self.drawn.get(at(week)) else { continue };
                let monday = date_of(self.monday) + TimeDelta::weeks(i64::try_from(week).unwrap_or(0));
                weeks.push(ChanceWeek {
                    from: monday,
                    label: label(season, monday),
                    pool: pool.clone(),
                    proven: drawn.proven,
                    at_most: drawn.at_most,
                    needed: (drawn.reached_by(9), drawn.reached_by(1)),
                });
            }
        }
        weeks
    }
}

impl Tally {
    fn add(&mut self, of: OfWeek) {
        self.proven += u32::from(of.proven);
        self.at_most += u32::from(of.proven || of.open);
        *self.needed.entry(of.needed).or_default() += 1;
    }

    fn needs_any(&self) -> bool {
        self.needed.keys().any(|needed| *needed > 0)
    }

    /// The greatest figure that so many tenths of the draws reach.
    fn reached_by(&self, tenths: u64) -> u32 {
        let all: u64 = self.needed.values().copied().map(u64::from).sum();
        let reach = (all * tenths).div_ceil(10).max(1);
        let mut reached = 0;
        let reaches = |(needed, draws): (&u32, &u32)| {
            reached += u64::from(*draws);
            (reached >= reach).then_some(*needed)
        };
        self.needed.iter().rev().find_map(reaches).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_of_ten_reach_the_second_lowest_and_one_the_highest() {
        let reached = |needed: &[u32]| {
            let mut tally = Tally::default();
            for &needed in needed {
                tally.add(OfWeek { needed, ..OfWeek::default() });
            }
            (tally.reached_by(9), tally.reached_by(1))
        };
        assert_eq!(reached(&[3, 9, 1, 10, 5, 2, 6, 4, 8, 7]), (2, 10));
        assert_eq!(reached(&[4, 4, 4, 4, 4, 4, 4, 4, 4, 9]), (4, 9));
        assert_eq!((reached(&[7]), reached(&[])), ((7, 7), (0, 0)));
    }

    #[test]
    fn days_that_are_part_of_another_are_left_out() {
        let demands = vec![vec![(0, 2)], vec![(0, 2), (3, 1)], vec![(0, 3)], vec![(0, 2)]];
        assert_eq!(fullest_of(demands), [vec![(0, 2), (3, 1)], vec![(0, 3)]]);
    }
}
