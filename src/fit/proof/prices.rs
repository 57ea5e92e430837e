//! A proof that a day cannot be packed, from prices on ground.
//!
//! Give every class of items a price between 0 and 1. However the items stand, what stands on one
//! shelf is within one of its patterns, so all that stands is worth at most the dearest pattern of
//! every shelf; and an item that stands adds, beyond its price, at most 1 less the price. Both in
//! sum are a bound on how many can stand, whatever the prices: Lagrangian relaxation of packing by
//! patterns. Good prices are sought by subgradient steps of B. T. Polyak (1969; recalled, not
//! re-read), in floating point; the bound itself is counted in whole numbers.

use std::collections::{BTreeMap, BTreeSet};

use super::on_day::Alike;
use super::patterns::{PatternBook, PatternKind, Patterns, Room};
use crate::fit::answer::{Bound, BoundKind};
use crate::fit::problem::{Problem, Region};
use crate::fit::work::Cancel;

/// Whole numbers of this make a price of 1.
pub(in crate::fit) const ONE: i64 = 1 << 16;
const MOST_STEPS: usize = 600;
/// Steps from one time that it is asked whether more is worth while to the next.
const ASKED: usize = 20;
/// More classes than this, or more kinds, are for coarser bounds.
const MOST_CLASSES: usize = 120;
pub(in crate::fit) const MOST_KINDS: usize = 10;

/// Items of one kind with the same shelves.
#[derive(Debug)]
pub(in crate::fit) struct PriceClass {
    pub(in crate::fit) kind: PatternKind,
    pub(in crate::fit) items: Vec<usize>,
}

/// The ground of one shelf.
#[derive(Clone, Copy, Debug)]
pub(in crate::fit) struct ShelfGround {
    pub(in crate::fit) region: Region,
    /// Whoever may stand on it may stand anywhere on it.
    pub(in crate::fit) whole: bool,
}

/// Shelves that are alike to every class.
#[derive(Debug)]
pub(in crate::fit) struct Group {
    pub(in crate::fit) shelves: Vec<ShelfGround>,
    pub(in crate::fit) room: Room,
    pub(in crate::fit) kinds: Vec<PatternKind>,
    pub(in crate::fit) patterns: Patterns,
    /// The classes that may stand on it, by the patterns' kinds.
    pub(in crate::fit) classes: Vec<Vec<usize>>,
}

impl Group {
    pub(in crate::fit) fn number(&self) -> i64 {
        count(&self.shelves)
    }

    /// The dearest pattern of one shelf.
    pub(in crate::fit) fn worth(&self, prices: &[i64], numbers: &[i64]) -> i64 {
        self.dearest(prices, numbers).map_or(0, |dearest| dearest.worth)
    }

    fn dearest(&self, prices: &[i64], numbers: &[i64]) -> Option<Dearest<'_>> {
        let by_kind: Vec<Vec<usize>> = self.classes.iter().map(|classes| dearest(classes, prices)).collect();
        // what so many of a kind are worth, up to the most that stand together; one kind after the other
        let width = self.patterns.most.iter().max().map_or(1, |&most| usize::from(most) + 1);
        let mut worth = vec![0; width * by_kind.len()];
        for ((classes, &most), worth) in by_kind.iter().zip(&self.patterns.most).zip(worth.chunks_mut(width)) {
            for (number, worth) in (0..=i64::from(most)).zip(worth) {
                *worth = take(number, classes, prices, numbers, |_, _| ());
            }
        }
        let best = self.patterns.dearest(&worth, width);
        best.map(|(worth, pattern)| Dearest { worth, pattern, by_kind })
    }
}

/// The dearest pattern of one shelf.
struct Dearest<'a> {
    worth: i64,
    pattern: &'a [u8],
    /// The classes of each kind, dearest first.
    by_kind: Vec<Vec<usize>>,
}

/// What all classes' prices come to.
struct Worth {
    /// In `ONE`s: no more can stand.
    bound: i64,
    /// How many of each class stand in the dearest patterns.
    used: Vec<i64>,
}

#[derive(Debug)]
pub(in crate::fit) struct Market {
    pub(in crate::fit) classes: Vec<PriceClass>,
    pub(in crate::fit) groups: Vec<Group>,
}

