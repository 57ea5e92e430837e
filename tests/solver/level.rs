//! Resource levelling against every choice tried out, and what always holds.

use std::thread;
use std::time::{Duration, Instant};

use flatwright::fit::{
    Batch, Cancel, Choice, Closest, DailyCapacity, Days, LevelError, LevelProblem, Levelled, NoGood, Progress, Term,
    Use, closest, level,
};
use proptest::prelude::*;

const BUDGET: u64 = 50_000_000;

fn solve(problem: &LevelProblem) -> Levelled {
    level(problem, &[], BUDGET, &Cancel::default(), &Progress::default()).unwrap()
}

fn solve_closest(problem: &LevelProblem) -> Closest {
    closest(problem, &[], BUDGET, &Cancel::default(), &Progress::default()).unwrap()
}

fn used(resource: usize, from: i32, until: i32, amount: i64) -> Use {
    Use { resource, days: Days::new(from, until), amount }
}

fn choice(cost: i64, uses: &[Use]) -> Choice {
    Choice { cost, uses: uses.to_vec() }
}

fn room(usual: i64) -> Vec<DailyCapacity> {
    vec![DailyCapacity { usual, other: Vec::new() }]
}

/// Cost and lack in units × days, and the most units short on a day, day by day; shares nothing with the program.
fn judged(problem: &LevelProblem, chosen: &[usize]) -> (i64, i64, i64) {
    let taken: Vec<&Choice> = problem.batches.iter().zip(chosen).map(|(batch, &n)| &batch.choices[n]).collect();
    let days = taken.iter().flat_map(|choice| &choice.uses).map(|used| used.days);
    let (first, last) = (days.clone().map(|d| d.from).min().unwrap_or(0), days.map(|d| d.until).max().unwrap_or(0));
    let (mut lack, mut worst) = (0, 0);
    for (number, resource) in problem.resources.iter().enumerate() {
        for day in first..last {
            let mut there = resource.usual;
            for (days, amount) in &resource.other {
                if days.from <= day && day < days.until {
                    there = *amount;
                }
            }
            let uses = taken.iter().flat_map(|choice| &choice.uses);
            let here = uses.filter(|used| used.resource == number && used.days.from <= day && day < used.days.until);
            let over = (here.map(|used| used.amount).sum::<i64>() - there).max(0);
            lack += over;
            worst = worst.max(over);
        }
    }
    for nogood in &problem.nogoods {
        if nogood.terms.iter().all(|term| term.choices.contains(&chosen[term.batch])) {
            lack += nogood.short.max(1);
        }
    }
    (taken.iter().map(|choice| choice.cost).sum(), lack, worst)
}

/// The least cost of what fits, and the least lack, of all choices there are.
fn tried(problem: &LevelProblem) -> (Option<i64>, i64) {
    let (mut cheapest, mut least) = (None::<i64>, i64::MAX);
    let mut chosen = vec![0; problem.batches.len()];
    loop {
        let (cost, lack, _) = judged(problem, &chosen);
        least = least.min(lack);
        if lack == 0 {
            cheapest = Some(cheapest.map_or(cost, |known| known.min(cost)));
        }
        let Some(next) = (0..chosen.len()).find(|&n| chosen[n] + 1 < problem.batches[n].choices.len()) else {
            return (cheapest, least);
        };
        chosen[..next].fill(0);
        chosen[next] += 1;
    }
}

#[test]
fn trying_everything_knows_what_a_hand_can_count() {
    let batch = |cost| Batch { choices: vec![choice(0, &[used(0, 0, 2, 3)]), choice(cost, &[used(0, 2, 4, 3)])] };
    let mut problem = LevelProblem { resources: room(5), batches: vec![batch(4), batch(7)], nogoods: Vec::new() };
    assert_eq!(tried(&problem), (Some(4), 0));
    problem.batches.push(batch(1));
    assert_eq!(tried(&problem), (None, 2));
}

