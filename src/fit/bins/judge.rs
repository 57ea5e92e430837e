//! Whether a load fits into one bin: cheap tests first, then what is known, then a search.
//!
//! A load of which no packing was found is looked at again when it has come back several times, and
//! for longer each time: most loads that fit do so at the first glance, and those that don't would
//! take nearly all the time.

use super::kinds::{Gauge, Kinds, WHOLE};
use super::one_shelf::{LoadOutcome, OneShelf};
use super::start::Filled;
use crate::fit::random::Random;

/// Loads whose answer is kept; a newer one drives out the one in its place.
const KEPT: usize = 1 << 16;
/// The last search of a load goes this deep.
const DEEPEST: u32 = 3;

#[derive(Clone, Copy)]
enum Remembered {
    Fits,
    Never,
    /// Asked for so often without a packing being found.
    Asked(u32),
}

pub(super) struct Judge<'a> {
    kinds: &'a Kinds,
    gauges: Vec<Gauge>,
    /// By mark; no load is empty, so none has the mark 0.
    known: Vec<(u128, Remembered)>,
    shelf: OneShelf<'a>,
}

impl<'a> Judge<'a> {
    pub(super) fn new(kinds: &'a Kinds, gauges: Vec<Gauge>) -> Self {
        Self { kinds, gauges, known: vec![(0, Remembered::Fits); KEPT], shelf: OneShelf::new(kinds) }
    }

    /// Work done so far, in looks.
    pub(super) fn work(&self) -> u64 {
        self.shelf.work
    }

    pub(super) fn spend(&mut self, looks: u64) {
        self.shelf.work += looks;
    }

    /// For members in ascending order; false if no packing was found.
    pub(super) fn fits(&mut self, members: &[u32]) -> bool {
        self.spend((members.len() * self.gauges.len()) as u64 / 4);
        let too_much = |gauge: &Gauge| members.iter().map(|&kind| gauge[kind as usize]).sum::<i64>() > WHOLE;
        if self.gauges.iter().any(too_much) {
            return false;
        }
        let mark = members.iter().fold(0_u128, |sum, &kind| sum.wrapping_add(self.kinds.at(kind).mark));
        let place = (mark % KEPT as u128) as usize;
        let asked = match self.known[place] {
            (known, Remembered::Fits) if known == mark => return true,
            (known, Remembered::Never) if known == mark => return false,
            (known, Remembered::Asked(times)) if known == mark => times + 1,
            _ => 1,
        };
        let answer = match level(asked).map(|level| self.shelf.pack(members, level)) {
            Some(LoadOutcome::Packed) => Remembered::Fits,
            Some(LoadOutcome::Never) => Remembered::Never,
            Some(LoadOutcome::NotYet) | None => Remembered::Asked(asked),
        };
        self.known[place] = (mark, answer);
        matches!(answer, Remembered::Fits)
    }

    /// The packing of a load that was said to fit.
    pub(super) fn packing(&mut self, members: &[u32]) -> Option<Filled> {
        let found = (0..=DEEPEST).any(|level| self.shelf.pack(members, level) == LoadOutcome::Packed);
        found.then(|| self.shelf.placed().to_vec())
    }

    /// Fills a bin with some of the members, as it comes.
    pub(super) fn fill(&mut self, members: &[u32], random: &mut Random) -> Filled {
        self.shelf.fill(members, random);
        self.shelf.placed().to_vec()
    }
}

/// How deep to search when asked for the n-th time, if at all.
const fn level(asked: u32) -> Option<u32> {
    match asked {
        1 => Some(0),
        3 => Some(1),
        15 => Some(2),
        63 => Some(DEEPEST),
        _ => None,
    }
}
