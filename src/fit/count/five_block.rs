//! The table behind `ladder`: the best filling known for every sub-rectangle of a pattern.
//!
//! Straight cuts are exhausted first, where a bound leaves hope; then a middle block with four around
//! it is tried, whose parts are improved in turn, deeper at each pass, while the trials last. An entry never claims more than [`Table::solve`] can lay out.

use super::bound::bound;
use super::lengths::sums;
use super::rows::{Block, block};

/// So many pattern points along one side at most: the table of their distances grows as a square.
const MOST_POINTS: usize = 1300;
/// Entries in the table of sub-rectangles.
const MOST_CELLS: usize = 400_000;
/// Trials before the search stops in any case; three times as many gain nothing on the bench of counts.
const MOST_TRIALS: u64 = 4_000_000;

/// How a sub-rectangle is best filled, as far as is known.
#[derive(Clone, Copy)]
enum Fill {
    /// Rectangles as they are (false) or turned (true).
    Alike(bool),
    /// Pattern points along the width and along the depth: a middle with four blocks around.
    Five(u16, u16, u16, u16),
}

#[derive(Clone, Copy)]
struct Cell {
    most: i32,
    at_most: i32,
    fill: Fill,
    /// Straight cuts are exhausted.
    cut: bool,
    searched: u8,
}

/// Not looked at yet; only a few of the cells of a large table ever are.
const BLANK: Cell = Cell { most: -1, at_most: -1, fill: Fill::Alike(false), cut: false, searched: 0 };

/// One side's pattern points.
struct Side {
    at: Vec<i64>,
    /// `left[i][j]`: the point that the length from point `i` to point `j` comes down to.
    left: Vec<u16>,
}

impl Side {
    fn new(length: i64, a: i64, b: i64) -> Option<Self> {
        let at = sums(length, a, b, 4 * MOST_POINTS)?;
        let n = at.len();
        if n > MOST_POINTS {
            return None;
        }
        let mut left = vec![0_u16; n * n];
        for i in 0..n {
            let mut k = 0;
            for j in i..n {
                let length = at[j] - at[i];
                while k + 1 < n && at[k + 1] <= length {
                    k += 1;
                }
                left[i * n + j] = u16::try_from(k).ok()?;
            }
        }
        Some(Self { at, left })
    }

    fn left(&self, from: usize, to: usize) -> usize {
        usize::from(self.left[from * self.at.len() + to])
    }

    /// Points within the first `to` that a cut needs to try: what remains behind one is a pattern
    /// length, and none longer would do.
    fn raster(&self, to: usize) -> Vec<usize> {
        let mut points: Vec<usize> = (0..=to).map(|p| self.left(p, to)).collect();
        points.sort_unstable();
        points.dedup();
        points
    }
}

pub(super) struct Table {
    a: i64,
    b: i64,
    x: Side,
    y: Side,
    cells: Vec<Cell>,
    rasters_x: Vec<Option<Vec<usize>>>,
    rasters_y: Vec<Option<Vec<usize>>>,
    trials: u64,
    most_trials: u64,
}

impl Table {
    pub(super) fn new(width: i64, depth: i64, a: i64, b: i64) -> Option<Self> {
        let (x, y) = (Side::new(width, a, b)?, Side::new(depth, a, b)?);
        let (nx, ny) = (x.at.len(), y.at.len());
        if nx * ny > MOST_CELLS {
            return None;
        }
        // No cell holds more than the whole.
        i32::try_from(bound(width, depth, a, b)).ok()?;
        let cells = vec![BLANK; nx * ny];
        let (rasters_x, rasters_y) = (vec![None; nx], vec![None; ny]);
        Some(Self { a, b, x, y, cells, rasters_x, rasters_y, trials: 0, most_trials: MOST_TRIALS })
    }

    /// The cell of a sub-rectangle, with at least its filling by rectangles turned alike.
    fn index(&mut self, i: usize, j: usize) -> usize {
        let here = i * self.y.at.len() + j;
        if self.cells[here].most < 0 {
            let (a, b, w, d) = (self.a, self.b, self.x.at[i], self.y.at[j]);
            let straight = (w / a) * (d / b);
            let turned = (w / b) * (d / a);
            let few = |n: i64| i32::try_from(n).unwrap_or(i32::MAX);
            self.cells[here] = Cell {
                most: few(straight.max(turned)),
                at_most: few(bound(w, d, a, b)),
                fill: Fill::Alike(turned > straight),
                ..BLANK
            };
        }
        here
    }

    /// The best filling of the whole found in so many trials.
    pub(super) fn solve(&mut self, most_trials: u64) -> Vec<Block> {
        self.most_trials = most_trials.min(MOST_TRIALS);
        let (i, j) = (self.x.at.len() - 1, self.y.at.len() - 1);
        let whole = self.straight_cuts(i, j);
        for depth in 1..=4 {
            if self.is_met(whole) || self.trials > self.most_trials {
                break;
            }
            self.five_blocks(i, j, depth);
        }
        let mut blocks = Vec::new();
        self.collect((i, j), (0, 0), &mut blocks);
        blocks
    }