impl Market {
    /// `None` where patterns are too many to list.
    pub(in crate::fit) fn new(
        problem: &Problem,
        on_day: &[Alike],
        book: &mut PatternBook,
        cancel: &Cancel,
    ) -> Option<Self> {
        let mut classes: BTreeMap<(PatternKind, Vec<usize>), Vec<usize>> = BTreeMap::new();
        let mut ground: Vec<Option<ShelfGround>> = vec![None; problem.shelves.len()];
        for alike in on_day {
            let kind = PatternKind { least: alike.least, most: alike.most, grams: alike.grams };
            let mut shelves: Vec<usize> = alike.regions.iter().map(|region| region.shelf).collect();
            shelves.sort_unstable();
            shelves.dedup();
            for &region in alike.regions.iter() {
                let all = ground.get_mut(region.shelf)?.get_or_insert(ShelfGround { region, whole: true });
                all.whole &= all.region == region && !alike.pinned;
                all.region.rect = all.region.rect.around(region.rect);
            }
            classes.entry((kind, shelves)).or_default().extend(&alike.items);
        }
        if classes.len() > MOST_CLASSES {
            return None;
        }
        let mut alike: BTreeMap<(Room, Vec<usize>), Vec<ShelfGround>> = BTreeMap::new();
        let mut next: Vec<&[usize]> = classes.keys().map(|(_, shelves)| shelves.as_slice()).collect();
        for ((shelf, ground), limits) in ground.into_iter().enumerate().zip(&problem.shelves) {
            let Some(ground) = ground else { continue };
            let rect = ground.region.rect;
            let (w, d) = (rect.w.max(rect.d), rect.w.min(rect.d));
            let room = Room { w, d, load: limits.load, cover: limits.cover };
            let here = next.iter_mut().enumerate().filter_map(|(number, shelves)| {
                *shelves = shelves.strip_prefix(&[shelf])?;
                Some(number)
            });
            alike.entry((room, here.collect())).or_default().push(ground);
        }
        let mut classes: Vec<PriceClass> =
            classes.into_iter().map(|((kind, _), items)| PriceClass { kind, items }).collect();
        // Where no load can bind, weight makes no difference between kinds.
        if !alike.keys().any(|(room, here)| load_can_bind(*room, here.iter().filter_map(|&class| classes.get(class)))) {
            for class in &mut classes {
                class.kind.grams = 0;
            }
        }
        let groups =
            alike.into_iter().map(|((room, here), shelves)| group(&classes, (room, &here), shelves, book, cancel));
        let market = Self { groups: groups.collect::<Option<_>>()?, classes };
        (market.kinds().len() <= MOST_KINDS).then_some(market)
    }

    /// All kinds, once each.
    pub(in crate::fit) fn kinds(&self) -> Vec<PatternKind> {
        let kinds: BTreeSet<PatternKind> = self.classes.iter().map(|class| class.kind).collect();
        kinds.into_iter().collect()
    }

    pub(in crate::fit) fn kind_of(&self, class: usize, kinds: &[PatternKind]) -> usize {
        kinds.binary_search(&self.classes[class].kind).unwrap_or(0)
    }

    pub(in crate::fit) fn number(&self, class: usize) -> i64 {
        count(&self.classes[class].items)
    }

    fn wanted(&self) -> i64 {
        self.classes.iter().map(|class| count(&class.items)).sum()
    }

    /// The strongest bound found that proves more than `short` items to be left out, if any; and the
    /// last prices that were tried. Asked with prices now and then, `settled` says whether it is known how to leave out
    /// no more than so many: then no prices prove more.
    pub(in crate::fit) fn prove(
        &self,
        short: i64,
        mut settled: impl FnMut(&[i64], i64) -> bool,
        cancel: &Cancel,
    ) -> (Option<Bound>, Vec<i64>) {
        let mut prices: Vec<f64> = vec![1.0; self.classes.len()];
        let mut best: Option<(i64, Vec<i64>)> = None;
        let mut short = short;
        let numbers: Vec<i64> = self.classes.iter().map(|class| count(&class.items)).collect();
        for step in 0..MOST_STEPS {
            let whole: Vec<i64> = prices.iter().map(|price| (price * ONE as f64) as i64).collect();
            let worth = self.worth(&whole, &numbers);
            let held = worth.bound.div_euclid(ONE);
            if self.wanted() - held > short {
                short = self.wanted() - held;
                best = Some((short, whole.clone()));
            }
            if step % ASKED == ASKED - 1 && settled(&whole, short) {
                break;
            }
            let goal = (self.wanted() - short) as f64 - 0.25;
            let slope: Vec<f64> = (worth.used.iter().zip(&prices).zip(&numbers))
                .map(|((&used, &price), &number)| (used - if price < 1.0 { number } else { number.min(used) }) as f64)
                .collect();
            let steep: f64 = slope.iter().map(|s| s * s).sum();
            if steep == 0.0 || cancel.is_cancelled() {
                break;
            }
            // Slower as it goes on, or prices would swing for good.
            let pace = 1.5 / (1.0 + step as f64 / 150.0);
            let length = pace * (worth.bound as f64 / ONE as f64 - goal) / steep;
            for (price, slope) in prices.iter_mut().zip(&slope) {
                *price = (*price - length * slope).clamp(0.0, 1.0);
            }
        }
        let last = best.as_ref().map_or_else(
            || prices.iter().map(|price| (price * ONE as f64) as i64).collect(),
            |(_, prices)| prices.clone(),
        );
        (best.map(|(short, prices)| self.fewest(short, prices)), last)
    }

