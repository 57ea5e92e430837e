//! Parts of a problem that have nothing to do with each other, and one answer from theirs.
//!
//! Items that could never be in each other's way, on no shelf or on no day, are solved apart: in
//! less time than together, on several threads, and again only where something has changed.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::fit::answer::{Answer, Bound, DayVerdict, Layout, Verdict};
use crate::fit::problem::{Days, Item, Problem, Shelf};

/// Some of a problem's items, by their numbers there, as a problem of their own.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) items: Vec<usize>,
    pub(super) problem: Arc<Problem>,
}

/// The parts, in order of their first items.
pub(super) fn apart(problem: &Problem) -> Vec<Part> {
    let mut by_ground: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut shelves = Joined::new(problem.shelves.len() + 1);
    // Whoever may stand nowhere is on a shelf that nobody has.
    let nowhere = problem.shelves.len();
    let first = |item: &Item| item.regions.first().map_or(nowhere, |region| region.shelf.min(nowhere));
    for item in one_of_each_ground(&problem.items) {
        let one = first(item);
        for region in item.regions.iter() {
            shelves.join(one, region.shelf.min(nowhere));
        }
    }
    for (number, item) in problem.items.iter().enumerate() {
        by_ground.entry(shelves.of(first(item))).or_default().push(number);
    }
    let mut parts: Vec<Vec<usize>> = by_ground.into_values().flat_map(|items| by_days(problem, items)).collect();
    parts.sort_unstable();
    parts.into_iter().map(|items| part(problem, items)).collect()
}

/// Cut where nobody who was there stays.
fn by_days(problem: &Problem, mut items: Vec<usize>) -> Vec<Vec<usize>> {
    let days = |number: usize| problem.items.get(number).map_or(Days::new(0, 0), Item::days);
    items.sort_by_key(|&number| (days(number).from, number));
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut until = i32::MIN;
    for number in items {
        let days = days(number);
        if days.from >= until || parts.is_empty() {
            parts.push(Vec::new());
        }
        until = until.max(days.until);
        if let Some(part) = parts.last_mut() {
            part.push(number);
        }
    }
    for part in &mut parts {
        part.sort_unstable();
    }
    parts
}

/// Limits of shelves that it does not use are left out, so that a change to them changes nothing.
fn part(problem: &Problem, items: Vec<usize>) -> Part {
    let own: Vec<Item> = items.iter().filter_map(|&number| problem.items.get(number)).cloned().collect();
    let mut shelves: Vec<Shelf> = Vec::new();
    for shelf in one_of_each_ground(&own).flat_map(|item| item.regions.iter()).map(|region| region.shelf) {
        let Some(limits) = problem.shelves.get(shelf) else { continue };
        if shelves.len() <= shelf {
            shelves.resize(shelf + 1, Shelf::default());
        }
        shelves[shelf].clone_from(limits);
    }
    Part { items, problem: Arc::new(Problem { shelves, items: own }) }
}

/// Thousands of items share their thousands of regions.
fn one_of_each_ground(items: &[Item]) -> impl Iterator<Item = &Item> {
    let mut seen = BTreeSet::new();
    items.iter().filter(move |item| seen.insert(item.regions.as_ptr()))
}

/// One answer from the parts' answers.
pub(super) fn merged(problem: &Problem, parts: &[(&[usize], &Answer)]) -> Answer {
    let mut layout = Layout { spots: vec![Vec::new(); problem.items.len()] };
    let mut cuts: Vec<i32> = Vec::new();
    for (items, answer) in parts {
        for (&item, spots) in items.iter().zip(&answer.layout.spots) {
            if let Some(slot) = layout.spots.get_mut(item) {
                slot.clone_from(spots);
            }
        }
        cuts.extend(answer.days.iter().flat_map(|run| [run.days.from, run.days.until]));
    }
    cuts.sort_unstable();
    cuts.dedup();
    let mut at = vec![0; parts.len()];
    let mut days = Vec::new();
    for (&from, &until) in cuts.iter().zip(cuts.iter().skip(1)) {
        let mut run =
            DayVerdict { days: Days::new(from, until), verdict: Verdict::Fits, short_least: 0, short_most: 0 };
        for ((items, answer), at) in parts.iter().zip(&mut at) {
            while answer.days.get(*at).is_some_and(|own| own.days.until <= from) {
                *at += 1;
            }
            if let Some(own) = answer.days.get(*at).filter(|own| own.days.contains(from)) {
                add(&mut run, own, items);
            }
        }
        days.push(run);
    }
    Answer { layout, days, work: parts.iter().map(|(_, answer)| answer.work).sum() }
}

/// A crunch in one part is a crunch of the day; of several, the one that is short of the most.
fn add(run: &mut DayVerdict, own: &DayVerdict, items: &[usize]) {
    run.short_least += own.short_least;
    run.short_most += own.short_most;
    match (&run.verdict, &own.verdict) {
        (_, Verdict::Fits) | (Verdict::Crunch(_), Verdict::Unsettled) => {}
        (_, Verdict::Unsettled) => run.verdict = Verdict::Unsettled,
        (Verdict::Crunch(old), Verdict::Crunch(new)) if new.order() >= old.order() => {}
        (_, Verdict::Crunch(bound)) => {
            let items = bound.items.iter().filter_map(|&item| items.get(item).copied()).collect();
            run.verdict = Verdict::Crunch(Bound { items, ..bound.clone() });
        }
    }
}

/// Numbers that belong together.
struct Joined(Vec<usize>);

impl Joined {
    fn new(number: usize) -> Self {
        Self((0..number).collect())
    }

    /// The number that stands for all that are joined with `one`.
    fn of(&mut self, mut one: usize) -> usize {
        while self.0[one] != one {
            self.0[one] = self.0[self.0[one]];
            one = self.0[one];
        }
        one
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.of(one), self.of(other));
        self.0[one.max(other)] = one.min(other);
    }
}

/// The largest parts first: they take the longest.
pub(super) fn largest_first(parts: &[Part]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&number| (Reverse(parts[number].items.len()), number));
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};
    use crate::fit::{Rect, Region, RegionSet};

    fn on(shelf: usize) -> RegionSet {
        Arc::from([Region { shelf, rect: Rect { x: 0, y: 0, w: 9, d: 9 } }])
    }

    #[test]
    fn what_shares_no_shelf_or_no_day_is_apart() {
        let both = whole(&[(9, 9), (9, 9)]);
        let items = vec![
            tray(0, 5, 1, 1, &on(0)),
            tray(0, 5, 1, 1, &on(2)),
            tray(4, 8, 1, 1, &both),
            tray(8, 9, 1, 1, &on(0)),
            tray(3, 7, 1, 1, &on(1)),
            tray(0, 9, 1, 1, &whole(&[])),
        ];
        let problem = Problem { shelves: shelves(3), items };
        let parts: Vec<Vec<usize>> = apart(&problem).into_iter().map(|part| part.items).collect();
        assert_eq!(parts, [vec![0, 2, 4], vec![1], vec![3], vec![5]]);
    }

    #[test]
    fn limits_of_other_shelves_make_no_other_part() {
        let items = vec![tray(0, 5, 1, 1, &on(0)), tray(0, 5, 1, 1, &on(2))];
        let mut problem = Problem { shelves: shelves(3), items };
        let hashes =
            |problem: &Problem| -> Vec<u128> { apart(problem).iter().map(|part| part.problem.hash_stable()).collect() };
        let before = hashes(&problem);
        problem.shelves[2].load = Some(7);
        let after = hashes(&problem);
        assert_eq!(before[0], after[0]);
        assert_ne!(before[1], after[1]);
    }
}
