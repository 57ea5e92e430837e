//! The question as numbers.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use siphasher::sip128::{Hasher128 as _, SipHasher13};

/// Half-open days `[from, until)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Days {
    pub from: i32,
    pub until: i32,
}

impl Days {
    pub const fn new(from: i32, until: i32) -> Self {
        Self { from, until }
    }

    pub const fn contains(self, day: i32) -> bool {
        self.from <= day && day < self.until
    }

    pub const fn overlaps(self, other: Self) -> bool {
        self.from < other.until && other.from < self.until
    }
}

/// Half-open in both directions: rectangles that touch don't overlap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rect {
    pub x: i64,
    pub y: i64,
    pub w: i64,
    pub d: i64,
}

impl Rect {
    pub const fn overlaps(self, other: Self) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.back() && other.y < self.back()
    }

    pub const fn holds(self, other: Self) -> bool {
        self.x <= other.x && self.y <= other.y && other.right() <= self.right() && other.back() <= self.back()
    }

    /// The first `x` beyond it; a spot typed far out of this world must not overflow.
    pub const fn right(self) -> i64 {
        self.x.saturating_add(self.w)
    }

    /// The first `y` beyond it.
    pub const fn back(self) -> i64 {
        self.y.saturating_add(self.d)
    }

    /// The smallest rectangle around both.
    #[must_use]
    pub fn around(self, other: Self) -> Self {
        let (x, y) = (self.x.min(other.x), self.y.min(other.y));
        let (right, back) = (self.right().max(other.right()), self.back().max(other.back()));
        Self { x, y, w: right.saturating_sub(x), d: back.saturating_sub(y) }
    }

    pub const fn area(self) -> i128 {
        self.w as i128 * self.d as i128
    }
}

/// A shelf's limits that concern all that stands on it. Its outline is known by its regions.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Shelf {
    /// The most that may stand on it, in grams.
    pub load: Option<i64>,
    /// The most surface that may be covered, in square units, where a packing allowance is kept.
    pub cover: Option<i128>,
}

/// A part of a shelf in which a whole item may stand: all of it, or a lamp's or mat's reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Region {
    pub shelf: usize,
    pub rect: Rect,
}

/// The regions in which an item may stand, best first; one region at a time.
pub type RegionSet = Arc<[Region]>;

/// What an item is during some of its days. The corner at its spot stays where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Phase {
    pub days: Days,
    /// Outer shape before any turn, gap included; more than 0.
    pub w: i64,
    pub d: i64,
    /// At least 0.
    pub grams: i64,
}

/// Something that needs one spot for all its days.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Item {
    /// In order, without gaps or overlaps; never empty.
    pub phases: Vec<Phase>,
    pub regions: RegionSet,
    /// A spot that the grower has pinned: the item stands there or nowhere.
    pub pinned: Option<Spot>,
    /// Where it stands now; kept if that costs nothing.
    pub wish: Option<Spot>,
}

impl Item {
    /// From the first phase's first day until the last phase's last.
    pub fn days(&self) -> Days {
        match (self.phases.first(), self.phases.last()) {
            (Some(first), Some(last)) => Days::new(first.days.from, last.days.until),
            _ => Days::new(0, 0),
        }
    }

    pub fn phase_on(&self, day: i32) -> Option<&Phase> {
        self.phases.iter().find(|phase| phase.days.contains(day))
    }
}

/// Where an item stands: its corner nearest to the shelf's origin, turned by a quarter or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    pub shelf: usize,
    pub x: i64,
    pub y: i64,
    pub turned: bool,
}

impl Spot {
    /// The ground that `phase` covers at this spot.
    pub const fn rect(self, phase: &Phase) -> Rect {
        let (w, d) = if self.turned { (phase.d, phase.w) } else { (phase.w, phase.d) };
        Rect { x: self.x, y: self.y, w, d }
    }
}

/// Shelves, and what wants to stand on them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Problem {
    pub shelves: Vec<Shelf>,
    pub items: Vec<Item>,
}

