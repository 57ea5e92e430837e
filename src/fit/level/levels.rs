//! The different amounts that a batch may take of a row.

use super::table::Table;

pub(super) struct Levels {
    /// By batch; the first is 0.
    amounts: Vec<Vec<i64>>,
    /// The level of each span, by column.
    spans: Vec<Vec<usize>>,
}

impl Levels {
    pub(super) fn new(table: &Table) -> Self {
        let amounts: Vec<Vec<i64>> = (0..table.batches.len())
            .map(|batch| {
                let columns = &table.columns[table.batches[batch].clone()];
                let spans = columns.iter().flat_map(|column| &column.spans);
                let mut amounts: Vec<i64> = spans.map(|span| span.amount).chain([0]).collect();
                amounts.sort_unstable();
                amounts.dedup();
                amounts
            })
            .collect();
        let level = |batch: usize, amount: i64| amounts[batch].binary_search(&amount).unwrap_or(0);
        let spans = table
            .columns
            .iter()
            .map(|column| column.spans.iter().map(|span| level(column.batch, span.amount)).collect())
            .collect();
        Self { amounts, spans }
    }

    pub(super) fn number(&self, batch: usize) -> usize {
        self.amounts[batch].len()
    }

    pub(super) fn amount(&self, batch: usize, level: usize) -> i64 {
        self.amounts[batch][level]
    }

    pub(super) fn of(&self, column: usize) -> &[usize] {
        &self.spans[column]
    }

    pub(super) fn level_at(&self, table: &Table, column: usize, row: usize) -> usize {
        let spans = table.columns[column].spans.iter().zip(&self.spans[column]);
        spans.into_iter().find(|(span, _)| span.from <= row && row < span.until).map_or(0, |(_, &level)| level)
    }
}
