//! Small seasons on shelves of a few units a side, and the plain truth about them: every spot is
//! tried. Shares only types with the solver.

use std::sync::Arc;

use flatwright::fit::{Answer, Cancel, Days, Item, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, Spot};
use flatwright::fit::{check, solve};
use proptest::prelude::*;

/// Solved within a budget, and accepted by the checker.
#[track_caller]
pub(crate) fn solved(problem: &Problem, budget: u64) -> Answer {
    let answer = solve(problem, budget, &Progress::default(), &Cancel::default()).expect("nobody cancels");
    assert_eq!(check(problem, &answer.layout), Ok(()));
    answer
}

/// One spot tried for an item: what it covers in each of its phases, a bit for each unit of ground.
struct Stand {
    shelf: usize,
    phases: Vec<(Days, u64, Phase)>,
}

impl Stand {
    fn on(&self, day: i32) -> Option<(u64, &Phase)> {
        self.phases.iter().find(|(days, ..)| days.contains(day)).map(|(_, ground, phase)| (*ground, phase))
    }
}

/// Every spot at which an item can be for those of its days that are asked for.
fn stands(item: &Item, asked: Days) -> Vec<Stand> {
    let mut found = Vec::new();
    let reach = item.regions.iter().map(|r| (r.shelf, r.rect.right(), r.rect.back()));
    let (shelves, right, back) = reach.fold((0, 0, 0), |(s, x, y), r| (s.max(r.0 + 1), x.max(r.1), y.max(r.2)));
    for shelf in 0..shelves {
        for (x, y) in (0..right).flat_map(|x| (0..back).map(move |y| (x, y))) {
            for turned in [false, true] {
                let spot = Spot { shelf, x, y, turned };
                if item.pinned.is_some_and(|pinned| pinned != spot) {
                    continue;
                }
                let phases: Vec<&Phase> = item.phases.iter().filter(|phase| phase.days.overlaps(asked)).collect();
                let inside = |rect: Rect| item.regions.iter().any(|r| r.shelf == shelf && r.rect.holds(rect));
                if phases.iter().all(|phase| inside(spot.rect(phase))) {
                    let phases = phases.into_iter().map(|phase| (phase.days, bits(spot.rect(phase)), *phase)).collect();
                    found.push(Stand { shelf, phases });
                }
            }
        }
    }
    found
}

/// Shelves are at most 8 × 8.
fn bits(rect: Rect) -> u64 {
    let squares = (rect.x..rect.right()).flat_map(|x| (rect.y..rect.back()).map(move |y| x * 8 + y));
    squares.fold(0, |bits, square| bits | 1 << square)
}

/// Whether those chosen can stand beside one more on all those days.
fn together(problem: &Problem, chosen: &[&Stand], more: &Stand, days: &[i32]) -> bool {
    days.iter().all(|&day| {
        let Some((ground, phase)) = more.on(day) else { return true };
        let here: Vec<(u64, &Phase)> =
            chosen.iter().filter(|stand| stand.shelf == more.shelf).filter_map(|stand| stand.on(day)).collect();
        let shelf = &problem.shelves[more.shelf];
        let grams = here.iter().map(|(_, phase)| phase.grams).sum::<i64>() + phase.grams;
        let all = here.iter().fold(0, |all, (ground, _)| all | ground);
        let cover = i128::from((all | ground).count_ones());
        all & ground == 0 && shelf.load.is_none_or(|load| grams <= load) && shelf.cover.is_none_or(|most| cover <= most)
    })
}

fn most<'a>(problem: &Problem, left: &'a [Vec<Stand>], chosen: &mut Vec<&'a Stand>, days: &[i32], best: &mut usize) {
    *best = (*best).max(chosen.len());
    let Some((next, others)) = left.split_first() else { return };
    for stand in next {
        if *best == chosen.len() + left.len() {
            return;
        }
        if together(problem, chosen, stand, days) {
            chosen.push(stand);
            most(problem, others, chosen, days, best);
            chosen.pop();
        }
    }
    if *best < chosen.len() + others.len() {
        most(problem, others, chosen, days, best);
    }
}

/// The most of some items that can stand on a day, all others away.
pub(crate) fn most_on(problem: &Problem, day: i32, items: &[usize]) -> usize {
    let only = Days::new(day, day + 1);
    let stands: Vec<Vec<Stand>> = items.iter().map(|&item| stands(&problem.items[item], only)).collect();
    let mut best = 0;
    most(problem, &stands, &mut Vec::new(), &[day], &mut best);
    best
}

/// Whether all items can have one spot each for all their days.
pub(crate) fn fits_without_moves(problem: &Problem) -> bool {
    let stands: Vec<Vec<Stand>> = problem.items.iter().map(|item| stands(item, item.days())).collect();
    let mut best = 0;
    most(problem, &stands, &mut Vec::new(), &problem.change_days(), &mut best);
    best == problem.items.len()
}

pub(crate) fn present(problem: &Problem, day: i32) -> Vec<usize> {
    (0..problem.items.len()).filter(|&item| problem.items[item].phase_on(day).is_some()).collect()
}

type Draw = ((i32, i32, i64, i64, i64), (usize, Option<(i32, i64)>, u8), (usize, i64, i64, bool));

/// One or two shelves, with a lamp on each, and `from` to `most` trays, some of which grow or are pinned or
/// stand somewhere already.
pub(crate) fn seasons(from: usize, most: usize) -> impl Strategy<Value = Problem> {
    let shelf = (2..6_i64, 1..5_i64, prop::option::weighted(0.3, 3..14_i64), prop::option::weighted(0.3, 4..18_i128));
    let tray = (
        (0..5_i32, 1..5_i32, 1..4_i64, 1..4_i64, 1..4_i64),
        (0..5_usize, prop::option::weighted(0.25, (1..3_i32, 0..2_i64)), 0..12_u8),
        (0..2_usize, 0..4_i64, 0..3_i64, any::<bool>()),
    );
    (prop::collection::vec(shelf, 1..3), prop::collection::vec(tray, from..=most)).prop_map(|(shelves, trays)| {
        let last = shelves.len() - 1;
        let whole = |shelf: usize| {
            let (w, d, ..) = shelves[shelf];
            Region { shelf, rect: Rect { x: 0, y: 0, w, d } }
        };
        let lamp = |shelf: usize| {
            let whole = whole(shelf);
            Region { rect: Rect { x: 1, w: whole.rect.w - 1, ..whole.rect }, ..whole }
        };
        let sets: [RegionSet; 5] = [
            Arc::from([whole(0)]),
            Arc::from([whole(0), whole(last)]),
            Arc::from([lamp(last), whole(0)]),
            Arc::from([whole(last)]),
            Arc::from([lamp(0)]),
        ];
        let item = |((from, length, w, d, grams), (set, grows, fate), (shelf, x, y, turned)): Draw| {
            let mut phases = vec![Phase { days: Days::new(from, from + length), w, d, grams }];
            if let Some((longer, wider)) = grows {
                let days = Days::new(from + length, from + length + longer);
                phases.push(Phase { days, w: w + wider, d, grams: grams + 1 });
            }
            let spot = Some(Spot { shelf: shelf.min(last), x, y, turned });
            let (pinned, wish) = match fate {
                0 => (spot, None),
                1..4 => (None, spot),
                _ => (None, None),
            };
            Item { phases, regions: Arc::clone(&sets[set]), pinned, wish }
        };
        let items = trays.into_iter().map(item).collect();
        Problem { shelves: shelves.iter().map(|&(_, _, load, cover)| Shelf { load, cover }).collect(), items }
    })
}
