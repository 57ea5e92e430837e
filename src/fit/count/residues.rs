//! Where ground may stay bare when so many equal rectangles are to cover the rest of it.
//!
//! Colour the unit squares by `(x + c y) mod n`, where `n` is one side of the rectangles and `c` has
//! no divisor in common with it: every rectangle, turned or not, covers as many squares of each
//! colour. So the bare squares of each colour are known before a single rectangle is placed. Barnes'
//! bound rests on the same colours; here they are kept for the search as well.

use super::lengths::gcd;

/// Above this side, or with more squares to leave bare, two ways to colour have to do instead of all.
const ALL_COLOURINGS: i64 = 24;
const FEW_BARE: i64 = 48;
/// Sides longer than this, or more bare squares, are not worth the counting.
const LONGEST: i64 = 256;
const MOST_BARE: i64 = 400;

/// One way to colour: how many squares of each colour may still be left bare.
struct Colouring {
    colours: i64,
    slope: i64,
    left: Vec<i64>,
}

#[derive(Default)]
pub(super) struct BareSquares(Vec<Colouring>);

impl BareSquares {
    /// `None` if the colours alone rule out that `boxes` rectangles stand in `width` × `depth`.
    pub(super) fn new(width: i64, depth: i64, [a, b]: [i64; 2], boxes: i64) -> Option<Self> {
        let mut all = Vec::new();
        let bare = width * depth - boxes * a * b;
        if a.max(b) > LONGEST || bare > MOST_BARE {
            return Some(Self(all));
        }
        for (side, other) in [(a, b), (b, a)] {
            for slope in (1..side).filter(|&c| gcd(c, side) == 1) {
                if (side > ALL_COLOURINGS || bare > FEW_BARE) && slope != 1 && slope != side - 1 {
                    continue;
                }
                let mut left = vec![-boxes * other; usize::try_from(side).unwrap_or(0)];
                let (columns, rows) = (by_residue(width, side), by_residue(depth, side));
                for (x, column) in (0..).zip(&columns) {
                    for (y, row) in (0..).zip(&rows) {
                        left[colour(x, y, slope, side)] += column * row;
                    }
                }
                if left.iter().any(|&count| count < 0) {
                    return None;
                }
                all.push(Colouring { colours: side, slope, left });
            }
        }
        Some(Self(all))
    }

    /// Leaves `w` × `d` squares bare; false, with nothing changed, if one colour has not as many left.
    pub(super) fn leave(&mut self, [x, y, w, d]: [i64; 4]) -> bool {
        let enough = self.change([x, y, w, d], -1);
        if !enough {
            self.take_back([x, y, w, d]);
        }
        enough
    }

    pub(super) fn take_back(&mut self, squares: [i64; 4]) {
        self.change(squares, 1);
    }

    /// False if a colour has none left of what it is to give.
    fn change(&mut self, [x, y, w, d]: [i64; 4], by: i64) -> bool {
        let mut least = 0;
        if w > 0 && d > 0 {
            for Colouring { colours, slope, left } in &mut self.0 {
                for j in y..y + d {
                    let mut k = colour(x, j, *slope, *colours);
                    for _ in 0..w {
                        left[k] += by;
                        least = least.min(left[k]);
                        k = if k + 1 == left.len() { 0 } else { k + 1 };
                    }
                }
            }
        }
        least >= 0
    }
}

fn colour(x: i64, y: i64, slope: i64, colours: i64) -> usize {
    usize::try_from((x + slope * y).rem_euclid(colours)).unwrap_or(0)
}

/// How many of the first `length` whole numbers leave each remainder.
fn by_residue(length: i64, n: i64) -> Vec<i64> {
    (0..n).map(|k| (length - k + n - 1).div_euclid(n).max(0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chessboard_without_two_like_corners_is_the_oldest_of_these_proofs() {
        // 2 x 1 on a board: as many black squares as white ones must stay bare.
        let mut bare = BareSquares::new(3, 3, [2, 1], 4).expect("four dominoes fit");
        assert!(!bare.leave([1, 0, 1, 1]), "the middle of a side has the colour there is less of");
        assert!(bare.leave([1, 1, 1, 1]));
        assert!(!bare.leave([0, 0, 1, 1]), "one square is bare already");
        bare.take_back([1, 1, 1, 1]);
        assert!(bare.leave([0, 0, 1, 1]));
    }

    #[test]
    fn colours_rule_out_what_the_area_does_not() {
        // 4 x 1 in 6 x 6: nine by area, eight by the colours (de Bruijn).
        assert!(BareSquares::new(6, 6, [4, 1], 9).is_none());
        assert!(BareSquares::new(6, 6, [4, 1], 8).is_some());
    }
}
