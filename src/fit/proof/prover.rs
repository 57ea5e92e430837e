//! What can be proven about the days of one problem, cheap to dear, and what was learned by it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::bound::{DayProof, Strongest};
use super::by_price::fill;
use super::by_shelf::{ByShelfOutcome, in_a_row, leave_out};
use super::counts::Counts;
use super::from_patterns::{StandingNow, spots};
use super::on_day::{Kin, OnDay};
use super::patterns::PatternBook;
use super::prices::Market;
use crate::fit::answer::{Bound, BoundKind, Layout};
use crate::fit::check::check;
use crate::fit::place::exhaust::can_never_stand;
use crate::fit::problem::{Days, Item, Problem, Spot};
use crate::fit::work::Cancel;

/// Patterns tried on one day, whatever was tried on others: what is proven of a day hangs on that day alone.
const DAY_EFFORT: u64 = 1_000_000;

/// More small sets than this are not kept from one problem to the next.
const MOST_LEARNED: usize = 200_000;

/// Looks while everything is tried, in the unit of budgets.
const TRY_EFFORT: u64 = 3_000_000;

/// The bound that proves the greatest shortage on a day; of equal ones, the simplest kind with the
/// fewest items. `None` if no bound proves any.
pub fn prove_day(problem: &Problem, day: i32) -> Option<Bound> {
    Prover::new(&Cancel::default()).day_by_prices(problem, day).bound
}

/// What was learned of shelves and sizes: true of any problem.
#[derive(Clone, Debug, Default)]
pub(in crate::fit) struct Learned {
    counts: Counts,
    book: PatternBook,
}

impl Learned {
    /// With what another learned; when it is too much to keep, only that.
    pub(in crate::fit) fn join(&mut self, other: Self) {
        if self.book.len() > MOST_LEARNED {
            *self = Self::default();
        }
        self.counts.join(other.counts);
        self.book.join(other.book);
    }
}

/// Proves days of one problem; keeps what it found. What it says after a cancel proves nothing
/// wrong, but less than it could.
#[derive(Debug)]
pub(in crate::fit) struct Prover {
    cancel: Cancel,
    learned: Learned,
    /// Of all items.
    spans: Vec<Days>,
    kin: Kin,
    days: BTreeMap<i32, DayProof>,
    /// As `days`, by prices too.
    priced: BTreeMap<i32, Priced>,
}

/// A day's proof by prices, and a pattern for every shelf that leaves out no more than proven.
#[derive(Debug, Default)]
struct Priced {
    proof: DayProof,
    chosen: Option<(Market, Vec<Vec<usize>>)>,
}

impl Prover {
    pub(in crate::fit) fn new(cancel: &Cancel) -> Self {
        Self::knowing(Learned::default(), cancel)
    }

    pub(in crate::fit) fn knowing(learned: Learned, cancel: &Cancel) -> Self {
        let (spans, kin, days, priced) = (Vec::new(), Kin::default(), BTreeMap::new(), BTreeMap::new());
        Self { cancel: cancel.clone(), learned, spans, kin, days, priced }
    }

    /// Begins with another problem.
    pub(in crate::fit) fn forget_days(&mut self) {
        self.spans.clear();
        self.kin = Kin::default();
        self.days.clear();
        self.priced.clear();
    }

    pub(in crate::fit) fn learned(self) -> Learned {
        self.learned
    }

    pub(in crate::fit) fn day(&mut self, problem: &Problem, day: i32) -> DayProof {
        if let Some(known) = self.days.get(&day) {
            return known.clone();
        }
        let on_day = self.on_day(problem, day);
        let proof = self.learned.counts.prove(problem, &on_day, &self.cancel);
        self.days.insert(day, proof.clone());
        proof
    }

    fn on_day(&mut self, problem: &Problem, day: i32) -> OnDay {
        self.learn_spans(problem);
        let Self { spans, kin, .. } = self;
        OnDay::among(problem, day, kin, there(spans, day))
    }

    fn learn_spans(&mut self, problem: &Problem) {
        if self.spans.len() != problem.items.len() {
            self.spans = problem.items.iter().map(Item::days).collect();
            self.kin = Kin::default();
        }
    }

    /// As [`Prover::day`], and by prices, which takes longer.
    pub(in crate::fit) fn day_by_prices(&mut self, problem: &Problem, day: i32) -> DayProof {
        if let Some(known) = self.priced.get(&day) {
            return known.proof.clone();
        }
        let priced = self.price(problem, day);
        let proof = priced.proof.clone();
        self.priced.insert(day, priced);
        proof
    }

