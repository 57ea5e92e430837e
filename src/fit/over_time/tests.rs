//! What comes of all the steps together.

use std::num::NonZero;

use proptest::prelude::*;

use super::edited::{Asked, solve_edited};
use super::memory::{Memory, solve};
use super::one_part::solve_part;
use super::pairs::Grounds;
use crate::fit::answer::{Answer, DayVerdict, Layout, Verdict};
use crate::fit::problem::{Days, Phase, Problem};
use crate::fit::proof::prover::Prover;
use crate::fit::samples::{most_standing, problems, shelves, tray, whole};
use crate::fit::work::{Cancel, Cancelled, Progress};
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
    let crunch: Vec<Days> = answer.days.iter().filter(|run| run.verdict != Verdict::Fits).map(|run| run.days).collect();
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

/// All its items together, whether or not they have to do with each other.
fn anew(problem: &Problem) -> Answer {
    let cancel = Cancel::default();
    let prover = &mut Prover::new(&cancel);
    solve_part(problem, 300_000, prover, &Progress::default(), &cancel).expect("not cancelled")
}

/// The answer from one before, however much has changed; `None` where that is left to solving anew.
fn edited(before: &Problem, answer: &Answer, problem: &Problem) -> Option<Answer> {
    let pairs = Grounds::default().pairs(before, problem);
    let (asked, cancel) = (Asked { problem: before, answer, whole: 300_000 }, Cancel::default());
    let found = solve_edited(asked, &pairs, problem, 300_000, &mut Prover::new(&cancel), &cancel);
    let found = found.expect("not cancelled")?;
    assert_eq!(check(problem, &found.layout), Ok(()));
    Some(found)
}

/// Something is done to an item, or beside it.
fn edit(problem: &mut Problem, (what, item, by): (u8, usize, i32)) {
    let at = item % problem.items.len().max(1);
    let Some(item) = problem.items.get_mut(at) else { return };
    let shift = |days: &mut Days| *days = Days::new(days.from + by, days.until + by);
    match what {
        0 => drop(problem.items.remove(at)),
        1 => {
            let mut more = item.clone();
            more.phases.iter_mut().for_each(|phase| shift(&mut phase.days));
            problem.items.insert(at, more);
        }
        2 => item.phases.iter_mut().for_each(|phase| shift(&mut phase.days)),
        3 => item.phases.iter_mut().for_each(|phase| phase.w = (phase.w + i64::from(by)).max(1)),
        4 => item.pinned = item.wish.or(item.pinned.xor(Some(Spot { shelf: 0, x: 0, y: 0, turned: false }))),
        _ => problem.items.swap(0, at),
    }
}

/// Proofs are the same, and a day that solving anew settles is settled alike, unless it was open before.
fn agree(problem: &Problem, before: &Answer, found: &Answer) -> Result<(), TestCaseError> {
    let anew = anew(problem);
    for day in problem.change_days() {
        let (Some(one), Some(other)) = (found.on(day), anew.on(day)) else {
            prop_assert!(found.on(day).is_none() && anew.on(day).is_none());
            continue;
        };
        let open = |answer: &Answer| answer.on(day).is_some_and(|run| run.verdict == Verdict::Unsettled);
        match (&one.verdict, &other.verdict) {
            (one, other) if one == other => {}
            (Verdict::Fits, Verdict::Unsettled) => {}
            (Verdict::Unsettled, Verdict::Fits) => {
                prop_assert!(before.days.iter().any(|run| run.verdict == Verdict::Unsettled));
            }
            (one, other) => prop_assert!(false, "on {day}: {one:?}, anew {other:?}, open before: {}", open(before)),
        }
        prop_assert_eq!(one.short_least, other.short_least);
    }
    Ok(())
}

