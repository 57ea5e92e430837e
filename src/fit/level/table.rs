//! The problem as rows that must not be exceeded and columns that fill them.

use std::collections::BTreeMap;
use std::ops::Range;

use super::super::work::{Cancel, Cancelled};
use super::problem::{DailyCapacity, LevelProblem, NoGood};

/// One choice that may be needed.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) batch: usize,
    /// In its batch.
    pub(super) choice: usize,
    pub(super) cost: i64,
    /// In order, apart from each other.
    pub(super) spans: Vec<Stretch>,
}

/// So much of each of some rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) from: usize,
    pub(super) until: usize,
    pub(super) amount: i64,
}

/// What must not be exceeded: a resource on a run of days that are alike, or a nogood.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    pub(super) limit: i64,
    /// What a unit too much costs; `None`: it may not be.
    pub(super) price: Option<i64>,
}

#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    pub(super) rows: Vec<Row>,
    pub(super) columns: Vec<Column>,
    /// The columns of each batch, from the earliest to the latest.
    pub(super) batches: Vec<Range<usize>>,
    /// The column that does as well, by batch and choice.
    instead: Vec<Vec<usize>>,
}

/// What a row may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// The least cost within every capacity.
    Cheapest,
    /// The least units × days above capacities, whatever the cost; none above by more than so much.
    Closest(Option<i64>),
}

impl Column {
    /// What it takes of a row.
    pub(super) fn amount(&self, row: usize) -> i64 {
        self.spans.iter().find(|span| span.from <= row && row < span.until).map_or(0, |span| span.amount)
    }

    /// No row has more of it than of the other.
    fn is_within(&self, other: &Self) -> bool {
        self.spans.iter().all(|span| {
            let mut row = span.from;
            while row < span.until {
                let Some(above) = other.spans.iter().find(|above| above.from <= row && row < above.until) else {
                    return false;
                };
                if above.amount < span.amount {
                    return false;
                }
                row = above.until;
            }
            true
        })
    }
}

impl Table {
    /// # Errors
    /// [`Cancelled`] once nobody wants to know any more.
    pub(super) fn new(problem: &LevelProblem, aim: Aim, cancel: &Cancel) -> Result<Self, Cancelled> {
        let mut table = Self { rows: Vec::new(), columns: Vec::new(), batches: Vec::new(), instead: Vec::new() };
        let mut starts = Vec::new();
        for (number, capacity) in problem.resources.iter().enumerate() {
            cancel.check()?;
            let bounds = bounds(problem, number, capacity);
            let kept = most_used(problem, number, &bounds, cancel)?;
            let mut row_at = BTreeMap::new();
            for (pair, most) in bounds.windows(2).zip(kept) {
                row_at.insert(pair[0], table.rows.len());
                let limit = capacity.on(pair[0]);
                if most > limit {
                    table.rows_of(aim, limit, i64::from(pair[1]) - i64::from(pair[0]));
                }
            }
            if let Some(&last) = bounds.last() {
                row_at.insert(last, table.rows.len());
            }
            starts.push(row_at);
        }
        let nogoods = table.nogoods(problem, aim);
        for (number, batch) in problem.batches.iter().enumerate() {
            let mut columns = Vec::new();
            for (choice, what) in batch.choices.iter().enumerate() {
                let mut steps: BTreeMap<usize, i64> = BTreeMap::new();
                for used in what.uses.iter().filter(|used| used.days.from < used.days.until) {
                    let row_at = &starts[used.resource];
                    let (Some(&from), Some(&until)) = (row_at.get(&used.days.from), row_at.get(&used.days.until))
                    else {
                        continue;
                    };
                    *steps.entry(from).or_default() += used.amount;
                    *steps.entry(until).or_default() -= used.amount;
                }
                for row in nogoods.get(&(number, choice)).into_iter().flatten() {
                    *steps.entry(*row).or_default() += 1;
                    *steps.entry(row + 1).or_default() -= 1;
                }
                cancel.check()?;
                let cost = if aim == Aim::Cheapest { what.cost } else { 0 };
                columns.push(Column { batch: number, choice, cost, spans: stretches(&steps) });
            }
            table.add(columns, cancel)?;
        }
        Ok(table)
    }

