//! The answer to a part of a problem, all its items together.
//!
//! First one spot for each item for all its days: if that works out, nobody moves. Else `moves`
//! goes through the days. A day is called fit because of the layout alone, and a crunch because of
//! a bound alone; [`check()`](crate::fit::check()) has accepted every layout that leaves here.

use super::fewer::fewer_moves;
use super::fewest::{all_days, as_placed, fewest_moves};
use super::moves::Walk;
use crate::fit::answer::{Answer, DayVerdict, Layout, Verdict};
use crate::fit::check::{Fault, faults};
use crate::fit::place::ejection::{STIRRED, eject, tidy};
use crate::fit::place::exhaust::{Exhausted, exhaust};
use crate::fit::place::greedy::greedy;
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::{Attempt, Placement};
use crate::fit::place::press::press;
use crate::fit::problem::{Days, Item, Problem, Spot};
use crate::fit::proof::prover::Prover;
use crate::fit::work::{Cancel, Cancelled, Progress};

/// Work for each job on a layout without a move; if that is not enough, more would hardly be.
const MOST_PER_JOB: u64 = 8_000_000;
/// Work on that where a day can't fit anyway.
const MOST_CRUNCHED: u64 = 7_500_000;
/// Work on days and moves, likewise.
const MOST_WALK: u64 = 50_000_000;
/// Work on fewer moves, once the days are gone through.
const MOST_JOINED: u64 = 20_000_000;
/// Work on a handful of jobs, of which every layout is tried.
const MOST_TRIED: u64 = 5_000_000;
/// One of so many parts of all work goes to a first try with spots drawn, and with spots weighed, before it is asked
/// whether a day can't fit: some days are hard to tell of, and their layout is soon found.
const FIRST: (u64, u64) = (64, 16);
/// More jobs than this are pressed into what is there, and not from nothing.
const MOST_AFRESH: usize = 1_000;

pub(super) fn solve_part(
    problem: &Problem,
    budget: u64,
    prover: &mut Prover,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Answer, Cancelled> {
    progress.set(0, 2);
    let mut lattices = Lattices::new(cancel);
    let ever = Days::new(i32::MIN, i32::MAX);
    let list = problem.items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, ever)).collect();
    let jobs = Jobs::new(list, &mut lattices);
    cancel.check()?;
    let first = Attempt { jobs: &jobs, shelves: &problem.shelves, enough: 0, budget, cancel };
    let found = without_moves(problem, first, prover)?;
    progress.set(1, 2);
    let mut spots = vec![None; problem.items.len()];
    for (job, spot) in jobs.list.iter().zip(found.spots) {
        if let Some(slot) = spots.get_mut(job.item) {
            *slot = spot;
        }
    }
    let mut work = found.work;
    let mut layout = if spots.iter().all(Option::is_some) {
        without_a_move(problem, &spots)
    } else if let Some(fewest) = fewest_moves(problem, &all_days(problem), usize::MAX, cancel) {
        fewest
    } else {
        let left = budget.saturating_sub(work).min(MOST_WALK);
        let walk = Walk::new(problem, spots, Some(prover), &mut lattices, left, cancel);
        let (walked, left_after) = walk.run(progress)?;
        let (walked, joined) = fewer_moves(problem, walked, &mut lattices, (budget / 8).min(MOST_JOINED), cancel)?;
        work += left - left_after + joined;
        fewest_moves(problem, &as_placed(&walked), walked.moves(), cancel).unwrap_or(walked)
    };
    cancel.check()?;
    drop_faulty(problem, &mut layout, cancel)?;
    let days = verdicts(problem, &layout, prover, cancel)?;
    cancel.check()?;
    progress.set(1, 1);
    Ok(Answer { layout, days, work })
}

fn without_a_move(problem: &Problem, spots: &[Option<Spot>]) -> Layout {
    let first = |(item, spot): (&Item, &Option<Spot>)| spot.map(|spot| (item.days().from, spot)).into_iter().collect();
    Layout { spots: problem.items.iter().zip(spots).map(first).collect() }
}

/// One spot for each job, for all its days, or for as many as are found.
fn without_moves(problem: &Problem, attempt: Attempt<'_>, prover: &mut Prover) -> Result<Placement, Cancelled> {
    let Attempt { jobs, budget, cancel, .. } = attempt;
    let first = greedy(attempt)?;
    if jobs.left_out(&first.spots) == 0 {
        return Ok(first);
    }
    let tried = exhaust(attempt.with_budget((budget / 4).min(MOST_TRIED)));
    cancel.check()?;
    if let Exhausted::Fits(spots) = tried {
        let spots: Vec<_> = spots.into_iter().map(Some).collect();
        return Ok(Placement { spots: tidy(attempt, &spots)?, ..first });
    }
    let busiest = busiest_days(problem);
    let mut found = first;
    let mut worst = 0;
    for &day in &busiest {
        cancel.check()?;
        worst = worst.max(prover.day(problem, day).short);
    }
    if worst == 0 {
        let more = eject(attempt.with_budget(budget / FIRST.0), &found.spots, STIRRED)?;
        found = Placement { work: found.work + more.work, ..more };
        if tried == Exhausted::Open {
            found = pressed(attempt.with_budget(budget / FIRST.1), found, 0)?;
        }
        if jobs.left_out(&found.spots) == 0 {
            return Ok(Placement { spots: tidy(attempt, &found.spots)?, ..found });
        }
    }
    // No layout can do better than the worst day.
    for &day in &busiest {
        cancel.check()?;
        worst = worst.max(prover.day_by_prices(problem, day).short);
    }
    let enough = u64::try_from(worst).unwrap_or(0);
    let most = MOST_PER_JOB.saturating_mul(jobs.list.len() as u64);
    if enough > 0 || tried == Exhausted::Never {
        let share = (budget / 8).min(MOST_CRUNCHED).min(most);
        let more = eject(Attempt { enough, budget: share, ..attempt }, &found.spots, STIRRED)?;
        found = Placement { work: found.work + more.work, ..more };
    } else {
        let share = (budget - budget / 4).min(most).saturating_sub(found.work);
        found = pressed(attempt.with_budget(share), found, 1)?;
    }
    Ok(Placement { spots: tidy(attempt, &found.spots)?, ..found })
}

