//! All the ways to fill one shelf to the last with given kinds, as numbers of each kind.
//!
//! Kept from day to day and from edit to edit: shelves and containers change seldom.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

use super::small_sets::{RowBook, SizeCount, SmallSet, small_set};
use crate::fit::place::jobs::FAR;
use crate::fit::problem::Rect;
use crate::fit::work::Cancel;

/// Fewer than so many of the smallest kind must fill a shelf, else its ways are not listed.
const MOST_ON_SHELF: i128 = 24;
/// So many numbers of kinds are tried on one kind of shelf.
const MOST_TRIED: usize = 6_000;
/// Steps for one of them; more, and it counts as possible.
const EFFORT: u64 = 40_000;
/// Steps for all of them.
const WHOLE_EFFORT: u64 = 1_500_000;

/// What matters of an item for whether it still finds room on a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::fit) struct PatternKind {
    pub(in crate::fit) least: i64,
    pub(in crate::fit) most: i64,
    pub(in crate::fit) grams: i64,
}

impl PatternKind {
    fn area(self) -> i128 {
        i128::from(self.least) * i128::from(self.most)
    }
}

/// What matters of a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::fit) struct Room {
    pub(in crate::fit) w: i64,
    pub(in crate::fit) d: i64,
    pub(in crate::fit) load: Option<i64>,
    pub(in crate::fit) cover: Option<i128>,
}

/// Numbers of each kind that may stand together, none within another; anything that does stand
/// together is within one of them.
pub(in crate::fit) type Patterns = Arc<PatternList>;

#[derive(Debug, PartialEq, Eq)]
pub(in crate::fit) struct PatternList {
    each: Vec<Vec<u8>>,
    /// For each, how many of its first numbers are those of the one before it.
    alike: Vec<usize>,
    /// The most of each kind in any of them.
    pub(super) most: Vec<u8>,
}

impl PatternList {
    fn new(each: Vec<Vec<u8>>, kinds: usize) -> Self {
        let in_any = |kind: usize| each.iter().filter_map(|pattern| pattern.get(kind)).max().copied().unwrap_or(0);
        let most = (0..kinds).map(in_any).collect();
        let before = [Vec::new()];
        let pairs = before.iter().chain(&each).zip(&each);
        let alike = pairs.map(|(a, b)| a.iter().zip(b).take_while(|(a, b)| a == b).count()).collect();
        Self { each, alike, most }
    }

    /// The dearest pattern, of equal ones the last, and its worth: `worth` has what so many of a kind come to, `width`
    /// numbers for each kind.
    pub(super) fn dearest(&self, worth: &[i64], width: usize) -> Option<(i64, &[u8])> {
        // what the first kinds of the pattern at hand come to
        let mut sums = vec![0; self.most.len() + 1];
        let mut best: Option<(i64, &[u8])> = None;
        for (pattern, &alike) in self.each.iter().zip(&self.alike) {
            let mut sum = sums.get(alike).copied()?;
            for (kind, &number) in pattern.iter().enumerate().skip(alike) {
                sum += worth.get(kind * width + usize::from(number))?;
                *sums.get_mut(kind + 1)? = sum;
            }
            if best.is_none_or(|(most, _)| sum >= most) {
                best = Some((sum, pattern));
            }
        }
        best
    }
}

impl Deref for PatternList {
    type Target = [Vec<u8>];

    fn deref(&self) -> &[Vec<u8>] {
        &self.each
    }
}

/// The ways found so far; which they are hangs on shelf and kinds alone, not on what was asked before.
#[derive(Clone, Debug, Default)]
pub(in crate::fit) struct PatternBook {
    known: BTreeMap<(Room, Vec<PatternKind>), Option<Patterns>>,
    /// With the steps that each took.
    small_sets: BTreeMap<SetKey, (SmallSet, u64)>,
}

/// A shelf's sides, and what is to stand on it.
type SetKey = (i64, i64, Vec<SizeCount>);

impl PatternBook {
    /// `None` where there are too many to list, or after a cancel.
    pub(in crate::fit) fn patterns(&mut self, room: Room, kinds: &[PatternKind], cancel: &Cancel) -> Option<Patterns> {
        let key = (room, kinds.to_vec());
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let found = self.list(room, kinds, cancel);
        if !cancel.is_cancelled() {
            self.known.insert(key, found.clone());
        }
        found
    }

    pub(super) fn len(&self) -> usize {
        self.small_sets.len()
    }