    /// A batch's columns, less those that another replaces at no more cost and no more use.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub(super) fn add(&mut self, columns: Vec<Column>, cancel: &Cancel) -> Result<(), Cancelled> {
        let (choices, first) = (columns.len(), self.columns.len());
        let (mut kept, better) = needed(columns, cancel)?;
        kept.sort_by_cached_key(|column| (middle(column), column.choice));
        let mut instead = vec![first; choices];
        for (place, column) in kept.iter().enumerate() {
            instead[column.choice] = first + place;
        }
        for (worse, better) in better {
            instead[worse] = instead[better];
        }
        self.columns.extend(kept);
        self.batches.push(first..self.columns.len());
        self.instead.push(instead);
        Ok(())
    }

    /// What so many days that are alike may hold.
    fn rows_of(&mut self, aim: Aim, limit: i64, days: i64) {
        match aim {
            Aim::Cheapest => self.rows.push(Row { limit, price: None }),
            Aim::Closest(most) => {
                self.rows.push(Row { limit, price: Some(days) });
                if let Some(most) = most {
                    self.rows.push(Row { limit: limit + most, price: None });
                }
            }
        }
    }

    /// The rows of nogoods that can hold, by batch and choice.
    fn nogoods(&mut self, problem: &LevelProblem, aim: Aim) -> BTreeMap<(usize, usize), Vec<usize>> {
        let mut rows: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for nogood in &problem.nogoods {
            let terms = by_batch(nogood);
            if terms.values().any(Vec::is_empty) {
                continue;
            }
            let price = (aim != Aim::Cheapest).then_some(nogood.short.max(1));
            let limit = i64::try_from(terms.len()).unwrap_or(i64::MAX) - 1;
            for (&batch, choices) in &terms {
                for &choice in choices {
                    rows.entry((batch, choice)).or_default().push(self.rows.len());
                }
            }
            self.rows.push(Row { limit, price });
        }
        rows
    }

    /// What columns, one a batch, come to, short rows at their price; `None` if a row that may not be is over
    /// its limit.
    pub(super) fn value(&self, columns: &[usize]) -> Option<i64> {
        let mut steps = vec![0_i64; self.rows.len() + 1];
        let mut value = 0_i64;
        for &column in columns {
            let column = &self.columns[column];
            value = value.saturating_add(column.cost);
            for span in &column.spans {
                steps[span.from] += span.amount;
                steps[span.until] -= span.amount;
            }
        }
        let mut level = 0;
        for (row, step) in self.rows.iter().zip(steps) {
            level += step;
            if level > row.limit {
                value = value.saturating_add(row.price?.saturating_mul(level - row.limit));
            }
        }
        Some(value)
    }

    /// The dearest column of each batch, in sum.
    pub(super) fn dearest(&self) -> i64 {
        let dearest = |batch: &Range<usize>| self.columns[batch.clone()].iter().map(|column| column.cost).max();
        self.batches.iter().filter_map(dearest).sum()
    }

    /// The cheapest column of each batch, in sum.
    pub(super) fn cheapest(&self) -> i64 {
        let cheapest = |batch: &Range<usize>| self.columns[batch.clone()].iter().map(|column| column.cost).min();
        self.batches.iter().filter_map(cheapest).sum()
    }

    /// The columns that do as well as these choices; `None` unless there is a choice for each batch.
    pub(super) fn columns_of(&self, chosen: &[usize]) -> Option<Vec<usize>> {
        if chosen.len() != self.batches.len() {
            return None;
        }
        let pairs = self.instead.iter().zip(chosen);
        pairs.map(|(instead, &choice)| instead.get(choice).copied()).collect()
    }

    pub(super) fn of_batch(&self, batch: usize) -> &[Column] {
        &self.columns[self.batches[batch].clone()]
    }

    pub(super) fn choices_of(&self, columns: &[usize]) -> Vec<usize> {
        columns.iter().map(|&column| self.columns[column].choice).collect()
    }
}

