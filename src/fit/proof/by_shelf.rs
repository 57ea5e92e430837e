//! The fewest that a day must leave out, exactly, shelf after shelf.
//!
//! Where shelves can be put in a row such that whoever may stand on one may stand on all after it
//! (clear heights do that), items of one kind that have come into question are alike from then on.
//! So what is left of each kind after a shelf says all that matters, and every way to fill every
//! shelf is tried: dynamic programming, cut short by prices.

use std::collections::BTreeMap;

use super::patterns::PatternKind;
use super::prices::{MOST_KINDS, Market, ONE};
use crate::fit::work::Cancel;

/// Of more states than this after a shelf, only the most hopeful are followed; if that does not
/// settle it, the next number is tried.
const MOST_STATES: [usize; 3] = [60, 600, 6_000];

/// What came of the search.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum ByShelfOutcome {
    /// It can be done so: for each group of shelves, and each of its shelves, a pattern.
    Fits(Vec<Vec<usize>>),
    Never,
    Open,
}

/// Items of each kind that have come into question and have no spot yet.
type Left = [u32; MOST_KINDS];

/// How a state came about: the state before, and how the shelf was filled.
#[derive(Clone, Copy)]
struct Step {
    before: usize,
    pattern: usize,
}

/// Whether at most `out` items can be left without a spot; takes off the effort what it used.
pub(super) fn leave_out(
    market: &Market,
    prices: &[i64],
    out: i64,
    effort: &mut u64,
    cancel: &Cancel,
) -> ByShelfOutcome {
    let Some(row) = in_a_row(market) else {
        return ByShelfOutcome::Open;
    };
    let kinds = market.kinds();
    for most in MOST_STATES {
        if cancel.is_cancelled() {
            break;
        }
        let outcome = follow(market, (prices, &kinds), &row, (out, most), effort, cancel);
        if outcome != Some(ByShelfOutcome::Open) || *effort == 0 {
            return outcome.unwrap_or(ByShelfOutcome::Open);
        }
    }
    ByShelfOutcome::Open
}

/// `None` if the effort ends before the shelves do; states that once were too many are taken to stay so.
fn follow(
    market: &Market,
    (prices, kinds): (&[i64], &[PatternKind]),
    row: &[usize],
    (out, most): (i64, usize),
    effort: &mut u64,
    cancel: &Cancel,
) -> Option<ByShelfOutcome> {
    let mut search = DynamicProgram {
        market,
        prices,
        kinds,
        out,
        most,
        joined: vec![false; market.classes.len()],
        now: vec![[0; MOST_KINDS]],
        steps: Vec::new(),
        all: true,
    };
    for at in 0..row.len() {
        search.join(row[at]);
        for rest in (0..market.groups[row[at]].number()).rev() {
            let tried = (search.now.len() * market.groups[row[at]].patterns.len()) as u64;
            *effort = effort.saturating_sub(tried);
            if *effort == 0 {
                return None;
            }
            search.shelf(&row[at..], rest, cancel);
            if search.now.is_empty() {
                return Some(if search.all { ByShelfOutcome::Never } else { ByShelfOutcome::Open });
            }
            if search.now.len() == most && search.to_come(&row[at..], rest) > *effort {
                return None;
            }
        }
    }
    Some(search.outcome(row))
}

struct DynamicProgram<'a> {
    market: &'a Market,
    prices: &'a [i64],
    kinds: &'a [PatternKind],
    out: i64,
    most: usize,
    joined: Vec<bool>,
    now: Vec<Left>,
    steps: Vec<Vec<Step>>,
    /// No state was dropped that had hope.
    all: bool,
}

