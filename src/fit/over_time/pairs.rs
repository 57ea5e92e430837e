//! Which items of a problem are those of one that was asked before.
//!
//! Items that are equal can stand for each other; they are taken in order, so that nobody changes places and what is
//! proven by some of them is proven by the same. Ground is compared by what it is: each question is put together anew.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::sync::Arc;

use crate::fit::problem::{Item, Phase, Problem, Region, RegionSet, Spot};

/// Items of a problem beside those of one before.
#[derive(Debug)]
pub(super) struct Pairs {
    /// For each item, the one that it was; equal in all, and in the same order.
    pub(super) before: Vec<Option<usize>>,
    /// For those that are new, one that is gone and may have been the same tray.
    pub(super) like: Vec<Option<usize>>,
    /// Items of before that are no more.
    pub(super) gone: Vec<usize>,
}

/// Sets of regions by number: equal sets have equal numbers.
#[derive(Debug, Default)]
pub(super) struct Grounds {
    /// Of sets that live as long as this does.
    by_address: BTreeMap<usize, usize>,
    by_content: BTreeMap<RegionSet, usize>,
}

impl Grounds {
    fn number(&mut self, set: &RegionSet) -> usize {
        let address = Arc::as_ptr(set).cast::<Region>().addr();
        if let Some(&known) = self.by_address.get(&address) {
            return known;
        }
        let next = self.by_content.len();
        let number = *self.by_content.entry(Arc::clone(set)).or_insert(next);
        self.by_address.insert(address, number);
        number
    }

    fn are_equal(&mut self, a: &Item, b: &Item) -> bool {
        (&a.phases, a.pinned, a.wish) == (&b.phases, b.pinned, b.wish)
            && self.number(&a.regions) == self.number(&b.regions)
    }

    /// So many items are equal at the start of two problems, and at their end.
    fn ends(&mut self, before: &[Item], after: &[Item]) -> (usize, usize) {
        let both = before.iter().zip(after);
        let head = both.take_while(|(a, b)| self.are_equal(a, b)).count();
        let (before, after) = (before.get(head..).unwrap_or_default(), after.get(head..).unwrap_or_default());
        let both = before.iter().rev().zip(after.iter().rev());
        (head, both.take_while(|(a, b)| self.are_equal(a, b)).count())
    }

    /// How many items are surely equal: a quick guess at how near two problems are.
    pub(super) fn nearness(&mut self, before: &Problem, after: &Problem) -> usize {
        if before.shelves != after.shelves {
            return 0;
        }
        let (head, tail) = self.ends(&before.items, &after.items);
        head + tail
    }

    pub(super) fn pairs(&mut self, before: &Problem, after: &Problem) -> Pairs {
        let (head, tail) = self.ends(&before.items, &after.items);
        let (left, right) = (before.items.len() - tail, after.items.len() - tail);
        let mut waiting: BTreeMap<Key<'_>, VecDeque<usize>> = BTreeMap::new();
        for (number, item) in before.items.iter().enumerate().take(left).skip(head) {
            waiting.entry(self.key(item)).or_default().push_back(number);
        }
        let mut found: Vec<Option<usize>> = (0..head).map(Some).collect();
        for item in after.items.iter().take(right).skip(head) {
            found.push(waiting.get_mut(&self.key(item)).and_then(VecDeque::pop_front));
        }
        found.extend((left..before.items.len()).map(Some));
        let mut gone: Vec<usize> = waiting.into_values().flatten().collect();
        let mut like = vec![None; found.len()];
        for at in out_of_order(&found) {
            if let (Some(found), Some(like)) = (found.get_mut(at), like.get_mut(at)) {
                *like = found.take();
                gone.extend(*like);
            }
        }
        gone.sort_unstable();
        let taken: BTreeSet<usize> = like.iter().copied().flatten().collect();
        let mut next = gone.iter().copied().filter(|number| !taken.contains(number));
        for (like, before) in like.iter_mut().zip(&found) {
            if before.is_none() && like.is_none() {
                *like = next.next();
            }
        }
        Pairs { before: found, like, gone }
    }

    fn key<'a>(&mut self, item: &'a Item) -> Key<'a> {
        (&item.phases, self.number(&item.regions), item.pinned, item.wish)
    }
}

/// The fewest without which the others are in increasing order.
fn out_of_order(found: &[Option<usize>]) -> Vec<usize> {
    // of all rows of so many, where the one ends that ends lowest; and what comes before each
    let mut ends: Vec<(usize, usize)> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; found.len()];
    for (at, number) in found.iter().enumerate() {
        let Some(number) = *number else { continue };
        let length = ends.partition_point(|&(end, _)| end < number);
        if let (Some(before), Some(shorter)) = (before.get_mut(at), length.checked_sub(1)) {
            *before = ends.get(shorter).map(|&(_, at)| at);
        }
        match ends.get_mut(length) {
            Some(end) => *end = (number, at),
            None => ends.push((number, at)),
        }
    }
    let mut kept = vec![false; found.len()];
    let mut last = ends.last().map(|&(_, at)| at);
    while let Some(at) = last {
        if let Some(kept) = kept.get_mut(at) {
            *kept = true;
        }
        last = before.get(at).copied().flatten();
    }
    (0..found.len()).filter(|&at| kept.get(at) == Some(&false) && found.get(at).is_some_and(Option::is_some)).collect()
}

type Key<'a> = (&'a [Phase], usize, Option<Spot>, Option<Spot>);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};

    fn problem(lengths: &[i32]) -> Problem {
        let shelf = whole(&[(9, 9)]);
        Problem { shelves: shelves(1), items: lengths.iter().map(|&until| tray(0, until, 1, 1, &shelf)).collect() }
    }

    fn of(before: &[i32], after: &[i32]) -> Pairs {
        Grounds::default().pairs(&problem(before), &problem(after))
    }

    #[test]
    fn what_was_put_in_or_taken_out_shifts_nobody() {
        let pairs = of(&[1, 2, 3, 4], &[1, 9, 2, 4]);
        assert_eq!(pairs.before, [Some(0), None, Some(1), Some(3)]);
        assert_eq!((pairs.like, pairs.gone), (vec![None, Some(2), None, None], vec![2]));
    }

    #[test]
    fn whoever_changed_places_is_new_and_known_by_where_it_was() {
        let pairs = of(&[1, 2, 2, 3], &[3, 2, 2, 2, 1]);
        assert_eq!(pairs.before, [None, Some(1), Some(2), None, None]);
        assert_eq!((pairs.like, pairs.gone), (vec![Some(3), None, None, None, Some(0)], vec![0, 3]));
    }

    #[test]
    fn problems_are_near_by_what_is_equal_at_both_ends() {
        let near = |a: &[i32], b: &[i32]| Grounds::default().nearness(&problem(a), &problem(b));
        assert_eq!([near(&[1, 2, 3], &[1, 9, 3]), near(&[1, 2], &[1, 2]), near(&[], &[1])], [2, 2, 0]);
        let mut limited = problem(&[1]);
        limited.shelves[0].load = Some(3);
        assert_eq!(Grounds::default().nearness(&problem(&[1]), &limited), 0);
    }
}