/// The choices of each batch of a nogood that are in all its terms on that batch.
fn by_batch(nogood: &NoGood) -> BTreeMap<usize, Vec<usize>> {
    let mut terms: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for term in &nogood.terms {
        let mut choices = term.choices.clone();
        choices.sort_unstable();
        choices.dedup();
        terms.entry(term.batch).and_modify(|known| known.retain(|choice| choices.contains(choice))).or_insert(choices);
    }
    terms
}

/// Every day on which what is used, or what there is, may change.
fn bounds(problem: &LevelProblem, resource: usize, capacity: &DailyCapacity) -> Vec<i32> {
    let uses = problem.batches.iter().flat_map(|batch| &batch.choices).flat_map(|choice| &choice.uses);
    let mut days: Vec<i32> = uses
        .filter(|used| used.resource == resource && used.days.from < used.days.until)
        .map(|used| used.days)
        .chain(capacity.other.iter().map(|&(days, _)| days))
        .flat_map(|days| [days.from, days.until])
        .collect();
    days.sort_unstable();
    days.dedup();
    days
}

/// The most that can be used between every two bounds.
fn most_used(problem: &LevelProblem, resource: usize, bounds: &[i32], cancel: &Cancel) -> Result<Vec<i64>, Cancelled> {
    let mut most = vec![0; bounds.len()];
    let at = |day: i32| bounds.binary_search(&day).unwrap_or(0);
    for batch in &problem.batches {
        let mut of_batch = vec![0; bounds.len()];
        for choice in &batch.choices {
            cancel.check()?;
            let mut steps = BTreeMap::new();
            for used in choice.uses.iter().filter(|used| used.resource == resource && used.days.from < used.days.until)
            {
                *steps.entry(at(used.days.from)).or_insert(0) += used.amount;
                *steps.entry(at(used.days.until)).or_insert(0) -= used.amount;
            }
            for span in stretches(&steps) {
                of_batch[span.from..span.until].iter_mut().for_each(|most| *most = span.amount.max(*most));
            }
        }
        most.iter_mut().zip(of_batch).for_each(|(most, more)| *most += more);
    }
    Ok(most)
}

fn stretches(steps: &BTreeMap<usize, i64>) -> Vec<Stretch> {
    let mut level = 0;
    let mut spans: Vec<Stretch> = Vec::new();
    let mut from = 0;
    for (&row, &step) in steps {
        if level > 0 && from < row {
            match spans.last_mut() {
                Some(last) if last.until == from && last.amount == level => last.until = row,
                _ => spans.push(Stretch { from, until: row, amount: level }),
            }
        }
        level += step;
        from = row;
    }
    spans
}

type Needed = (Vec<Column>, Vec<(usize, usize)>);

/// Those that no other replaces, and the choices that are replaced with what replaces them.
fn needed(mut columns: Vec<Column>, cancel: &Cancel) -> Result<Needed, Cancelled> {
    columns.sort_by_cached_key(|column| (column.cost, size(column), column.choice));
    let (mut kept, mut replaced): (Vec<Column>, Vec<(usize, usize)>) = (Vec::new(), Vec::new());
    for column in columns {
        cancel.check()?;
        match kept.iter().rev().find(|better| better.is_within(&column)) {
            Some(better) => replaced.push((column.choice, better.choice)),
            None => kept.push(column),
        }
    }
    Ok((kept, replaced))
}

fn size(column: &Column) -> i128 {
    column.spans.iter().map(|span| i128::from(span.amount) * (span.until - span.from) as i128).sum()
}

/// Twice the row in the middle of what is used; -1 where nothing is.
fn middle(column: &Column) -> i128 {
    let twice = |span: &Stretch| {
        let (from, until) = (span.from as i128, span.until as i128);
        i128::from(span.amount) * (until - from) * (until + from - 1)
    };
    column.spans.iter().map(twice).sum::<i128>().checked_div(size(column)).unwrap_or(-1)
}
