//! The fewest that a day must leave out, exactly, shelf after shelf.
//!
//! Where shelves can be put in a row such that whoever may stand on one may stand on all after it
//! (clear heights do that), items of one kind that have come into question are alike from then on.
//! So what is left of each kind after a shelf says all that matters, and every way to fill every
//! shelf is tried: dynamic programming, cut short by prices.

use super::patterns::PatternKind;
use super::prices::{MOST_KINDS, Market, ONE};
use super::seen::Seen;
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

#[derive(Clone, Copy)]
struct State {
    /// As unequal as what is left, and in the same order.
    key: u128,
    left: Left,
}

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
    let units = units(market, kinds)?;
    let mut search = DynamicProgram {
        market,
        prices,
        kinds,
        out,
        most,
        joined: vec![false; market.classes.len()],
        units,
        now: vec![State { key: 0, left: [0; MOST_KINDS] }],
        steps: Vec::new(),
        seen: Seen::default(),
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

/// So that no two states have one key; `None` for as many items as no effort is enough for.
fn units(market: &Market, kinds: &[PatternKind]) -> Option<[u128; MOST_KINDS]> {
    let mut numbers = [0; MOST_KINDS];
    for class in 0..market.classes.len() {
        numbers[market.kind_of(class, kinds)] += u128::try_from(market.number(class)).ok()?;
    }
    let (mut units, mut unit) = ([0; MOST_KINDS], 1_u128);
    for (own, number) in units.iter_mut().zip(numbers).rev() {
        *own = unit;
        unit = unit.checked_mul(number + 1)?;
    }
    Some(units)
}

struct DynamicProgram<'a> {
    market: &'a Market,
    prices: &'a [i64],
    kinds: &'a [PatternKind],
    out: i64,
    most: usize,
    joined: Vec<bool>,
    /// What one of each kind adds to a state's key.
    units: [u128; MOST_KINDS],
    now: Vec<State>,
    steps: Vec<Vec<Step>>,
    /// Keys of the states that are next.
    seen: Seen,
    /// No state was dropped that had hope.
    all: bool,
}

impl DynamicProgram<'_> {
    /// The classes of a group come into question, if they hadn't.
    fn join(&mut self, group: usize) {
        for &class in self.market.groups[group].classes.iter().flatten() {
            if !std::mem::replace(&mut self.joined[class], true) {
                let kind = self.market.kind_of(class, self.kinds);
                let number = u32::try_from(self.market.number(class)).unwrap_or(u32::MAX / 2);
                for state in &mut self.now {
                    state.left[kind] += number;
                    state.key += u128::from(number) * self.units[kind];
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
        let patterns: Vec<Taken<'_>> =
            group.patterns.iter().map(|numbers| self.taken(&hope, &by_kind, numbers)).collect();
        let most = self.out * ONE;
        self.seen.clear();
        let mut next: Vec<(State, Step)> = Vec::new();
        for (before, state) in self.now.iter().enumerate() {
            if cancel.is_cancelled() {
                self.all = false;
                break;
            }
            let worth = hope.worth(&state.left);
            for (pattern, taken) in patterns.iter().enumerate() {
                if worth - taken.worth > most {
                    continue;
                }
                let numbers = || by_kind.iter().zip(taken.numbers).map(|(&kind, &number)| (kind, u32::from(number)));
                let mut key = state.key;
                if numbers().all(|(kind, number)| number <= state.left[kind]) {
                    key -= taken.key;
                } else {
                    let (mut gone, mut worthless) = (0, 0);
                    for (kind, number) in numbers() {
                        let number = number.min(state.left[kind]);
                        gone += u128::from(number) * self.units[kind];
                        worthless += i64::from(number) * hope.prices[kind];
                    }
                    if worth - worthless > most {
                        continue;
                    }
                    key -= gone;
                }
                if self.seen.insert([(key >> 64) as u64, key as u64]) {
                    let mut left = state.left;
                    for (kind, number) in numbers() {
                        left[kind] = left[kind].saturating_sub(number);
                    }
                    next.push((State { key, left }, Step { before, pattern }));
                }
            }
        }
        if next.len() > self.most {
            self.all = false;
            let by_worth = |(state, _): &(State, Step)| (hope.worth(&state.left), state.key);
            next.select_nth_unstable_by_key(self.most, by_worth);
            next.truncate(self.most);
            next.sort_by_cached_key(by_worth);
        } else {
            next.sort_unstable_by_key(|(state, _)| state.key);
        }
        let steps;
        (self.now, steps) = next.into_iter().unzip();
        self.steps.push(steps);
    }

    fn taken<'a>(&self, hope: &Hope, by_kind: &[usize], numbers: &'a [u8]) -> Taken<'a> {
        let all = || by_kind.iter().zip(numbers);
        Taken {
            numbers,
            key: all().map(|(&kind, &number)| u128::from(number) * self.units[kind]).sum(),
            worth: all().map(|(&kind, &number)| i64::from(number) * hope.prices[kind]).sum(),
        }
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
        let Some((mut at, _)) = self.now.iter().enumerate().min_by_key(|(_, state)| sum(&state.left)) else {
            return ByShelfOutcome::Open;
        };
        if sum(&self.now[at].left) > self.out {
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
pub(super) fn in_a_row(market: &Market) -> Option<Vec<usize>> {
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

/// A pattern, and what it takes off the key and the worth of what is left, at most.
struct Taken<'a> {
    numbers: &'a [u8],
    key: u128,
    worth: i64,
}

/// What must be left out in the end, from what is left now: no more `ONE`s of worth than items.
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
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::problem::{Problem, RegionSet};
    use crate::fit::proof::by_price::fill;
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
    fn shelves_filled_at_once_leave_out_no_fewer_than_must_be() {
        for (short, tall, least) in [(5, 3, 0), (5, 4, 1), (1, 5, 1), (8, 0, 0), (9, 2, 3)] {
            let problem = low_and_high(short, tall);
            let on_day = OnDay::of(&problem, 0);
            let (mut book, cancel) = (PatternBook::default(), Cancel::default());
            let market = Market::new(&problem, &on_day.alike, &mut book, &cancel).expect("few patterns");
            let row = in_a_row(&market).expect("in a row");
            let (out, patterns) = fill(&market, &vec![ONE; market.classes.len()], &row);
            assert_eq!(out, least, "{short} and {tall}");
            assert!(patterns.iter().zip(&market.groups).all(|(of, group)| of.len() == group.shelves.len()));
        }
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
