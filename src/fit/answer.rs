//! The answer as numbers: spots over time, and what is known of each day.

use super::problem::{Days, Problem, Spot};

/// Spots over time: `spots[item]` lists `(from day, spot)` in order. The first entry may start
/// later than the item (it waits without a spot); each further entry is a move. An empty list
/// means no spot at all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Layout {
    pub spots: Vec<Vec<(i32, Spot)>>,
}

impl Layout {
    pub fn spot_on(&self, item: usize, day: i32) -> Option<Spot> {
        let spots = self.spots.get(item)?;
        spots.iter().rev().find(|(from, _)| *from <= day).map(|&(_, spot)| spot)
    }

    pub fn has_spot(&self, item: usize, day: i32) -> bool {
        self.spot_on(item, day).is_some()
    }

    /// The items that want a spot on that day and have none.
    pub fn no_spot_on(&self, problem: &Problem, day: i32) -> Vec<usize> {
        let present = problem.items.iter().enumerate().filter(|(_, item)| item.days().contains(day));
        present.map(|(number, _)| number).filter(|&number| !self.has_spot(number, day)).collect()
    }

    /// How many items want a spot on each of some days, in order, and have none.
    pub fn without_spot(&self, problem: &Problem, days: &[i32]) -> Vec<usize> {
        let mut changes = vec![0_isize; days.len() + 1];
        let mut change = |day: i32, by: isize| {
            if let Some(sum) = changes.get_mut(days.partition_point(|&other| other < day)) {
                *sum += by;
            }
        };
        for (number, item) in problem.items.iter().enumerate() {
            let waits = item.days();
            let placed = self.spots.get(number).and_then(|spots| spots.iter().map(|&(from, _)| from).min());
            let until = placed.map_or(waits.until, |from| from.min(waits.until));
            if waits.from < until {
                change(waits.from, 1);
                change(until, -1);
            }
        }
        let mut sum = 0_isize;
        let waiting = changes.into_iter().take(days.len()).map(|change| {
            sum += change;
            sum.unsigned_abs()
        });
        waiting.collect()
    }

    /// How often a tray changes its spot.
    pub fn moves(&self) -> usize {
        self.spots.iter().map(|spots| spots.len().saturating_sub(1)).sum()
    }
}

/// A layout and what it means for each day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Answer {
    pub layout: Layout,
    /// In order and without gaps, from the first item's first day to the last one's end.
    pub days: Vec<DayVerdict>,
    /// What it took, in the unit of the budget.
    pub work: u64,
}

/// What is known of a run of days on which nothing changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayVerdict {
    pub days: Days,
    pub verdict: Verdict,
    /// At least so many items can't stand, proven.
    pub short_least: i64,
    /// No more than so many need be left out that day, if everything may be moved for it; the
    /// layout may leave out more.
    pub short_most: i64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Every item of the day has a spot in the layout.
    Fits,
    /// Not every item of the day can have a spot, whatever is moved.
    Crunch(Bound),
    /// Neither a packing nor a proof was found.
    Unsettled,
}

impl Answer {
    pub fn is_fit(&self) -> bool {
        self.days.iter().all(|run| run.verdict == Verdict::Fits)
    }

    /// What is known of a day; `None` outside all items' days.
    pub fn on(&self, day: i32) -> Option<&DayVerdict> {
        self.days.iter().find(|run| run.days.contains(day))
    }

    /// The items that want a spot on a day and have none in the layout.
    pub fn no_spot_on(&self, problem: &Problem, day: i32) -> Vec<usize> {
        self.layout.no_spot_on(problem, day)
    }
}

/// Why no layout of a day exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BoundKind {
    /// The items fit into none of their regions, however turned.
    NoRegion,
    /// Pinned items overlap, or are pinned to ground that isn't theirs.
    PinClash,
    /// Each of the items covers at least one `w` × `d`, and the ground holds fewer of those.
    Count { w: i64, d: i64 },
    /// The items are larger than the ground.
    Area,
    /// All ways to fill each shelf with these sizes hold fewer.
    Patterns,
    /// The items are heavier than the shelves may bear.
    Load,
    /// The items cover more than the packing allowance leaves.
    Cover,
    /// Every way to place the few of them was tried.
    Tried,
}

/// A set of items of one day of which not all can stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    pub kind: BoundKind,
    pub items: Vec<usize>,
    /// At most so many of `items` can stand that day.
    pub held: i64,
}

impl Bound {
    /// At least so many of the items can't stand; more than 0.
    pub fn short(&self) -> i64 {
        i64::try_from(self.items.len()).unwrap_or(i64::MAX).saturating_sub(self.held)
    }

    /// The lowest is the one to tell.
    pub(in crate::fit) fn order(&self) -> (i64, u8, usize) {
        self.kind.order(self.short(), self.items.len())
    }
}

impl BoundKind {
    /// Of bounds about so many items: short of the most, the simplest, about the fewest.
    pub(in crate::fit) fn order(self, short: i64, items: usize) -> (i64, u8, usize) {
        let rank = match self {
            Self::NoRegion => 0,
            Self::PinClash => 1,
            Self::Count { .. } => 2,
            Self::Area => 3,
            Self::Load => 4,
            Self::Cover => 5,
            Self::Patterns => 6,
            Self::Tried => 7,
        };
        (-short, rank, items)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::problem::Shelf;
    use crate::fit::samples::{tray, whole};

    #[test]
    fn those_without_a_spot_are_counted_for_many_days_as_for_one() {
        let shelf = whole(&[(100, 50)]);
        let items = vec![tray(0, 9, 20, 10, &shelf), tray(3, 12, 30, 10, &shelf)];
        let problem = Problem { shelves: vec![Shelf::default()], items };
        let spot = Spot { shelf: 0, x: 0, y: 0, turned: false };
        for spots in [vec![], vec![vec![]], vec![vec![(2, spot), (5, spot)], vec![]], vec![vec![], vec![(3, spot)]]] {
            let layout = Layout { spots };
            let days: Vec<i32> = (-1..14).collect();
            let each: Vec<usize> = days.iter().map(|&day| layout.no_spot_on(&problem, day).len()).collect();
            assert_eq!(layout.without_spot(&problem, &days), each, "{layout:?}");
        }
    }
}
