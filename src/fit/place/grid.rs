//! All corners that can matter on some ground, and what stands in the way at each.

use crate::fit::problem::Rect;

/// Lines along one side; more are thinned out.
const MOST_LINES: usize = 128;

/// Where what stands on some ground begins and ends, across and along; in order, each once.
#[derive(Default)]
pub(super) struct Sides {
    xs: Vec<i64>,
    ys: Vec<i64>,
}

impl Sides {
    pub(super) fn set(&mut self, standing: impl Iterator<Item = Rect>) {
        self.xs.clear();
        self.ys.clear();
        standing.for_each(|rect| {
            self.xs.extend([rect.x, rect.right()]);
            self.ys.extend([rect.y, rect.back()]);
        });
        for sides in [&mut self.xs, &mut self.ys] {
            sides.sort_unstable();
            sides.dedup();
        }
    }
}

/// Corners by lines across and along; what blocks a rectangle of corners is noted at its own four, and summed up
/// over the whole grid at the end.
#[derive(Default)]
pub(super) struct Grid {
    xs: Vec<i64>,
    ys: Vec<i64>,
    sums: Vec<i64>,
}

impl Grid {
    /// Lines at which a rectangle of that size would lie in a corner of the ground, or flush with a side of what
    /// stands there, inside or outside; none and `false` where it is too large.
    pub(super) fn lay(&mut self, ground: Rect, (w, d): (i64, i64), standing: &Sides) -> bool {
        let last = (ground.right().saturating_sub(w), ground.back().saturating_sub(d));
        if last.0 < ground.x || last.1 < ground.y {
            return false;
        }
        lines(&mut self.xs, (ground.x, last.0, w), &standing.xs);
        lines(&mut self.ys, (ground.y, last.1, d), &standing.ys);
        self.sums.clear();
        self.sums.resize((self.xs.len() + 1) * (self.ys.len() + 1), 0);
        true
    }

    /// At all corners where a rectangle of that size would overlap another.
    pub(super) fn block(&mut self, other: Rect, (w, d): (i64, i64), weight: i64) {
        let [left, right] = between(&self.xs, other.x.saturating_sub(w), other.right());
        let [front, back] = between(&self.ys, other.y.saturating_sub(d), other.back());
        if left >= right || front >= back {
            return;
        }
        let row = self.ys.len() + 1;
        for (at, weight) in [
            (left * row + front, weight),
            (left * row + back, -weight),
            (right * row + front, -weight),
            (right * row + back, weight),
        ] {
            if let Some(sum) = self.sums.get_mut(at) {
                *sum += weight;
            }
        }
    }

    /// Each corner with the weight of all that blocks it. Returns the work done.
    pub(super) fn sum(&mut self, mut each: impl FnMut(i64, i64, i64)) -> u64 {
        let row = self.ys.len() + 1;
        let mut before: &[i64] = &[];
        let mut rest = self.sums.as_mut_slice();
        for &x in &self.xs {
            let Some((now, others)) = rest.split_at_mut_checked(row) else { break };
            let mut along = 0;
            for (at, (&y, sum)) in self.ys.iter().zip(now.iter_mut()).enumerate() {
                along += *sum;
                *sum = along + before.get(at).copied().unwrap_or(0);
                each(x, y, *sum);
            }
            (before, rest) = (now, others);
        }
        (self.xs.len() * self.ys.len()) as u64 / 4
    }
}

/// The first and the last, and between them each side and what would end at one; `sides` are in order, and so are lines.
fn lines(into: &mut Vec<i64>, (first, last, size): (i64, i64, i64), sides: &[i64]) {
    into.clear();
    into.push(first);
    let inside = |low: i64, high: i64| {
        let from = sides.partition_point(|&side| side <= low);
        let until = sides.partition_point(|&side| side < high).max(from);
        sides.get(from..until).unwrap_or_default()
    };
    let (mut ends, mut begins) = (inside(first.saturating_add(size), last.saturating_add(size)), inside(first, last));
    loop {
        let (end, begin) = (ends.first().map(|end| end - size), begins.first().copied());
        let Some(next) = end.into_iter().chain(begin).min() else { break };
        into.push(next);
        ends = ends.get(usize::from(end == Some(next))..).unwrap_or_default();
        begins = begins.get(usize::from(begin == Some(next))..).unwrap_or_default();
    }
    if first < last {
        into.push(last);
    }
    if into.len() > MOST_LINES {
        let every = into.len().div_ceil(MOST_LINES);
        let mut at = 0;
        into.retain(|_| {
            at += 1;
            at % every == 1
        });
    }
}

/// The lines farther than one coordinate and nearer than another.
fn between(lines: &[i64], low: i64, high: i64) -> [usize; 2] {
    [lines.partition_point(|&at| at <= low), lines.partition_point(|&at| at < high)]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sides(standing: &[Rect]) -> Sides {
        let mut sides = Sides::default();
        sides.set(standing.iter().copied());
        sides
    }

    #[test]
    fn lines_are_the_ends_and_whatever_is_flush_with_a_side_between_them() {
        let all = [3, 4, 9, 11, 14];
        for (first, last, size) in [(0, 12, 3), (4, 9, 2), (5, 5, 1), (-9, -3, 1), (3, 14, 11)] {
            let mut found = Vec::new();
            lines(&mut found, (first, last, size), &all);
            let mut plain = vec![first, last];
            plain.extend(all.iter().flat_map(|&side| [side, side - size]).filter(|at| (first..=last).contains(at)));
            plain.sort_unstable();
            plain.dedup();
            assert_eq!(found, plain, "from {first} to {last}");
        }
    }

    #[test]
    fn what_stands_blocks_the_corners_from_which_it_would_be_met() {
        let ground = Rect { x: 0, y: 0, w: 6, d: 4 };
        let standing = Rect { x: 2, y: 0, w: 2, d: 2 };
        let mut grid = Grid::default();
        assert!(grid.lay(ground, (2, 2), &sides(&[standing])));
        grid.block(standing, (2, 2), 5);
        let mut free = Vec::new();
        let mut blocked = Vec::new();
        grid.sum(|x, y, weight| if weight == 0 { free.push((x, y)) } else { blocked.push((x, y, weight)) });
        assert_eq!(free, [(0, 0), (0, 2), (2, 2), (4, 0), (4, 2)]);
        assert_eq!(blocked, [(2, 0, 5)]);
        assert!(!grid.lay(ground, (7, 1), &Sides::default()));
    }

    #[test]
    fn weights_add_up_where_two_are_in_the_way() {
        let ground = Rect { x: -1, y: 5, w: 5, d: 1 };
        let mut grid = Grid::default();
        let standing = [Rect { x: -1, y: 5, w: 1, d: 1 }, Rect { x: 2, y: 5, w: 2, d: 1 }];
        assert!(grid.lay(ground, (4, 1), &sides(&standing)));
        grid.block(standing[0], (4, 1), 2);
        grid.block(standing[1], (4, 1), 3);
        let mut sums = Vec::new();
        grid.sum(|x, _, weight| sums.push((x, weight)));
        assert_eq!(sums, [(-1, 5), (0, 3)]);
    }
}
