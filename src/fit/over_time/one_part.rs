//! A layout over all days, and for each day whether it fits, cannot, or is unsettled.
//!
//! First one spot for each item for all its days: if that works out, nobody moves. Else `moves`
//! goes through the days. A day is called fit because of the layout alone, and a crunch because of
//! a bound alone; [`check()`](crate::fit::check()) has accepted every layout that leaves here.

use super::memory::Memory;
use super::moves::Walk;
use crate::fit::check::{Fault, faults};
use crate::fit::place::ejection::{eject, tidy};
use crate::fit::place::greedy::{Found, STIRRED, greedy};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::problem::{Days, Layout, Problem};
use crate::fit::proof::counts::Bound;
use crate::fit::proof::prover::Prover;
use crate::fit::work::{Cancel, Cancelled, Progress};

/// Work for each job on a layout without a move; if that is not enough, more would hardly be.
const MOST_PER_JOB: u64 = 1_000_000;

/// A layout and what it means for each day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    pub layout: Layout,
    /// In order and without gaps, from the first item's first day to the last one's end.
    pub days: Vec<DayVerdict>,
    /// What it took, in the unit of the budget.
    pub work: u64,
}

/// What is known of a run of days on which nothing changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayVerdict {
    pub days: Days,
    pub verdict: Verdict,
    /// At least so many items can't stand, proven.
    pub short_least: i64,
    /// No more than so many need be left out that day, if everything may be moved for it; the
    /// layout may leave out more.
    pub short_most: i64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Every item of the day has a spot in the layout.
    Fits,
    /// Not every item of the day can have a spot, whatever is moved.
    Crunch(Bound),
    /// Neither a packing nor a proof was found.
    Unsettled,
}

impl Answer {
    pub fn is_fit(&self) -> bool {
        self.days.iter().all(|run| run.verdict == Verdict::Fits)
    }

    /// What is known of a day; `None` outside all items' days.
    pub fn on(&self, day: i32) -> Option<&DayVerdict> {
        self.days.iter().find(|run| run.days.contains(day))
    }

    /// The items that want a spot on a day and have none in the layout.
    pub fn no_spot_on(&self, problem: &Problem, day: i32) -> Vec<usize> {
        self.layout.no_spot_on(problem, day)
    }
}

/// Spots for all items over their days, and a verdict for every day.
///
/// The budget counts looks at obstacles while searching, some hundred million a second, for each
/// part of the problem that has nothing to do with the others; the first pass is always finished.
/// Same problem and same budget: same answer.
///
/// # Errors
/// [`Cancelled`] once the work is no longer wanted.
pub fn solve(problem: &Problem, budget: u64, progress: &Progress, cancel: &Cancel) -> Result<Answer, Cancelled> {
    Memory::default().solve(problem, budget, progress, cancel)
}