/// Pressed from nothing but what is pinned, or, where there are many or somebody has a wish, from what was found.
fn pressed(attempt: Attempt<'_>, found: Placement, run: u64) -> Result<Placement, Cancelled> {
    let jobs = attempt.jobs;
    let settled = jobs.list.len() > MOST_AFRESH || jobs.list.iter().any(|job| job.wish.is_some());
    let kept = |(job, spot): (&Job, &Option<Spot>)| spot.filter(|_| settled || job.fixed);
    let start: Vec<_> = jobs.list.iter().zip(&found.spots).map(kept).collect();
    let pressed = press(attempt, &start, run)?;
    let better = jobs.left_out(&pressed.spots) < jobs.left_out(&found.spots);
    let spots = if better { pressed.spots } else { found.spots };
    Ok(Placement { spots, work: found.work + pressed.work })
}

/// The days with the most surface wanted, most first; a fair guess at the worst ones.
fn busiest_days(problem: &Problem) -> Vec<i32> {
    let mut changes: Vec<(i32, i128)> = Vec::new();
    for phase in problem.items.iter().flat_map(|item| &item.phases) {
        let side = |length: i64| i128::from(length.clamp(0, 1 << 40));
        changes.push((phase.days.from, side(phase.w) * side(phase.d)));
        changes.push((phase.days.until, -side(phase.w) * side(phase.d)));
    }
    changes.sort_unstable();
    let mut sum = 0;
    let mut days: Vec<(i128, i32)> = Vec::new();
    for today in changes.chunk_by(|a, b| a.0 == b.0) {
        sum += today.iter().map(|(_, change)| change).sum::<i128>();
        days.extend(today.first().map(|&(day, _)| (-sum, day)));
    }
    days.sort_unstable();
    days.into_iter().map(|(_, day)| day).take(12).collect()
}

/// A layout with a fault must not leave: whoever is part of one goes without a spot instead.
fn drop_faulty(problem: &Problem, layout: &mut Layout, cancel: &Cancel) -> Result<(), Cancelled> {
    loop {
        let faults = faults(problem, layout, cancel)?;
        if faults.is_empty() {
            return Ok(());
        }
        debug_assert!(false, "the solver made a faulty layout: {faults:?}");
        layout.spots.resize(problem.items.len(), Vec::new());
        for fault in faults {
            let items = match fault {
                Fault::Lists { .. } => Vec::new(),
                Fault::OutsideDays { item, .. }
                | Fault::OutOfOrder { item, .. }
                | Fault::OutsideRegions { item, .. }
                | Fault::NotAsPinned { item, .. } => vec![item],
                Fault::Overlap { a, b, .. } => vec![a, b],
                Fault::Overload { items, .. } | Fault::Overcover { items, .. } => items,
            };
            for item in items {
                if let Some(spots) = layout.spots.get_mut(item) {
                    spots.clear();
                }
            }
        }
    }
}

fn verdicts(
    problem: &Problem,
    layout: &Layout,
    prover: &mut Prover,
    cancel: &Cancel,
) -> Result<Vec<DayVerdict>, Cancelled> {
    let mut bounds = problem.change_days();
    bounds.extend(layout.spots.iter().flatten().map(|&(from, _)| from));
    bounds.sort_unstable();
    bounds.dedup();
    let waiting = layout.without_spot(problem, &bounds);
    let mut runs = Vec::new();
    for ((&from, &until), &waiting) in bounds.iter().zip(bounds.iter().skip(1)).zip(&waiting) {
        cancel.check()?;
        runs.push(verdict_of(problem, Days::new(from, until), waiting, prover));
    }
    Ok(runs)
}

/// What is known of a run of days on which so many wait.
pub(super) fn verdict_of(problem: &Problem, days: Days, waiting: usize, prover: &mut Prover) -> DayVerdict {
    let mut short_most = i64::try_from(waiting).unwrap_or(i64::MAX);
    if short_most == 0 {
        return DayVerdict { days, verdict: Verdict::Fits, short_least: 0, short_most };
    }
    let mut proof = prover.day(problem, days.from);
    if proof.short < short_most {
        proof = prover.day_by_prices(problem, days.from);
    }
    let short_least = proof.short.min(short_most);
    if short_least > 0 && short_least < short_most && prover.can_leave_out_so_few(problem, days.from) {
        short_most = short_least;
    }
    let verdict = proof.bound.map_or(Verdict::Unsettled, Verdict::Crunch);
    DayVerdict { days, verdict, short_least, short_most }
}
