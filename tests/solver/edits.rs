//! A row of edits of a season, answered from what stood before, against solving each anew.

use std::num::NonZero;
use std::sync::Arc;

use flatwright::fit::{
    Answer, Cancel, Days, Item, Memory, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, Verdict, check,
};
use proptest::prelude::*;

use super::small::solved;

const BUDGET: u64 = 1_000_000;
/// Width, depth and weight.
const TRAYS: [(i64, i64, i64); 4] = [(9, 5, 3), (5, 4, 2), (8, 7, 5), (11, 6, 4)];

#[derive(Clone, Copy, Debug)]
struct Batch {
    tray: usize,
    from: i32,
    days: i32,
    number: usize,
    tall: bool,
}

/// What is done to a batch.
#[derive(Clone, Copy, Debug)]
enum Edit {
    Later(i32),
    Gone,
    Again,
    Tray(usize),
    Fewer,
}

/// The shelves are enough for most batches, or for all, or for few.
fn season(batches: &[Batch], shelves: usize) -> Problem {
    let rect = Rect { x: 0, y: 0, w: 24, d: 15 };
    let all: RegionSet = (0..shelves).map(|shelf| Region { shelf, rect }).collect();
    let high: RegionSet = all.iter().filter(|region| region.shelf % 2 == 0).copied().collect();
    let items = batches.iter().flat_map(|batch| {
        let (w, d, grams) = TRAYS[batch.tray];
        let phases = vec![Phase { days: Days::new(batch.from, batch.from + batch.days), w, d, grams }];
        let regions = Arc::clone(if batch.tall { &high } else { &all });
        vec![Item { phases, regions, pinned: None, wish: None }; batch.number]
    });
    let limits = (0..shelves).map(|shelf| Shelf { load: (shelf % 3 == 1).then_some(17), cover: None });
    Problem { shelves: limits.collect(), items: items.collect() }
}

fn edit(batches: &mut Vec<Batch>, at: usize, edit: Edit) {
    let at = at % batches.len();
    match edit {
        Edit::Later(days) => batches[at].from += days,
        Edit::Gone if batches.len() > 6 => drop(batches.remove(at)),
        Edit::Gone => {}
        Edit::Again => batches.insert(at, batches[at]),
        Edit::Tray(tray) => batches[at].tray = tray,
        Edit::Fewer => batches[at].number = (batches[at].number - 1).max(1),
    }
}

fn batches() -> impl Strategy<Value = Vec<Batch>> {
    let batch = (0..4_usize, 0..40_i32, 5..20_i32, 3..8_usize, prop::bool::weighted(0.2));
    let batch = batch.prop_map(|(tray, from, days, number, tall)| Batch { tray, from, days, number, tall });
    prop::collection::vec(batch, 10..16)
}

fn edits() -> impl Strategy<Value = Vec<(usize, Edit)>> {
    let edit = prop_oneof![
        (-7..8_i32).prop_map(Edit::Later),
        Just(Edit::Gone),
        Just(Edit::Again),
        (0..4_usize).prop_map(Edit::Tray),
        Just(Edit::Fewer),
    ];
    prop::collection::vec((0..16_usize, edit), 1..6)
}

fn ask(memory: &mut Memory, problem: &Problem) -> Answer {
    memory.solve(problem, BUDGET, &Progress::default(), &Cancel::default()).expect("nobody cancels")
}

fn is_settled(answer: &Answer) -> bool {
    answer.days.iter().all(|run| run.verdict != Verdict::Unsettled)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn crunches_are_those_of_solving_anew_and_what_was_settled_stays_so(
        mut batches in batches(),
        edits in edits(),
        shelves in 4..9_usize,
    ) {
        let threads = |number: usize| Memory::mending().on_threads(NonZero::new(number).expect("some"));
        let mut memories = [1, 2, 8].map(threads);
        let mut settled = true;
        for made in [(0, Edit::Later(0))].into_iter().chain(edits) {
            edit(&mut batches, made.0, made.1);
            let problem = season(&batches, shelves);
            let anew = solved(&problem, BUDGET);
            let [one, two, eight] = memories.each_mut().map(|memory| ask(memory, &problem));
            prop_assert!(one == two && one == eight, "{:?}", made);
            prop_assert_eq!(check(&problem, &one.layout), Ok(()));
            for day in problem.change_days() {
                let (Some(own), Some(other)) = (one.on(day), anew.on(day)) else { continue };
                prop_assert_eq!(own.short_least, other.short_least, "{:?} on {}", made, day);
                match (&own.verdict, &other.verdict) {
                    (Verdict::Crunch(own), Verdict::Crunch(other)) => prop_assert_eq!(own, other),
                    (Verdict::Crunch(_), _) | (_, Verdict::Crunch(_)) => prop_assert!(false, "{:?} on {}", made, day),
                    (Verdict::Fits, _) => prop_assert!(one.no_spot_on(&problem, day).is_empty()),
                    (Verdict::Unsettled, _) => prop_assert!(own.short_most > 0),
                }
            }
            settled &= is_settled(&anew);
            prop_assert!(!settled || is_settled(&one), "{:?}", made);
        }
    }
}
