//! How few equal shelves can do for some rectangles, shown by stretching their sides.
//!
//! A scale gives every side a length of its own, such that no sides that lie in a row within the shelf come to more than
//! the whole of it: by a scale for each axis every rectangle has an area, and those that stand together have no more than
//! the shelf. Unlike a dual feasible function a scale is made for these very rectangles: a length that occurs once stands
//! in no row twice. One length is given its share of the whole, and the others one after the other all that is left in the
//! fullest rows that they can be part of, as covers are lifted.
//!
//! S. P. Fekete and J. Schepers, "A combinatorial characterization of higher-dimensional orthogonal packing", Mathematics
//! of Operations Research 29 (2004): conservative scales; E. Balas, "Facets of the knapsack polytope", Mathematical
//! Programming 8 (1975): lifting. Both recalled, not re-read.

/// A piece of the first length, in the parts that lengths are counted in.
const PIECE: i64 = 5_040;
/// Rows of more lengths than this are not gone through.
const MOST_ROWS: usize = 400;

/// Rectangles of one size, turned or not.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pieces {
    pub(super) w: i64,
    pub(super) d: i64,
    pub(super) number: i64,
}

/// Fewer shelves of `width` × `depth` than this can't hold the pieces, as far as two scales show; none for what fits on
/// no shelf.
pub(super) fn fewest_shelves(width: i64, depth: i64, pieces: &[Pieces]) -> Option<i64> {
    let along: Vec<Scale> = scales(depth, pieces).collect();
    let mut fewest = i64::from(!pieces.is_empty());
    for f in scales(width, pieces) {
        for g in &along {
            fewest = fewest.max(shelves(&f, g, pieces)?);
        }
    }
    Some(fewest)
}

fn shelves(f: &Scale, g: &Scale, pieces: &[Pieces]) -> Option<i64> {
    let of = |((piece, f), g): ((&Pieces, &Sides), &Sides)| {
        let way = |(a, b): (Option<i64>, Option<i64>)| Some(i128::from(a?) * i128::from(b?));
        let least = [way((f[0], g[1])), way((f[1], g[0]))].into_iter().flatten().min();
        least.map(|least| least * i128::from(piece.number))
    };
    let taken: i128 = pieces.iter().zip(&f.sides).zip(&g.sides).map(of).sum::<Option<_>>()?;
    let whole = i128::from(f.whole) * i128::from(g.whole);
    Some(i64::try_from((taken + whole - 1) / whole).unwrap_or(i64::MAX))
}

/// For pieces that may share a shelf, as far as two scales show, the scales by which they take most of it while the other
/// axis is left as it is: one across, and one along.
pub(super) fn fullest(width: i64, depth: i64, pieces: &[Pieces]) -> Option<[Option<Stretch>; 2]> {
    let along: Vec<Scale> = scales(depth, pieces).collect();
    let mut across = Vec::new();
    for f in scales(width, pieces) {
        if along.iter().any(|g| shelves(&f, g, pieces).is_none_or(|number| number > 1)) {
            return None;
        }
        across.push(f);
    }
    let most = |scales: Vec<Scale>| {
        let stretches = scales.into_iter().filter_map(|scale| Stretch::of(scale, pieces));
        stretches.max_by_key(|stretch| {
            let each = stretch.least.iter().zip(pieces).map(|(least, piece)| least * i128::from(piece.number));
            each.sum::<i128>() / stretch.most(stretch.rows.whole).max(1)
        })
    };
    Some([most(across), most(along)])
}

/// Pieces with a scale for one axis.
pub(super) struct Stretch {
    /// What each takes at least, whichever way it lies.
    least: Vec<i128>,
    rows: Rows,
}

impl Stretch {
    fn of(scale: Scale, pieces: &[Pieces]) -> Option<Self> {
        let least = |(piece, [w, d]): (&Pieces, &Sides)| {
            let way = |other: i64, side: &Option<i64>| side.map(|side| i128::from(other) * i128::from(side));
            [way(piece.d, w), way(piece.w, d)].into_iter().flatten().min()
        };
        let least = pieces.iter().zip(&scale.sides).map(least).collect::<Option<_>>()?;
        Some(Self { least, rows: scale.rows })
    }

    /// What so many of each piece take at least.
    pub(super) fn taken(&self, numbers: impl Iterator<Item = u8>) -> i128 {
        self.least.iter().zip(numbers).map(|(least, number)| least * i128::from(number)).sum()
    }

    /// The most that a row of some length takes.
    pub(super) fn most(&self, length: i64) -> i128 {
        i128::from(self.rows.most(length))
    }
}

/// What both sides of a piece are as long as, where they fit.
type Sides = [Option<i64>; 2];

struct Scale {
    whole: i64,
    /// Of each piece.
    sides: Vec<Sides>,
    /// Of the pieces as they are, by what they come to.
    rows: Rows,
}

/// As they are, and one that begins with each of the sides.
fn scales(whole: i64, pieces: &[Pieces]) -> impl Iterator<Item = Scale> {
    let mut firsts: Vec<i64> =
        pieces.iter().flat_map(|piece| [piece.w, piece.d]).filter(|&side| side <= whole).collect();
    firsts.sort_unstable();
    firsts.dedup();
    plain(whole, pieces).into_iter().chain(firsts.into_iter().filter_map(move |first| lifted(whole, first, pieces)))
}

