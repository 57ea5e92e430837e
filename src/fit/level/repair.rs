//! From choices that overfill rows to choices that fit, one batch at a time.
//!
//! Rows that stay overfilled weigh more from pass to pass (breakout local search, P. Morris, 1993; recalled, not
//! re-read).

use super::table::{Column, Table};

const MOST_PASSES: usize = 60;

/// Columns that fit, near those given; `None` where they aren't found. Tells how many amounts were looked at.
pub(super) fn repair(table: &Table, open: &[bool], near: &[usize], work: &mut u64) -> Option<Vec<usize>> {
    let mut chosen = near.to_vec();
    let mut used = vec![0_i64; table.rows.len()];
    for &column in &chosen {
        add(&mut used, &table.columns[column], 1);
    }
    // Costs first matter a little, then less and less.
    let mut weights: Vec<f64> = table.rows.iter().map(|row| 4.0 / row.limit.max(1) as f64).collect();
    for _ in 0..MOST_PASSES {
        if table.rows.iter().zip(&used).all(|(row, &used)| row.price.is_some() || used <= row.limit) {
            return Some(chosen);
        }
        for (batch, columns) in table.batches.iter().enumerate() {
            add(&mut used, &table.columns[chosen[batch]], -1);
            let price = |column: usize| -> f64 {
                let column = &table.columns[column];
                let over = column.spans.iter().map(|span| {
                    let rows = span.from..span.until;
                    rows.map(|row| {
                        weights[row] * (used[row] + span.amount - table.rows[row].limit.max(used[row])).max(0) as f64
                    })
                    .sum::<f64>()
                });
                column.cost as f64 + over.sum::<f64>()
            };
            let mut best = (price(chosen[batch]), chosen[batch]);
            for column in columns.clone().filter(|&column| open[column]) {
                *work +=
                    1 + table.columns[column].spans.iter().map(|span| span.until - span.from).sum::<usize>() as u64 / 8;
                let priced = price(column);
                if priced < best.0 {
                    best = (priced, column);
                }
            }
            chosen[batch] = best.1;
            add(&mut used, &table.columns[best.1], 1);
        }
        for ((weight, row), &used) in weights.iter_mut().zip(&table.rows).zip(&used) {
            if used > row.limit {
                *weight *= 1.5;
            }
        }
    }
    None
}

fn add(used: &mut [i64], column: &Column, times: i64) {
    for span in &column.spans {
        used[span.from..span.until].iter_mut().for_each(|used| *used += times * span.amount);
    }
}
