//! What a search for spots is asked, and what it comes to.

use super::board::Board;
use super::jobs::Jobs;
use crate::fit::problem::{Shelf, Spot};
use crate::fit::work::Cancel;

/// A search for spots: ends once the jobs left out weigh `enough` or less, or the budget is spent.
#[derive(Clone, Copy)]
pub(in crate::fit) struct Attempt<'a> {
    pub(in crate::fit) jobs: &'a Jobs,
    pub(in crate::fit) shelves: &'a [Shelf],
    pub(in crate::fit) enough: u64,
    /// In the board's unit.
    pub(in crate::fit) budget: u64,
    pub(in crate::fit) cancel: &'a Cancel,
}

impl<'a> Attempt<'a> {
    pub(in crate::fit) const fn with_budget(self, budget: u64) -> Self {
        Self { budget, ..self }
    }

    /// A board on which jobs stand at spots that fit together.
    pub(super) fn board(&self, spots: &[Option<Spot>]) -> Board<'a> {
        Board::with(self.jobs, self.shelves, spots)
    }
}

/// Spots by job, and what it took to find them.
#[derive(Debug, Default)]
pub(in crate::fit) struct Placement {
    pub(in crate::fit) spots: Vec<Option<Spot>>,
    pub(in crate::fit) work: u64,
}

pub(super) struct Best {
    pub(super) cost: u64,
    /// Of two layouts that leave out as much, the one that leaves out less surface is nearer.
    pub(super) area: i128,
    pub(super) spots: Vec<Option<Spot>>,
}

impl Best {
    pub(super) fn keep(best: &mut Option<Self>, board: &Board<'_>) {
        let (cost, area) = left_out(board);
        if best.as_ref().is_none_or(|best| (cost, area) < (best.cost, best.area)) {
            *best = Some(Self { cost, area, spots: board.spots().to_vec() });
        }
    }
}

/// Weight and surface of the jobs without a spot.
pub(super) fn left_out(board: &Board<'_>) -> (u64, i128) {
    let without = board.jobs().iter().zip(board.spots()).filter(|(_, spot)| spot.is_none());
    without.fold((0, 0), |(cost, area), (job, _)| (cost + job.weight, area + job.area()))
}
