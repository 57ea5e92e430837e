//! What comes of all the steps together.

use proptest::prelude::*;

use super::memory::solve;
use crate::fit::answer::{Answer, Verdict};
use crate::fit::problem::{Days, Problem};
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
