//! What must be true of every answer, by trying everything on small shelves.

use std::thread;

use flatwright::fit::{Bound, Problem, Verdict, pack_day, prove_day};
use proptest::prelude::*;

use super::small::{fits_without_moves, most_on, present, seasons, solved};

/// Enough to settle what can be settled by looking for it.
const PLENTY: u64 = 3_000_000;

/// Of a proof's items, no more can stand than it says.
fn holds(problem: &Problem, day: i32, bound: &Bound) -> bool {
    let there = bound.items.iter().all(|&item| problem.items[item].phase_on(day).is_some());
    let most = i64::try_from(most_on(problem, day, &bound.items)).expect("a few");
    there && most <= bound.held && bound.short() > 0
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn a_day_of_six_trays_is_packed_if_and_only_if_it_can_be(problem in seasons(3, 6), day in 0..8_i32) {
        let wanted = present(&problem, day);
        let possible = most_on(&problem, day, &wanted) == wanted.len();
        prop_assert_eq!(pack_day(&problem, day, PLENTY).is_some(), possible);
        let proven = prove_day(&problem, day);
        prop_assert_eq!(proven.is_some(), !possible);
        if let Some(bound) = proven {
            prop_assert!(holds(&problem, day, &bound), "{:?}", bound);
        }
    }

    #[test]
    fn every_verdict_is_true_of_its_days(problem in seasons(1, 6)) {
        let answer = solved(&problem, 400_000);
        for run in &answer.days {
            for day in [run.days.from, run.days.until - 1] {
                let wanted = present(&problem, day);
                let short = i64::try_from(wanted.len() - most_on(&problem, day, &wanted)).expect("a few");
                prop_assert!(run.short_least <= short && short <= run.short_most, "{:?} on {}: {}", run, day, short);
                match &run.verdict {
                    Verdict::Fits => prop_assert!(answer.no_spot_on(&problem, day).is_empty()),
                    Verdict::Crunch(bound) => prop_assert!(holds(&problem, day, bound), "{:?} on {}", bound, day),
                    Verdict::Unsettled => prop_assert!(run.short_most > 0),
                }
            }
        }
    }

    #[test]
    fn one_more_stay_never_ends_a_crunch(problem in seasons(2, 7)) {
        let mut fewer = problem.clone();
        fewer.items.pop();
        let (before, after) = (solved(&fewer, 100_000), solved(&problem, 100_000));
        for run in before.days.iter().filter(|run| matches!(run.verdict, Verdict::Crunch(_))) {
            for day in run.days.from..run.days.until {
                let later = after.on(day).map(|run| &run.verdict);
                prop_assert!(matches!(later, Some(Verdict::Crunch(_))), "{}: {:?}", day, later);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn the_same_question_has_one_answer_on_any_number_of_threads(problem in seasons(4, 9), budget in 0..300_000_u64) {
        let once = solved(&problem, budget);
        prop_assert_eq!(&solved(&problem, budget), &once);
        for threads in [2, 8] {
            let answers = thread::scope(|scope| {
                let asked: Vec<_> = (0..threads).map(|_| scope.spawn(|| solved(&problem, budget))).collect();
                asked.into_iter().map(|one| one.join().expect("no panic")).collect::<Vec<_>>()
            });
            prop_assert!(answers.iter().all(|answer| *answer == once));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn what_fits_without_a_move_is_found_to_fit_so(problem in seasons(2, 6)) {
        let answer = solved(&problem, PLENTY);
        let found = answer.is_fit() && answer.layout.moves() == 0;
        prop_assert_eq!(found, fits_without_moves(&problem));
    }

    #[test]
    fn one_stay_less_never_ends_a_fit(problem in seasons(2, 6), out in any::<prop::sample::Index>()) {
        let before = solved(&problem, PLENTY);
        let mut fewer = problem.clone();
        fewer.items.remove(out.index(problem.items.len()));
        let after = solved(&fewer, PLENTY);
        for run in before.days.iter().filter(|run| run.verdict == Verdict::Fits) {
            let crunch = |day| after.on(day).is_some_and(|run| matches!(run.verdict, Verdict::Crunch(_)));
            prop_assert!(!(run.days.from..run.days.until).any(crunch));
        }
        prop_assert!(after.is_fit() || !before.is_fit());
    }
}