impl DynamicProgram<'_> {
    /// The classes of a group come into question, if they hadn't.
    fn join(&mut self, group: usize) {
        for &class in self.market.groups[group].classes.iter().flatten() {
            if !std::mem::replace(&mut self.joined[class], true) {
                let kind = self.market.kind_of(class, self.kinds);
                for left in &mut self.now {
                    left[kind] += u32::try_from(self.market.number(class)).unwrap_or(u32::MAX / 2);
                }
            }
        }
    }

    /// Fills the next shelf of the row's first group, of which `rest` more follow.
    fn shelf(&mut self, row: &[usize], rest: i64, cancel: &Cancel) {
        let group = &self.market.groups[row[0]];
        let by_kind: Vec<usize> =
            group.classes.iter().map(|classes| self.market.kind_of(classes[0], self.kinds)).collect();
        let hope = Hope::new(self, row, rest);
        let mut next: BTreeMap<Left, Step> = BTreeMap::new();
        for (before, state) in self.now.iter().enumerate() {
            if cancel.is_cancelled() {
                self.all = false;
                break;
            }
            for (pattern, numbers) in group.patterns.iter().enumerate() {
                let mut left = *state;
                for (&kind, &number) in by_kind.iter().zip(numbers) {
                    left[kind] = left[kind].saturating_sub(u32::from(number));
                }
                if hope.least_out(&left) <= self.out {
                    next.entry(left).or_insert(Step { before, pattern });
                }
            }
        }
        let mut next: Vec<(Left, Step)> = next.into_iter().collect();
        if next.len() > self.most {
            self.all = false;
            next.sort_by_cached_key(|(left, _)| (hope.worth(left), *left));
            next.truncate(self.most);
        }
        let steps;
        (self.now, steps) = next.into_iter().unzip();
        self.steps.push(steps);
    }

    /// What the shelves still to be filled take if there are always as many states as there may be.
    fn to_come(&self, row: &[usize], first: i64) -> u64 {
        let groups = row.iter().enumerate().filter_map(|(at, &group)| Some((at, self.market.groups.get(group)?)));
        let shelves = groups.map(|(at, group)| {
            let number = if at == 0 { first } else { group.number() };
            u64::try_from(number).unwrap_or(0).saturating_mul(group.patterns.len() as u64)
        });
        shelves.fold(0, u64::saturating_add).saturating_mul(self.most as u64)
    }

    fn outcome(&self, row: &[usize]) -> ByShelfOutcome {
        let sum = |left: &Left| left.iter().map(|&number| i64::from(number)).sum::<i64>();
        let Some((mut at, _)) = self.now.iter().enumerate().min_by_key(|(_, left)| sum(left)) else {
            return ByShelfOutcome::Open;
        };
        if sum(&self.now[at]) > self.out {
            return if self.all { ByShelfOutcome::Never } else { ByShelfOutcome::Open };
        }
        let mut taken = Vec::new();
        for steps in self.steps.iter().rev() {
            taken.push(steps[at].pattern);
            at = steps[at].before;
        }
        let mut taken = taken.into_iter().rev();
        let mut patterns = vec![Vec::new(); self.market.groups.len()];
        for &group in row {
            patterns[group] = taken.by_ref().take(self.market.groups[group].shelves.len()).collect();
        }
        ByShelfOutcome::Fits(patterns)
    }
}

/// The groups, those with the fewest classes first, if each one's classes are among the next one's.
fn in_a_row(market: &Market) -> Option<Vec<usize>> {
    let mut sets: Vec<(Vec<usize>, usize)> = Vec::new();
    for (number, group) in market.groups.iter().enumerate() {
        let mut classes: Vec<usize> = group.classes.iter().flatten().copied().collect();
        classes.sort_unstable();
        sets.push((classes, number));
    }
    sets.sort_by_key(|(classes, _)| classes.len());
    let nested = |a: &[usize], b: &[usize]| a.iter().all(|class| b.binary_search(class).is_ok());
    let in_order = sets.iter().zip(sets.iter().skip(1)).all(|(a, b)| nested(&a.0, &b.0));
    in_order.then(|| sets.into_iter().map(|(_, number)| number).collect())
}

/// How few can be left out in the end, from what is left now.
struct Hope {
    /// Prices of the kinds that have come into question.
    prices: [i64; MOST_KINDS],
    /// What those to come are worth, less what the shelves to come can take.
    rest: i64,
}

