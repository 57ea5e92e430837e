//! Better choices near a known one: most batches stay, the rest are chosen anew.
//!
//! Large neighbourhood search (P. Shaw, 1998; recalled, not re-read). The neighbourhoods are batches that share
//! days, batches on which the linear relaxation disagrees, and chance; each is a smaller problem of its own.

use super::super::random::Random;
use super::super::work::{Cancel, Cancelled, Progress};
use super::lp::Shares;
use super::table::{Column, Row, Stretch, Table};
use super::tree::{Search, Stop, tell};

/// Nodes of one neighbourhood's tree.
const NODES: u64 = 40;
/// Batches that are free at least.
const FEWEST: usize = 8;
/// Neighbourhoods in a row without anything better end a turn.
const MOST_IN_VAIN: usize = 6;

/// Work near the known answer and in the tree take turns; the first turns are so long.
const FIRST_TURN: u64 = 4_000_000;

/// Cuts, then neighbourhoods and the tree in turns, until all is proven or the work is done.
pub(super) fn settle(search: &mut Search<'_>, budget: u64, cancel: &Cancel, progress: &Progress) {
    let Some(shares) = search.cut_root(budget / 4, cancel) else {
        return;
    };
    let mut near = Neighbours::new(search.table);
    let mut turn = FIRST_TURN.max(2 * search.work());
    while !search.is_done() && search.work() < budget && !cancel.is_cancelled() {
        let until = |search: &Search<'_>| search.work().saturating_add(turn).min(budget);
        near.improve(search, &shares, until(search), cancel);
        let stop = Stop { work: until(search), budget, nodes: u64::MAX, enough: i64::MIN };
        search.run(stop, cancel, progress);
        tell(progress, search.work(), budget);
        turn = turn.saturating_mul(2);
    }
}

/// How the search near the known answer goes.
struct Neighbours {
    random: Random,
    size: usize,
}

impl Neighbours {
    fn new(table: &Table) -> Self {
        let batches = table.batches.len();
        Self { random: Random::new(1), size: (batches / 3).max(FEWEST).min(batches) }
    }

    /// Until so many neighbourhoods in a row hold nothing better.
    fn improve(&mut self, search: &mut Search<'_>, shares: &Shares, stop: u64, cancel: &Cancel) {
        let batches = search.table.batches.len();
        let mut in_vain = 0;
        while search.work() < stop && in_vain < MOST_IN_VAIN && search.at_least() < search.below {
            let Some(best) = search.best.clone().filter(|_| !cancel.is_cancelled()) else {
                return;
            };
            let free = neighbourhood(search.table, &best, shares, self.size, &mut self.random);
            let Ok(rest) = Rest::new(search.table, &best, &free, &search.root_open, cancel) else { return };
            let mut inner = Search::new(&rest.table, search.below - rest.cost);
            let work = (stop - search.work()).min(stop / 8);
            inner.solve(Stop { work, budget: work, nodes: NODES, enough: i64::MIN }, cancel);
            search.worked(inner.work());
            in_vain += 1;
            if let Some(found) = &inner.best {
                search.offer(&rest.columns(&best, found));
                in_vain = 0;
            } else if inner.is_done() {
                self.size = (self.size + self.size / 8 + 1).min(batches);
            } else {
                self.size = (self.size - self.size / 8).max(FEWEST);
            }
        }
    }
}

fn neighbourhood(table: &Table, best: &[usize], shares: &Shares, size: usize, random: &mut Random) -> Vec<bool> {
    let batches = table.batches.len();
    let row = random.below(table.rows.len());
    let how = random.below(4);
    let distance = |batch: usize| match how {
        // Whether the relaxation agrees.
        0 => {
            let share = shares[batch].iter().find(|(column, _)| *column == best[batch]);
            usize::from(share.is_some_and(|(_, share)| *share > 0.6))
        }
        1 => 0,
        // How far its days are from the row.
        _ => {
            let spans = table.columns[best[batch]].spans.iter();
            let far = spans.map(|span| span.from.saturating_sub(row).max((row + 1).saturating_sub(span.until)));
            far.min().unwrap_or(usize::MAX)
        }
    };
    let mut far: Vec<(usize, usize, usize)> =
        (0..batches).map(|batch| (distance(batch), random.below(1 << 20), batch)).collect();
    far.sort_unstable();
    let mut free = vec![false; batches];
    far.into_iter().take(size).for_each(|(_, _, batch)| free[batch] = true);
    free
}

/// The problem of some batches, where the others are settled.
struct Rest {
    table: Table,
    /// What the settled ones cost.
    cost: i64,
    batches: Vec<usize>,
    /// The columns that the choices stand for.
    choices: Vec<Vec<usize>>,
}

impl Rest {
    /// # Errors
    /// [`Cancelled`] once nobody wants to know any more.
    fn new(whole: &Table, settled: &[usize], free: &[bool], open: &[bool], cancel: &Cancel) -> Result<Self, Cancelled> {
        let (left, most) = left_and_most(whole, settled, free);
        let mut table = Table::default();
        let mut place = vec![0];
        for ((row, &limit), &most) in whole.rows.iter().zip(&left).zip(&most) {
            if most > limit {
                table.rows.push(Row { limit, ..*row });
            }
            place.push(table.rows.len());
        }
        let batches: Vec<usize> = (0..settled.len()).filter(|&batch| free[batch]).collect();
        let mut choices = Vec::new();
        for (number, &batch) in batches.iter().enumerate() {
            let of_batch: Vec<usize> =
                whole.batches[batch].clone().filter(|&column| open[column] || column == settled[batch]).collect();
            let moved = |span: &Stretch| Stretch { from: place[span.from], until: place[span.until], ..*span };
            let columns = of_batch.iter().enumerate().map(|(choice, &column)| {
                let spans = whole.columns[column].spans.iter().map(moved);
                let spans = spans.filter(|span| span.from < span.until).collect();
                Column { batch: number, choice, cost: whole.columns[column].cost, spans }
            });
            table.add(columns.collect(), cancel)?;
            choices.push(of_batch);
        }
        let others = (0..settled.len()).filter(|&batch| !free[batch]);
        let cost = others.map(|batch| whole.columns[settled[batch]].cost).sum();
        Ok(Self { table, cost, batches, choices })
    }

    /// A column for each batch of the whole.
    fn columns(&self, settled: &[usize], found: &[usize]) -> Vec<usize> {
        let mut columns = settled.to_vec();
        for ((&batch, choices), &column) in self.batches.iter().zip(&self.choices).zip(found) {
            columns[batch] = choices[self.table.columns[column].choice];
        }
        columns
    }
}

/// What the settled batches leave of each row, and the most that the free ones may take.
fn left_and_most(whole: &Table, settled: &[usize], free: &[bool]) -> (Vec<i64>, Vec<i64>) {
    let mut left: Vec<i64> = whole.rows.iter().map(|row| row.limit).collect();
    let mut most = vec![0; left.len()];
    for (batch, &column) in settled.iter().enumerate() {
        if free[batch] {
            let mut of_batch = vec![0; left.len()];
            for span in whole.of_batch(batch).iter().flat_map(|column| &column.spans) {
                of_batch[span.from..span.until].iter_mut().for_each(|most| *most = span.amount.max(*most));
            }
            most.iter_mut().zip(of_batch).for_each(|(most, more)| *most += more);
        } else {
            for span in &whole.columns[column].spans {
                left[span.from..span.until].iter_mut().for_each(|left| *left -= span.amount);
            }
        }
    }
    (left, most)
}
