//! Branch and bound over what the linear relaxation leaves open.

use std::ops::Range;

use super::super::work::{Cancel, Progress};
use super::branching::{Gains, MOST_TRIED, Split, score, splits};
use super::cuts::{Cut, separate};
use super::exact::Exact;
use super::lp::{Basis, Ended, Lp, Point, Shares};
use super::repair::repair;
use super::table::Table;

/// Nodes add no more cuts than that.
const MOST_CUTS: usize = 500;
/// Steps of one solve.
const MOST_STEPS: u64 = 5_000;
/// Steps of a trial.
const TRIAL_STEPS: u64 = 15;
/// Rounds of cuts at the root.
const MOST_ROUNDS: usize = 30;

/// A set of open columns, and where to start from.
#[derive(Clone)]
struct Node {
    open: Vec<bool>,
    basis: Basis,
    at_least: i64,
}

/// How far a search goes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    /// In all.
    pub(super) work: u64,
    /// What progress is told against.
    pub(super) budget: u64,
    /// In this search.
    pub(super) nodes: u64,
    /// What costs no more needs no improving.
    pub(super) enough: i64,
}

pub(super) struct Search<'t> {
    pub(super) table: &'t Table,
    lp: Lp<'t>,
    exact: Exact,
    point: Point,
    /// A column for each batch, and what they cost.
    pub(super) best: Option<Vec<usize>>,
    /// Only what costs less is looked for.
    pub(super) below: i64,
    nodes: Vec<Node>,
    visited: u64,
    gains: Gains,
    /// The columns that the root left open: what cuts may count on.
    pub(super) root_open: Vec<bool>,
}

impl<'t> Search<'t> {
    pub(super) fn new(table: &'t Table, below: i64) -> Self {
        let open = vec![true; table.columns.len()];
        let lp = Lp::new(table);
        let basis = lp.start(&open);
        let nodes = vec![Node { open: open.clone(), basis, at_least: table.cheapest() }];
        Self {
            table,
            lp,
            exact: Exact::new(table),
            point: Point::default(),
            best: None,
            below,
            nodes,
            visited: 0,
            gains: Gains::new(table),
            root_open: open,
        }
    }

    /// What nothing left costs less than.
    pub(super) fn at_least(&self) -> i64 {
        self.nodes.iter().map(|node| node.at_least).min().unwrap_or(self.below).min(self.below)
    }

    pub(super) fn is_done(&self) -> bool {
        self.nodes.is_empty()
    }

    pub(super) fn work(&self) -> u64 {
        self.point.work
    }

    /// Work done elsewhere for this search.
    pub(super) fn worked(&mut self, more: u64) {
        self.point.work += more;
    }

    /// Cuts, then the tree.
    pub(super) fn solve(&mut self, stop: Stop, cancel: &Cancel) {
        if self.cut_root(stop.work / 2, cancel).is_some() {
            self.run(stop, cancel, &Progress::default());
        }
    }

    /// Visits nodes, the last first, until none is left or it is enough.
    pub(super) fn run(&mut self, stop: Stop, cancel: &Cancel, progress: &Progress) {
        let until = self.visited.saturating_add(stop.nodes);
        while self.point.work < stop.work && self.visited < until && self.below > stop.enough && !cancel.is_cancelled()
        {
            let Some(node) = self.nodes.pop() else {
                return;
            };
            self.visited += 1;
            if self.visited.is_multiple_of(64) {
                tell(progress, self.point.work, stop.budget);
            }
            self.visit(node);
        }
    }

    /// Solves a node, as far as it may hold something better; whether it may.
    fn relax(&mut self, node: &mut Node) -> Option<Ended> {
        if node.at_least >= self.below {
            return None;
        }
        let cutoff = self.below as f64 - 0.999;
        let ended = self.lp.solve(&node.open, &mut node.basis, &mut self.point, cutoff, MOST_STEPS);
        self.exact.take(&self.lp.pricing, &self.point.price, &self.point.live, &node.open);
        self.point.work += self.table.columns.len() as u64;
        node.at_least = node.at_least.max(self.exact.at_least());
        if node.at_least >= self.below {
            return None;
        }
        Some(ended)
    }

    /// Cuts until they help no more; then only those that are tight are kept.
    pub(super) fn cut_root(&mut self, work: u64, cancel: &Cancel) -> Option<Shares> {
        let mut node = self.nodes.pop()?;
        let mut shares = None;
        let mut before = f64::MIN;
        let mut stalled = 0;
        for _ in 0..MOST_ROUNDS {
            let ended = self.relax(&mut node)?;
            if ended != Ended::Solved || self.point.work >= work || cancel.is_cancelled() {
                break;
            }
            let now = self.lp.shares(&node.basis, &self.point);
            self.offer_rounded(&node.open, &now, true);
            stalled = if self.point.value < before + 0.01 { stalled + 1 } else { 0 };
            before = self.point.value;
            let found = self.cuts(&node.open, &now);
            shares = Some(now);
            if stalled == 3 || found.is_empty() {
                break;
            }
            self.lp.add_all(found);
            if self.lp.pricing.cuts.len() > 4 * self.table.rows.len() {
                self.keep_tight(&mut node);
            }
        }
        self.keep_tight(&mut node);
        self.root_open.clone_from(&node.open);
        self.nodes.push(node);
        shares
    }

    fn keep_tight(&mut self, node: &mut Node) {
        let rows = self.table.rows.len();
        let mut tight: Vec<usize> =
            node.basis.tight.iter().filter_map(|&row| (row as usize).checked_sub(rows)).collect();
        tight.sort_unstable();
        let mut lp = Lp::new(self.table);
        lp.add_all(tight.into_iter().map(|cut| self.lp.pricing.cuts[cut].clone()));
        self.lp = lp;
        node.basis = self.lp.start(&node.open);
    }

