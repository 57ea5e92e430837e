//! One day: everything may be moved except what is pinned.
//!
//! Finds a packing or leaves it open; that none exists is for `bound` to prove.

use std::sync::Arc;

use super::assign::assign;
use super::board::{Board, Prefer, Rule};
use super::bound::Prover;
use super::count::at_most;
use super::jobs::{Job, Jobs, Lattices};
use super::problem::{Days, Item, Layout, Phase, Problem, RegionSet, Spot};
use super::work::Cancel;

/// Up to so many jobs, every order and every corner is tried if all else fails.
const MOST_EXHAUSTED: usize = 6;

/// A spot for every item of a day, or `None` if no packing was found within the budget.
///
/// The budget counts looks at obstacles. Spots are the items' own regions'; shapes are that day's.
pub fn pack_day(problem: &Problem, day: i32, budget: u64) -> Option<Vec<(usize, Spot)>> {
    if Prover::default().day(problem, day).bound.is_some() {
        return None;
    }
    let found = pack_most(problem, day, budget);
    let wanted = problem.items.iter().filter(|item| item.phase_on(day).is_some()).count();
    (found.len() == wanted).then_some(found)
}

/// Spots for as many items of a day as could be placed within the budget.
pub fn pack_most(problem: &Problem, day: i32, budget: u64) -> Vec<(usize, Spot)> {
    let only = Days::new(day, day.saturating_add(1));
    let list = problem.items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, only)).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let Ok(mut spots) = assign(&jobs, &problem.shelves, budget, &Cancel::default()) else {
        return Vec::new();
    };
    if jobs.list.len() <= MOST_EXHAUSTED && spots.iter().any(Option::is_none) {
        let mut board = Board::new(&jobs, &problem.shelves);
        if exhaust(&mut board, budget) {
            spots = board.spots().to_vec();
        }
    }
    jobs.list.iter().zip(spots).filter_map(|(job, spot)| Some((job.item, spot?))).collect()
}

/// Any packing can be pushed together until everything rests on something to the left and in
/// front; placed in that order, each stands at a corner of those before it.
fn exhaust(board: &mut Board<'_>, budget: u64) -> bool {
    let jobs = board.jobs();
    let waiting: Vec<usize> = (0..jobs.len()).filter(|&number| board.spot(number).is_none()).collect();
    if waiting.is_empty() {
        return true;
    }
    for number in waiting {
        for spot in board.every_corner(number) {
            if board.work > budget {
                return false;
            }
            if board.admits(number, spot) {
                board.place(number, spot);
                if exhaust(board, budget) {
                    return true;
                }
                board.remove(number);
            }
        }
    }
    false
}

/// How many `w` × `d` can be put beside what stands on a day, at least; up to `limit`.
///
/// Nothing that stands is moved, and weight is left aside. Sides in the layout's unit.
pub fn place_more(
    problem: &Problem,
    layout: &Layout,
    day: i32,
    w: i64,
    d: i64,
    regions: &RegionSet,
    limit: i64,
) -> i64 {
    let only = Days::new(day, day.saturating_add(1));
    let ground = regions.iter().map(|r| at_most(r.rect.w, r.rect.d, w, d)).fold(0, i64::saturating_add);
    let Ok(wanted) = usize::try_from(limit.min(ground).min(20_000)) else {
        return 0;
    };
    let phases = vec![Phase { days: only, w, d, grams: 0 }];
    let more = Item { phases, regions: Arc::clone(regions), pinned: None, wish: None };
    let standing = problem.items.iter().enumerate();
    let standing: Vec<(Job, Spot)> = standing
        .filter_map(|(number, item)| Some((Job::new(number, item, only)?, layout.spot_on(number, day)?)))
        .collect();
    let new = (0..wanted).filter_map(|_| Job::new(problem.items.len(), &more, only));
    let list: Vec<Job> = standing.iter().map(|(job, _)| job.clone()).chain(new).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let placed = |rule: Rule| {
        let mut board = Board::new(&jobs, &problem.shelves);
        for (number, &(_, spot)) in standing.iter().enumerate() {
            board.place(number, spot);
        }
        let numbers = standing.len()..jobs.list.len();
        let mut count = 0;
        for number in numbers {
            let Some(spot) = board.find(number, rule, Prefer::Given) else {
                break;
            };
            board.place(number, spot);
            count += 1;
        }
        count
    };
    [Rule::Lattice, Rule::Left, Rule::Front].into_iter().map(placed).max().unwrap_or(0)
}
