//! Whether some rectangles stand together on one shelf: exact for a handful.
//!
//! Any packing can be pushed together until each rectangle rests against something on its left and
//! in front, and then taken apart one by one towards the back right corner. Put together again in
//! that order, each stands at a corner of the staircase that those before it form; ground within
//! the staircase that is still free is lost for good. (The envelope of Martello, Pisinger and Vigo,
//! "The three-dimensional bin packing problem", Operations Research 48, 2000; recalled, not re-read.)

use std::collections::BTreeSet;
use std::iter;

use super::problem::Rect;

/// One size, and how many of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pieces {
    pub(super) w: i64,
    pub(super) d: i64,
    pub(super) number: u8,
}

/// What is known of some rectangles on one shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Together {
    /// They stand like this, in no order; sides as turned.
    Stand(Vec<Rect>),
    /// They can't, however turned.
    Never,
    /// The effort ran out.
    Open,
}

/// Tries every way to place the pieces on `width` × `depth`, up to `effort` steps; takes off what
/// it used.
pub(super) fn together(width: i64, depth: i64, pieces: &[Pieces], effort: &mut u64) -> Together {
    let mut pieces: Vec<Pieces> = pieces.iter().filter(|piece| piece.number > 0).copied().collect();
    pieces.sort_by_key(|piece| -i128::from(piece.w) * i128::from(piece.d));
    let area = pieces.iter().map(|p| i128::from(p.w) * i128::from(p.d) * i128::from(p.number)).sum::<i128>();
    let room = i128::from(reach(width, &pieces)) * i128::from(reach(depth, &pieces));
    if area > room {
        return Together::Never;
    }
    let mut search = Search { width, depth, outline: Vec::new(), standing: Vec::new(), seen: BTreeSet::new(), effort };
    match search.place(&mut pieces) {
        Some(true) => Together::Stand(search.standing),
        Some(false) => Together::Never,
        None => Together::Open,
    }
}

/// The longest row of the pieces' sides within `length`, or `length` where that is too long to find.
fn reach(length: i64, pieces: &[Pieces]) -> i64 {
    let mut rows = BTreeSet::from([0]);
    for piece in pieces {
        for _ in 0..piece.number {
            let longer = rows.iter().flat_map(|row| [row + piece.w, row + piece.d]);
            let longer: Vec<i64> = longer.filter(|row| *row <= length).collect();
            rows.extend(longer);
            if rows.len() > 2_000 {
                return length;
            }
        }
    }
    rows.last().copied().unwrap_or(0)
}

struct Search<'a> {
    width: i64,
    depth: i64,
    /// Back right corners of what stands that nothing reaches beyond both ways: `(right, back)`,
    /// left to right and so from back to front. All ground left of and before one is taken or lost.
    outline: Vec<(i64, i64)>,
    standing: Vec<Rect>,
    seen: BTreeSet<(Vec<(i64, i64)>, Vec<u8>)>,
    effort: &'a mut u64,
}

impl Search<'_> {
    /// `None` if the effort ran out.
    fn place(&mut self, pieces: &mut [Pieces]) -> Option<bool> {
        if pieces.iter().all(|piece| piece.number == 0) {
            return Some(true);
        }
        *self.effort = self.effort.checked_sub(1)?;
        let numbers = pieces.iter().map(|piece| piece.number).collect();
        if self.wanted(pieces) > self.free(pieces) || !self.seen.insert((self.outline.clone(), numbers)) {
            return Some(false);
        }
        for (x, y) in self.corners() {
            for at in 0..pieces.len() {
                let Pieces { w, d, number } = pieces[at];
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

    fn wanted(&self, pieces: &[Pieces]) -> i128 {
        pieces.iter().map(|p| i128::from(p.w) * i128::from(p.d) * i128::from(p.number)).sum()
    }

    /// Ground on which some of the pieces can still stand.
    fn free(&self, pieces: &[Pieces]) -> i128 {
        let sides = pieces.iter().filter(|piece| piece.number > 0).map(|piece| piece.w.min(piece.d));
        let least = sides.min().unwrap_or(0);
        let last = self.width - least;
        let corners = self.corners();
        let mut free = 0;
        for (at, &(left, front)) in corners.iter().enumerate() {
            if left > last {
                break;
            }
            // Whatever covers ground at the right edge begins here or further left.
            let right = corners.get(at + 1).map_or(self.width, |next| next.0);
            let right = if right > last { self.width } else { right };
            if self.depth - front >= least {
                free += i128::from(right - left) * i128::from(self.depth - front);
            }
        }
        free
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::samples::{most_standing, shelves, tray, whole};
    use super::super::{Layout, Problem, Spot, check};
    use super::*;

    fn pieces(sizes: &[(i64, i64, u8)]) -> Vec<Pieces> {
        sizes.iter().map(|&(w, d, number)| Pieces { w, d, number }).collect()
    }

    #[test]
    fn a_pinwheel_around_a_hole_is_found() {
        let four = pieces(&[(3, 1, 4)]);
        assert!(matches!(together(4, 4, &four, &mut 1_000), Together::Stand(spots) if spots.len() == 4));
        assert_eq!(together(4, 4, &pieces(&[(3, 2, 3)]), &mut 1_000), Together::Never);
    }

    #[test]
    fn flats_and_crates_that_would_do_by_area_are_refused() {
        // On 610 x 1219 three crates of 320 x 530 stand beside a flat; four don't stand at all.
        let mixed = |flats: u8, crates: u8| pieces(&[(545, 278, flats), (320, 530, crates)]);
        assert!(matches!(together(610, 1219, &mixed(4, 0), &mut 1_000), Together::Stand(_)));
        assert!(matches!(together(610, 1219, &mixed(1, 3), &mut 1_000), Together::Stand(_)));
        assert_eq!(together(610, 1219, &mixed(0, 4), &mut 10_000), Together::Never);
    }

    #[test]
    fn too_little_effort_leaves_it_open() {
        assert_eq!(together(610, 1219, &pieces(&[(545, 278, 1), (320, 530, 3)]), &mut 1), Together::Open);
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
            match together(width, depth, &pieces(&sizes), &mut 100_000) {
                Together::Open => prop_assert!(false, "100,000 steps are plenty"),
                Together::Never => prop_assert!(!possible),
                Together::Stand(spots) => {
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
