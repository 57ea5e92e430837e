//! One bin fewer: items go to and fro between the bins and a pool until the pool is empty.
//!
//! Every bin can be packed at all times. Changes are drawn, and those for the worse are taken the
//! less often the worse they are and the longer it goes on (simulated annealing): better is less in
//! the pool, then bins that differ more in their fill, as one with much room takes what others can't.

use super::judge::Judge;
use super::kinds::{Kinds, WHOLE};
use super::start::Filled;
use crate::fit::random::Random;
use crate::fit::work::{Cancel, Cancelled};

/// Of a thousand changes: bins filled anew, and exchanges with the pool. Figures here and below are
/// the best of a few on published instances, where half or twice of each gave much the same.
const REFILLS: usize = 200;
const WITH_POOL: usize = 320;
/// What is often taken at first, in parts of a bin.
const HEAT: i64 = WHOLE / 50;
/// Looks until it is cold and starts over.
const CYCLE: u64 = 15_000_000;

/// What one bin holds.
#[derive(Clone, Debug, Default)]
pub(super) struct Load {
    /// In ascending order.
    pub(super) members: Vec<u32>,
    parts: i64,
    /// How it stands there, where that is not for the judge to find.
    pub(super) filled: Option<Filled>,
}

impl Load {
    pub(super) fn new(kinds: &Kinds, filled: Filled) -> Self {
        let mut members: Vec<u32> = filled.iter().map(|&(kind, _)| kind).collect();
        members.sort_unstable();
        let parts = members.iter().map(|&kind| kinds.at(kind).parts).sum();
        Self { members, parts, filled: Some(filled) }
    }

    fn set(&mut self, members: &mut Vec<u32>, parts: i64) {
        std::mem::swap(&mut self.members, members);
        self.parts = parts;
        self.filled = None;
    }
}

/// Places of up to two members.
type Picks = [Option<usize>; 2];

pub(super) struct Annealing<'a, 'b> {
    kinds: &'a Kinds,
    judge: &'b mut Judge<'a>,
    random: &'b mut Random,
    bins: Vec<Load>,
    pool: Vec<u32>,
    heat: i64,
    /// Members that two bins would have; kept for their memory.
    trial: [Vec<u32>; 2],
}

impl<'a, 'b> Annealing<'a, 'b> {
    /// The least filled bin of a packing goes to the pool.
    pub(super) fn new(kinds: &'a Kinds, judge: &'b mut Judge<'a>, random: &'b mut Random, mut bins: Vec<Load>) -> Self {
        let least = (0..bins.len()).min_by_key(|&n| bins[n].parts);
        let pool = least.map(|n| bins.swap_remove(n).members).unwrap_or_default();
        Self { kinds, judge, random, bins, pool, heat: 0, trial: [Vec::new(), Vec::new()] }
    }

    /// The bins that hold all items; `None` once the judge's work has come to `until`.
    pub(super) fn run(mut self, until: u64, cancel: &Cancel) -> Result<Option<Vec<Load>>, Cancelled> {
        if self.bins.is_empty() {
            return Ok(None);
        }
        let from = self.judge.work();
        while !self.pool.is_empty() {
            if self.judge.work() >= until {
                return Ok(None);
            }
            cancel.check()?;
            let at = (self.judge.work() - from) % CYCLE;
            self.heat = HEAT * (CYCLE - at).cast_signed() / CYCLE.cast_signed();
            self.judge.spend(2);
            match self.random.below(1000) {
                n if n < REFILLS => self.refill(),
                n if n < REFILLS + WITH_POOL => self.exchange_with_pool(),
                _ => self.exchange(),
            }
        }
        Ok(Some(self.bins))
    }

    /// Whether a change for the worse by so much is taken.
    fn takes(&mut self, worse: i64) -> bool {
        if worse <= 0 {
            return true;
        }
        // -log2 of a chance in 1/1024, straight between the powers of two: whole numbers are the
        // same everywhere.
        let chance = self.random.below(1 << 20) as u64 | 1;
        let zeros = chance.leading_zeros() - 44;
        let beyond = (chance << zeros) - (1 << 19);
        worse.saturating_mul(1024) <= self.heat * (1024 * i64::from(zeros + 1) - (beyond >> 9).cast_signed())
    }

    fn parts(&self, members: impl Iterator<Item = u32>) -> i64 {
        members.map(|kind| self.kinds.at(kind).parts).sum()
    }

    /// So many places among `many`, if there are as many.
    fn pick(&mut self, count: usize, many: usize) -> Picks {
        let mut picks = [None; 2];
        if count > 0 && many > 0 {
            let first = self.random.below(many);
            picks[0] = Some(first);
            if count > 1 && many > 1 {
                picks[1] = Some((first + 1 + self.random.below(many - 1)) % many);
            }
        }
        picks
    }

