//! Whether some rectangles stand together on one shelf: exact for a handful.
//!
//! Any packing can be pushed together until each rectangle rests against something on its left and
//! in front, and then taken apart one by one towards the back right corner. Put together again in
//! that order, each stands at a corner of the staircase that those before it form; ground within
//! the staircase that is still free is lost for good. (The envelope of Martello, Pisinger and Vigo,
//! "The three-dimensional bin packing problem", Operations Research 48, 2000; recalled, not re-read.)

use std::collections::{BTreeMap, BTreeSet};
use std::iter;
use std::rc::Rc;

use crate::fit::problem::Rect;

/// More lengths of rows than this are not told apart.
const MOST_ROWS: usize = 2_000;

/// No more sizes are asked about.
const MOST_SIZES: usize = 16;

/// One size, and how many of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SizeCount {
    pub(super) w: i64,
    pub(super) d: i64,
    pub(super) number: u8,
}

/// What is known of some rectangles on one shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum SmallSet {
    /// They stand like this, in no order; sides as turned.
    Stand(Vec<Rect>),
    /// They can't, however turned.
    Never,
    /// The effort ran out.
    Open,
}

/// Tries every way to place the pieces on `width` × `depth`, up to `effort` steps; takes off what
/// it used.
pub(super) fn small_set(width: i64, depth: i64, pieces: &[SizeCount], effort: &mut u64) -> SmallSet {
    let mut pieces: Vec<SizeCount> = pieces.iter().filter(|piece| piece.number > 0).copied().collect();
    if pieces.len() > MOST_SIZES {
        return SmallSet::Open;
    }
    pieces.sort_by_key(|piece| -i128::from(piece.w) * i128::from(piece.d));
    let rows = RowLengths { most: width.max(depth), known: BTreeMap::new() };
    let mut search =
        EnvelopeSearch { width, depth, rows, outline: Vec::new(), standing: Vec::new(), seen: BTreeSet::new(), effort };
    match search.place(&mut pieces) {
        Some(true) => SmallSet::Stand(search.standing),
        Some(false) => SmallSet::Never,
        None => SmallSet::Open,
    }
}

/// Back right corners of what stands that nothing reaches beyond both ways: `(right, back)`, left to
/// right and so from back to front. All ground left of and before one is taken or lost.
type Outline = Vec<(i64, i64)>;

struct EnvelopeSearch<'a> {
    width: i64,
    depth: i64,
    rows: RowLengths,
    outline: Outline,
    standing: Vec<Rect>,
    seen: BTreeSet<(Outline, u128)>,
    effort: &'a mut u64,
}

impl EnvelopeSearch<'_> {
    /// `None` if the effort ran out.
    fn place(&mut self, pieces: &mut [SizeCount]) -> Option<bool> {
        if pieces.iter().all(|piece| piece.number == 0) {
            return Some(true);
        }
        *self.effort = self.effort.checked_sub(1)?;
        let numbers = pieces.iter().fold(0, |numbers, piece| numbers << 8 | u128::from(piece.number));
        if wanted(pieces) > self.free(pieces) || !self.seen.insert((self.outline.clone(), numbers)) {
            return Some(false);
        }
        for (x, y) in self.corners() {
            for at in 0..pieces.len() {
                let SizeCount { w, d, number } = pieces[at];
                for (w, d) in [(w, d), (d, w)].into_iter().take(if w == d { 1 } else { 2 }) {
                    if number == 0 || x + w > self.width || y + d > self.depth {
                        continue;
                    }
                    let before = self.outline.clone();
                    self.stand(Rect { x, y, w, d });
                    pieces[at].number -= 1;
                    let found = self.place(pieces);
                    if found != Some(false) {
                        return found;
                    }
                    pieces[at].number += 1;
                    self.standing.pop();
                    self.outline = before;
                }
            }
        }
        Some(false)
    }

    fn stand(&mut self, rect: Rect) {
        let (right, back) = (rect.right(), rect.back());
        self.outline.retain(|&(r, b)| r > right || b > back);
        let at = self.outline.partition_point(|&(r, _)| r < right);
        self.outline.insert(at, (right, back));
        self.standing.push(rect);
    }

    /// Where free ground begins, left to right.
    fn corners(&self) -> Vec<(i64, i64)> {
        let lefts = iter::once(0).chain(self.outline.iter().map(|&(right, _)| right));
        let fronts = self.outline.iter().map(|&(_, back)| back).chain(iter::once(0));
        lefts.zip(fronts).collect()
    }

    /// Ground that the pieces can still cover: no line across free ground is covered further than by
    /// a row of their sides.
    fn free(&mut self, pieces: &[SizeCount]) -> i128 {
        let rows = self.rows.of(pieces);
        let corners = self.corners();
        let (mut by_columns, mut by_rows) = (0, 0);
        for (at, &(left, front)) in corners.iter().enumerate() {
            let right = corners.get(at + 1).map_or(self.width, |next| next.0);
            let back = if at == 0 { self.depth } else { corners[at - 1].1 };
            by_columns += i128::from(right - left) * i128::from(longest(&rows, self.depth - front));
            by_rows += i128::from(back - front) * i128::from(longest(&rows, self.width - left));
        }
        by_columns.min(by_rows)
    }
}

