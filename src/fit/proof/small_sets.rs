//! Whether some rectangles stand together on one shelf: exact for a handful.
//!
//! Any packing can be pushed together until each rectangle rests against something on its left and
//! in front, and then taken apart one by one towards the back right corner. Put together again in
//! that order, each stands at a corner of the staircase that those before it form; ground within
//! the staircase that is still free is lost for good. (The envelope of Martello, Pisinger and Vigo,
//! "The three-dimensional bin packing problem", Operations Research 48, 2000; recalled, not re-read.)

use std::collections::BTreeMap;
use std::rc::Rc;

use super::seen::Seen;
use crate::fit::problem::Rect;
use crate::fit::scales::{Pieces, Stretch, fullest};

/// More lengths of rows than this are not told apart.
const MOST_ROWS: usize = 2_000;

/// Steps after which scales are asked.
const SOON: u64 = 100;

/// Of more pieces than this it isn't told which half they stand in.
const MOST_HALVED: u8 = 3;

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
/// it used. Where that isn't soon done, scales are asked whether there is hope, and go along.
pub(super) fn small_set(
    (width, depth): (i64, i64),
    pieces: &[SizeCount],
    book: &mut RowBook,
    effort: &mut u64,
) -> SmallSet {
    let mut pieces: Vec<SizeCount> = pieces.iter().filter(|piece| piece.number > 0).copied().collect();
    pieces.sort_by_key(|piece| -i128::from(piece.w) * i128::from(piece.d));
    let mut soon = if pieces.len() > MOST_SIZES { 0 } else { SOON.min(*effort) };
    *effort -= soon;
    let first = search((width, depth), &mut pieces.clone(), [None, None], book, &mut soon);
    *effort += soon;
    if first != SmallSet::Open || *effort == 0 {
        return first;
    }
    let alike = |piece: &SizeCount| Pieces { w: piece.w, d: piece.d, number: i64::from(piece.number) };
    let alike: Vec<Pieces> = pieces.iter().map(alike).collect();
    let Some(stretches) = fullest(width, depth, &alike) else { return SmallSet::Never };
    if pieces.len() > MOST_SIZES {
        return SmallSet::Open;
    }
    search((width, depth), &mut pieces, stretches, book, effort)
}

