//! Whether so many equal rectangles stand in a rectangle: a search that finds how, or exhausts all
//! ways.
//!
//! So many rectangles leave so much ground bare, and no more. The search fills the lowest place of
//! the outline so far (the leftmost, if there are several); each way either places a rectangle or
//! gives ground up, which the little there is to give soon ends. Any packing can be pushed
//! towards the corner until nothing moves any more, and such a packing has a rectangle in the left
//! corner of the lowest place, or beside ground which another one spans from the left, or none there at
//! all: no other ways are tried. An outline that failed once with as much ground to give
//! fails again, and so does its mirror image.
//!
//! Skylines and normal patterns: J. C. Herz (1972), N. Christofides and C. Whitlock (1977), both
//! recalled, not re-read; the colours: see `residues`. The rest is our own.

use std::collections::BTreeMap;
use std::hash::Hasher as _;

use siphasher::sip128::{Hasher128 as _, SipHasher13};

use super::lengths::Lengths;
use super::residues::BareSquares;
use crate::fit::problem::Rect;

/// The search goes as deep as there are rectangles.
pub(super) const MOST_BOXES: i64 = 1_500;
/// Failed outlines kept in mind: some hundred megabytes.
const MOST_OUTLINES: usize = 2_000_000;

pub(super) enum ExactOutcome {
    /// So many rectangles at least, where each stands.
    Found(Vec<Rect>),
    Impossible,
    /// The steps ran out first.
    Open,
}

/// Whether `boxes` rectangles of `a` × `b`, turned or not, stand in `width` × `depth`. Takes what it
/// does off `steps`.
pub(super) fn stand(board: [i64; 2], sides: [i64; 2], boxes: i64, base: Base, steps: &mut u64) -> ExactOutcome {
    let [width, depth] = board;
    let turned = (width > depth) == (base == Base::Shorter);
    let (across, up) = if turned { (depth, width) } else { (width, depth) };
    let Some(mut search) = OutlineSearch::new(across, up, sides, boxes, *steps) else { return ExactOutcome::Open };
    if search.spare < 0 {
        return ExactOutcome::Impossible;
    }
    let Some(bare) = BareSquares::new(across, up, sides, boxes) else { return ExactOutcome::Impossible };
    search.bare = bare;
    let outcome = search.run();
    *steps = search.steps;
    match outcome {
        ExactOutcome::Found(spots) if turned => {
            ExactOutcome::Found(spots.into_iter().map(|Rect { x, y, w, d }| Rect { x: y, y: x, w: d, d: w }).collect())
        }
        other => other,
    }
}

/// The side of the board that the outline runs along. Along the shorter one there are fewer outlines, so it is
/// the quicker to exhaust as a rule; which one finds a packing sooner is luck.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Base {
    Shorter,
    Longer,
}

/// A piece of the outline: all below it is covered or given up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Ledge {
    w: i64,
    y: i64,
    x: i64,
}

/// One way to go on at the lowest ledge.
#[derive(Clone, Copy)]
struct Way {
    /// Ground given up: so wide from the ledge's left end, up to a height.
    bare: (i64, i64),
    /// Then a rectangle, so wide and so deep.
    placed: Option<[i64; 2]>,
}

/// An outline under search, and the ways left to try.
struct Node {
    outline: Vec<Ledge>,
    lowest: usize,
    /// Ground that may still be given up.
    spare: i64,
    ways: Vec<Way>,
    /// The way being tried.
    tried: Option<Way>,
    key: u128,
}

struct OutlineSearch {
    up: i64,
    sides: [i64; 2],
    along: Lengths,
    upward: Lengths,
    bare: BareSquares,
    /// Failed outlines, each with the most ground there was to give.
    failed: BTreeMap<u128, i64>,
    spare: i64,
    steps: u64,
    heights: Vec<i64>,
}

