//! What columns come to at given prices of rows and cuts.

use std::ops::{AddAssign, Mul, Sub};

use super::cuts::Cut;
use super::levels::Levels;
use super::table::Table;

/// What prices are counted in: hints in floating point, proofs in whole numbers.
pub(super) trait Number:
    Copy + Default + PartialEq + AddAssign + Sub<Output = Self> + Mul<Output = Self>
{
    fn of(whole: i64) -> Self;
}

impl Number for f64 {
    fn of(whole: i64) -> Self {
        whole as Self
    }
}

impl Number for i128 {
    fn of(whole: i64) -> Self {
        Self::from(whole)
    }
}

/// Rows, and the cuts that were found since.
pub(super) struct Pricing<'t> {
    pub(super) table: &'t Table,
    pub(super) levels: Levels,
    pub(super) cuts: Vec<Cut>,
    /// Cuts that speak of a batch, with its place there.
    touching: Vec<Vec<(usize, usize)>>,
    /// The cuts in which a column weighs something, with the weight.
    weights: Vec<Vec<(u32, i32)>>,
    /// The rows that a batch may use.
    reach: Vec<(usize, usize)>,
}

/// So few columns of a batch are priced one by one.
const FEW: usize = 5;

/// The columns that are open or in a basis, by batch.
#[derive(Clone, Debug, Default)]
pub(super) struct Live {
    first: Vec<u32>,
    columns: Vec<u32>,
}

impl Live {
    /// From columns in order.
    pub(super) fn new(table: &Table, wanted: impl Fn(usize) -> bool) -> Self {
        let mut live = Self { first: vec![0], columns: Vec::new() };
        for batch in &table.batches {
            live.columns.extend(batch.clone().filter(|&column| wanted(column)).map(|column| column as u32));
            live.first.push(live.columns.len() as u32);
        }
        live
    }

    pub(super) fn of(&self, batch: usize) -> &[u32] {
        &self.columns[self.first[batch] as usize..self.first[batch + 1] as usize]
    }

    /// Batches with more than one column.
    pub(super) fn undecided(&self) -> impl Iterator<Item = (usize, &[u32])> {
        (0..self.first.len() - 1).map(|batch| (batch, self.of(batch))).filter(|(_, columns)| columns.len() > 1)
    }
}

/// Working space.
#[derive(Clone, Debug, Default)]
pub(super) struct Sums<T> {
    rows: Vec<T>,
    own: Vec<T>,
}

impl<'t> Pricing<'t> {
    pub(super) fn new(table: &'t Table) -> Self {
        let reach = table.batches.iter().map(|batch| {
            let spans = || table.columns[batch.clone()].iter().flat_map(|column| &column.spans);
            let from = spans().map(|span| span.from).min().unwrap_or(0);
            (from, spans().map(|span| span.until).max().unwrap_or(0))
        });
        Self {
            table,
            levels: Levels::new(table),
            cuts: Vec::new(),
            touching: vec![Vec::new(); table.batches.len()],
            weights: vec![Vec::new(); table.columns.len()],
            reach: reach.collect(),
        }
    }

    pub(super) fn add(&mut self, cut: Cut) {
        let number = self.cuts.len();
        for (place, (batch, weights)) in cut.weights.iter().enumerate() {
            self.touching[*batch].push((number, place));
            for column in self.table.batches[*batch].clone() {
                let weight = weights[self.levels.level_at(self.table, column, cut.row)];
                if weight != 0 {
                    self.weights[column].push((number as u32, weight as i32));
                }
            }
        }
        self.cuts.push(cut);
    }

    /// Rows and cuts.
    pub(super) fn len(&self) -> usize {
        self.table.rows.len() + self.cuts.len()
    }

    /// What a column takes of a row or cut.
    pub(super) fn amount(&self, column: usize, row: usize) -> i64 {
        let Some(cut) = row.checked_sub(self.table.rows.len()) else {
            return self.table.columns[column].amount(row);
        };
        let weights = &self.weights[column];
        weights.binary_search_by_key(&(cut as u32), |&(cut, _)| cut).map_or(0, |at| i64::from(weights[at].1))
    }

    /// Every cut in which a column weighs something, with the weight.
    pub(super) fn weights(&self, column: usize) -> &[(u32, i32)] {
        &self.weights[column]
    }

    /// Prices of all rows, then all cuts: sums are made once, batches are then priced one by one.
    pub(super) fn sums<T: Number>(&self, prices: &[T], sums: &mut Sums<T>) {
        sums.rows.clear();
        sums.rows.push(T::default());
        let mut sum = T::default();
        for &price in &prices[..self.table.rows.len()] {
            sum += price;
            sums.rows.push(sum);
        }
    }

    /// Tells what some columns of a batch come to, without their cost.
    pub(super) fn batch<T: Number>(
        &self,
        batch: usize,
        columns: &[u32],
        prices: &[T],
        sums: &mut Sums<T>,
        mut tell: impl FnMut(usize, T),
    ) {
        let cut_prices = &prices[self.table.rows.len()..];
        if columns.len() <= FEW {
            for &column in columns {
                let mut value = self.of_rows(column as usize, sums);
                for &(cut, weight) in self.weights(column as usize) {
                    value += cut_prices[cut as usize] * T::of(i64::from(weight));
                }
                tell(column as usize, value);
            }
            return;
        }
        if self.touching[batch].iter().all(|&(cut, _)| cut_prices[cut] == T::default()) {
            for &column in columns {
                tell(column as usize, self.of_rows(column as usize, sums));
            }
            return;
        }
        self.own_sums(batch, prices, sums);
        let (from, until) = self.reach[batch];
        let width = until - from + 1;
        for &column in columns {
            let column = column as usize;
            let mut value = T::default();
            for (span, level) in self.table.columns[column].spans.iter().zip(self.levels.of(column)) {
                let line = &sums.own[level * width..(level + 1) * width];
                value += line[span.until - from] - line[span.from - from];
            }
            tell(column, value);
        }
    }

    fn of_rows<T: Number>(&self, column: usize, sums: &Sums<T>) -> T {
        let mut value = T::default();
        for span in &self.table.columns[column].spans {
            value += T::of(span.amount) * (sums.rows[span.until] - sums.rows[span.from]);
        }
        value
    }

    /// By level, what each row up to each row comes to.
    fn own_sums<T: Number>(&self, batch: usize, prices: &[T], sums: &mut Sums<T>) {
        let (from, until) = self.reach[batch];
        let (width, levels) = (until - from + 1, self.levels.number(batch));
        sums.own.clear();
        sums.own.resize(width * levels, T::default());
        for &(cut, place) in &self.touching[batch] {
            let price = prices[self.table.rows.len() + cut];
            if price != T::default() {
                let row = self.cuts[cut].row - from;
                for (level, &weight) in self.cuts[cut].weights[place].1.iter().enumerate() {
                    sums.own[level * width + row + 1] += price * T::of(weight);
                }
            }
        }
        for level in 1..levels {
            let amount = T::of(self.levels.amount(batch, level));
            let mut sum = T::default();
            for (place, value) in sums.own[level * width..(level + 1) * width].iter_mut().enumerate().skip(1) {
                sum += *value;
                sum += amount * prices[from + place - 1];
                *value = sum;
            }
        }
    }
}
