//! Where no spot is left for a kind of jobs, so that nobody looks there again.
//!
//! A note says: whoever of the kind stands there on all of these days is in somebody's way. It
//! holds as long as nothing is taken away from the shelf. The notes lie under a tree, so that a
//! thousand full shelves are passed over at once.

use std::ops::Range;

use crate::fit::problem::Days;

/// Notes in all trees together; kinds beyond go without, and look for themselves.
const MOST_NOTES: usize = 1 << 21;

/// Nothing is known there.
const OPEN: Days = Days::new(i32::MIN, i32::MAX);
/// What stands for no place at all: within any days.
const NONE: Days = Days::new(i32::MAX, i32::MIN);

/// The order in which a kind's places are gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Along {
    Given,
    Scarce,
}

/// Notes by kind and place.
#[derive(Debug)]
pub(super) struct Nogoods {
    kinds: Vec<Option<[Tree; 2]>>,
    /// By shelf: the kind and the place, in both orders, of each note.
    on: Vec<Vec<(usize, [usize; 2])>>,
    room: usize,
}

impl Nogoods {
    pub(super) fn new(kinds: usize, shelves: usize) -> Self {
        let kinds = (0..kinds).map(|_| None).collect();
        Self { kinds, on: vec![Vec::new(); shelves], room: MOST_NOTES }
    }

    /// The first place of some where a stay over those days may still find a spot.
    pub(super) fn next(&self, kind: usize, along: Along, places: Range<usize>, days: Days) -> Option<usize> {
        if places.is_empty() {
            return None;
        }
        let trees = self.kinds.get(kind).and_then(Option::as_ref);
        match (trees, along) {
            (None, _) => Some(places.start),
            (Some([given, _]), Along::Given) => given.next(places, days),
            (Some([_, scarce]), Along::Scarce) => scarce.next(places, days),
        }
    }

    /// Notes that a place, known by its number in both orders, has no spot for those days.
    pub(super) fn full(&mut self, shelf: usize, kind: usize, places: usize, at: [usize; 2], days: Days) {
        let (Some(slot), Some(on)) = (self.kinds.get_mut(kind), self.on.get_mut(shelf)) else {
            return;
        };
        if slot.is_none() {
            let Some(left) = self.room.checked_sub(2 * places) else {
                return;
            };
            self.room = left;
            *slot = Some([Tree::new(places), Tree::new(places)]);
        }
        if let Some(trees) = slot {
            let [first, _] = at;
            if trees[0].at(first) == OPEN {
                on.push((kind, at));
            }
            for (tree, at) in trees.iter_mut().zip(at) {
                tree.set(at, days);
            }
        }
    }

    /// Something was taken away from the shelf: all that was known of it may be wrong.
    pub(super) fn forget(&mut self, shelf: usize) {
        let noted = self.on.get_mut(shelf).map(std::mem::take).unwrap_or_default();
        for (kind, at) in noted {
            if let Some(trees) = self.kinds.get_mut(kind).and_then(Option::as_mut) {
                for (tree, at) in trees.iter_mut().zip(at) {
                    tree.set(at, OPEN);
                }
            }
        }
    }
}

/// Each node holds the days around those of all notes below it.
#[derive(Debug)]
struct Tree {
    nodes: Vec<Days>,
    leaves: usize,
}

impl Tree {
    fn new(places: usize) -> Self {
        let leaves = places.next_power_of_two();
        let mut tree = Self { nodes: vec![NONE; 2 * leaves], leaves };
        for (at, node) in tree.nodes.iter_mut().enumerate() {
            // the places, and all that is above one of them
            let first = if at == 0 { leaves } else { at << (leaves.ilog2() - at.ilog2()) };
            if first < leaves + places {
                *node = OPEN;
            }
        }
        tree
    }

    fn at(&self, place: usize) -> Days {
        self.nodes.get(self.leaves + place).copied().unwrap_or(NONE)
    }

    fn set(&mut self, place: usize, days: Days) {
        let mut at = self.leaves + place;
        let Some(leaf) = self.nodes.get_mut(at) else {
            return;
        };
        *leaf = days;
        while at > 1 {
            at /= 2;
            let (Some(&a), Some(&b)) = (self.nodes.get(2 * at), self.nodes.get(2 * at + 1)) else {
                return;
            };
            let around = Days::new(a.from.min(b.from), a.until.max(b.until));
            match self.nodes.get_mut(at) {
                Some(node) if *node != around => *node = around,
                _ => return,
            }
        }
    }

    fn next(&self, places: Range<usize>, days: Days) -> Option<usize> {
        self.below(1, 0..self.leaves, &places, days)
    }

    fn below(&self, at: usize, under: Range<usize>, places: &Range<usize>, days: Days) -> Option<usize> {
        let around = *self.nodes.get(at)?;
        let within = days.from <= around.from && around.until <= days.until && around != OPEN;
        if within || under.end <= places.start || places.end <= under.start {
            return None;
        }
        if at >= self.leaves {
            return Some(under.start);
        }
        let middle = usize::midpoint(under.start, under.end);
        self.below(2 * at, under.start..middle, places, days)
            .or_else(|| self.below(2 * at + 1, middle..under.end, places, days))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn full_places_are_passed_over_by_whoever_stays_as_long() {
        let mut nogoods = Nogoods::new(1, 2);
        for place in [0, 1, 2, 4] {
            nogoods.full(0, 0, 5, [place, 4 - place], Days::new(3, 4));
        }
        let next = |nogoods: &Nogoods, along, places, from| nogoods.next(0, along, places, Days::new(from, 9));
        assert_eq!(next(&nogoods, Along::Given, 0..5, 2), Some(3));
        assert_eq!(next(&nogoods, Along::Scarce, 0..5, 3), Some(1));
        assert_eq!(next(&nogoods, Along::Given, 4..5, 2), None);
        assert_eq!(next(&nogoods, Along::Given, 0..5, 4), Some(0));
        assert_eq!(next(&nogoods, Along::Given, 3..3, 4), None);
        nogoods.forget(1);
        assert_eq!(next(&nogoods, Along::Given, 0..5, 2), Some(3));
        nogoods.forget(0);
        assert_eq!(next(&nogoods, Along::Given, 0..5, 2), Some(0));
        assert_eq!(next(&nogoods, Along::Scarce, 2..5, 2), Some(2));
    }

    #[test]
    fn what_stays_for_ever_still_finds_open_places() {
        let mut nogoods = Nogoods::new(1, 1);
        nogoods.full(0, 0, 2, [0, 0], Days::new(5, 6));
        assert_eq!(nogoods.next(0, Along::Given, 0..2, OPEN), Some(1));
    }
}
