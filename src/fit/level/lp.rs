//! The linear relaxation: shares of choices instead of choices.
//!
//! Bounded dual simplex for rows with generalized upper bounds (G. B. Dantzig and R. M. Van Slyke,
//! Generalized upper bounding techniques, 1967; recalled, not re-read). Every batch has a key column that takes
//! what its other columns leave; the basis that is left has as many rows as there are tight ones. What
//! comes out is prices of rows: they are hints, and `exact` says what they prove.

use super::super::random::Random;
use super::cuts::Cut;
use super::inverse::Inverse;
use super::pricing::{Live, Pricing, Sums};
use super::table::Table;

const TOLERANCE: f64 = 1e-7;
/// A share below this is none.
const LEAST_SHARE: f64 = 1e-6;
const LEAST_PIVOT: f64 = 1e-7;
/// Costs are this much apart where they are equal, so that no step is of length 0.
const PERTURBED: f64 = 1e-6;
/// The inverse is made anew after so many changes.
const MOST_CHANGES: u32 = 60;

/// What stays the same while choices are closed and opened.
pub(super) struct Lp<'t> {
    pub(super) pricing: Pricing<'t>,
    /// Makes the largest amount of a row or cut 1.
    scale: Vec<f64>,
    limit: Vec<f64>,
    /// What a unit too much costs, scaled; infinite where it may not be.
    weight: Vec<f64>,
    cost: Vec<f64>,
}