    /// With what another found.
    pub(super) fn join(&mut self, mut other: Self) {
        self.known.append(&mut other.known);
        self.small_sets.append(&mut other.small_sets);
    }

    /// One way to lay a pattern out, the shelf's longer side along x; `None` if none was found.
    pub(in crate::fit) fn laid_out(&self, room: Room, kinds: &[PatternKind], pattern: &[u8]) -> Option<&[Rect]> {
        match self.small_sets.get(&(room.w, room.d, pieces(kinds, pattern)))? {
            (SmallSet::Stand(rects), _) => Some(rects),
            (SmallSet::Never | SmallSet::Open, _) => None,
        }
    }

    fn list(&mut self, room: Room, kinds: &[PatternKind], cancel: &Cancel) -> Option<Patterns> {
        let least = kinds.iter().map(|kind| kind.area()).min()?;
        if room.w.max(room.d) >= FAR {
            return None;
        }
        if i128::from(room.w) * i128::from(room.d) >= least.saturating_mul(MOST_ON_SHELF) {
            return None;
        }
        let mut list = List::new(room, kinds, self, WHOLE_EFFORT, cancel);
        list.extend(0, &mut vec![0; kinds.len()])?;
        let mut found = list.found;
        found.sort_unstable();
        let within = |a: &[u8], b: &[u8]| a != b && a.iter().zip(b).all(|(a, b)| a <= b);
        let each = found.iter().filter(|one| !found.iter().any(|other| within(one, other))).cloned().collect();
        Some(Arc::new(PatternList::new(each, kinds.len())))
    }
}

fn pieces(kinds: &[PatternKind], numbers: &[u8]) -> Vec<SizeCount> {
    let mut sizes: BTreeMap<(i64, i64), u8> = BTreeMap::new();
    for (kind, &number) in kinds.iter().zip(numbers).filter(|(_, number)| **number > 0) {
        let all = sizes.entry((kind.most, kind.least)).or_default();
        *all = all.saturating_add(number);
    }
    sizes.into_iter().map(|((w, d), number)| SizeCount { w, d, number }).collect()
}

struct List<'a> {
    cancel: &'a Cancel,
    room: Room,
    kinds: &'a [PatternKind],
    /// The kinds, largest first: of the smallest there are most, and only the most that go with the others are sought.
    order: Vec<usize>,
    book: &'a mut PatternBook,
    rows: RowBook,
    found: Vec<Vec<u8>>,
    /// Numbers that never stand, nor any more.
    never: Vec<Vec<u8>>,
    /// What was asked before, and the steps that it was given.
    given: BTreeMap<SetKey, u64>,
    tried: usize,
    effort: u64,
}

impl<'a> List<'a> {
    fn new(room: Room, kinds: &'a [PatternKind], book: &'a mut PatternBook, effort: u64, cancel: &'a Cancel) -> Self {
        let mut order: Vec<usize> = (0..kinds.len()).collect();
        order.sort_by_key(|&kind| kinds.get(kind).map(|kind| Reverse(kind.area())));
        let (found, never, given) = (Vec::new(), Vec::new(), BTreeMap::new());
        Self { cancel, room, kinds, order, book, rows: RowBook::default(), found, never, given, tried: 0, effort }
    }

    /// Every number of the kinds from `at` on that goes with those before; `None` once too many.
    fn extend(&mut self, at: usize, numbers: &mut [u8]) -> Option<()> {
        let &kind = self.order.get(at)?;
        if at + 1 == self.order.len() {
            return self.fill_up(kind, numbers);
        }
        loop {
            self.extend(at + 1, numbers)?;
            numbers[kind] += 1;
            if !self.attempt(numbers)? {
                break;
            }
        }
        numbers[kind] = 0;
        Some(())
    }

    /// The most of the last kind that goes with the others.
    fn fill_up(&mut self, kind: usize, numbers: &mut [u8]) -> Option<()> {
        while self.within_limits(numbers) {
            numbers[kind] += 1;
        }
        // with none of it they are known to be possible
        numbers[kind] = numbers[kind].saturating_sub(1);
        while numbers[kind] > 0 && !self.attempt(numbers)? {
            numbers[kind] -= 1;
        }
        self.tried += usize::from(numbers[kind]);
        self.found.push(numbers.to_vec());
        numbers[kind] = 0;
        Some(())
    }

