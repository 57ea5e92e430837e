//! Rows and columns of rectangles turned alike: the plainest packings, and what others are made of.

use crate::fit::problem::Rect;

/// Rows and columns of rectangles turned alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    first: Rect,
    columns: i64,
    rows: i64,
}

impl Block {
    pub(super) const fn of_one(first: Rect) -> Self {
        Self { first, columns: 1, rows: 1 }
    }

    pub(super) fn spots(self) -> impl Iterator<Item = Rect> {
        let Self { first, columns, rows } = self;
        (0..columns).flat_map(move |i| {
            (0..rows).map(move |j| Rect { x: first.x + i * first.w, y: first.y + j * first.d, ..first })
        })
    }

    pub(super) const fn scaled(self, unit: i64) -> Self {
        let Rect { x, y, w, d } = self.first;
        Self { first: Rect { x: x * unit, y: y * unit, w: w * unit, d: d * unit }, ..self }
    }
}

/// A packing of so many exists: rows and what is beside them, without a search for better.
pub(in crate::fit) fn at_least(width: i64, depth: i64, w: i64, d: i64) -> i64 {
    if width <= 0 || depth <= 0 || w <= 0 || d <= 0 {
        return 0;
    }
    total(&rows_and_remnants(width, depth, w, d, i64::MAX))
}

pub(super) fn total(blocks: &[Block]) -> i64 {
    blocks.iter().fold(0_i64, |sum, block| sum.saturating_add(block.columns.saturating_mul(block.rows)))
}

/// Rectangles turned alike, from the corner on, or nothing if not even one fits.
pub(super) fn block(x: i64, y: i64, width: i64, depth: i64, w: i64, d: i64) -> Option<Block> {
    let (columns, rows) = (width / w, depth / d);
    (columns > 0 && rows > 0).then_some(Block { first: Rect { x, y, w, d }, columns, rows })
}

/// The better of the two ways to fill a rectangle with rectangles turned alike.
fn alike(x: i64, y: i64, width: i64, depth: i64, a: i64, b: i64) -> Option<Block> {
    let both = [block(x, y, width, depth, a, b), block(x, y, width, depth, b, a)];
    both.into_iter().flatten().reduce(|best, next| if total(&[next]) > total(&[best]) { next } else { best })
}

/// The best of: one block of columns, or of rows, and the strips left beside it filled alike. Looks no
/// further once there are `enough`.
pub(super) fn rows_and_remnants(width: i64, depth: i64, a: i64, b: i64, enough: i64) -> Vec<Block> {
    let ways = if a == b { &[(a, b)][..] } else { &[(a, b), (b, a)] };
    let columns = ways.iter().flat_map(|&(p, q)| {
        (0..=(width / p).min(2_000)).map(move |left| {
            let first = (width / p - left) * p;
            [block(0, 0, first, depth, p, q), alike(first, 0, width - first, depth, a, b)]
        })
    });
    let rows = ways.iter().flat_map(|&(p, q)| {
        (0..=(depth / q).min(2_000)).map(move |left| {
            let first = (depth / q - left) * q;
            [block(0, 0, width, first, p, q), alike(0, first, width, depth - first, a, b)]
        })
    });
    let (mut best, mut most) = ([None; 2], 0);
    for blocks in columns.chain(rows) {
        let sum = blocks.iter().flatten().fold(0, |sum: i64, block| sum.saturating_add(total(&[*block])));
        if sum > most {
            (best, most) = (blocks, sum);
        }
        if most >= enough {
            break;
        }
    }
    best.into_iter().flatten().collect()
}