/// A season of batches as growers have them: plugs, then pots until the day they go out.
fn season(seed: &mut impl FnMut(i64) -> i64, batches: usize, slip: i64, delay: i64, tightness: i64) -> LevelProblem {
    let mut problem = LevelProblem { resources: room(0), ..LevelProblem::default() };
    let mut mid = 0;
    for _ in 0..batches {
        let (sow0, plug_days, weight) = (seed(40), 20 + seed(20), 1 + seed(3));
        let (plug, pots) = (500 + seed(3000), seed(4) > 0);
        let pot = if pots { plug * (2 + seed(3)) + seed(500) } else { 0 };
        let out = sow0 + plug_days + 10 + seed(30);
        mid += plug.max(pot);
        let mut batch = Batch::default();
        for sow in sow0 - slip..=sow0 + slip {
            for late in 0..=if pots { delay } else { 0 } {
                let moved = (sow + plug_days + late).min(out);
                let day = |day: i64| i32::try_from(day).unwrap();
                let uses = if pots {
                    vec![used(0, day(sow), day(moved), plug), used(0, day(moved), day(out), pot)]
                } else {
                    vec![used(0, day(sow), day(out - sow0 + sow), plug)]
                };
                batch.choices.push(Choice { cost: weight * ((sow - sow0).abs() + late), uses });
            }
        }
        problem.batches.push(batch);
    }
    problem.resources[0].usual = mid * tightness / 100;
    problem
}

fn numbers(seed: u64) -> impl FnMut(i64) -> i64 {
    let mut state = seed;
    move |below| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(state >> 33).unwrap() % below
    }
}

#[track_caller]
fn check_against_all(problem: &LevelProblem) {
    let (cheapest, least) = tried(problem);
    let found = solve(problem);
    assert!(found.is_proven, "{problem:?}");
    assert_eq!(found.cost, cheapest, "{problem:?}");
    if let Some(chosen) = &found.chosen {
        assert_eq!(judged(problem, chosen), (cheapest.unwrap(), 0, 0), "{problem:?}");
        assert_eq!(found.at_least, cheapest.unwrap());
    }
    let near = solve_closest(problem);
    let (cost, lack, worst) = judged(problem, &near.chosen);
    assert_eq!((near.lack, near.at_least, lack), (least, least, least), "{problem:?}");
    assert_eq!(near.levels.cost, cost);
    assert_eq!(near.levels.over.iter().map(|over| over.by).max().unwrap_or(0), worst);
    assert_eq!(near.limit.is_some(), !near.levels.over.is_empty());
}

#[test]
fn small_seasons_are_as_cheap_as_can_be() {
    for seed in 0..60 {
        let mut numbers = numbers(seed);
        let (batches, tightness) = (3 + numbers(2), 50 + numbers(45));
        check_against_all(&season(&mut numbers, usize::try_from(batches).unwrap(), 1, 3, tightness));
    }
}

fn uses() -> impl Strategy<Value = Vec<Use>> {
    let one = (0..2_usize, 0..6, 0..5, 0..6_i64)
        .prop_map(|(resource, from, long, amount)| used(resource, from, from + long, amount));
    prop::collection::vec(one, 0..3)
}