fn wanted(pieces: &[SizeCount]) -> i128 {
    pieces.iter().map(|p| i128::from(p.w) * i128::from(p.d) * i128::from(p.number)).sum()
}

/// The lengths of rows of sides, by which kinds of pieces are left.
struct RowLengths {
    most: i64,
    known: BTreeMap<u32, Rc<[i64]>>,
}

impl RowLengths {
    fn of(&mut self, pieces: &[SizeCount]) -> Rc<[i64]> {
        let left = pieces.iter().fold(0, |left, piece| left << 1 | u32::from(piece.number > 0));
        let most = self.most;
        Rc::clone(self.known.entry(left).or_insert_with(|| rows(most, pieces)))
    }
}

/// All sums of the pieces' sides up to `most`, in order, but for too many: then every length.
fn rows(most: i64, pieces: &[SizeCount]) -> Rc<[i64]> {
    let sides: BTreeSet<i64> = pieces.iter().filter(|p| p.number > 0).flat_map(|p| [p.w, p.d]).collect();
    let mut found = BTreeSet::from([0]);
    let mut next = vec![0];
    while let Some(row) = next.pop() {
        for side in &sides {
            let longer = row + side;
            if longer <= most && found.insert(longer) {
                next.push(longer);
            }
        }
        if found.len() > MOST_ROWS {
            return Rc::default();
        }
    }
    found.into_iter().collect()
}

/// The longest row within `length`.
fn longest(rows: &[i64], length: i64) -> i64 {
    let at = rows.partition_point(|row| *row <= length);
    at.checked_sub(1).map_or(length, |at| rows[at])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fit::samples::{most_standing, shelves, tray, whole};
    use crate::fit::{Layout, Problem, Spot, check};

    fn pieces(sizes: &[(i64, i64, u8)]) -> Vec<SizeCount> {
        sizes.iter().map(|&(w, d, number)| SizeCount { w, d, number }).collect()
    }

    #[test]
    fn a_pinwheel_around_a_hole_is_found() {
        let four = pieces(&[(3, 1, 4)]);
        assert!(matches!(small_set(4, 4, &four, &mut 1_000), SmallSet::Stand(spots) if spots.len() == 4));
        assert_eq!(small_set(4, 4, &pieces(&[(3, 2, 3)]), &mut 1_000), SmallSet::Never);
    }

    #[test]
    fn flats_and_crates_that_would_do_by_area_are_refused() {
        // On 610 x 1219 three crates of 320 x 530 stand beside a flat; four don't stand at all.
        let mixed = |flats: u8, crates: u8| pieces(&[(545, 278, flats), (320, 530, crates)]);
        assert!(matches!(small_set(610, 1219, &mixed(4, 0), &mut 1_000), SmallSet::Stand(_)));
        assert!(matches!(small_set(610, 1219, &mixed(1, 3), &mut 1_000), SmallSet::Stand(_)));
        assert_eq!(small_set(610, 1219, &mixed(0, 4), &mut 10_000), SmallSet::Never);
    }

    #[test]
    fn too_little_effort_leaves_it_open() {
        assert_eq!(small_set(610, 1219, &pieces(&[(545, 278, 1), (320, 530, 3)]), &mut 1), SmallSet::Open);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]
        #[test]
        fn it_agrees_with_trying_everything(
            width in 2..7_i64, depth in 2..6_i64,
            sizes in prop::collection::vec((1..5_i64, 1..4_i64, 1..3_u8), 1..4),
        ) {
            let number = |size: &(i64, i64, u8)| usize::from(size.2);
            let shelf = whole(&[(width, depth)]);
            let items: Vec<_> =
                sizes.iter().flat_map(|size| vec![tray(0, 1, size.0, size.1, &shelf); number(size)]).collect();
            let problem = Problem { shelves: shelves(1), items };
            let all: Vec<usize> = (0..problem.items.len()).collect();
            let possible = most_standing(&problem, 0, &all) == all.len();
            match small_set(width, depth, &pieces(&sizes), &mut 100_000) {
                SmallSet::Open => prop_assert!(false, "100,000 steps are plenty"),
                SmallSet::Never => prop_assert!(!possible),
                SmallSet::Stand(spots) => {
                    let mut left: Vec<usize> = all;
                    let mut layout = Layout { spots: vec![Vec::new(); problem.items.len()] };
                    for rect in spots {
                        let fits = |&item: &usize| {
                            let phase = problem.items[item].phases[0];
                            (phase.w, phase.d) == (rect.w, rect.d) || (phase.d, phase.w) == (rect.w, rect.d)
                        };
                        let at = left.iter().position(fits).expect("one of the pieces");
                        let item = left.swap_remove(at);
                        let turned = problem.items[item].phases[0].w != rect.w;
                        layout.spots[item] = vec![(0, Spot { shelf: 0, x: rect.x, y: rect.y, turned })];
                    }
                    prop_assert!(left.is_empty());
                    prop_assert_eq!(check(&problem, &layout), Ok(()));
                }
            }
        }
    }
}
