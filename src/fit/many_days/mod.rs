//! Many days on the same shelves, each no more than so many of each kind: what fits, what cannot.
//!
//! For seasons drawn by the thousand, where a layout over time would be too dear. All that can be
//! known of kinds and shelves is worked out once; a day is then a few sums. What it says about a
//! crowd hangs on that crowd alone, never on those judged before.
//!
//! A crowd *fits* only by a packing of that day which [`check()`](crate::fit::check()) accepts, and *cannot*
//! only by a bound; it may be neither. Not looked for: a packing that takes trays away again to find
//! room, and the proof shelf after shelf. Both would only settle more.

mod lines;
mod priced;
mod stand;
mod whole;

use std::collections::BTreeMap;

use crate::fit::place::jobs::Jobs;
use crate::fit::problem::{Problem, RegionSet, Shelf, Spot};
use crate::fit::proof::patterns::Filler;
use crate::fit::work::Cancel;

use lines::{Line, lines};
use whole::Ways;

/// What is alike in all that matters on one day.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kind {
    pub w: i64,
    pub d: i64,
    pub grams: i64,
    pub regions: RegionSet,
    pub pinned: Option<Spot>,
    /// Kinds of one set are counted together; less than 32.
    pub set: u8,
    pub counted: Counted,
}

/// What a bound may take one of a kind for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Counted {
    /// Nothing: it need not be there in just that form.
    Never,
    /// So many of that size, with that ground; `grams` are one's.
    As { w: i64, d: i64, grams: i64, regions: RegionSet, times: i64 },
    /// So many round pots, so far apart from middle to middle.
    Round { apart: i64, times: i64 },
}

/// So many of each kind, by the kind's number; in order, none of them zero.
pub type Crowd = [(usize, u32)];

/// What is known of a crowd, by bits of its sets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// Not all of the set can stand; where sets are too many only together, it is said of the one with
    /// the most in the proof.
    pub proven: u32,
    /// Neither that nor that all of them have room.
    pub open: u32,
}

/// Fillings of shelves found on the way, for one thread; they save time and change no answer.
#[derive(Debug, Default)]
pub struct Found(Filler);

/// Kinds and shelves, ready to judge crowds of them.
pub struct Crowds {
    problem: Problem,
    kinds: Vec<Kind>,
    /// So many of a kind at most, in any crowd.
    most: Vec<u32>,
    /// Kinds of one part may be in each other's way.
    parts: Vec<usize>,
    /// By set; and of all kinds.
    lines: BTreeMap<u8, Vec<Line>>,
    lines_of_all: Vec<Line>,
    ways: Ways,
    jobs: Jobs,
    /// The first job of each kind.
    first: Vec<usize>,
}

impl Crowds {
    /// `most` says how many of each kind a crowd has at most. Of no use after a cancel.
    pub fn new(shelves: Vec<Shelf>, kinds: Vec<Kind>, most: Vec<u32>, cancel: &Cancel) -> Self {
        let (problem, jobs, first) = stand::jobs(shelves, &kinds, &most, cancel);
        let mut of_set: BTreeMap<u8, Vec<usize>> = BTreeMap::new();
        for (number, kind) in kinds.iter().enumerate() {
            of_set.entry(kind.set).or_default().push(number);
        }
        let all: Vec<usize> = (0..kinds.len()).collect();
        let lines_of = |of: &[usize]| lines(&problem.shelves, &kinds, of, &most, cancel);
        Self {
            lines: of_set.iter().map(|(set, of)| (*set, lines_of(of))).collect(),
            lines_of_all: if of_set.len() > 1 { lines_of(&all) } else { Vec::new() },
            ways: Ways::new(&problem.shelves, &kinds, &most),
            parts: parts(&kinds, problem.shelves.len()),
            problem,
            kinds,
            most,
            jobs,
            first,
        }
    }

    /// The part of a kind; crowds are judged by parts.
    pub fn part_of(&self, kind: usize) -> usize {
        self.parts.get(kind).copied().unwrap_or(0)
    }

    pub fn number_of_parts(&self) -> usize {
        self.parts.iter().max().map_or(0, |last| last + 1)
    }

    /// Whether a crowd has room with every shelf given to one size: no answer where not.
    pub fn has_plenty(&self, crowd: &Crowd) -> bool {
        self.ways.fill(crowd, &self.kinds).left == 0
    }