fn plain(whole: i64, pieces: &[Pieces]) -> Option<Scale> {
    let fits = |side: i64| (side <= whole).then_some(side);
    let sides: Vec<Sides> = pieces.iter().map(|piece| [fits(piece.w), fits(piece.d)]).collect();
    let rows = pieces.iter().zip(&sides).try_fold(Rows::new(whole), |rows, (piece, sides)| {
        let [w, d] = sides.map(|side| side.map(|side| (side, side)));
        rows.with([w, d], piece.number)
    })?;
    Some(Scale { whole: rows.most(whole), sides, rows })
}

/// With as many pieces in the whole as `first` lies in it, and the others as long as may be: first those whose short side
/// leaves the most beyond such pieces.
fn lifted(whole: i64, first: i64, pieces: &[Pieces]) -> Option<Scale> {
    let full = whole / first * PIECE;
    let mut rows = Rows::new(whole).with([Some((first, PIECE)), None], whole / first)?;
    let mut sides: Vec<Sides> = vec![[None; 2]; pieces.len()];
    let mut order: Vec<(&Pieces, &mut Sides)> = pieces.iter().zip(&mut sides).collect();
    order.sort_by_key(|(piece, _)| (-(piece.w.min(piece.d) % first), -piece.w.max(piece.d)));
    for (piece, sides) in order {
        let number = piece.number;
        let ends = if piece.w < piece.d { [1, 0] } else { [0, 1] };
        let of = [piece.w, piece.d];
        // what begins the scale is in the rows, as often as it may be
        let mut own = [None; 2];
        for (at, end) in ends.into_iter().enumerate() {
            let side = of[end];
            sides[end] = if side == first {
                Some(PIECE)
            } else if side > whole {
                None
            } else if piece.w == piece.d && at > 0 {
                sides[ends[0]]
            } else {
                let length = rows.left(full, side, own[0], number);
                own[at] = Some((side, length));
                Some(length)
            };
        }
        rows = rows.with(own, number)?;
    }
    Some(Scale { whole: full, sides, rows })
}

/// A side, and its length by a scale.
type Stretched = Option<(i64, i64)>;

/// Lengths of rows and the most that each comes to by a scale; longer ones come to more.
struct Rows {
    whole: i64,
    list: Vec<(i64, i64)>,
}

impl Rows {
    fn new(whole: i64) -> Self {
        Self { whole, list: vec![(0, 0)] }
    }

    /// The most that a row of some length comes to.
    fn most(&self, length: i64) -> i64 {
        let at = self.list.partition_point(|(row, _)| *row <= length);
        at.checked_sub(1).and_then(|at| self.list.get(at)).map_or(0, |(_, most)| *most)
    }

    /// What a side can come to in any row that it is part of, when up to so many lie in one, some of them by `other`.
    fn left(&self, full: i64, side: i64, other: Stretched, number: i64) -> i64 {
        let (other_side, other_length) = other.unwrap_or((self.whole + 1, 0));
        let mut least = full;
        for many in (1..=number).take_while(|many| many * side <= self.whole) {
            let rest = self.whole - many * side;
            for others in (0..=number - many).take_while(|others| others * other_side <= rest) {
                let left = full - self.most(rest - others * other_side) - others * other_length;
                least = least.min(left / many);
            }
        }
        least
    }

    /// With up to so many more in each row, by either side; `None` if that is too many.
    fn with(self, sides: [Stretched; 2], number: i64) -> Option<Self> {
        let [(a, a_length), (b, b_length)] = sides.map(|side| side.unwrap_or((self.whole + 1, 0)));
        let mut list = Vec::new();
        for &(row, most) in &self.list {
            for one in (0..=number).take_while(|one| row + one * a <= self.whole) {
                let (row, most) = (row + one * a, most + one * a_length);
                let others = (0..=number - one).take_while(|other| row + other * b <= self.whole);
                list.extend(others.map(|other| (row + other * b, -most - other * b_length)));
            }
        }
        list.sort_unstable();
        let mut best = -1;
        list.retain_mut(|(_, most)| {
            *most = -*most;
            let more = *most > best;
            best = best.max(*most);
            more
        });
        (list.len() <= MOST_ROWS).then_some(Self { list, ..self })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fit::Problem;
    use crate::fit::samples::{most_standing, shelves, tray, whole};

    fn never(width: i64, depth: i64, sizes: &[(i64, i64, i64)]) -> bool {
        let pieces: Vec<Pieces> = sizes.iter().map(|&(w, d, number)| Pieces { w, d, number }).collect();
        fewest_shelves(width, depth, &pieces) != Some(1)
    }

    #[test]
    fn one_long_piece_takes_the_ground_of_two_short_ones() {
        // Two rows of six stand on 1829 x 610; the long piece lies in one of them, or across both.
        assert!(!never(1829, 610, &[(278, 272, 12)]));
        assert!(never(1829, 610, &[(278, 272, 13)]));
        assert!(!never(1829, 610, &[(278, 272, 10), (500, 260, 1)]));
        assert!(never(1829, 610, &[(278, 272, 11), (500, 260, 1)]));
        assert!(never(10, 10, &[(11, 1, 1)]));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1_000))]
        #[test]
        fn what_stands_is_never_refused(
            width in 3..9_i64, depth in 2..6_i64,
            sizes in prop::collection::vec((1..6_i64, 1..5_i64, 1..3_i64), 1..4),
        ) {
            let shelf = whole(&[(width, depth)]);
            let items: Vec<_> = sizes
                .iter()
                .flat_map(|&(w, d, number)| vec![tray(0, 1, w, d, &shelf); usize::try_from(number).expect("few")])
                .collect();
            let all: Vec<usize> = (0..items.len()).collect();
            let problem = Problem { shelves: shelves(1), items };
            prop_assert!(!never(width, depth, &sizes) || most_standing(&problem, 0, &all) < all.len());
        }
    }
}
