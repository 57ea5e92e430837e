//! What stands on one shelf; on a very long or wide one, by squares of ground.

use crate::fit::problem::{Days, Rect};

/// Squares along one side of a shelf, at most.
const MOST_SQUARES: i64 = 512;

/// A job's ground for days on which nothing about it changes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) job: usize,
    pub(super) days: Days,
    pub(super) rect: Rect,
    pub(super) grams: i64,
}

/// How a shelf's ground is divided; most shelves are one square.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Squares {
    around: Rect,
    w: i64,
    d: i64,
    across: i64,
    down: i64,
}

impl Squares {
    /// One square, unless the ground is much longer than what usually stands on it.
    pub(super) fn of(around: Rect, usual: i64) -> Self {
        let usual = usual.max(1);
        let divide = |length: i64| {
            if length <= usual.saturating_mul(32) { 1 } else { (length / usual.saturating_mul(4)).min(MOST_SQUARES) }
        };
        let (across, down) = (divide(around.w), divide(around.d));
        let side = |length: i64, squares: i64| (length / squares).saturating_add(1).max(1);
        Self { around, w: side(around.w, across), d: side(around.d, down), across, down }
    }

    fn number(self) -> usize {
        usize::try_from(self.across * self.down).unwrap_or(1)
    }

    /// First and last square along each side.
    fn touched(self, rect: Rect) -> [i64; 4] {
        let x = |x: i64| (x.saturating_sub(self.around.x) / self.w).clamp(0, self.across - 1);
        let y = |y: i64| (y.saturating_sub(self.around.y) / self.d).clamp(0, self.down - 1);
        [x(rect.x), x(rect.right().saturating_sub(1)), y(rect.y), y(rect.back().saturating_sub(1))]
    }

    fn index(self, column: i64, row: i64) -> usize {
        usize::try_from(column * self.down + row).unwrap_or(0)
    }
}

#[derive(Clone, Debug)]
pub(super) struct Pieces {
    squares: Squares,
    on: Vec<Vec<Piece>>,
    len: usize,
}

impl Pieces {
    pub(super) fn new(squares: Squares) -> Self {
        Self { squares, on: vec![Vec::new(); squares.number()], len: 0 }
    }

    pub(super) const fn len(&self) -> usize {
        self.len
    }

    pub(super) fn push(&mut self, piece: Piece) {
        self.len += 1;
        self.touched(piece.rect, |square| square.push(piece));
    }

    /// Takes away what a job has on some ground.
    pub(super) fn remove(&mut self, job: usize, rect: Rect) {
        let mut gone = 0;
        self.touched(rect, |square| {
            let before = square.len();
            square.retain(|piece| piece.job != job);
            gone = gone.max(before - square.len());
        });
        self.len -= gone.min(self.len);
    }

    fn touched(&mut self, rect: Rect, mut each: impl FnMut(&mut Vec<Piece>)) {
        let [left, right, front, back] = self.squares.touched(rect);
        for column in left..=right {
            for row in front..=back {
                if let Some(square) = self.on.get_mut(self.squares.index(column, row)) {
                    each(square);
                }
            }
        }
    }

    /// What may touch some ground, each piece once.
    pub(super) fn near(&self, ground: Rect) -> impl Iterator<Item = &Piece> {
        let squares = self.squares;
        let [left, right, front, back] = squares.touched(ground);
        // nearly all shelves are one square
        let (alone, columns) = match self.on.as_slice() {
            [alone] => (alone.as_slice(), 0),
            _ => (&[][..], usize::MAX),
        };
        let by_square = (left..=right)
            .take(columns)
            .flat_map(move |column| (front..=back).map(move |row| (column, row)))
            .flat_map(move |(column, row)| {
                self.on.get(squares.index(column, row)).into_iter().flatten().filter(move |piece| {
                    let [x, _, y, _] = squares.touched(piece.rect);
                    (x.max(left), y.max(front)) == (column, row)
                })
            });
        alone.iter().chain(by_square)
    }

    pub(super) fn all(&self) -> impl Iterator<Item = &Piece> {
        self.near(self.squares.around)
    }

    /// How many pieces a search on some ground looks at.
    pub(super) fn looks(&self, ground: Rect) -> u64 {
        if self.on.len() == 1 {
            return self.len as u64;
        }
        let [left, right, front, back] = self.squares.touched(ground);
        let squares = (left..=right).flat_map(|column| (front..=back).map(move |row| (column, row)));
        squares.filter_map(|(x, y)| self.on.get(self.squares.index(x, y))).map(|square| square.len() as u64).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn piece(job: usize, x: i64, y: i64, w: i64) -> Piece {
        Piece { job, days: Days::new(0, 1), rect: Rect { x, y, w, d: 3 }, grams: 1 }
    }

    fn jobs<'a>(pieces: impl Iterator<Item = &'a Piece>) -> Vec<usize> {
        let mut jobs: Vec<usize> = pieces.map(|piece| piece.job).collect();
        jobs.sort_unstable();
        jobs
    }

    #[test]
    fn a_long_bench_is_searched_near_by_and_nothing_comes_twice() {
        let bench = Rect { x: -10, y: 0, w: 1_000, d: 90 };
        let mut pieces = Pieces::new(Squares::of(bench, 2));
        for (job, x) in (0..96).enumerate() {
            pieces.push(piece(job, x * 10 - 10, 40, 12));
        }
        pieces.push(piece(96, -10, 0, 1_000));
        assert_eq!(jobs(pieces.all()), (0..97).collect::<Vec<_>>());
        let near = jobs(pieces.near(Rect { x: 300, y: 38, w: 5, d: 9 }));
        assert!(near.contains(&31) && near.len() < 8, "{near:?}");
        assert!(jobs(pieces.near(Rect { x: 300, y: 0, w: 5, d: 1 })).contains(&96));
        pieces.remove(96, Rect { x: -10, y: 0, w: 1_000, d: 3 });
        assert_eq!((pieces.len(), pieces.all().count()), (96, 96));
    }

    #[test]
    fn far_and_odd_ground_is_still_somewhere() {
        let mut pieces = Pieces::new(Squares::of(Rect { x: 0, y: 0, w: 0, d: -5 }, 0));
        pieces.push(piece(0, i64::MAX, i64::MIN, 5));
        assert_eq!(jobs(pieces.near(Rect { x: 3, y: 3, w: 1, d: 1 })), [0]);
    }
}