impl OutlineSearch {
    /// `None` if this is too large to search.
    fn new(across: i64, up: i64, [a, b]: [i64; 2], boxes: i64, steps: u64) -> Option<Self> {
        let spare = across.checked_mul(up)?.checked_sub(boxes.checked_mul(a.checked_mul(b)?)?)?;
        (boxes <= MOST_BOXES).then_some(())?;
        Some(Self {
            up,
            sides: [a, b],
            along: Lengths::new(across, a, b)?,
            upward: Lengths::new(up, a, b)?,
            bare: BareSquares::default(),
            failed: BTreeMap::new(),
            spare,
            steps,
            heights: Vec::new(),
        })
    }

    fn run(&mut self) -> ExactOutcome {
        let mut path: Vec<Node> = Vec::new();
        let mut next = Some((vec![Ledge { x: 0, y: 0, w: self.along.whole() }], self.spare));
        loop {
            if let Some((outline, spare)) = next.take() {
                if self.steps == 0 {
                    return ExactOutcome::Open;
                }
                self.steps -= 1;
                match self.look(outline, spare) {
                    Look::Done => return ExactOutcome::Found(spots(&path)),
                    Look::Hopeless => {}
                    Look::Open(node) => path.push(node),
                }
            }
            let Some(node) = path.last_mut() else { return ExactOutcome::Impossible };
            if let Some(way) = node.tried.take() {
                self.bare.take_back(node.bare_squares(way));
            }
            let Some(way) = node.ways.pop() else {
                self.remember(node.key, node.spare);
                path.pop();
                continue;
            };
            let squares = node.bare_squares(way);
            if self.bare.leave(squares) {
                node.tried = Some(way);
                next = Some((node.after(way), node.spare - squares[2] * squares[3]));
            }
        }
    }

    fn look(&mut self, outline: Vec<Ledge>, spare: i64) -> Look {
        if self.least_bare(&outline) > spare {
            return Look::Hopeless;
        }
        let lowest = outline.iter().enumerate().min_by_key(|(_, ledge)| ledge.y).map_or(0, |(k, _)| k);
        if outline[lowest].y + self.sides[0].min(self.sides[1]) > self.up {
            return Look::Done;
        }
        let key = key(&outline);
        if self.failed.get(&key).is_some_and(|&most| most >= spare) {
            return Look::Hopeless;
        }
        let ways = self.ways(&outline, lowest, spare);
        Look::Open(Node { outline, lowest, spare, ways, tried: None, key })
    }

    fn remember(&mut self, key: u128, spare: i64) {
        if self.failed.len() < MOST_OUTLINES {
            let most = self.failed.entry(key).or_insert(spare);
            *most = spare.max(*most);
        }
    }

    /// The ways to go on, the first to try last.
    fn ways(&self, outline: &[Ledge], lowest: usize, spare: i64) -> Vec<Way> {
        let ledge = outline[lowest];
        let wall = |k: Option<usize>| k.and_then(|k| outline.get(k)).map_or(self.up, |l| l.y);
        let (left, right) = (wall(lowest.checked_sub(1)), wall(Some(lowest + 1)));
        let mut ways = Vec::new();
        let full = left.min(right);
        if (full - ledge.y) * ledge.w <= spare {
            ways.push(Way { bare: (ledge.w, full), placed: None });
        }
        let [a, b] = self.sides;
        let turned = [[b, a], [a, b]];
        for &[w, d] in &turned[usize::from(a == b)..] {
            if w > ledge.w || ledge.y + d > self.up {
                continue;
            }
            let first = ways.len();
            ways.push(Way { bare: (0, ledge.y), placed: Some([w, d]) });
            // Only a rectangle that lies on the left wall can keep this one from the corner.
            if left < ledge.y + d {
                let gaps = self.along.between(ledge.x + 1, ledge.x + ledge.w - w).iter().map(|x| x - ledge.x);
                ways.extend(
                    gaps.take_while(|gap| gap * (left - ledge.y) <= spare)
                        .map(|gap| Way { bare: (gap, left), placed: Some([w, d]) }),
                );
            }
            ways[first..].reverse();
        }
        ways
    }

