//! Every order and every corner, for a handful.

use super::board::Board;
use super::jobs::{Job, Jobs, Lattices};
use crate::fit::problem::{Days, Problem};

/// Up to so many jobs, every order and every corner is tried if all else fails.
pub(in crate::fit) const MOST_EXHAUSTED: usize = 6;

/// Whether some items can't stand on a day, known by trying everything; `None` if there are too many
/// of them, or the budget ran out.
pub(in crate::fit) fn can_never_stand(problem: &Problem, day: i32, items: &[usize], budget: u64) -> Option<bool> {
    if items.len() > MOST_EXHAUSTED {
        return None;
    }
    let only = Days::new(day, day.saturating_add(1));
    let list = items.iter().filter_map(|&number| Job::new(number, problem.items.get(number)?, only)).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let all = jobs.list.len() == items.len();
    exhaust(&mut Board::new(&jobs, &problem.shelves), budget).filter(|_| all).map(|packed| !packed)
}

/// Any packing can be pushed together until everything rests on something to the left and in
/// front; placed in that order, each stands at a corner of those before it. `None` if the budget ran out.
pub(in crate::fit) fn exhaust(board: &mut Board<'_>, budget: u64) -> Option<bool> {
    let jobs = board.jobs();
    let waiting: Vec<usize> = (0..jobs.len()).filter(|&number| board.spot(number).is_none()).collect();
    if waiting.is_empty() {
        return Some(true);
    }
    for number in waiting {
        for spot in board.every_corner(number) {
            if board.work > budget {
                return None;
            }
            if board.admits(number, spot) {
                board.place(number, spot);
                match exhaust(board, budget) {
                    Some(false) => board.remove(number),
                    done => return done,
                }
            }
        }
    }
    Some(false)
}
