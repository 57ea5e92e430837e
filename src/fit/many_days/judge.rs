//! Demands judged: cheap to dear, by packings and by bounds.

use std::collections::{BTreeMap, BTreeSet};

use super::kinds::{Demand, DemandKind, bit, parts};
use super::lines::{Line, lines};
use super::priced::{FoundPatterns, too_many};
use super::stand::DayBoard;
use super::whole::Holdings;
use crate::fit::problem::Shelf;
use crate::fit::work::Cancel;

/// What is known of a demand, by bits of its sets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// Not all of the set can stand; where sets are too many only together, it is said of the one with
    /// the most in the proof.
    pub proven: u32,
    /// Neither that nor that all of them have room.
    pub open: u32,
}

/// Kinds and shelves, ready to judge demands of them.
pub struct ManyDays {
    board: DayBoard,
    /// So many of a kind at most, in any demand.
    most: Vec<u32>,
    /// Kinds of one part may be in each other's way.
    parts: Vec<usize>,
    /// By set; and of all kinds.
    pub(super) lines: BTreeMap<u8, Vec<Line>>,
    lines_of_all: Vec<Line>,
    holdings: Holdings,
}

impl ManyDays {
    /// `most` says how many of each kind a demand has at most. Of no use after a cancel.
    pub fn new(shelves: Vec<Shelf>, kinds: Vec<DemandKind>, most: Vec<u32>, cancel: &Cancel) -> Self {
        let mut of_set: BTreeMap<u8, Vec<usize>> = BTreeMap::new();
        for (number, kind) in kinds.iter().enumerate() {
            of_set.entry(kind.set).or_default().push(number);
        }
        let all: Vec<usize> = (0..kinds.len()).collect();
        let lines_of = |of: &[usize]| lines(&shelves, &kinds, of, &most, cancel);
        Self {
            lines: of_set.iter().map(|(set, of)| (*set, lines_of(of))).collect(),
            lines_of_all: if of_set.len() > 1 { lines_of(&all) } else { Vec::new() },
            holdings: Holdings::new(&shelves, &kinds, &most),
            parts: parts(&kinds, shelves.len()),
            board: DayBoard::new(shelves, kinds, &most, cancel),
            most,
        }
    }

    /// The part of a kind; demands are judged by parts.
    pub fn part_of(&self, kind: usize) -> usize {
        self.parts.get(kind).copied().unwrap_or(0)
    }

    pub fn number_of_parts(&self) -> usize {
        self.parts.iter().max().map_or(0, |last| last + 1)
    }

    /// Whether a demand has room with every shelf given to one size: no answer where not.
    pub fn has_plenty(&self, demand: &Demand) -> bool {
        self.holdings.fill(demand, self.board.kinds()).left == 0
    }

    /// Judges a demand of kinds of one part.
    pub fn judge(&self, demand: &Demand, found: &mut FoundPatterns) -> Judged {
        let present =
            demand.iter().filter_map(|(kind, _)| self.board.kinds().get(*kind)).fold(0, |sets, kind| sets | bit(kind));
        let known = demand.iter().all(|(kind, number)| self.most.get(*kind).is_some_and(|most| number <= most));
        if !known {
            return Judged { proven: 0, open: present };
        }
        let filled = self.holdings.fill(demand, self.board.kinds());
        if filled.left == 0 {
            debug_assert!(self.board.accepts(&self.board.spots_of(demand, &filled)), "cells of a packing that clash");
            return Judged::default();
        }
        let broken = |lines: &[Line]| lines.iter().any(|line| line.is_broken_by(demand));
        let sets = self.lines.iter().filter(|(_, lines)| broken(lines));
        let mut proven = sets.fold(0, |sets, (set, _)| sets | 1 << set) & present;
        if proven == 0 {
            let line = self.lines_of_all.iter().find(|line| line.is_broken_by(demand));
            if let Some(line) = line {
                let proven = self.most_of(demand, |kind| line.counts(kind));
                return Judged { proven, open: present & !proven };
            }
            if self.board.stand(demand, &filled).is_some() {
                return Judged::default();
            }
            for set in (0..32).filter(|set| present >> set & 1 == 1 && present != 1 << set) {
                let alone: Vec<(usize, u32)> =
                    demand.iter().filter(|(kind, _)| self.is_of(*kind, set)).copied().collect();
                proven |= u32::from(!self.too_many(&alone, found).is_empty()) << set;
            }
            if proven == 0 {
                let kinds = self.too_many(demand, found);
                let proven = self.most_of(demand, |kind| kinds.contains(&kind));
                return Judged { proven, open: present & !proven };
            }
        }
        let others = present & !proven;
        // what is proven takes as much room as it can, and the others have theirs beside it
        let stand = others == 0 || self.board.stand_beside(demand, proven);
        Judged { proven, open: if stand { 0 } else { others } }
    }

    fn is_of(&self, kind: usize, set: u8) -> bool {
        self.board.kinds().get(kind).is_some_and(|kind| kind.set == set)
    }

    /// Of the sets that are too many only together, the one with the most among the kinds of the proof.
    fn most_of(&self, demand: &Demand, proof: impl Fn(usize) -> bool) -> u32 {
        let mut numbers: BTreeMap<u8, u32> = BTreeMap::new();
        for (kind, number) in demand.iter().filter(|(kind, _)| proof(*kind)) {
            let Some(kind) = self.board.kinds().get(*kind) else { continue };
            *numbers.entry(kind.set).or_default() += number;
        }
        numbers.into_iter().max_by_key(|(_, number)| *number).map_or(0, |(set, _)| 1 << set.min(31))
    }

    fn too_many(&self, demand: &Demand, found: &mut FoundPatterns) -> BTreeSet<usize> {
        too_many(self.board.shelves(), self.board.kinds(), demand, found)
    }
}