    /// Ground that stays bare whatever comes: what no sum of sides covers in the columns above
    /// the outline, or in the rows beside it.
    fn least_bare(&mut self, outline: &[Ledge]) -> i64 {
        let columns = outline.iter().map(|ledge| ledge.w * self.upward.spare(self.up - ledge.y)).sum::<i64>();
        self.heights.clear();
        self.heights.extend(outline.iter().map(|ledge| ledge.y));
        self.heights.push(self.up);
        self.heights.sort_unstable();
        let mut rows = 0;
        for heights in self.heights.windows(2) {
            if heights[0] == heights[1] {
                continue;
            }
            let (mut bare, mut free) = (0, 0);
            for ledge in outline {
                if ledge.y <= heights[0] {
                    free += ledge.w;
                } else {
                    bare += self.along.spare(free);
                    free = 0;
                }
            }
            rows += (bare + self.along.spare(free)) * (heights[1] - heights[0]);
        }
        columns.max(rows)
    }
}

enum Look {
    /// No further rectangle is needed.
    Done,
    Hopeless,
    Open(Node),
}

impl Node {
    fn bare_squares(&self, way: Way) -> [i64; 4] {
        let ledge = self.outline[self.lowest];
        [ledge.x, ledge.y, way.bare.0, way.bare.1 - ledge.y]
    }

    /// The outline after a way; neighbours of one height are one.
    fn after(&self, way: Way) -> Vec<Ledge> {
        let ledge = self.outline[self.lowest];
        let [w, d] = way.placed.unwrap_or([0, 0]);
        let pieces = [(way.bare.0, way.bare.1), (w, ledge.y + d), (ledge.w - way.bare.0 - w, ledge.y)];
        let mut outline: Vec<Ledge> = Vec::with_capacity(self.outline.len() + 2);
        let mut add = |x: i64, w: i64, y: i64| match outline.last_mut() {
            Some(last) if last.y == y => last.w += w,
            _ => outline.push(Ledge { w, y, x }),
        };
        for (k, old) in self.outline.iter().enumerate() {
            if k == self.lowest {
                let mut x = ledge.x;
                for (w, y) in pieces.into_iter().filter(|piece| piece.0 > 0) {
                    add(x, w, y);
                    x += w;
                }
            } else {
                add(old.x, old.w, old.y);
            }
        }
        outline
    }
}

/// The rectangles that a path of ways has placed.
fn spots(path: &[Node]) -> Vec<Rect> {
    path.iter()
        .filter_map(|node| {
            let (ledge, way) = (node.outline[node.lowest], node.tried?);
            way.placed.map(|[w, d]| Rect { x: ledge.x + way.bare.0, y: ledge.y, w, d })
        })
        .collect()
}