/// A basis.
#[derive(Clone, Debug)]
pub(super) struct Basis {
    /// The column of each batch that takes what the others leave.
    pub(super) key: Vec<u32>,
    /// Other columns that have a share.
    pub(super) extra: Vec<u32>,
    /// As many rows or cuts, full to the limit.
    pub(super) tight: Vec<u32>,
    /// Of the tight rows' amounts in the extra columns, less those of their keys.
    inverse: Inverse,
    changes: u32,
    /// Rows that hold too much, at their price.
    short: Vec<bool>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ended {
    Solved,
    /// The prices say that nothing below the cutoff is left.
    CutOff,
    /// Out of steps or of digits; the prices still prove what they prove.
    Unfinished,
}

/// Shares of columns, by batch.
pub(super) type Shares = Vec<Vec<(usize, f64)>>;

/// Working space, and the last answer.
#[derive(Clone, Debug, Default)]
pub(super) struct Point {
    /// Shares, as in [`Basis::extra`].
    pub(super) extra: Vec<f64>,
    /// Shares of the keys.
    pub(super) key: Vec<f64>,
    /// A price for one unit of each row and cut, 0 or more.
    pub(super) price: Vec<f64>,
    /// What is left of each row and cut, scaled.
    pub(super) slack: Vec<f64>,
    pub(super) value: f64,
    /// Units of work, a few nanoseconds each.
    pub(super) work: u64,
    scaled: Vec<f64>,
    /// What the keys leave of each row and cut, scaled.
    left_by_keys: Vec<f64>,
    steps: Vec<f64>,
    rho: Vec<f64>,
    raw: Vec<f64>,
    sums: Sums<f64>,
    /// Each column's cost and priced amounts.
    priced: Vec<f64>,
    alpha: Vec<f64>,
    pub(super) live: Live,
    is_extra: Vec<bool>,
    entering: Vec<(Enter, f64, f64)>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Leave {
    Extra(usize),
    Key(usize),
    Row(usize),
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Enter {
    Column(usize),
    /// A tight row, by its place among them, that becomes loose.
    Loose(usize),
    Short(usize),
}

impl<'t> Lp<'t> {
    pub(super) fn new(table: &'t Table) -> Self {
        let mut most = vec![1_i64; table.rows.len()];
        for span in table.columns.iter().flat_map(|column| &column.spans) {
            most[span.from..span.until].iter_mut().for_each(|most| *most = span.amount.max(*most));
        }
        let scale: Vec<f64> = most.iter().map(|&most| 1.0 / most as f64).collect();
        let rows = || table.rows.iter().zip(&scale);
        let limit = rows().map(|(row, scale)| row.limit as f64 * scale).collect();
        let weight = rows().map(|(row, scale)| row.price.map_or(f64::INFINITY, |price| price as f64 / scale)).collect();
        let mut random = Random::new(7);
        let mut apart = || PERTURBED * (1 + random.below(1 << 16)) as f64 / 65_536.0;
        let cost = table.columns.iter().map(|column| column.cost as f64 + apart()).collect();
        Self { pricing: Pricing::new(table), scale, limit, weight, cost }
    }

    pub(super) fn table(&self) -> &'t Table {
        self.pricing.table
    }

    pub(super) fn add_all(&mut self, cuts: impl IntoIterator<Item = Cut>) {
        for cut in cuts {
            self.add(cut);
        }
    }

    fn add(&mut self, cut: Cut) {
        let largest = cut.weights.iter().flat_map(|(_, weights)| weights).max().map_or(1.0, |&largest| largest as f64);
        self.scale.push(1.0 / largest);
        self.limit.push(cut.limit as f64 / largest);
        self.weight.push(f64::INFINITY);
        self.pricing.add(cut);
    }

    /// Every batch at its cheapest open choice.
    pub(super) fn start(&self, open: &[bool]) -> Basis {
        let cheapest = |batch: &std::ops::Range<usize>| {
            let columns = batch.clone().filter(|&column| open[column]);
            columns.min_by(|&a, &b| self.cost[a].total_cmp(&self.cost[b])).unwrap_or(batch.start) as u32
        };
        Basis {
            key: self.table().batches.iter().map(cheapest).collect(),
            extra: Vec::new(),
            tight: Vec::new(),
            inverse: Inverse::default(),
            changes: 0,
            short: vec![false; self.pricing.len()],
        }
    }

    /// What the last answer gives to columns, in order.
    pub(super) fn shares(&self, basis: &Basis, point: &Point) -> Shares {
        let key = |(&key, &share): (&u32, &f64)| vec![(key as usize, share)];
        let mut shares: Shares = basis.key.iter().zip(&point.key).map(key).collect();
        for (&column, &share) in basis.extra.iter().zip(&point.extra) {
            shares[self.batch_of(column)].push((column as usize, share));
        }
        for columns in &mut shares {
            columns.retain(|&(_, share)| share > LEAST_SHARE);
            columns.sort_by_key(|&(column, _)| column);
        }
        shares
    }

    fn batch_of(&self, column: u32) -> usize {
        self.table().columns[column as usize].batch
    }

    /// A column's scaled amount of a row or cut, less its key's.
    fn difference(&self, basis: &Basis, column: usize, row: usize) -> f64 {
        let key = basis.key[self.batch_of(column as u32)] as usize;
        (self.pricing.amount(column, row) - self.pricing.amount(key, row)) as f64 * self.scale[row]
    }

    /// Solves from a basis whose open columns all cost at least what their keys do. Stops when the value is
    /// known to reach `cutoff`.
    pub(super) fn solve(&self, open: &[bool], basis: &mut Basis, point: &mut Point, cutoff: f64, most: u64) -> Ended {
        basis.short.resize(self.pricing.len(), false);
        point.alpha.resize(self.cost.len(), 0.0);
        let mut wanted = open.to_vec();
        basis.key.iter().chain(&basis.extra).for_each(|&column| wanted[column as usize] = true);
        point.work += self.cost.len() as u64;
        point.live = Live::new(self.table(), |column| wanted[column]);
        self.renew(basis, point);
        for taken in 0.. {
            if taken % 64 == 63 {
                self.renew(basis, point);
            }
            self.primal(basis, point);
            if point.value >= cutoff {
                return Ended::CutOff;
            }
            let Some((leave, by)) = leaving(open, basis, point) else {
                return Ended::Solved;
            };
            if taken >= most {
                break;
            }
            let h = if by > 0.0 { 1.0 } else { -1.0 };
            self.row_of(basis, point, leave);
            let entering = self.entering(open, basis, point, leave, h);
            let flip = if let Leave::Row(row) = leave { self.weight[row] } else { f64::INFINITY };
            let length = entering.map_or(f64::INFINITY, |(_, ratio)| ratio).min(flip);
            let needed = (cutoff - point.value) / by.abs();
            if length.is_infinite() || needed <= length {
                // So far that no rounding brings it back below the cutoff.
                self.go(point, -h * if length.is_infinite() { 2.0 * needed + 1.0 } else { length });
                return Ended::CutOff;
            }
            match (entering, leave) {
                (Some((enter, ratio)), _) if ratio < flip => {
                    if !self.exchange(basis, point, enter, leave) {
                        break;
                    }
                }
                (_, Leave::Row(row)) => basis.short[row] = !basis.short[row],
                _ => break,
            }
            self.go(point, -h * length);
            reprice(point, -h * length);
        }
        Ended::Unfinished
    }

    /// All that is carried along from step to step, computed anew.
    fn renew(&self, basis: &Basis, point: &mut Point) {
        point.left_by_keys.clone_from(&self.limit);
        for &key in &basis.key {
            self.take_column(key as usize, 1.0, &mut point.left_by_keys);
        }
        point.is_extra.clear();
        point.is_extra.resize(self.cost.len(), false);
        basis.extra.iter().for_each(|&column| point.is_extra[column as usize] = true);
        self.prices(basis, point);
        point.priced.clone_from(&self.cost);
        let (prices, mut sums) = (&point.price, std::mem::take(&mut point.sums));
        self.pricing.sums(prices, &mut sums);
        let priced = &mut point.priced;
        for (batch, columns) in point.live.undecided() {
            self.pricing.batch(batch, columns, prices, &mut sums, |column, value| priced[column] += value);
        }
        point.sums = sums;
    }

    /// Takes so much of a column from all rows and cuts.
    fn take_column(&self, column: usize, share: f64, from: &mut [f64]) {
        for span in &self.table().columns[column].spans {
            let amount = span.amount as f64 * share;
            let rows = from[span.from..span.until].iter_mut().zip(&self.scale[span.from..span.until]);
            rows.for_each(|(left, scale)| *left -= amount * scale);
        }
        self.take_weights(column, share, from);
    }

    fn take_weights(&self, column: usize, share: f64, from: &mut [f64]) {
        let rows = self.table().rows.len();
        for &(cut, weight) in self.pricing.weights(column) {
            let row = rows + cut as usize;
            from[row] -= f64::from(weight) * share * self.scale[row];
        }
    }

    /// Shares and slacks of a basis.
    fn primal(&self, basis: &Basis, point: &mut Point) {
        point.key.clear();
        point.key.resize(basis.key.len(), 1.0);
        point.extra.clear();
        point.slack.clone_from(&point.left_by_keys);
        point.value = basis.key.iter().map(|&key| self.cost[key as usize]).sum();
        let left: Vec<f64> = basis.tight.iter().map(|&row| point.left_by_keys[row as usize]).collect();
        point.extra.extend(basis.inverse.times(&left));
        point.steps.clear();
        point.steps.resize(self.table().rows.len() + 1, 0.0);
        for (place, &column) in basis.extra.iter().enumerate() {
            let (share, batch) = (point.extra[place], self.batch_of(column));
            let key = basis.key[batch];
            point.key[batch] -= share;
            point.value += share * (self.cost[column as usize] - self.cost[key as usize]);
            for (column, share) in [(column as usize, share), (key as usize, -share)] {
                for span in &self.table().columns[column].spans {
                    point.steps[span.from] += span.amount as f64 * share;
                    point.steps[span.until] -= span.amount as f64 * share;
                }
                self.take_weights(column, share, &mut point.slack);
            }
        }
        let mut level = 0.0;
        for ((step, slack), scale) in
            point.steps.iter().zip(&mut point.slack).zip(&self.scale).take(self.table().rows.len())
        {
            level += step;
            *slack -= level * scale;
        }
        for &row in &basis.tight {
            point.slack[row as usize] = 0.0;
        }
        let short = (0..basis.short.len()).filter(|&row| basis.short[row]);
        point.value -= short.map(|row| self.weight[row] * point.slack[row]).sum::<f64>();
    }

    /// Prices that make every extra column cost what its key does.
    fn prices(&self, basis: &Basis, point: &mut Point) {
        point.scaled.clear();
        point
            .scaled
            .extend(basis.short.iter().zip(&self.weight).map(|(&short, &weight)| if short { weight } else { 0.0 }));
        let short: Vec<usize> = (0..basis.short.len()).filter(|&row| basis.short[row]).collect();
        for (place, &column) in basis.extra.iter().enumerate() {
            let column = column as usize;
            let key = basis.key[self.batch_of(column as u32)] as usize;
            let mut more = self.cost[column] - self.cost[key];
            more += short.iter().map(|&row| self.weight[row] * self.difference(basis, column, row)).sum::<f64>();
            for (by, &row) in basis.inverse.line(place).iter().zip(&basis.tight) {
                point.scaled[row as usize] -= more * by;
            }
        }
        self.spread(point);
    }

    fn spread(&self, point: &mut Point) {
        point.price.clear();
        point.price.extend(point.scaled.iter().zip(&self.scale).map(|(price, scale)| price * scale));
    }

    /// Moves the prices along the leaving row.
    fn go(&self, point: &mut Point, far: f64) {
        point.scaled.iter_mut().zip(&point.rho).for_each(|(price, rho)| *price += far * rho);
        self.spread(point);
    }

    /// The leaving row of the inverse, for rows, cuts and columns.
    fn row_of(&self, basis: &Basis, point: &mut Point, leave: Leave) {
        point.rho.clear();
        point.rho.resize(self.pricing.len(), 0.0);
        let mut times = vec![0.0; basis.extra.len()];
        match leave {
            Leave::Extra(place) => times[place] = 1.0,
            Leave::Key(batch) => {
                let pairs = times.iter_mut().zip(&basis.extra);
                pairs.filter(|(_, column)| self.batch_of(**column) == batch).for_each(|(times, _)| *times = -1.0);
            }
            Leave::Row(row) => {
                let pairs = times.iter_mut().zip(&basis.extra);
                pairs.for_each(|(times, &column)| *times = -self.difference(basis, column as usize, row));
                point.rho[row] = 1.0;
            }
        }
        for (by, &row) in basis.inverse.under(&times).iter().zip(&basis.tight) {
            point.rho[row as usize] += by;
        }
        point.raw.clear();
        point.raw.extend(point.rho.iter().zip(&self.scale).map(|(rho, scale)| rho * scale));
        let (raw, mut sums) = (&point.raw, std::mem::take(&mut point.sums));
        self.pricing.sums(raw, &mut sums);
        let alpha = &mut point.alpha;
        for (batch, columns) in point.live.undecided() {
            self.pricing.batch(batch, columns, raw, &mut sums, |column, value| alpha[column] = value);
        }
        point.sums = sums;
        let size = basis.tight.len();
        point.work += (point.live.undecided().map(|(_, columns)| 8 + columns.len()).sum::<usize>()
            + 4 * self.pricing.len()
            + 2 * size * size) as u64;
    }

    /// What enters, and how far the prices go: the largest pivot among the nearest (P. M. J. Harris, 1973).
    fn entering(&self, open: &[bool], basis: &Basis, point: &mut Point, leave: Leave, h: f64) -> Option<(Enter, f64)> {
        let mut found = std::mem::take(&mut point.entering);
        found.clear();
        let mut nearest = f64::INFINITY;
        let mut see = |enter, pivot: f64, reduced: f64| {
            if pivot > LEAST_PIVOT {
                let reduced = reduced.max(0.0);
                if reduced / pivot <= nearest {
                    nearest = nearest.min((reduced + TOLERANCE) / pivot);
                    found.push((enter, pivot, reduced));
                }
            }
        };
        for (place, &row) in basis.tight.iter().enumerate() {
            let (row, pivot) = (row as usize, h * point.rho[row as usize]);
            see(Enter::Loose(place), pivot, point.scaled[row]);
            if self.weight[row].is_finite() {
                see(Enter::Short(place), -pivot, self.weight[row] - point.scaled[row]);
            }
        }
        for (batch, columns) in point.live.undecided() {
            let own = if leave == Leave::Key(batch) { 1.0 } else { 0.0 };
            let key = basis.key[batch] as usize;
            let (alpha, priced) = (point.alpha[key] - own, point.priced[key]);
            for column in columns.iter().map(|&column| column as usize).filter(|&column| open[column]) {
                let pivot = h * (point.alpha[column] - alpha);
                if pivot > LEAST_PIVOT && column != key && !point.is_extra[column] {
                    see(Enter::Column(column), pivot, point.priced[column] - priced);
                }
            }
        }
        let near = found.iter().filter(|(_, pivot, reduced)| reduced / pivot <= nearest);
        let best = near.max_by(|a, b| a.1.total_cmp(&b.1)).map(|&(enter, pivot, reduced)| (enter, reduced / pivot));
        point.entering = found;
        best
    }

    /// Whether the new basis can be inverted.
    fn exchange(&self, basis: &mut Basis, point: &mut Point, enter: Enter, leave: Leave) -> bool {
        let leave = match leave {
            Leave::Key(batch) => {
                if let Some(place) = self.swap_key(basis, point, batch) {
                    Leave::Extra(place)
                } else if let Enter::Column(column) = enter {
                    self.new_key(basis, point, batch, column);
                    return true;
                } else {
                    return false;
                }
            }
            other => other,
        };
        basis.changes += 1;
        let is_well = match (enter, leave) {
            (Enter::Column(column), Leave::Extra(place)) => {
                let amounts = self.column(basis, column);
                point.is_extra[std::mem::replace(&mut basis.extra[place], column as u32) as usize] = false;
                point.is_extra[column] = true;
                basis.inverse.replace_column(place, &amounts)
            }
            (Enter::Column(column), Leave::Row(row)) => {
                let (amounts, across) = (self.column(basis, column), self.row(basis, row));
                let corner = self.difference(basis, column, row);
                basis.extra.push(column as u32);
                basis.tight.push(row as u32);
                basis.short[row] = false;
                point.is_extra[column] = true;
                basis.inverse.grow(&amounts, &across, corner)
            }
            (Enter::Loose(gone) | Enter::Short(gone), Leave::Row(row)) => {
                let across = self.row(basis, row);
                basis.short[basis.tight[gone] as usize] = matches!(enter, Enter::Short(_));
                basis.tight[gone] = row as u32;
                basis.short[row] = false;
                basis.inverse.replace_row(gone, &across)
            }
            (Enter::Loose(gone) | Enter::Short(gone), Leave::Extra(place)) => {
                basis.short[basis.tight[gone] as usize] = matches!(enter, Enter::Short(_));
                basis.tight.swap_remove(gone);
                point.is_extra[basis.extra.swap_remove(place) as usize] = false;
                basis.inverse.shrink(place, gone)
            }
            (_, Leave::Key(_)) => false,
        };
        if is_well && basis.changes < MOST_CHANGES { true } else { self.invert(basis) }
    }

    /// An extra column becomes the key of its batch, the key an extra column; where that is.
    fn swap_key(&self, basis: &mut Basis, point: &mut Point, batch: usize) -> Option<usize> {
        let same = |&place: &usize| self.batch_of(basis.extra[place]) == batch;
        let places: Vec<usize> = (0..basis.extra.len()).filter(same).collect();
        let share = |place: usize| point.extra[place];
        let place = places.iter().copied().max_by(|&a, &b| share(a).total_cmp(&share(b)))?;
        let (old, new) = (basis.key[batch], basis.extra[place]);
        basis.inverse.swap_key(place, places.into_iter().filter(|&other| other != place));
        basis.extra[place] = old;
        point.is_extra[old as usize] = true;
        point.is_extra[new as usize] = false;
        self.new_key(basis, point, batch, new as usize);
        Some(place)
    }

    fn new_key(&self, basis: &mut Basis, point: &mut Point, batch: usize, column: usize) {
        self.take_column(basis.key[batch] as usize, -1.0, &mut point.left_by_keys);
        self.take_column(column, 1.0, &mut point.left_by_keys);
        basis.key[batch] = column as u32;
    }

    fn column(&self, basis: &Basis, column: usize) -> Vec<f64> {
        basis.tight.iter().map(|&row| self.difference(basis, column, row as usize)).collect()
    }

    fn row(&self, basis: &Basis, row: usize) -> Vec<f64> {
        basis.extra.iter().map(|&column| self.difference(basis, column as usize, row)).collect()
    }

    fn invert(&self, basis: &mut Basis) -> bool {
        basis.changes = 0;
        let rows: Vec<f64> = basis.tight.iter().flat_map(|&row| self.row(basis, row as usize)).collect();
        basis.inverse.renew(rows, basis.tight.len())
    }
}

fn reprice(point: &mut Point, far: f64) {
    for &column in point.live.undecided().flat_map(|(_, columns)| columns) {
        point.priced[column as usize] += far * point.alpha[column as usize];
    }
}

/// What is farthest outside its range, and by how much: below 0 if it must grow.
fn leaving(open: &[bool], basis: &Basis, point: &Point) -> Option<(Leave, f64)> {
    let mut worst: Option<(Leave, f64)> = None;
    let mut see = |leave, by: f64| {
        if by.abs() > worst.map_or(TOLERANCE, |(_, worst)| worst.abs()) {
            worst = Some((leave, by));
        }
    };
    let outside = |share: f64, column: u32| if open[column as usize] { share.min(0.0) } else { share };
    for (place, (&column, &share)) in basis.extra.iter().zip(&point.extra).enumerate() {
        see(Leave::Extra(place), outside(share, column));
    }
    for (batch, (&column, &share)) in basis.key.iter().zip(&point.key).enumerate() {
        see(Leave::Key(batch), outside(share, column));
    }
    for (row, &slack) in point.slack.iter().enumerate() {
        see(Leave::Row(row), if basis.short[row] { slack.max(0.0) } else { slack.min(0.0) });
    }
    worst
}
