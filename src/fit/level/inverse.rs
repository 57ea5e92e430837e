//! A small square matrix kept inverted while its rows and columns are exchanged.
//!
//! The matrix has a row for each tight row and a column for each extra column; its inverse lies here the other way
//! round. Every change is a correction of rank one (Sherman and Morrison, 1950).

/// Pivots below this lose too many digits.
const LEAST: f64 = 1e-9;

#[derive(Clone, Debug, Default)]
pub(super) struct Inverse {
    size: usize,
    values: Vec<f64>,
}

impl Inverse {
    pub(super) fn line(&self, column: usize) -> &[f64] {
        &self.values[column * self.size..(column + 1) * self.size]
    }

    fn line_mut(&mut self, column: usize) -> &mut [f64] {
        &mut self.values[column * self.size..(column + 1) * self.size]
    }

    /// The inverse times a column.
    pub(super) fn times(&self, column: &[f64]) -> Vec<f64> {
        let product = |line| dot(line, column);
        (0..self.size).map(|line| product(self.line(line))).collect()
    }

    /// A row times the inverse.
    pub(super) fn under(&self, row: &[f64]) -> Vec<f64> {
        let mut found = vec![0.0; self.size];
        for (line, &times) in row.iter().enumerate().filter(|(_, times)| **times != 0.0) {
            take(&mut found, -times, self.line(line));
        }
        found
    }

    /// Whether it can still be inverted, as after every change.
    #[must_use]
    pub(super) fn replace_column(&mut self, place: usize, column: &[f64]) -> bool {
        let times = self.times(column);
        if times[place].abs() < LEAST {
            return false;
        }
        let by = 1.0 / times[place];
        self.line_mut(place).iter_mut().for_each(|value| *value *= by);
        let line = self.line(place).to_vec();
        for (other, &times) in times.iter().enumerate().filter(|&(other, &times)| other != place && times != 0.0) {
            take(self.line_mut(other), times, &line);
        }
        true
    }

    #[must_use]
    pub(super) fn replace_row(&mut self, place: usize, row: &[f64]) -> bool {
        let under = self.under(row);
        if under[place].abs() < LEAST {
            return false;
        }
        for line in self.values.chunks_exact_mut(self.size) {
            let new = line[place] / under[place];
            if new != 0.0 {
                take(line, new, &under);
            }
            line[place] = new;
        }
        true
    }

    /// One row and one column more, with `corner` where they meet.
    #[must_use]
    pub(super) fn grow(&mut self, column: &[f64], row: &[f64], corner: f64) -> bool {
        let (times, under) = (self.times(column), self.under(row));
        let left = corner - dot(row, &times);
        if left.abs() < LEAST {
            return false;
        }
        let size = self.size + 1;
        let mut values = Vec::with_capacity(size * size);
        for (line, &times) in self.values.chunks_exact(self.size.max(1)).zip(&times) {
            values.extend(line.iter().zip(&under).map(|(value, under)| value + times * under / left));
            values.push(-times / left);
        }
        values.extend(under.iter().map(|under| -under / left));
        values.push(1.0 / left);
        *self = Self { size, values };
        true
    }

    /// One row and one column less; the last of each take their places.
    #[must_use]
    pub(super) fn shrink(&mut self, column: usize, row: usize) -> bool {
        let gone = self.line(column).to_vec();
        if gone[row].abs() < LEAST {
            return false;
        }
        let (size, last) = (self.size - 1, self.size - 1);
        let mut values = Vec::with_capacity(size * size);
        for place in 0..size {
            let line = self.line(if place == column { last } else { place });
            let times = line[row] / gone[row];
            let cleared = |at: usize| line[at] - times * gone[at];
            values.extend((0..size).map(|at| cleared(if at == row { last } else { at })));
        }
        *self = Self { size, values };
        true
    }

    /// An extra column changes places with its key; `others` are the places of the other columns of that key.
    pub(super) fn swap_key(&mut self, place: usize, others: impl Iterator<Item = usize>) {
        let mut line: Vec<f64> = self.line(place).iter().map(|value| -value).collect();
        for other in others {
            take(&mut line, 1.0, self.line(other));
        }
        self.line_mut(place).copy_from_slice(&line);
    }

    /// From a matrix by rows: Gauss and Jordan with the largest pivot of each column.
    #[must_use]
    pub(super) fn renew(&mut self, mut left: Vec<f64>, size: usize) -> bool {
        let mut right = vec![0.0; size * size];
        for i in 0..size {
            right[i * size + i] = 1.0;
        }
        for column in 0..size {
            let size_of = |row: usize| left[row * size + column].abs();
            let Some(pivot) = (column..size).max_by(|&a, &b| size_of(a).total_cmp(&size_of(b))) else {
                return false;
            };
            if size_of(pivot) < LEAST {
                return false;
            }
            for k in 0..size {
                left.swap(pivot * size + k, column * size + k);
                right.swap(pivot * size + k, column * size + k);
            }
            let by = 1.0 / left[column * size + column];
            let of_left: Vec<f64> = left[column * size..(column + 1) * size].iter().map(|value| value * by).collect();
            let of_right: Vec<f64> = right[column * size..(column + 1) * size].iter().map(|value| value * by).collect();
            for row in 0..size {
                let times = if row == column { 0.0 } else { left[row * size + column] };
                if times != 0.0 {
                    take(&mut left[row * size..(row + 1) * size], times, &of_left);
                    take(&mut right[row * size..(row + 1) * size], times, &of_right);
                }
            }
            left[column * size..(column + 1) * size].copy_from_slice(&of_left);
            right[column * size..(column + 1) * size].copy_from_slice(&of_right);
        }
        *self = Self { size, values: right };
        true
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (fours, rest) = a.as_chunks::<4>();
    let (others, last) = b.as_chunks::<4>();
    // Four sums at once, always in the same order.
    let mut sums = [0.0; 4];
    for (a, b) in fours.iter().zip(others) {
        for (sum, (a, b)) in sums.iter_mut().zip(a.iter().zip(b)) {
            *sum += a * b;
        }
    }
    let rest: f64 = rest.iter().zip(last).map(|(a, b)| a * b).sum();
    sums[0] + sums[1] + (sums[2] + sums[3]) + rest
}

fn take(from: &mut [f64], times: f64, what: &[f64]) {
    from.iter_mut().zip(what).for_each(|(from, what)| *from -= times * what);
}