    /// Leaves out what the proof does not need.
    fn fewest(&self, short: i64, mut prices: Vec<i64>) -> Bound {
        let mut numbers: Vec<i64> = self.classes.iter().map(|class| count(&class.items)).collect();
        let still = |prices: &[i64], numbers: &[i64]| {
            numbers.iter().sum::<i64>() - self.worth(prices, numbers).bound.div_euclid(ONE) >= short
        };
        let mut order: Vec<usize> = (0..self.classes.len()).collect();
        order.sort_by_key(|&class| prices.get(class).copied());
        for class in order {
            let (price, number) = (prices[class], numbers[class]);
            (prices[class], numbers[class]) = (0, 0);
            if still(&prices, &numbers) {
                continue;
            }
            (prices[class], numbers[class]) = (price, number);
            for fewer in (1..number).rev() {
                numbers[class] = fewer;
                if !still(&prices, &numbers) {
                    numbers[class] = fewer + 1;
                    break;
                }
            }
        }
        let chosen = self.classes.iter().zip(&numbers);
        let chosen = chosen.flat_map(|(class, &number)| class.items.iter().take(usize::try_from(number).unwrap_or(0)));
        let mut items: Vec<usize> = chosen.copied().collect();
        items.sort_unstable();
        let held = count(&items) - short;
        Bound { kind: BoundKind::Patterns, items, held }
    }

    fn worth(&self, prices: &[i64], numbers: &[i64]) -> Worth {
        let beyond = prices.iter().zip(numbers).map(|(price, number)| (ONE - price) * number);
        let mut worth = Worth { bound: beyond.sum(), used: vec![0; prices.len()] };
        for group in &self.groups {
            let Some(Dearest { worth: value, pattern, by_kind }) = group.dearest(prices, numbers) else { continue };
            worth.bound += value * group.number();
            for (&most, classes) in pattern.iter().zip(&by_kind) {
                take(i64::from(most), classes, prices, numbers, |class, n| worth.used[class] += n * group.number());
            }
        }
        worth
    }
}

/// The worth of the dearest items of a kind, told class by class.
fn take(most: i64, dearest: &[usize], prices: &[i64], numbers: &[i64], mut tell: impl FnMut(usize, i64)) -> i64 {
    let (mut left, mut worth) = (most, 0);
    for &class in dearest {
        let number = left.min(numbers[class]);
        worth += number * prices[class];
        left -= number;
        tell(class, number);
        if left == 0 {
            break;
        }
    }
    worth
}

fn dearest(classes: &[usize], prices: &[i64]) -> Vec<usize> {
    let mut sorted = classes.to_vec();
    sorted.sort_by_key(|&class| -prices[class]);
    sorted
}

fn count<T>(items: &[T]) -> i64 {
    i64::try_from(items.len()).unwrap_or(i64::MAX)
}

fn load_can_bind<'a>(room: Room, mut classes: impl Iterator<Item = &'a PriceClass>) -> bool {
    let area = |w: i64, d: i64| i128::from(w) * i128::from(d);
    // As if the whole shelf were covered with the heaviest for its size.
    let heavy = |load: i64, kind: PatternKind| {
        i128::from(kind.grams).saturating_mul(area(room.w, room.d))
            > i128::from(load).saturating_mul(area(kind.least, kind.most))
    };
    room.load.is_some_and(|load| classes.any(|class| heavy(load, class.kind)))
}

fn group(
    classes: &[PriceClass],
    (room, here): (Room, &[usize]),
    shelves: Vec<ShelfGround>,
    book: &mut PatternBook,
    cancel: &Cancel,
) -> Option<Group> {
    let mut kinds: BTreeMap<PatternKind, Vec<usize>> = BTreeMap::new();
    for &class in here {
        kinds.entry(classes.get(class)?.kind).or_default().push(class);
    }
    if kinds.len() > MOST_KINDS {
        return None;
    }
    let list: Vec<PatternKind> = kinds.keys().copied().collect();
    let patterns = book.patterns(room, &list, cancel)?;
    Some(Group { shelves, room, kinds: list, patterns, classes: kinds.into_values().collect() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};

    /// Any prices give a bound that holds; good ones a better one.
    #[test]
    fn prices_of_any_kind_never_hold_too_few() {
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 1, 545, 278, &whole(&[(610, 1219)])); 4] };
        let on_day = crate::fit::proof::on_day::OnDay::of(&problem, 0);
        let market =
            Market::new(&problem, &on_day.alike, &mut PatternBook::default(), &Cancel::default()).expect("few");
        for price in [0, 1, ONE / 3, ONE / 2, ONE - 1, ONE] {
            assert!(market.worth(&[price], &[4]).bound >= 4 * ONE);
        }
        assert_eq!(market.worth(&[ONE], &[5]).bound, 4 * ONE);
    }
}