impl Problem {
    /// Known by this number on every machine: equal problems have equal hashes.
    pub fn hash_stable(&self) -> u128 {
        // Thousands of items share their thousands of regions: each set is gone through once.
        let mut sets: BTreeMap<*const Region, u128> = BTreeMap::new();
        let mut hasher = SipHasher13::new();
        let into = &mut LittleEndian(&mut hasher);
        self.shelves.hash(into);
        for Item { phases, regions, pinned, wish } in &self.items {
            let set = *sets.entry(regions.as_ptr()).or_insert_with(|| {
                let mut own = SipHasher13::new();
                regions.hash(&mut LittleEndian(&mut own));
                own.finish128().as_u128()
            });
            (phases, set, pinned, wish).hash(into);
        }
        hasher.finish128().as_u128()
    }

    /// Every day on which the set of standing items, or one's shape, changes; in order.
    pub fn change_days(&self) -> Vec<i32> {
        let mut days: Vec<i32> =
            self.items.iter().flat_map(|item| &item.phases).flat_map(|p| [p.days.from, p.days.until]).collect();
        days.sort_unstable();
        days.dedup();
        days
    }
}

/// Feeds numbers in one byte order and width, so that a hash is the same everywhere.
struct LittleEndian<'a>(&'a mut SipHasher13);

impl Hasher for LittleEndian<'_> {
    fn finish(&self) -> u64 {
        self.0.finish()
    }
    fn write(&mut self, bytes: &[u8]) {
        self.0.write(bytes);
    }
    fn write_u32(&mut self, n: u32) {
        self.0.write(&n.to_le_bytes());
    }
    fn write_u64(&mut self, n: u64) {
        self.0.write(&n.to_le_bytes());
    }
    fn write_u128(&mut self, n: u128) {
        self.0.write(&n.to_le_bytes());
    }
    fn write_usize(&mut self, n: usize) {
        self.write_u64(n as u64);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{tray, whole};

    fn problem() -> Problem {
        let shelf = whole(&[(100, 50), (60, 50)]);
        let mut items = vec![tray(0, 9, 20, 10, &shelf), tray(3, 12, 30, 10, &shelf)];
        items[1].pinned = Some(Spot { shelf: 1, x: -5, y: 7, turned: true });
        Problem { shelves: vec![Shelf { load: Some(9_000), cover: None }, Shelf::default()], items }
    }

    #[test]
    fn equal_problems_have_one_hash_on_every_machine() {
        assert_eq!(problem().hash_stable(), problem().hash_stable());
        // Written down once, on a 64-bit little-endian machine.
        assert_eq!(problem().hash_stable(), 140_133_443_766_418_203_436_603_504_194_637_593_142);
    }

    #[test]
    fn any_change_changes_the_hash() {
        let mut wider = problem();
        wider.items[0].phases[0].w += 1;
        let mut unpinned = problem();
        unpinned.items[1].pinned = None;
        let mut unloaded = problem();
        unloaded.shelves[0].load = None;
        for other in [wider, unpinned, unloaded] {
            assert_ne!(other.hash_stable(), problem().hash_stable());
        }
    }

    #[test]
    fn days_on_which_something_changes_come_once_and_in_order() {
        assert_eq!(problem().change_days(), [0, 3, 9, 12]);
    }

    #[test]
    fn rectangles_that_touch_do_not_overlap() {
        let a = Rect { x: 0, y: 0, w: 5, d: 5 };
        assert!(!a.overlaps(Rect { x: 5, ..a }) && a.overlaps(Rect { x: 4, ..a }));
        assert!(a.holds(a) && !a.holds(Rect { w: 6, ..a }));
        let far = Rect { x: i64::MAX, y: i64::MAX, w: i64::MAX, d: 1 };
        assert!(!a.overlaps(far) && !a.holds(far));
    }

    #[test]
    fn a_turned_spot_swaps_the_sides() {
        let phase = Phase { days: Days::new(0, 1), w: 3, d: 2, grams: 0 };
        let spot = Spot { shelf: 0, x: 1, y: 1, turned: true };
        assert_eq!(spot.rect(&phase), Rect { x: 1, y: 1, w: 2, d: 3 });
    }
}