/// One for an outline and its mirror image; that two others share one is beyond belief.
fn key(outline: &[Ledge]) -> u128 {
    let shape = |ledge: &Ledge| (ledge.w, ledge.y);
    let mut hasher = SipHasher13::new();
    let mut write = |(w, y): (i64, i64)| {
        hasher.write_i64(w);
        hasher.write_i64(y);
    };
    if outline.iter().map(shape).le(outline.iter().rev().map(shape)) {
        outline.iter().map(shape).for_each(&mut write);
    } else {
        outline.iter().rev().map(shape).for_each(&mut write);
    }
    hasher.finish128().as_u128()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How many were placed, along either side; `None` if it can't be.
    #[track_caller]
    fn outcome(width: i64, depth: i64, a: i64, b: i64, boxes: i64) -> Option<usize> {
        let along = |base| match stand([width, depth], [a, b], boxes, base, &mut 1_000_000) {
            ExactOutcome::Found(spots) => {
                let board = Rect { x: 0, y: 0, w: width, d: depth };
                for (i, spot) in spots.iter().enumerate() {
                    assert!(board.holds(*spot) && [(a, b), (b, a)].contains(&(spot.w, spot.d)));
                    assert!(!spots[..i].iter().any(|other| other.overlaps(*spot)));
                }
                Some(spots.len())
            }
            ExactOutcome::Impossible => None,
            ExactOutcome::Open => panic!("out of steps"),
        };
        let (shorter, longer) = (along(Base::Shorter), along(Base::Longer));
        assert_eq!(shorter, longer, "{boxes} of {a} x {b} in {width} x {depth}");
        shorter
    }

    #[test]
    fn five_around_a_middle_and_more_are_found() {
        assert_eq!(outcome(43, 26, 7, 3, 53), Some(53));
        // Own bench table: 56 by five blocks, 57 by an L-shaped search of Birgin, Lobato and Morabito.
        assert_eq!(outcome(28, 49, 8, 3, 57), Some(57));
    }

    #[test]
    fn one_more_than_there_can_be_is_exhausted() {
        for (width, depth, a, b, boxes) in [(32, 22, 5, 4, 35), (40, 26, 7, 4, 37), (64, 100, 17, 10, 37)] {
            assert_eq!(outcome(width, depth, a, b, boxes), None, "{width} x {depth}");
            assert_eq!(outcome(width, depth, a, b, boxes - 1), Some(usize::try_from(boxes - 1).expect("few")));
        }
    }

    #[test]
    fn nothing_that_trying_every_square_finds_is_missed() {
        for (a, b) in [(2, 1), (3, 1), (3, 2), (4, 2), (4, 3), (5, 2), (5, 3), (3, 3)] {
            for (width, depth) in (5..=12).flat_map(|width| (4..=width.min(9)).map(move |depth| (width, depth))) {
                let mut most = 0;
                while covers(0, &[width, depth, a, b], width * depth - (most + 1) * a * b, &mut BTreeMap::new()) {
                    most += 1;
                }
                let boxes = i64::from(most);
                let [width, depth, a, b] = [width, depth, a, b].map(i64::from);
                let found = if most == 0 { Some(0) } else { outcome(width, depth, a, b, boxes) };
                assert!(found >= usize::try_from(boxes).ok(), "{boxes} of {a} x {b} in {width} x {depth}");
                assert_eq!(outcome(width, depth, a, b, boxes + 1), None, "{a} x {b} in {width} x {depth}");
            }
        }
    }

    /// Whether all free squares but `bare` can be covered; squares are bits, the first free one goes first.
    fn covers(taken: u128, sizes: &[i32; 4], bare: i32, failed: &mut BTreeMap<u128, i32>) -> bool {
        let &[width, depth, a, b] = sizes;
        let first = i32::try_from(taken.trailing_ones()).expect("few");
        if bare < 0 || first >= width * depth || failed.get(&taken).is_some_and(|&most| most >= bare) {
            return bare >= 0 && first >= width * depth;
        }
        let (x, y) = (first % width, first / width);
        let fits = [(a, b), (b, a)].into_iter().filter(|&(w, d)| x + w <= width && y + d <= depth);
        let boxes = fits.map(|(w, d)| (0..d).fold(0, |all, k| all | ((1_u128 << w) - 1) << (first + k * width)));
        let found = boxes.into_iter().any(|mask| mask & taken == 0 && covers(taken | mask, sizes, bare, failed))
            || covers(taken | 1 << first, sizes, bare - 1, failed);
        if !found {
            failed.insert(taken, bare);
        }
        found
    }

    #[test]
    fn steps_that_run_out_prove_nothing() {
        let mut steps = 10;
        assert!(matches!(stand([32, 22], [5, 4], 35, Base::Longer, &mut steps), ExactOutcome::Open));
        assert_eq!(steps, 0);
    }
}
