//! Spots for a demand, one after the other, in a few orders.

use std::cmp::Reverse;

use crate::fit::answer::Layout;
use crate::fit::check::check;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::problem::{Days, Item, Phase, Problem, Shelf, Spot};
use crate::fit::work::Cancel;

use super::kinds::{Demand, DemandKind, bit};
use super::whole::WholeShelves;

const DAY: Days = Days::new(0, 1);

/// In which order those are taken that have no spot yet.
#[derive(Clone, Copy)]
enum DemandOrder {
    /// Those with the least choice first.
    Choosy,
    Large,
}

const PASSES: [(DemandOrder, Rule); 3] =
    [(DemandOrder::Choosy, Rule::Lattice), (DemandOrder::Large, Rule::Lattice), (DemandOrder::Large, Rule::Touch)];

/// A job without any ground.
fn nowhere(item: usize, like: &Item) -> Job {
    Job {
        item,
        phases: vec![Phase { days: DAY, w: 1, d: 1, grams: 0 }],
        regions: [].into(),
        pinned: None,
        wish: None,
        weight: 1,
        fixed: like.pinned.is_some(),
        class: 0,
        w: 1,
        d: 1,
    }
}

/// As many jobs of each kind as a demand may have.
pub(super) struct DayBoard {
    problem: Problem,
    kinds: Vec<DemandKind>,
    jobs: Jobs,
    /// The first job of each kind.
    first: Vec<usize>,
}

impl DayBoard {
    pub(super) fn new(shelves: Vec<Shelf>, kinds: Vec<DemandKind>, most: &[u32], cancel: &Cancel) -> Self {
        let mut problem = Problem { shelves, items: Vec::new() };
        let mut first = Vec::new();
        for (kind, most) in kinds.iter().zip(most) {
            first.push(problem.items.len());
            let phases = vec![Phase { days: DAY, w: kind.w, d: kind.d, grams: kind.grams }];
            let item = Item { phases, regions: kind.regions.clone(), pinned: kind.pinned, wish: None };
            problem.items.extend(std::iter::repeat_n(item, *most as usize));
        }
        // what makes no sense has no job; its number stays, so that the others keep theirs
        let job = |(number, item): (usize, &Item)| Job::new(number, item, DAY).unwrap_or_else(|| nowhere(number, item));
        let list = problem.items.iter().enumerate().map(job).collect();
        let jobs = Jobs::new(list, &mut Lattices::new(cancel));
        Self { problem, kinds, jobs, first }
    }

    pub(super) fn shelves(&self) -> &[Shelf] {
        &self.problem.shelves
    }

    pub(super) fn kinds(&self) -> &[DemandKind] {
        &self.kinds
    }

    /// Spots for all of a demand: whole shelves first and the others beside, or all of it one by one.
    pub(super) fn stand(&self, demand: &Demand, filled: &WholeShelves) -> Option<Vec<(usize, Spot)>> {
        let begun = self.spots_of(demand, filled);
        if let Some(spots) = self.pass(demand, &begun, DemandOrder::Choosy, Rule::Lattice) {
            return Some(spots);
        }
        PASSES.iter().find_map(|&(order, rule)| self.pass(demand, &[], order, rule))
    }

    /// Whether all but some sets have a spot beside as many of those as find one first.
    pub(super) fn stand_beside(&self, demand: &Demand, sets: u32) -> bool {
        let of = |kind: &usize| self.kinds.get(*kind).is_some_and(|kind| bit(kind) & sets != 0);
        let (theirs, others): (Vec<_>, Vec<_>) = demand.iter().partition(|(kind, _)| of(kind));
        let mut board = Board::new(&self.jobs, &self.problem.shelves);
        self.pin(&mut board, demand);
        for job in self.in_order(&theirs, DemandOrder::Choosy) {
            put(&mut board, job, Rule::Lattice);
        }
        self.in_order(&others, DemandOrder::Choosy).into_iter().all(|job| put(&mut board, job, Rule::Lattice))
            && self.accepts(&placed(&board))
    }