    /// Judges a crowd of kinds of one part.
    pub fn judge(&self, crowd: &Crowd, found: &mut Found) -> Judged {
        let present = crowd.iter().filter_map(|(kind, _)| self.kinds.get(*kind)).fold(0, |sets, kind| sets | bit(kind));
        let known = crowd.iter().all(|(kind, number)| self.most.get(*kind).is_some_and(|most| number <= most));
        if !known {
            return Judged { proven: 0, open: present };
        }
        let filled = self.ways.fill(crowd, &self.kinds);
        if filled.left == 0 {
            debug_assert!(self.accepts(&self.spots_of(crowd, &filled)), "cells of a packing that clash");
            return Judged::default();
        }
        let broken = |lines: &[Line]| lines.iter().any(|line| line.is_broken_by(crowd));
        let sets = self.lines.iter().filter(|(_, lines)| broken(lines));
        let mut proven = sets.fold(0, |sets, (set, _)| sets | 1 << set) & present;
        if proven == 0 {
            let line = self.lines_of_all.iter().find(|line| line.is_broken_by(crowd));
            if let Some(line) = line {
                let proven = self.most_of(crowd, |kind| line.counts(kind));
                return Judged { proven, open: present & !proven };
            }
            if self.stand(crowd, &filled).is_some() {
                return Judged::default();
            }
            for set in (0..32).filter(|set| present >> set & 1 == 1 && present != 1 << set) {
                let alone: Vec<(usize, u32)> =
                    crowd.iter().filter(|(kind, _)| self.is_of(*kind, set)).copied().collect();
                proven |= u32::from(!self.too_many(&alone, found).is_empty()) << set;
            }
            if proven == 0 {
                let kinds = self.too_many(crowd, found);
                let proven = self.most_of(crowd, |kind| kinds.contains(&kind));
                return Judged { proven, open: present & !proven };
            }
        }
        let others = present & !proven;
        // what is proven takes as much room as it can, and the others have theirs beside it
        let stand = others == 0 || self.stand_beside(crowd, proven);
        Judged { proven, open: if stand { 0 } else { others } }
    }

    fn is_of(&self, kind: usize, set: u8) -> bool {
        self.kinds.get(kind).is_some_and(|kind| kind.set == set)
    }

    /// Of the sets that are too many only together, the one with the most among the kinds of the proof.
    fn most_of(&self, crowd: &Crowd, proof: impl Fn(usize) -> bool) -> u32 {
        let mut numbers: BTreeMap<u8, u32> = BTreeMap::new();
        for (kind, number) in crowd.iter().filter(|(kind, _)| proof(*kind)) {
            let Some(kind) = self.kinds.get(*kind) else { continue };
            *numbers.entry(kind.set).or_default() += number;
        }
        numbers.into_iter().max_by_key(|(_, number)| *number).map_or(0, |(set, _)| 1 << set.min(31))
    }
}

fn bit(kind: &Kind) -> u32 {
    1 << kind.set.min(31)
}

/// Numbers kinds by part: those that have a shelf in common, and those that these have one with.
fn parts(kinds: &[Kind], shelves: usize) -> Vec<usize> {
    let mut of_shelf: Vec<usize> = (0..shelves).collect();
    for kind in kinds {
        let own: Vec<usize> = kind.shelves().into_iter().filter_map(|shelf| of_shelf.get(shelf).copied()).collect();
        let Some(&least) = own.iter().min() else { continue };
        of_shelf.iter_mut().filter(|part| own.contains(part)).for_each(|part| *part = least);
    }
    let mut numbers: BTreeMap<Option<usize>, usize> = BTreeMap::new();
    let part = |kind: &Kind| {
        let shelf = kind.shelves().into_iter().find_map(|shelf| of_shelf.get(shelf).copied());
        let next = numbers.len();
        *numbers.entry(shelf).or_insert(next)
    };
    kinds.iter().map(part).collect()
}

impl Kind {
    /// Every shelf that it or what it is counted as may stand on.
    fn shelves(&self) -> std::collections::BTreeSet<usize> {
        let own = self.regions.iter().map(|region| region.shelf).chain(self.pinned.map(|spot| spot.shelf));
        match &self.counted {
            Counted::As { regions, .. } => own.chain(regions.iter().map(|region| region.shelf)).collect(),
            _ => own.collect(),
        }
    }
}

#[cfg(test)]
mod tests;