    /// Whether so many may stand; `None` once too many were tried.
    fn attempt(&mut self, numbers: &[u8]) -> Option<bool> {
        self.tried += 1;
        if self.tried > MOST_TRIED || self.cancel.is_cancelled() {
            return None;
        }
        let fewer = |never: &Vec<u8>| never.iter().zip(numbers).all(|(never, number)| never <= number);
        if !self.within_limits(numbers) || self.never.iter().any(fewer) {
            return Some(false);
        }
        let possible = self.possible(numbers);
        if !possible {
            self.never.push(numbers.to_vec());
        }
        Some(possible)
    }

    /// By area and weight.
    fn within_limits(&self, numbers: &[u8]) -> bool {
        let sum = |of: &dyn Fn(&PatternKind) -> i128| -> i128 {
            self.kinds.iter().zip(numbers).map(|(kind, &number)| of(kind) * i128::from(number)).sum()
        };
        let heavy = self.room.load.is_some_and(|load| sum(&|kind| i128::from(kind.grams.max(0))) > i128::from(load));
        let ground = i128::from(self.room.w) * i128::from(self.room.d);
        !heavy && sum(&|kind| kind.area()) <= self.room.cover.map_or(ground, |cover| cover.min(ground))
    }

    /// As far as was found out with the steps that there were for it.
    fn possible(&mut self, numbers: &[u8]) -> bool {
        let key = (self.room.w, self.room.d, pieces(self.kinds, numbers));
        let before = self.given.get(&key).copied();
        let given = before.unwrap_or(EFFORT.min(self.effort));
        let (set, used) = match self.book.small_sets.get(&key) {
            Some((set, used)) => (*set != SmallSet::Never, *used),
            None => self.try_set(&key, given),
        };
        if before.is_none() {
            self.effort -= used.min(given);
            self.given.insert(key, given);
        }
        // what took more steps than there are left is not known
        set || used > given
    }

    /// Whether it may stand, and the steps that took.
    fn try_set(&mut self, key: &SetKey, given: u64) -> (bool, u64) {
        let mut left = given;
        let set = small_set((key.0, key.1), &key.2, &mut self.rows, &mut left);
        let (possible, used) = (set != SmallSet::Never, given - left);
        if set != SmallSet::Open || given == EFFORT {
            self.book.small_sets.insert(key.clone(), (set, used));
        }
        (possible, used)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FLAT: PatternKind = PatternKind { least: 278, most: 545, grams: 7_000 };
    const CRATE: PatternKind = PatternKind { least: 320, most: 530, grams: 9_000 };
    const SHELF: Room = Room { w: 610, d: 1219, load: None, cover: None };

    fn sorted(patterns: &Patterns) -> Vec<Vec<u8>> {
        let mut list = patterns.to_vec();
        list.sort_unstable();
        list
    }

    #[test]
    fn flats_and_crates_share_a_shelf_four_at_a_time() {
        let found = PatternBook::default().patterns(SHELF, &[FLAT, CRATE], &Cancel::default()).expect("few");
        assert_eq!(sorted(&found), [[1, 3], [2, 2], [3, 1], [4, 0]].map(Vec::from));
    }

    #[test]
    fn load_and_allowance_leave_less() {
        let mut book = PatternBook::default();
        let heavy = Room { load: Some(23_000), ..SHELF };
        assert_eq!(
            sorted(&book.patterns(heavy, &[FLAT, CRATE], &Cancel::default()).expect("few")),
            [[0, 2], [2, 1], [3, 0]].map(Vec::from)
        );
        let allowance = Room { cover: Some(320_000), ..SHELF };
        assert_eq!(
            sorted(&book.patterns(allowance, &[FLAT, CRATE], &Cancel::default()).expect("few")),
            [[0, 1], [2, 0]].map(Vec::from)
        );
    }

    #[test]
    fn numbers_end_with_the_ground_even_without_any_effort() {
        let mut book = PatternBook::default();
        let cancel = Cancel::default();
        let mut list = List::new(SHELF, &[CRATE], &mut book, 0, &cancel);
        assert_eq!(list.extend(0, &mut [0]), Some(()));
        assert_eq!(list.found, [[4]]);
    }

    #[test]
    fn a_bench_with_too_many_ways_is_left_alone() {
        let bench = Room { w: 6_000, d: 1_800, ..SHELF };
        assert_eq!(PatternBook::default().patterns(bench, &[FLAT, CRATE], &Cancel::default()), None);
        assert_eq!(PatternBook::default().patterns(SHELF, &[], &Cancel::default()), None);
    }
}