    fn pass(
        &self,
        demand: &Demand,
        begun: &[(usize, Spot)],
        order: DemandOrder,
        rule: Rule,
    ) -> Option<Vec<(usize, Spot)>> {
        let mut board = Board::new(&self.jobs, &self.problem.shelves);
        for &(job, spot) in begun {
            board.place(job, spot);
        }
        if !self.pin(&mut board, demand)
            || !self.in_order(demand, order).into_iter().all(|job| put(&mut board, job, rule))
        {
            return None;
        }
        let spots = placed(&board);
        let accepted = self.accepts(&spots);
        debug_assert!(accepted, "a faulty packing");
        accepted.then_some(spots)
    }

    /// Whether all that is pinned could be put where it is pinned to.
    fn pin(&self, board: &mut Board<'_>, demand: &Demand) -> bool {
        let mut all = true;
        for job in self.numbers(demand) {
            let Some(spot) = board.jobs().get(job).and_then(|job| job.pinned) else { continue };
            if board.spot(job).is_none() && board.admits(job, spot) {
                board.place(job, spot);
            }
            all &= board.spot(job).is_some();
        }
        all
    }

    /// The jobs of a demand.
    fn numbers(&self, demand: &Demand) -> Vec<usize> {
        let of = |&(kind, number): &(usize, u32)| {
            let first = self.first.get(kind).copied().unwrap_or(0);
            first..first + number as usize
        };
        demand.iter().flat_map(of).collect()
    }

    fn in_order(&self, demand: &Demand, order: DemandOrder) -> Vec<usize> {
        let mut demand = demand.to_vec();
        demand.sort_by_key(|&(number, _)| {
            let kind = self.kinds.get(number);
            let area = kind.map_or(0, |kind| i128::from(kind.w) * i128::from(kind.d));
            let choices = kind.map_or(0, |kind| kind.regions.len());
            match order {
                DemandOrder::Choosy => (choices as i128, Reverse(area), number),
                DemandOrder::Large => (-area, Reverse(-(choices as i128)), number),
            }
        });
        self.numbers(&demand)
    }

    /// The spots of whole shelves, by job.
    pub(super) fn spots_of(&self, demand: &Demand, filled: &WholeShelves) -> Vec<(usize, Spot)> {
        let mut next: Vec<(usize, usize)> =
            demand.iter().map(|(kind, _)| (*kind, self.first.get(*kind).copied().unwrap_or(0))).collect();
        let mut spots = Vec::new();
        for row in &filled.rows {
            let (Some(kind), Some((_, job))) =
                (self.kinds.get(row.kind), next.iter_mut().find(|(kind, _)| *kind == row.kind))
            else {
                continue;
            };
            for spot in row.spots(kind) {
                spots.push((*job, spot));
                *job += 1;
            }
        }
        spots
    }

    /// Whether the checker accepts the spots, of a day on which nobody else stands.
    pub(super) fn accepts(&self, spots: &[(usize, Spot)]) -> bool {
        let items = spots.iter().filter_map(|(job, _)| self.problem.items.get(*job)).cloned().collect();
        let problem = Problem { shelves: self.problem.shelves.clone(), items };
        let layout = Layout { spots: spots.iter().map(|(_, spot)| vec![(0, *spot)]).collect() };
        check(&problem, &layout).is_ok()
    }
}

/// Whether the job has a spot, or could be given one.
fn put(board: &mut Board<'_>, job: usize, rule: Rule) -> bool {
    if board.spot(job).is_some() {
        return true;
    }
    let spot = board.find(job, rule, Prefer::Scarce);
    if let Some(spot) = spot {
        board.place(job, spot);
    }
    spot.is_some()
}

fn placed(board: &Board<'_>) -> Vec<(usize, Spot)> {
    board.spots().iter().enumerate().filter_map(|(job, spot)| Some((job, (*spot)?))).collect()
}