/// One part, all its items together.
pub(in crate::fit) fn solve_part(
    problem: &Problem,
    budget: u64,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Answer, Cancelled> {
    progress.set(0, 2);
    let mut lattices = Lattices::new(cancel);
    let mut prover = Prover::new(cancel);
    let ever = Days::new(i32::MIN, i32::MAX);
    let list = problem.items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, ever)).collect();
    let jobs = Jobs::new(list, &mut lattices);
    cancel.check()?;
    let mut found = greedy(&jobs, &problem.shelves, 0, budget, cancel)?;
    if jobs.left_out(&found.spots) > 0 {
        // No layout can do better than the worst day.
        let mut worst = 0;
        for day in busiest_days(problem) {
            cancel.check()?;
            worst = worst.max(prover.day_by_prices(problem, day).short);
        }
        let worst = u64::try_from(worst).unwrap_or(0);
        let share = if worst > 0 { budget / 8 } else { budget - budget / 4 };
        let share = share.min(MOST_PER_JOB.saturating_mul(jobs.list.len() as u64)).saturating_sub(found.work);
        let more = eject(&jobs, &problem.shelves, &found.spots, (worst, STIRRED), share, cancel)?;
        let spots = tidy(&jobs, &problem.shelves, &more.spots, cancel)?;
        found = Found { spots, work: found.work + more.work };
    }
    progress.set(1, 2);
    let mut spots = vec![None; problem.items.len()];
    for (job, spot) in jobs.list.iter().zip(found.spots) {
        if let Some(slot) = spots.get_mut(job.item) {
            *slot = spot;
        }
    }
    let left = budget.saturating_sub(found.work);
    let walk = Walk::new(problem, spots, &mut prover, &mut lattices, left, cancel);
    let (mut layout, left_after) = walk.run(progress)?;
    drop_faulty(problem, &mut layout, cancel)?;
    let days = verdicts(problem, &layout, &mut prover, cancel)?;
    cancel.check()?;
    progress.set(1, 1);
    Ok(Answer { layout, days, work: found.work + (left - left_after) })
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
        let mut short_most = i64::try_from(waiting).unwrap_or(i64::MAX);
        let mut short_least = 0;
        let verdict = if short_most == 0 {
            Verdict::Fits
        } else {
            let mut proof = prover.day(problem, from);
            if proof.short < short_most {
                proof = prover.day_by_prices(problem, from);
            }
            short_least = proof.short.min(short_most);
            if short_least > 0 && short_least < short_most && prover.can_leave_out_so_few(problem, from) {
                short_most = short_least;
            }
            proof.bound.map_or(Verdict::Unsettled, Verdict::Crunch)
        };
        runs.push(DayVerdict { days: Days::new(from, until), verdict, short_least, short_most });
    }
    Ok(runs)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fit::samples::{most_standing, problems, shelves, tray, whole};
    use crate::fit::{Spot, check, pack_day};

    fn solved(problem: &Problem, budget: u64) -> Answer {
        let answer = solve(problem, budget, &Progress::default(), &Cancel::default()).expect("not cancelled");
        assert_eq!(check(problem, &answer.layout), Ok(()));
        answer
    }

    /// As many flats at a time as the shelf holds, one coming as another goes: nobody moves.
    #[test]
    fn alike_flats_never_move_while_no_day_has_more_than_spots() {
        let shelf = whole(&[(610, 1219)]);
        let items: Vec<_> = (0..40).map(|n| tray(n, n + 4, 545, 278, &shelf)).collect();
        let answer = solved(&Problem { shelves: shelves(1), items }, 0);
        assert!(answer.is_fit());
        assert_eq!(answer.layout.moves(), 0);
    }

    #[test]
    fn a_fifth_flat_is_a_crunch_for_just_the_days_it_is_there() {
        let shelf = whole(&[(610, 1219)]);
        let mut items = vec![tray(0, 10, 545, 278, &shelf); 4];
        items.push(tray(4, 6, 545, 278, &shelf));
        let answer = solved(&Problem { shelves: shelves(1), items }, 1_000_000);
        let crunch: Vec<Days> =
            answer.days.iter().filter(|run| run.verdict != Verdict::Fits).map(|run| run.days).collect();
        assert_eq!(crunch, [Days::new(4, 6)]);
        let run = answer.on(5).expect("a day of the problem");
        assert!(matches!(&run.verdict, Verdict::Crunch(bound) if bound.held == 4));
        assert_eq!((run.short_least, run.short_most), (1, 1));
    }

    /// One long tray is wanted where two short ones, far apart, are left over from a full shelf.
    #[test]
    fn a_tray_moves_only_where_that_makes_the_day_fit() {
        let shelf = whole(&[(4, 1)]);
        let spot = |x: i64| Some(Spot { shelf: 0, x, y: 0, turned: false });
        let mut items = vec![
            tray(0, 9, 1, 1, &shelf),
            tray(0, 3, 1, 1, &shelf),
            tray(0, 9, 1, 1, &shelf),
            tray(0, 3, 1, 1, &shelf),
            tray(3, 9, 2, 1, &shelf),
        ];
        for (item, x) in items.iter_mut().zip(0..4) {
            item.wish = spot(x);
        }
        // With spots free to choose, nobody needs to move.
        let free = solved(&Problem { shelves: shelves(1), items: items.clone() }, 1_000_000);
        assert!(free.is_fit());
        assert_eq!(free.layout.moves(), 0);
        // Pinned apart, no choice is left.
        for item in items.iter_mut().take(4) {
            item.pinned = item.wish;
        }
        let pinned = solved(&Problem { shelves: shelves(1), items }, 1_000_000);
        assert!(!pinned.is_fit());
    }

    /// Whichever spot it has at first, the tray is in the way later: two others, pinned, come one
    /// after the other to both ends of the shelf.
    #[test]
    fn a_tray_that_must_move_does_and_keeps_its_spot_before() {
        let shelf = whole(&[(2, 1)]);
        let mut items = vec![tray(0, 9, 1, 1, &shelf), tray(1, 3, 1, 1, &shelf), tray(5, 9, 1, 1, &shelf)];
        items[1].pinned = Some(Spot { shelf: 0, x: 0, y: 0, turned: false });
        items[2].pinned = Some(Spot { shelf: 0, x: 1, y: 0, turned: false });
        let answer = solved(&Problem { shelves: shelves(1), items }, 1_000_000);
        assert!(answer.is_fit(), "{answer:?}");
        assert_eq!(answer.layout.moves(), 1);
    }

    #[test]
    fn a_legal_wish_is_kept() {
        let shelf = whole(&[(10, 10)]);
        let mut item = tray(0, 5, 3, 2, &shelf);
        let wish = Spot { shelf: 0, x: 4, y: 5, turned: true };
        item.wish = Some(wish);
        let answer = solved(&Problem { shelves: shelves(1), items: vec![item] }, 0);
        assert_eq!(answer.layout.spots, [vec![(0, wish)]]);
    }

    #[test]
    fn a_tray_waits_for_room_and_stands_as_soon_as_there_is_some() {
        let shelf = whole(&[(5, 5)]);
        let items = vec![tray(0, 4, 5, 5, &shelf), tray(2, 8, 5, 5, &shelf)];
        let answer = solved(&Problem { shelves: shelves(1), items }, 100_000);
        assert_eq!(answer.days.iter().filter(|run| run.verdict == Verdict::Fits).count(), 2);
        assert_eq!(answer.layout.spots.iter().filter(|spots| !spots.is_empty()).count(), 2);
    }

    #[test]
    fn cancelled_work_says_so() {
        let cancel = Cancel::default();
        cancel.cancel();
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 1, 1, 1, &whole(&[(2, 2)]))] };
        assert_eq!(solve(&problem, 1_000, &Progress::default(), &cancel), Err(Cancelled));
    }

    #[test]
    fn nonsense_gets_no_spot_and_breaks_nothing() {
        let shelf = whole(&[(10, 10)]);
        let mut backwards = tray(0, 5, 1, 1, &shelf);
        backwards.phases.push(crate::fit::Phase { days: Days::new(9, 2), ..backwards.phases[0] });
        let mut empty = tray(0, 5, 1, 1, &shelf);
        empty.phases.clear();
        let mut nowhere = tray(0, 5, 1, 1, &shelf);
        nowhere.pinned = Some(Spot { shelf: usize::MAX, x: i64::MAX, y: i64::MIN, turned: true });
        let items = vec![
            backwards,
            empty,
            nowhere,
            tray(0, 5, 0, -1, &shelf),
            tray(i32::MIN, i32::MAX, i64::MAX, 1, &shelf),
            tray(i32::MIN, i32::MAX, 1, 1, &whole(&[(i64::MAX, i64::MAX)])),
            tray(0, 5, 1, 1, &whole(&[])),
        ];
        let answer = solved(&Problem { shelves: shelves(1), items }, 10_000);
        assert!(!answer.is_fit());
        assert!(solved(&Problem::default(), 0).is_fit());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]
        #[test]
        fn every_layout_is_accepted_and_every_verdict_is_true(problem in problems(5)) {
            let answer = solved(&problem, 300_000);
            for run in &answer.days {
                let day = run.days.from;
                let present: Vec<usize> =
                    (0..problem.items.len()).filter(|&n| problem.items[n].phase_on(day).is_some()).collect();
                let most = most_standing(&problem, day, &present);
                let short = i64::try_from(present.len() - most).unwrap();
                prop_assert!(run.short_least <= short && short <= run.short_most);
                match &run.verdict {
                    Verdict::Fits => prop_assert!(answer.no_spot_on(&problem, day).is_empty()),
                    Verdict::Crunch(_) => prop_assert!(short > 0),
                    Verdict::Unsettled => prop_assert!(run.short_most > 0),
                }
            }
        }

        #[test]
        fn same_problem_and_budget_give_the_same_answer(problem in problems(8), budget in 0..400_000_u64) {
            prop_assert_eq!(solved(&problem, budget), solved(&problem, budget));
            if let Some(day) = problem.change_days().first() {
                prop_assert_eq!(pack_day(&problem, *day, budget), pack_day(&problem, *day, budget));
            }
        }
    }
}