    /// The best of a sub-rectangle by straight cuts alone.
    fn straight_cuts(&mut self, i: usize, j: usize) -> usize {
        let here = self.index(i, j);
        if self.cells[here].cut {
            return here;
        }
        self.cells[here].cut = true;
        for c in 1..i {
            if self.is_met(here) || 2 * self.x.at[c] > self.x.at[i] {
                break;
            }
            self.cut(here, [(c, j), (self.x.left(c, i), j)], five(c, c, 0, j));
        }
        for c in 1..j {
            if self.is_met(here) || 2 * self.y.at[c] > self.y.at[j] {
                break;
            }
            self.cut(here, [(i, c), (i, self.y.left(c, j))], five(i, i, c, c));
        }
        here
    }

    fn is_met(&self, cell: usize) -> bool {
        self.cells[cell].most >= self.cells[cell].at_most
    }

    /// Tries one cut, its parts cut further while their bounds leave hope.
    fn cut(&mut self, here: usize, parts: [(usize, usize); 2], fill: Fill) {
        let best = self.cells[here].most;
        let indices = parts.map(|(i, j)| self.index(i, j));
        let mut hope: i32 = indices.iter().map(|&k| self.cells[k].at_most).sum();
        for (k, (i, j)) in indices.into_iter().zip(parts) {
            if hope <= best {
                return;
            }
            self.straight_cuts(i, j);
            hope -= self.cells[k].at_most - self.cells[k].most;
        }
        if hope > best {
            self.cells[here].most = hope;
            self.cells[here].fill = fill;
        }
    }

    fn raster_x(&mut self, i: usize) -> Vec<usize> {
        self.rasters_x[i].get_or_insert_with(|| self.x.raster(i)).clone()
    }

    fn raster_y(&mut self, j: usize) -> Vec<usize> {
        self.rasters_y[j].get_or_insert_with(|| self.y.raster(j)).clone()
    }

    /// Tries every middle block of a sub-rectangle, its parts improved to `depth - 1` first where
    /// their bounds leave hope.
    fn five_blocks(&mut self, i: usize, j: usize, depth: u8) {
        let here = self.straight_cuts(i, j);
        if self.cells[here].searched >= depth {
            return;
        }
        self.cells[here].searched = depth;
        let (xs, ys) = (self.raster_x(i), self.raster_y(j));
        let whole = self.x.at[i];
        for (n, &x1) in xs.iter().enumerate() {
            for &x2 in xs.iter().skip(n) {
                // The other half are the same turned by a half.
                if self.x.at[x1] + self.x.at[x2] > whole {
                    break;
                }
                let (right, far, middle) = (self.x.left(x1, i), self.x.left(x2, i), self.x.left(x1, x2));
                for (m, &y1) in ys.iter().enumerate() {
                    for &y2 in ys.iter().skip(m) {
                        self.trials += 1;
                        let parts = [
                            (x1, y2),
                            (right, y1),
                            (middle, self.y.left(y1, y2)),
                            (x2, self.y.left(y2, j)),
                            (far, self.y.left(y1, j)),
                        ];
                        self.try_parts(here, parts, five(x1, x2, y1, y2), depth);
                    }
                }
                if self.is_met(here) || self.trials > self.most_trials {
                    return;
                }
            }
        }
    }

    fn try_parts(&mut self, here: usize, parts: [(usize, usize); 5], fill: Fill, depth: u8) {
        let best = self.cells[here].most;
        let indices = parts.map(|(i, j)| self.index(i, j));
        // A part as large as the whole would ask itself.
        if indices.contains(&here) {
            return;
        }
        let mut hope: i32 = indices.iter().map(|&k| self.cells[k].at_most).sum();
        if hope <= best {
            return;
        }
        for (&k, &(i, j)) in indices.iter().zip(&parts) {
            self.straight_cuts(i, j);
            if depth > 1 && !self.is_met(k) && self.trials <= self.most_trials {
                self.five_blocks(i, j, depth - 1);
            }
            hope -= self.cells[k].at_most - self.cells[k].most;
            if hope <= best {
                return;
            }
        }
        self.cells[here].most = hope;
        self.cells[here].fill = fill;
    }

    /// Lays out the sub-rectangle of cell `(i, j)` with its corner at `(x, y)`.
    fn collect(&self, (i, j): (usize, usize), (x, y): (i64, i64), blocks: &mut Vec<Block>) {
        let (width, depth) = (self.x.at[i], self.y.at[j]);
        match self.cells[i * self.y.at.len() + j].fill {
            Fill::Alike(turned) => {
                let filled = if turned {
                    block(x, y, width, depth, self.b, self.a)
                } else {
                    block(x, y, width, depth, self.a, self.b)
                };
                blocks.extend(filled);
            }
            Fill::Five(x1, x2, y1, y2) => {
                let [x1, x2, y1, y2] = [x1, x2, y1, y2].map(usize::from);
                let (dx, dy) = (&self.x.at, &self.y.at);
                let mut part = |i: usize, j: usize, x: i64, y: i64| {
                    if i > 0 && j > 0 {
                        self.collect((i, j), (x, y), blocks);
                    }
                };
                part(x1, y2, x, y);
                part(self.x.left(x1, i), y1, x + dx[x1], y);
                part(self.x.left(x1, x2), self.y.left(y1, y2), x + dx[x1], y + dy[y1]);
                part(x2, self.y.left(y2, j), x, y + dy[y2]);
                part(self.x.left(x2, i), self.y.left(y1, j), x + dx[x2], y + dy[y1]);
            }
        }
    }
}

fn five(x1: usize, x2: usize, y1: usize, y2: usize) -> Fill {
    let short = |n: usize| u16::try_from(n).unwrap_or(0);
    Fill::Five(short(x1), short(x2), short(y1), short(y2))
}