impl Hope {
    fn new(search: &DynamicProgram<'_>, row: &[usize], first: i64) -> Self {
        let (market, joined) = (search.market, &search.joined);
        let kind_of = |class: usize| market.kind_of(class, search.kinds);
        let mut by_kind = [0; MOST_KINDS];
        for class in (0..joined.len()).filter(|&class| joined[class]) {
            by_kind[kind_of(class)] = search.prices[class].max(by_kind[kind_of(class)]);
        }
        let own = |class: usize| if joined[class] { by_kind[kind_of(class)] } else { search.prices[class] };
        let prices: Vec<i64> = (0..joined.len()).map(own).collect();
        let numbers: Vec<i64> = (0..joined.len()).map(|class| market.number(class)).collect();
        let coming = (0..joined.len()).filter(|&class| !joined[class]);
        let mut rest: i64 = coming.map(|class| prices[class] * numbers[class]).sum();
        for (at, &group) in row.iter().enumerate() {
            let group = &market.groups[group];
            let times = if at == 0 { first } else { group.number() };
            if times > 0 {
                rest -= times * group.worth(&prices, &numbers);
            }
        }
        Self { prices: by_kind, rest }
    }

    fn worth(&self, left: &Left) -> i64 {
        left.iter().zip(&self.prices).map(|(&left, price)| i64::from(left) * price).sum::<i64>() + self.rest
    }

    fn least_out(&self, left: &Left) -> i64 {
        // Rounded up: a part of an item left out is an item left out.
        -(-self.worth(left)).div_euclid(ONE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::problem::{Problem, RegionSet};
    use crate::fit::proof::on_day::OnDay;
    use crate::fit::proof::patterns::PatternBook;
    use crate::fit::samples::{shelves, tray, whole};

    fn outcome(problem: &Problem, out: i64, mut effort: u64) -> ByShelfOutcome {
        let on_day = OnDay::of(problem, 0);
        let (mut book, cancel) = (PatternBook::default(), Cancel::default());
        let market = Market::new(problem, &on_day.alike, &mut book, &cancel).expect("few patterns");
        let prices = vec![ONE; market.classes.len()];
        leave_out(&market, &prices, out, &mut effort, &cancel)
    }

    /// A low shelf for flats of any height below it, and a high one that takes all.
    fn low_and_high(short: usize, tall: usize) -> Problem {
        let both = whole(&[(610, 1219), (610, 1219)]);
        let high: RegionSet = both.iter().filter(|region| region.shelf == 1).copied().collect();
        let mut items = vec![tray(0, 1, 545, 278, &both); short];
        items.extend(vec![tray(0, 1, 545, 278, &high); tall]);
        Problem { shelves: shelves(2), items }
    }

    #[test]
    fn the_fewest_left_out_are_found_and_proven() {
        assert!(matches!(outcome(&low_and_high(5, 3), 0, 10_000), ByShelfOutcome::Fits(_)));
        assert_eq!(outcome(&low_and_high(5, 4), 0, 10_000), ByShelfOutcome::Never);
        assert!(matches!(outcome(&low_and_high(5, 4), 1, 10_000), ByShelfOutcome::Fits(_)));
        assert_eq!(outcome(&low_and_high(1, 5), 0, 10_000), ByShelfOutcome::Never);
    }

    #[test]
    fn shelves_of_which_neither_is_for_all_are_left_to_others() {
        let both = whole(&[(610, 1219), (610, 1219)]);
        let only = |shelf| both.iter().filter(|region| region.shelf == shelf).copied().collect::<RegionSet>();
        let items = vec![tray(0, 1, 545, 278, &only(0)), tray(0, 1, 545, 278, &only(1))];
        assert_eq!(outcome(&Problem { shelves: shelves(2), items }, 0, 10_000), ByShelfOutcome::Open);
    }

    #[test]
    fn too_little_effort_leaves_it_open() {
        assert_eq!(outcome(&low_and_high(5, 3), 0, 1), ByShelfOutcome::Open);
    }
}
