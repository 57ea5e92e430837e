//! What prices of rows prove, in whole numbers.
//!
//! Whatever the prices, every choice of columns that keeps all limits costs at least what the cheapest
//! priced column of each batch cost in sum, less the priced limits: Lagrangian relaxation (M. L. Fisher, 1981;
//! recalled, not re-read). Prices come in floating point; they are rounded first, and then nothing is.

use super::pricing::{Live, Pricing, Sums};
use super::table::Table;

pub(super) struct Exact {
    /// A cost of 1 is 2 to the power of this.
    pub(super) shift: u32,
    /// The most that the price of a row may be, so that no sum overflows.
    most: Vec<i128>,
    /// The most that the price of a cut may be.
    most_of_cut: i128,
    prices: Vec<i128>,
    sums: Sums<i128>,
    /// Each open column's cost and priced amounts.
    priced: Vec<i128>,
    /// The cheapest of each batch.
    least: Vec<i128>,
    /// What the last prices prove.
    bound: i128,
}

impl Exact {
    pub(super) fn new(table: &Table) -> Self {
        let mut used: Vec<i128> = table.rows.iter().map(|row| i128::from(row.limit.abs().max(1))).collect();
        let mut largest = 1;
        for span in table.columns.iter().flat_map(|column| &column.spans) {
            largest = largest.max(i128::from(span.amount));
            let rows = used[span.from..span.until].iter_mut();
            rows.for_each(|used| *used = i128::from(span.amount).max(*used));
        }
        let shift = 20 + (128 - largest.leading_zeros());
        // Room for as many cuts as rows can have.
        let room = (1_i128 << 120) / ((table.rows.len() as i128 + MOST_CUTS) * (table.batches.len() as i128 + 1));
        let price = |(used, row): (&i128, &super::table::Row)| {
            row.price.map_or(room / used, |price| (room / used).min(i128::from(price) << shift))
        };
        let most = used.iter().zip(&table.rows).map(price).collect();
        Self {
            shift,
            most,
            most_of_cut: room / (table.batches.len() as i128 + 1),
            prices: Vec::new(),
            sums: Sums::default(),
            priced: vec![0; table.columns.len()],
            least: Vec::new(),
            bound: 0,
        }
    }

    /// Takes prices of one unit of each row and cut; the bound is then known.
    pub(super) fn take(&mut self, pricing: &Pricing<'_>, prices: &[f64], live: &Live, open: &[bool]) {
        let one = (1_u128 << self.shift) as f64;
        let rows = pricing.table.rows.iter().map(|row| row.limit).chain(pricing.cuts.iter().map(|cut| cut.limit));
        let most = self.most.iter().copied().chain(std::iter::repeat(self.most_of_cut));
        self.prices.clear();
        let mut limits = 0;
        for ((price, limit), most) in prices.iter().zip(rows).zip(most) {
            // The cast saturates, and makes 0 of what is no number.
            let price = ((price * one).round() as i128).clamp(0, most);
            limits += price * i128::from(limit);
            self.prices.push(price);
        }
        pricing.sums(&self.prices, &mut self.sums);
        self.least.clear();
        let mut is_empty = false;
        for batch in 0..pricing.table.batches.len() {
            let mut least = None;
            let priced = &mut self.priced;
            pricing.batch(batch, live.of(batch), &self.prices, &mut self.sums, |column, value| {
                if open[column] {
                    priced[column] = value + (i128::from(pricing.table.columns[column].cost) << self.shift);
                    least = Some(least.map_or(priced[column], |least: i128| least.min(priced[column])));
                }
            });
            // A batch without a choice rules everything out.
            is_empty |= least.is_none();
            self.least.push(least.unwrap_or(0));
        }
        self.bound = if is_empty { i128::MAX } else { self.least.iter().sum::<i128>() - limits };
    }

    /// The least whole cost that the prices leave.
    pub(super) fn at_least(&self) -> i64 {
        let one = 1_i128 << self.shift;
        let whole = self.bound.div_euclid(one) + i128::from(self.bound.rem_euclid(one) > 0);
        i64::try_from(whole).unwrap_or(if whole > 0 { i64::MAX } else { i64::MIN })
    }

    /// Closes every column with which no choice costs less than `below`; how many.
    pub(super) fn close(&self, table: &Table, open: &mut [bool], below: i64) -> usize {
        let room = ((i128::from(below) - 1) << self.shift) - self.bound;
        let mut closed = 0;
        for (batch, least) in table.batches.iter().zip(&self.least) {
            for column in batch.clone() {
                if open[column] && self.priced[column] - least > room {
                    open[column] = false;
                    closed += 1;
                }
            }
        }
        closed
    }
}

const MOST_CUTS: i128 = 1 << 16;
