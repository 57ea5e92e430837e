//! Which batch is split, and where.
//!
//! Reliability branching (T. Achterberg, T. Koch and A. Martin, 2005; recalled, not re-read): a split is tried
//! before it is trusted, until enough is known of its batch.

use super::lp::Shares;
use super::table::Table;

/// Tried so often, a batch is known.
const ENOUGH: u32 = 4;
/// So many splits are tried at a node.
pub(super) const MOST_TRIED: usize = 10;

/// A batch's columns up to `last`, and those after.
#[derive(Clone, Copy, Debug)]
pub(super) struct Split {
    pub(super) batch: usize,
    pub(super) last: usize,
    /// The share of the columns up to it.
    pub(super) low: f64,
}

/// What splits of each batch have added to the bound, by share moved.
#[derive(Clone, Debug)]
pub(super) struct Gains {
    low: Vec<(f64, u32)>,
    high: Vec<(f64, u32)>,
}

impl Gains {
    pub(super) fn new(table: &Table) -> Self {
        let none = vec![(0.0, 0); table.batches.len()];
        Self { low: none.clone(), high: none }
    }

    /// The values rose by so much with only the lower, and with only the higher columns.
    pub(super) fn learn(&mut self, split: Split, low: f64, high: f64) {
        let add =
            |known: &mut (f64, u32), gain: f64, moved: f64| *known = (known.0 + gain / moved.max(1e-3), known.1 + 1);
        add(&mut self.low[split.batch], low, 1.0 - split.low);
        add(&mut self.high[split.batch], high, split.low);
    }

    pub(super) fn is_known(&self, split: Split) -> bool {
        self.low[split.batch].1 >= ENOUGH
    }

    fn mean(known: &[(f64, u32)], batch: usize) -> f64 {
        let (sum, times) = known[batch];
        if times > 0 {
            return sum / f64::from(times);
        }
        let (sum, times) = known.iter().fold((0.0, 0), |all, one| (all.0 + one.0, all.1 + one.1));
        if times > 0 { sum / f64::from(times) } else { 1.0 }
    }

    pub(super) fn expected(&self, split: Split) -> f64 {
        let low = Self::mean(&self.low, split.batch) * (1.0 - split.low);
        let high = Self::mean(&self.high, split.batch) * split.low;
        score(low, high)
    }
}

/// What two gains are worth.
pub(super) fn score(low: f64, high: f64) -> f64 {
    low.max(1e-6) * high.max(1e-6)
}

/// One split for every batch that is shared, the most promising first.
pub(super) fn splits(shares: &Shares, gains: &Gains) -> Vec<Split> {
    let mut found: Vec<(f64, Split)> = Vec::new();
    for (batch, columns) in shares.iter().enumerate().filter(|(_, columns)| columns.len() > 1) {
        let mut low = 0.0;
        let mut best: Option<Split> = None;
        for &(last, share) in &columns[..columns.len() - 1] {
            low += share;
            if best.is_none_or(|known| (low - 0.5).abs() < (known.low - 0.5).abs()) {
                best = Some(Split { batch, last, low });
            }
        }
        found.extend(best.map(|split| (gains.expected(split), split)));
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, split)| split).collect()
}