    fn price(&mut self, problem: &Problem, day: i32) -> Priced {
        let mut proof = self.day(problem, day);
        let on_day = self.on_day(problem, day);
        let apart = on_day.apart();
        let Some(market) = Market::new(problem, &on_day.alike, &mut self.learned.book, &self.cancel) else {
            if proof.bound.is_none() {
                proof = self.try_all(problem, day, on_day.items());
            }
            return Priced { proof, chosen: None };
        };
        let row = in_a_row(&market);
        let mut filled = None;
        let settled = |prices: &[i64], short: i64| {
            let found = row.as_ref().map(|row| fill(&market, prices, row)).filter(|(out, _)| *out <= short);
            filled = found.map(|(_, patterns)| patterns);
            filled.is_some()
        };
        let (bound, prices) = market.prove(proof.short - apart, settled, &self.cancel);
        let mut best = Strongest(proof.bound.take());
        if let Some(bound) = bound {
            proof.short = bound.short() + apart;
            best.offer(bound.kind, bound.items, bound.held);
        }
        let mut effort = DAY_EFFORT;
        let outcome = loop {
            let filled = filled.take().map(ByShelfOutcome::Fits);
            let by_shelf = || leave_out(&market, &prices, proof.short - apart, &mut effort, &self.cancel);
            let outcome = filled.unwrap_or_else(by_shelf);
            if outcome != ByShelfOutcome::Never {
                break outcome;
            }
            proof.short += 1;
            let items = on_day.items();
            let held = i64::try_from(items.len()).unwrap_or(i64::MAX) - (proof.short - apart);
            best.offer(BoundKind::Patterns, items, held);
        };
        proof.bound = best.0;
        let whole = market.groups.iter().flat_map(|group| &group.shelves).all(|shelf| shelf.whole);
        let chosen = match outcome {
            ByShelfOutcome::Fits(patterns) if whole => Some((market, patterns)),
            _ => None,
        };
        if proof.bound.is_none() && chosen.is_none() {
            proof = self.try_all(problem, day, on_day.items());
        }
        Priced { proof, chosen }
    }

    /// For a few items of which nothing else proves that they can't stand together.
    fn try_all(&self, problem: &Problem, day: i32, mut items: Vec<usize>) -> DayProof {
        let never = |items: &[usize]| {
            let wanted = !self.cancel.is_cancelled();
            wanted && can_never_stand(problem, day, items, TRY_EFFORT, &self.cancel) == Some(true)
        };
        if !never(&items) {
            return DayProof::default();
        }
        for at in (0..items.len()).rev() {
            let mut fewer = items.clone();
            fewer.remove(at);
            if never(&fewer) {
                items = fewer;
            }
        }
        let held = i64::try_from(items.len()).unwrap_or(i64::MAX) - 1;
        DayProof { bound: Some(Bound { kind: BoundKind::Tried, items, held }), short: 1 }
    }

    /// Spots for all that the day need not leave out, as few as possible of them new; `None` if that
    /// is not known.
    pub(in crate::fit) fn spots(&mut self, now: &StandingNow<'_>) -> Option<Vec<(usize, Spot)>> {
        self.day_by_prices(now.problem, now.day);
        let (market, patterns) = self.priced.get(&now.day)?.chosen.as_ref()?;
        spots(market, patterns, &self.learned.book, now)
    }

    /// Whether a packing is known that leaves out no more than is proven; accepted on its own.
    pub(in crate::fit) fn can_leave_out_so_few(&mut self, problem: &Problem, day: i32) -> bool {
        let nobody = StandingNow { problem, day, spot: &|_| None };
        let Some(spots) = self.spots(&nobody) else { return false };
        let short = self.day_by_prices(problem, day).short;
        let mut alone = Problem { shelves: problem.shelves.clone(), items: Vec::new() };
        let mut layout = Layout::default();
        self.learn_spans(problem);
        let wanted = there(&self.spans, day).count();
        for (item, spot) in spots {
            let Some((own, phase)) = problem.items.get(item).and_then(|item| Some((item, *item.phase_on(day)?))) else {
                return false;
            };
            let (regions, pinned, wish) = (Arc::clone(&own.regions), own.pinned, own.wish);
            alone.items.push(Item { phases: vec![phase], regions, pinned, wish });
            layout.spots.push(vec![(phase.days.from, spot)]);
        }
        let left_out = wanted.saturating_sub(layout.spots.len());
        i64::try_from(left_out).is_ok_and(|left_out| left_out <= short) && check(&alone, &layout).is_ok()
    }
}

/// Who wants a spot on a day, in order.
fn there(spans: &[Days], day: i32) -> impl Iterator<Item = usize> {
    spans.iter().enumerate().filter(move |(_, days)| days.contains(day)).map(|(number, _)| number)
}