    /// Cuts that these shares break.
    fn cuts(&mut self, open: &[bool], shares: &Shares) -> Vec<Cut> {
        let mut found = Vec::new();
        for row in (0..self.table.rows.len()).filter(|&row| self.point.slack[row] < 0.2) {
            separate(self.table, &self.lp.pricing.levels, row, open, shares, &mut found);
            self.point.work += self.table.columns.len() as u64;
        }
        found.retain(|cut| !self.lp.pricing.cuts.contains(cut));
        found
    }

    /// Closes the node, or splits it.
    fn visit(&mut self, mut node: Node) {
        let mut may_cut = self.lp.pricing.cuts.len() < MOST_CUTS;
        loop {
            let Some(ended) = self.relax(&mut node) else {
                return;
            };
            if ended == Ended::Solved && std::mem::take(&mut may_cut) {
                let open = std::mem::take(&mut self.root_open);
                let found = self.cuts(&open, &self.lp.shares(&node.basis, &self.point));
                self.root_open = open;
                if !found.is_empty() {
                    self.lp.add_all(found);
                    continue;
                }
            }
            let closed = self.exact.close(self.table, &mut node.open, self.below);
            let mut own = node.basis.key.iter().chain(&node.basis.extra);
            let is_touched = own.any(|&column| !node.open[column as usize]);
            if ended == Ended::Unfinished {
                node.basis = self.lp.start(&node.open);
            }
            if closed == 0 || !is_touched {
                break;
            }
        }
        let shares = self.lp.shares(&node.basis, &self.point);
        self.offer_rounded(&node.open, &shares, self.visited.is_multiple_of(32));
        self.branch(&node, &shares);
    }

    fn offer_rounded(&mut self, open: &[bool], shares: &Shares, may_repair: bool) {
        let largest =
            |columns: &Vec<(usize, f64)>| columns.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|most| most.0);
        if let Some(rounded) = shares.iter().map(largest).collect::<Option<Vec<usize>>>() {
            self.offer(&rounded);
            if may_repair
                && self.best.is_none()
                && let Some(repaired) = repair(self.table, open, &rounded, &mut self.point.work)
            {
                self.offer(&repaired);
            }
        }
    }

    /// Takes a choice if it is better than what is known.
    pub(super) fn offer(&mut self, columns: &[usize]) {
        if let Some(cost) = self.table.value(columns)
            && cost < self.below
        {
            self.below = cost;
            self.best = Some(columns.to_vec());
        }
    }

    /// Splits the node into two; one without a choice is looked at and done with.
    fn branch(&mut self, node: &Node, shares: &Shares) {
        let Some(split) = self.choose(node, shares) else {
            let sole = |batch: &Range<usize>| batch.clone().find(|&column| node.open[column]);
            if let Some(columns) = self.table.batches.iter().map(sole).collect::<Option<Vec<usize>>>() {
                self.offer(&columns);
            }
            return;
        };
        let (low, high) = (self.side(node, split, true), self.side(node, split, false));
        self.nodes.extend(if split.low < 0.5 { [low, high] } else { [high, low] });
    }

    fn side(&self, node: &Node, split: Split, is_low: bool) -> Node {
        let mut side = node.clone();
        for column in self.table.batches[split.batch].clone() {
            if (column <= split.last) != is_low {
                side.open[column] = false;
            }
        }
        side
    }

    fn choose(&mut self, node: &Node, shares: &Shares) -> Option<Split> {
        let value = self.point.value;
        let mut splits = splits(shares, &self.gains);
        splits.retain(|split| {
            let (low, high) = (
                self.table.batches[split.batch].start..=split.last,
                split.last + 1..self.table.batches[split.batch].end,
            );
            low.into_iter().any(|column| node.open[column]) && high.into_iter().any(|column| node.open[column])
        });
        let mut best: Option<(f64, Split)> = None;
        let mut in_vain = 0;
        for (place, &split) in splits.iter().enumerate() {
            let score = if self.gains.is_known(split) {
                self.gains.expected(split)
            } else if place < MOST_TRIED && in_vain < 4 {
                let [low, high] = [true, false].map(|is_low| self.try_side(node, split, is_low, value));
                self.gains.learn(split, low, high);
                score(low, high)
            } else {
                continue;
            };
            in_vain += 1;
            if best.is_none_or(|(known, _)| score > known) {
                best = Some((score, split));
                in_vain = 0;
            }
        }
        best.map(|(_, split)| split).or_else(|| self.any_open(node))
    }

    /// By how much the value rises on one side, as far as a few steps tell.
    fn try_side(&mut self, node: &Node, split: Split, is_low: bool, value: f64) -> f64 {
        let mut side = self.side(node, split, is_low);
        let cutoff = self.below as f64 - 0.999;
        self.lp.solve(&side.open, &mut side.basis, &mut self.point, cutoff, TRIAL_STEPS);
        (self.point.value.min(cutoff) - value).max(0.0)
    }

    /// Where shares say nothing, any batch with more than one open column is split.
    fn any_open(&self, node: &Node) -> Option<Split> {
        self.table.batches.iter().enumerate().find_map(|(batch, columns)| {
            let mut open = columns.clone().filter(|&column| node.open[column]);
            let first = open.next()?;
            open.next().map(|_| Split { batch, last: first, low: 0.5 })
        })
    }
}

pub(super) fn tell(progress: &Progress, work: u64, of: u64) {
    let thousandth = |work: u64| usize::try_from(work / 1024).unwrap_or(usize::MAX / 1000);
    progress.set(thousandth(work), thousandth(of));
}