    /// Two bins, or one twice if there are no others.
    fn two_bins(&mut self) -> (usize, usize) {
        let [a, b] = self.pick(2, self.bins.len());
        let a = a.unwrap_or(0);
        (a, b.unwrap_or(a))
    }

    /// One or two of the pool into a bin, up to two of the bin into the pool.
    fn exchange_with_pool(&mut self) {
        let count = if self.random.below(4) == 0 { 2 } else { 1 };
        let coming = self.pick(count, self.pool.len());
        let n = self.random.below(self.bins.len());
        let count = self.random.below(3);
        let going = self.pick(count, self.bins[n].members.len());
        let more = self.parts(picked(&self.pool, coming)) - self.parts(picked(&self.bins[n].members, going));
        let (before, after) = (self.bins[n].parts, self.bins[n].parts + more);
        if after > WHOLE || !self.takes(square(before) - square(after) - more) {
            return;
        }
        let [mut members, mut pool] = std::mem::take(&mut self.trial);
        refresh(&mut members, others(&self.bins[n].members, going), picked(&self.pool, coming));
        if self.judge.fits(&members) {
            refresh(&mut pool, others(&self.pool, coming), picked(&self.bins[n].members, going));
            std::mem::swap(&mut self.pool, &mut pool);
            self.bins[n].set(&mut members, after);
        }
        self.trial = [members, pool];
    }

    /// Up to two of one bin for up to two of another.
    fn exchange(&mut self) {
        let (a, b) = self.two_bins();
        let (from_a, from_b) = (self.random.below(3), self.random.below(3));
        if a == b || from_a + from_b == 0 {
            return;
        }
        let from_a = self.pick(from_a, self.bins[a].members.len());
        let from_b = self.pick(from_b, self.bins[b].members.len());
        let (bin_a, bin_b) = (&self.bins[a], &self.bins[b]);
        let more = self.parts(picked(&bin_b.members, from_b)) - self.parts(picked(&bin_a.members, from_a));
        let (before_a, before_b) = (bin_a.parts, bin_b.parts);
        let (after_a, after_b) = (before_a + more, before_b - more);
        let worse = square(before_a) + square(before_b) - square(after_a) - square(after_b);
        if after_a > WHOLE || after_b > WHOLE || !self.takes(worse) {
            return;
        }
        let [mut for_a, mut for_b] = std::mem::take(&mut self.trial);
        let (old_a, old_b) = (&self.bins[a].members, &self.bins[b].members);
        refresh(&mut for_a, others(old_a, from_a), picked(old_b, from_b));
        refresh(&mut for_b, others(old_b, from_b), picked(old_a, from_a));
        // The fuller first, as it is refused more often.
        let (fuller, other) = if after_a > after_b { (&for_a, &for_b) } else { (&for_b, &for_a) };
        if self.judge.fits(fuller) && self.judge.fits(other) {
            self.bins[a].set(&mut for_a, after_a);
            self.bins[b].set(&mut for_b, after_b);
        }
        self.trial = [for_a, for_b];
    }

    /// Fills two bins, one after the other, with what they and the pool hold.
    fn refill(&mut self) {
        let (a, b) = self.two_bins();
        let [mut all, spare] = std::mem::take(&mut self.trial);
        all.clear();
        all.extend_from_slice(&self.pool);
        let before = self.parts(self.pool.iter().copied());
        let mut squares = 0;
        let places = if a == b { vec![a] } else { vec![a, b] };
        for &n in &places {
            all.extend_from_slice(&self.bins[n].members);
            squares += square(self.bins[n].parts);
        }
        all.sort_unstable();
        let mut loads = Vec::with_capacity(2);
        for _ in &places {
            let load = Load::new(self.kinds, self.judge.fill(&all, self.random));
            let mut gone = load.members.iter().peekable();
            all.retain(|kind| gone.next_if_eq(&kind).is_none());
            squares -= square(load.parts);
            loads.push(load);
        }
        if self.takes(self.parts(all.iter().copied()) - before + squares) {
            for (n, load) in places.into_iter().zip(loads) {
                self.bins[n] = load;
            }
            std::mem::swap(&mut self.pool, &mut all);
        }
        self.trial = [all, spare];
    }
}

fn picked(members: &[u32], picks: Picks) -> impl Iterator<Item = u32> {
    picks.into_iter().flatten().filter_map(|at| members.get(at).copied())
}

fn others(members: &[u32], picks: Picks) -> impl Iterator<Item = u32> {
    (0..).zip(members).filter(move |(at, _)| !picks.contains(&Some(*at))).map(|(_, &kind)| kind)
}

fn refresh(members: &mut Vec<u32>, stay: impl Iterator<Item = u32>, come: impl Iterator<Item = u32>) {
    members.clear();
    members.extend(stay);
    members.extend(come);
    members.sort_unstable();
}

const fn square(parts: i64) -> i64 {
    parts * parts / WHOLE
}