fn search(
    (width, depth): (i64, i64),
    pieces: &mut [SizeCount],
    stretches: [Option<Stretch>; 2],
    book: &mut RowBook,
    effort: &mut u64,
) -> SmallSet {
    let (rows, half) = (RowLengths::of(width.max(depth), pieces, book), Half::of(pieces));
    let (outlines, standing, seen) = (vec![Outline::new()], Vec::new(), Seen::default());
    let mut search = EnvelopeSearch { width, depth, rows, half, stretches, outlines, standing, seen, effort };
    match search.place(pieces, 0) {
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
    rows: RowLengths<'a>,
    half: Half,
    /// Across and along.
    stretches: [Option<Stretch>; 2],
    /// After none of the pieces stands, after one, and so on.
    outlines: Vec<Outline>,
    standing: Vec<Rect>,
    seen: Seen,
    effort: &'a mut u64,
}

impl EnvelopeSearch<'_> {
    /// `None` if the effort ran out. `rows` is the number of the rows of what is left.
    fn place(&mut self, pieces: &mut [SizeCount], rows: usize) -> Option<bool> {
        if pieces.iter().all(|piece| piece.number == 0) {
            return Some(true);
        }
        *self.effort = self.effort.checked_sub(1)?;
        let numbers = packed(pieces);
        if wanted(pieces) > self.free(rows) || self.is_overfull(pieces) || !self.is_new(numbers) {
            return Some(false);
        }
        for corner in 0..=self.outline().len() {
            let (x, y) = self.corner(corner);
            for at in 0..pieces.len() {
                let SizeCount { w, d, number } = pieces[at];
                for (w, d) in [(w, d), (d, w)].into_iter().take(if w == d { 1 } else { 2 }) {
                    if number == 0 || x + w > self.width || y + d > self.depth {
                        continue;
                    }
                    let before = self.half.beyond;
                    let beyond = [2 * x + w > self.width, 2 * y + d > self.depth];
                    if at == self.half.piece && !self.half.stands(beyond.map(u8::from)) {
                        continue;
                    }
                    self.stand(Rect { x, y, w, d });
                    pieces[at].number -= 1;
                    let fewer = self.rows.without(rows, at, pieces);
                    let found = self.place(pieces, fewer);
                    if found != Some(false) {
                        return found;
                    }
                    self.half.beyond = before;
                    pieces[at].number += 1;
                    self.standing.pop();
                }
            }
        }
        Some(false)
    }

    /// Whether the outline, with so many of each piece left, was never met before.
    fn is_new(&mut self, numbers: u128) -> bool {
        let outline = self.outlines[self.standing.len()].iter().flat_map(|&(right, back)| [right, back]);
        let beyond = u64::from(u16::from_le_bytes(self.half.beyond));
        self.seen.insert(outline.map(i64::cast_unsigned).chain([beyond, (numbers >> 64) as u64, numbers as u64]))
    }

    /// As it is now.
    fn outline(&self) -> &[(i64, i64)] {
        &self.outlines[self.standing.len()]
    }

    fn stand(&mut self, rect: Rect) {
        let (right, back) = (rect.right(), rect.back());
        let next = self.standing.len() + 1;
        if self.outlines.len() == next {
            self.outlines.push(Outline::new());
        }
        let (before, after) = self.outlines.split_at_mut(next);
        let (before, after) = (&before[next - 1], &mut after[0]);
        after.clear();
        let kept = || before.iter().filter(|&&(r, b)| r > right || b > back);
        after.extend(kept().filter(|&&(r, _)| r < right));
        after.push((right, back));
        after.extend(kept().filter(|&&(r, _)| r >= right));
        self.standing.push(rect);
    }

    /// Where free ground begins, left to right.
    fn corner(&self, at: usize) -> (i64, i64) {
        let outline = self.outline();
        let left = at.checked_sub(1).map_or(0, |before| outline[before].0);
        (left, outline.get(at).map_or(0, |next| next.1))
    }

    /// Ground that the pieces can still cover: no line across free ground is covered further than by
    /// a row of their sides.
    fn free(&self, rows: usize) -> i128 {
        let rows = self.rows.row(rows);
        let [by_rows, by_columns] = self.steps().fold([0, 0], |[by_rows, by_columns], (steps, left)| {
            let covered = |at: usize| i128::from(steps[at]) * i128::from(longest(rows, left[1 - at]));
            [by_rows + covered(1), by_columns + covered(0)]
        });
        by_columns.min(by_rows)
    }

    /// Whether the pieces take more than there is with one of the axes stretched.
    fn is_overfull(&self, pieces: &[SizeCount]) -> bool {
        let over = |(axis, stretch): (usize, &Option<Stretch>)| {
            let Some(stretch) = stretch else { return false };
            let most = |(steps, left): ([i64; 2], [i64; 2])| i128::from(steps[1 - axis]) * stretch.most(left[axis]);
            stretch.taken(pieces.iter().map(|piece| piece.number)) > self.steps().map(most).sum()
        };
        self.stretches.iter().enumerate().any(over)
    }

    /// For each corner how far its step goes across and along, and how far it is from there to the ends.
    fn steps(&self) -> impl Iterator<Item = ([i64; 2], [i64; 2])> {
        let outline = self.outline();
        (0..=outline.len()).scan(self.depth, |back, at| {
            let (left, front) = self.corner(at);
            let right = outline.get(at).map_or(self.width, |next| next.0);
            let steps = [right - left, std::mem::replace(back, front) - front];
            Some((steps, [self.width - left, self.depth - front]))
        })
    }
}

/// Any packing can be seen in a mirror, from the right or from behind, and pushed together towards the corner again: so of
/// one kind of piece no more than half need to have their middle on the right, or in the back.
struct Half {
    piece: usize,
    most: u8,
    /// So many stand on the right and in the back.
    beyond: [u8; 2],
}

impl Half {
    /// Of pieces in order: the first of those of which there are fewest.
    fn of(pieces: &[SizeCount]) -> Self {
        let fewest = pieces.iter().enumerate().min_by_key(|(_, piece)| piece.number);
        let few = fewest.filter(|(_, piece)| piece.number <= MOST_HALVED);
        let (piece, most) = few.map_or((usize::MAX, 0), |(at, piece)| (at, piece.number / 2));
        Self { piece, most, beyond: [0; 2] }
    }

    /// Whether another may stand.
    fn stands(&mut self, beyond: [u8; 2]) -> bool {
        let [right, back] = [self.beyond[0] + beyond[0], self.beyond[1] + beyond[1]];
        let may = right.max(back) <= self.most;
        if may {
            self.beyond = [right, back];
        }
        may
    }
}

/// Their numbers in one.
fn packed(pieces: &[SizeCount]) -> u128 {
    pieces.iter().fold(0, |numbers, piece| numbers << 8 | u128::from(piece.number))
}

fn wanted(pieces: &[SizeCount]) -> i128 {
    pieces.iter().map(|p| i128::from(p.w) * i128::from(p.d) * i128::from(p.number)).sum()
}

/// Lengths of rows of some pieces up to a length, each by one of its sides, kept from one set of pieces to the next.
#[derive(Default)]
pub(super) struct RowBook(BTreeMap<(i64, Vec<SizeCount>), Rc<[i64]>>);