/// Anything that the types can say, small enough to try every choice.
fn anything() -> impl Strategy<Value = LevelProblem> {
    let batch = prop::collection::vec((-3..9_i64, uses()), 1..5)
        .prop_map(|choices| Batch { choices: choices.into_iter().map(|(cost, uses)| Choice { cost, uses }).collect() });
    let other = prop::collection::vec((0..8, 0..5, 0..12_i64), 0..3)
        .prop_map(|days| days.into_iter().map(|(from, long, there)| (Days::new(from, from + long), there)).collect());
    let resource = (0..14_i64, other).prop_map(|(usual, other)| DailyCapacity { usual, other });
    let terms = prop::collection::vec((0..5_usize, prop::collection::vec(0..4_usize, 0..4)), 1..4);
    (prop::collection::vec(batch, 1..6), [resource.clone(), resource], prop::collection::vec((terms, 0..9_i64), 0..4))
        .prop_map(|(batches, resources, nogoods)| {
            let within = |(batch, choices): (usize, Vec<usize>)| {
                let batch = batch % batches.len();
                Term { batch, choices: choices.into_iter().map(|n| n % batches[batch].choices.len()).collect() }
            };
            let nogoods = nogoods
                .into_iter()
                .map(|(terms, short)| NoGood { terms: terms.into_iter().map(within).collect(), short })
                .collect();
            LevelProblem { resources: resources.to_vec(), nogoods, batches }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_the_problem_the_answer_is_that_of_trying_everything(problem in anything()) {
        check_against_all(&problem);
    }
}

#[test]
fn seasons_of_thirty_batches_are_proven() {
    for seed in 0..4 {
        let problem = season(&mut numbers(seed), 30, 7, 28, 55);
        let found = solve(&problem);
        assert!(found.is_proven, "seed {seed}");
        let chosen = found.chosen.unwrap();
        assert_eq!(judged(&problem, &chosen), (found.cost.unwrap(), 0, 0), "seed {seed}");
        // The same again, and from its own answer.
        let again = level(&problem, &chosen, BUDGET, &Cancel::default(), &Progress::default()).unwrap();
        assert_eq!((again.cost, again.is_proven), (found.cost, true), "seed {seed}");
        assert_eq!(solve(&problem).chosen, Some(chosen), "seed {seed}");
    }
}

/// Down to a room that holds nothing any more.
#[test]
fn less_room_never_costs_less() {
    let mut problem = season(&mut numbers(3), 12, 4, 10, 60);
    let mut before = solve(&problem).cost.unwrap();
    for _ in 0..12 {
        problem.resources[0].usual -= problem.resources[0].usual / 50;
        let found = solve(&problem);
        assert!(found.is_proven);
        let Some(cost) = found.cost else {
            let near = solve_closest(&problem);
            assert!(near.at_least > 0 && near.limit.is_some());
            return;
        };
        assert!(cost >= before);
        before = cost;
    }
}

/// What a finer check refuses is not proposed again, and the next answer costs as little as can be.
#[test]
fn a_refused_answer_is_not_proposed_again() {
    let mut problem = season(&mut numbers(5), 4, 1, 3, 90);
    let mut costs = Vec::new();
    for _ in 0..8 {
        let found = solve(&problem);
        let chosen = found.chosen.unwrap();
        costs.push(found.cost.unwrap());
        let terms = chosen.iter().enumerate().map(|(batch, &n)| Term { batch, choices: vec![n] }).collect();
        problem.nogoods.push(NoGood { terms, short: 1 });
        assert_eq!(solve(&problem).cost, tried(&problem).0);
    }
    assert!(costs.is_sorted(), "{costs:?}");
}

#[test]
fn a_single_day_that_is_too_full_is_named() {
    let batch = || Batch { choices: vec![choice(0, &[used(0, 3, 6, 4)]), choice(1, &[used(0, 4, 7, 4)])] };
    let mut problem = LevelProblem { resources: room(100), batches: vec![batch(), batch(), batch()], nogoods: vec![] };
    problem.resources[0].other.push((Days::new(5, 6), 10));
    let found = solve(&problem);
    assert_eq!((found.is_proven, found.chosen), (true, None));
    let near = solve_closest(&problem);
    let limit = near.limit.unwrap();
    assert_eq!((near.lack, near.at_least, near.levels.cost), (2, 2, 0));
    assert_eq!((limit.resource, limit.day, limit.capacity, limit.used, limit.least), (0, 5, 10, 12, 12));
}

/// Two ways to lack 6 in all: 6 on one day, or 2 on each of three.
#[test]
fn of_equal_lacks_the_lower_worst_day_is_taken_and_then_the_cheaper() {
    let flat = used(0, 0, 3, 7);
    let problem = LevelProblem {
        resources: room(5),
        batches: vec![Batch {
            choices: vec![choice(0, &[used(0, 0, 1, 11)]), choice(9, &[flat]), choice(8, &[flat, used(0, 5, 6, 5)])],
        }],
        nogoods: Vec::new(),
    };
    let near = solve_closest(&problem);
    assert_eq!((near.lack, near.levels.cost, near.chosen), (6, 8, vec![2]));
}

#[test]
fn a_cancelled_run_keeps_what_it_has() {
    let problem = season(&mut numbers(1), 30, 7, 28, 45);
    let cancel = Cancel::default();
    cancel.cancel();
    let start = solve(&problem).chosen.unwrap();
    let found = level(&problem, &start, BUDGET, &cancel, &Progress::default()).unwrap();
    assert_eq!((found.chosen, found.is_stopped), (Some(start.clone()), true));
    let near = closest(&problem, &start, BUDGET, &cancel, &Progress::default()).unwrap();
    assert_eq!((near.lack, near.is_stopped), (0, true));
}

/// None of so many choices replaces another, so each is held against all the others before anything is sought.
#[test]
fn a_cancel_is_heard_while_the_choices_are_put_in_a_table() {
    let choices = (0..100_000).map(|n| choice(i64::from(n), &[used(0, n, n + 1, 1)])).collect();
    let problem = LevelProblem { resources: room(0), batches: vec![Batch { choices }], nogoods: Vec::new() };
    let cancel = Cancel::default();
    thread::scope(|scope| {
        let cheapest = scope.spawn(|| level(&problem, &[], BUDGET, &cancel, &Progress::default()).unwrap());
        thread::sleep(Duration::from_millis(100));
        cancel.cancel();
        let asked = Instant::now();
        let found = cheapest.join().expect("no panic");
        assert_eq!((found.chosen, found.at_least, found.is_proven, found.is_stopped), (None, 0, false, true));
        // a hundredth of it where nobody else wants the machine
        assert!(asked.elapsed() < Duration::from_secs(2), "{:?}", asked.elapsed());
    });
    let near = closest(&problem, &[7], BUDGET, &cancel, &Progress::default()).unwrap();
    assert_eq!((near.chosen, near.lack, near.at_least, near.is_stopped), (vec![7], 1, 0, true));
}

#[test]
fn nothing_to_choose_and_nothing_there() {
    assert_eq!(solve(&LevelProblem::default()).chosen, Some(Vec::new()));
    let alone = LevelProblem { batches: vec![Batch { choices: vec![choice(-5, &[])] }], ..LevelProblem::default() };
    assert_eq!((solve(&alone).cost, solve(&alone).is_proven), (Some(-5), true));
}

#[test]
fn numbers_out_of_range_are_refused() {
    let refused =
        |problem: &LevelProblem| level(problem, &[], 1, &Cancel::default(), &Progress::default()).unwrap_err();
    let with = |what: Choice| LevelProblem {
        resources: room(1),
        batches: vec![Batch { choices: vec![what] }],
        nogoods: Vec::new(),
    };
    let empty = LevelProblem { batches: vec![Batch::default()], ..LevelProblem::default() };
    assert_eq!(refused(&empty), LevelError::NoChoice(0));
    assert_eq!(refused(&with(choice(0, &[used(1, 0, 1, 1)]))), LevelError::NoSuchResource(1));
    assert_eq!(refused(&with(choice(0, &[used(0, 0, 1, -1)]))), LevelError::Amount(-1));
    assert_eq!(refused(&with(choice(0, &[used(0, 0, 1, i64::MAX)]))), LevelError::Amount(i64::MAX));
    assert_eq!(refused(&with(choice(i64::MIN, &[]))), LevelError::Cost);
    let mut problem = with(choice(0, &[]));
    problem.nogoods.push(NoGood { terms: vec![Term { batch: 0, choices: vec![1] }], short: 1 });
    assert_eq!(refused(&problem), LevelError::NoSuchChoice { batch: 0, choice: 1 });
    problem.nogoods[0].terms[0] = Term { batch: 4, choices: vec![0] };
    assert_eq!(refused(&problem), LevelError::NoSuchChoice { batch: 4, choice: 0 });
}

/// Days and amounts at the ends of their ranges neither overflow nor take long.
#[test]
fn the_ends_of_the_ranges_hold() {
    let most = 1_i64 << 40;
    let long = used(0, i32::MIN, i32::MAX, most);
    let batch =
        || Batch { choices: vec![choice(1 << 37, &[]), choice(0, &[long]), choice(-5, &[used(0, 7, 3, most)])] };
    let mut problem = LevelProblem { resources: room(most), batches: vec![batch(), batch(), batch()], nogoods: vec![] };
    assert_eq!(solve(&problem).cost, Some(-15));
    problem.batches.iter_mut().for_each(|batch| batch.choices.truncate(2));
    assert_eq!((solve(&problem).cost, solve(&problem).is_proven), (Some(2 << 37), true));
    problem.batches.iter_mut().for_each(|batch| drop(batch.choices.remove(0)));
    let near = solve_closest(&problem);
    assert_eq!(near.at_least, near.lack);
}