#[test]
fn a_smaller_tray_goes_where_the_larger_one_went() {
    let shelf = whole(&[(4, 1)]);
    let mut problem = Problem {
        shelves: shelves(1),
        items: vec![tray(0, 10, 2, 1, &shelf), tray(0, 5, 2, 1, &shelf), tray(5, 10, 2, 1, &shelf)],
    };
    let at = |x: i64| Spot { shelf: 0, x, y: 0, turned: false };
    let spots = vec![vec![(0, at(0)), (5, at(2))], vec![(0, at(2))], vec![(5, at(0))]];
    let fits = |from: i32, until: i32| DayVerdict {
        days: Days::new(from, until),
        verdict: Verdict::Fits,
        short_least: 0,
        short_most: 0,
    };
    let answer = Answer { layout: Layout { spots: spots.clone() }, days: vec![fits(0, 5), fits(5, 10)], work: 0 };
    let before = problem.clone();
    problem.items[0].phases = vec![Phase { days: Days::new(1, 9), w: 1, d: 1, grams: 1 }];
    let found = edited(&before, &answer, &problem).expect("nothing is in its way");
    assert_eq!(found.layout.spots, [vec![(1, at(0)), (5, at(2))], spots[1].clone(), spots[2].clone()]);
    assert!(found.is_fit());
}

#[test]
fn whoever_stood_stays_where_it_was() {
    let shelf = whole(&[(6, 2)]);
    let problem = |until: i32| {
        let mut items: Vec<_> = (0..5).map(|n| tray(n, n + 6, 2, 1, &shelf)).collect();
        items[2].phases[0].days.until = until;
        Problem { shelves: shelves(1), items }
    };
    let before = solved(&problem(8), 0);
    let found = edited(&problem(8), &before, &problem(9)).expect("there is room beside the others");
    assert!(found.is_fit());
    for other in [0, 1, 3, 4] {
        assert_eq!(found.layout.spots[other], before.layout.spots[other]);
    }
}

/// Two small ones stand where a large one is to come behind them: they make way, or all is left to solving anew.
#[test]
fn an_edit_never_leaves_a_day_open_that_was_settled() {
    let shelf = whole(&[(3, 3)]);
    let before = Problem { shelves: shelves(1), items: vec![tray(0, 4, 1, 1, &shelf); 2] };
    let mut after = before.clone();
    after.items.push(tray(0, 4, 3, 2, &shelf));
    let found = edited(&before, &solved(&before, 0), &after);
    assert!(found.is_none_or(|found| found.is_fit()));
}

/// Batches on six shelves that are full on some days.
fn batches() -> Problem {
    let shelf = whole(&[(6, 4); 6]);
    let batch = |n: i32| vec![tray(3 * n, 3 * n + 9, 2 + i64::from(n % 2), 1 + i64::from(n % 3), &shelf); 9];
    Problem { shelves: shelves(6), items: (0..9).flat_map(batch).collect() }
}

#[test]
fn a_row_of_edits_gets_one_answer_on_any_number_of_threads() {
    let mut memories: Vec<Memory> =
        [1, 2, 8].into_iter().filter_map(NonZero::new).map(|threads| Memory::mending().on_threads(threads)).collect();
    let mut problem = batches();
    let mut before = Answer::default();
    for made in [(9, 0, 0), (2, 40, 2), (0, 40, 0), (1, 41, 1), (3, 60, -1), (2, 12, -2), (1, 40, 0), (0, 7, 0)] {
        edit(&mut problem, made);
        let mut ask = |memory: &mut Memory| {
            memory.solve(&problem, 300_000, &Progress::default(), &Cancel::default()).expect("not cancelled")
        };
        let answers: Vec<Answer> = memories.iter_mut().map(&mut ask).collect();
        assert!(answers.iter().all(|other| *other == answers[0]), "{made:?}");
        assert_eq!(check(&problem, &answers[0].layout), Ok(()));
        agree(&problem, &before, &answers[0]).expect("as anew");
        before.clone_from(&answers[0]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn after_any_row_of_edits_the_answer_is_that_of_solving_anew(
        first in problems(7),
        edits in prop::collection::vec((0..6_u8, 0..9_usize, -2..4_i32), 1..8),
    ) {
        let (mut problem, mut answer) = (first.clone(), anew(&first));
        for made in edits {
            let before = problem.clone();
            edit(&mut problem, made);
            let found = edited(&before, &answer, &problem);
            if let Some(found) = &found {
                agree(&problem, &answer, found)?;
            }
            answer = found.unwrap_or_else(|| anew(&problem));
        }
    }

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