impl RowBook {
    /// In order, but for too many: then every length, and none is told.
    fn rows(&mut self, most: i64, pieces: &[SizeCount]) -> Rc<[i64]> {
        let left: Vec<SizeCount> = pieces.iter().filter(|piece| piece.number > 0).copied().collect();
        let Some(&SizeCount { w, d, .. }) = left.last() else { return Rc::new([0]) };
        let mut fewer = left.clone();
        let key = (most, left);
        if let Some(known) = self.0.get(&key) {
            return Rc::clone(known);
        }
        if let Some(last) = fewer.last_mut() {
            last.number -= 1;
        }
        let rows = longer(&self.rows(most, &fewer), [0, w, d], most);
        self.0.insert(key, Rc::clone(&rows));
        rows
    }
}

/// Rows with one of some lengths more.
fn longer(rows: &[i64], more: [i64; 3], most: i64) -> Rc<[i64]> {
    let (mut found, mut at) = (Vec::with_capacity(rows.len()), [0; 3]);
    let next = |at: [usize; 3]| {
        let next = |(at, more): (usize, i64)| rows.get(at).map_or(i64::MAX, |row| row + more);
        [(at[0], more[0]), (at[1], more[1]), (at[2], more[2])].map(next)
    };
    loop {
        let ends = next(at);
        let least = ends[0].min(ends[1]).min(ends[2]);
        if least > most {
            return found.into();
        }
        found.push(least);
        if found.len() > MOST_ROWS {
            return Rc::default();
        }
        for (at, end) in at.iter_mut().zip(ends) {
            *at += usize::from(end == least);
        }
    }
}

/// The lengths of rows of what is left, by numbers of their own.
struct RowLengths<'a> {
    most: i64,
    rows: Vec<Rc<[i64]>>,
    /// For each, the numbers of those without one of each piece, as far as known.
    fewer: Vec<Vec<Option<usize>>>,
    by_pieces: BTreeMap<u128, usize>,
    book: &'a mut RowBook,
}

impl<'a> RowLengths<'a> {
    /// Those of all pieces are number 0.
    fn of(most: i64, pieces: &[SizeCount], book: &'a mut RowBook) -> Self {
        let (rows, fewer) = (vec![book.rows(most, pieces)], vec![vec![None; pieces.len()]]);
        Self { most, rows, fewer, by_pieces: BTreeMap::new(), book }
    }

    fn row(&self, number: usize) -> &[i64] {
        self.rows.get(number).map_or(&[], |rows| rows)
    }

    /// Without one of a piece more than those: `pieces` are left.
    fn without(&mut self, number: usize, piece: usize, pieces: &[SizeCount]) -> usize {
        if let Some(known) = self.fewer[number][piece] {
            return known;
        }
        let next = self.rows.len();
        let fewer = *self.by_pieces.entry(packed(pieces)).or_insert(next);
        if fewer == next {
            self.rows.push(self.book.rows(self.most, pieces));
            self.fewer.push(vec![None; pieces.len()]);
        }
        self.fewer[number][piece] = Some(fewer);
        fewer
    }
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

    fn tried(sides: (i64, i64), pieces: &[SizeCount], mut effort: u64) -> SmallSet {
        small_set(sides, pieces, &mut RowBook::default(), &mut effort)
    }

    fn pieces(sizes: &[(i64, i64, u8)]) -> Vec<SizeCount> {
        sizes.iter().map(|&(w, d, number)| SizeCount { w, d, number }).collect()
    }

    #[test]
    fn a_pinwheel_around_a_hole_is_found() {
        let four = pieces(&[(3, 1, 4)]);
        assert!(matches!(tried((4, 4), &four, 1_000), SmallSet::Stand(spots) if spots.len() == 4));
        assert_eq!(tried((4, 4), &pieces(&[(3, 2, 3)]), 1_000), SmallSet::Never);
    }

    #[test]
    fn flats_and_crates_that_would_do_by_area_are_refused() {
        // On 610 x 1219 three crates of 320 x 530 stand beside a flat; four don't stand at all.
        let mixed = |flats: u8, crates: u8| pieces(&[(545, 278, flats), (320, 530, crates)]);
        assert!(matches!(tried((610, 1219), &mixed(4, 0), 1_000), SmallSet::Stand(_)));
        assert!(matches!(tried((610, 1219), &mixed(1, 3), 1_000), SmallSet::Stand(_)));
        assert_eq!(tried((610, 1219), &mixed(0, 4), 10_000), SmallSet::Never);
    }

    #[test]
    fn too_little_effort_leaves_it_open() {
        assert_eq!(tried((610, 1219), &pieces(&[(545, 278, 1), (320, 530, 3)]), 1), SmallSet::Open);
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
            match tried((width, depth), &pieces(&sizes), 100_000) {
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
