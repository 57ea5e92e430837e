//! Edges that draw a tray near them: the shelf's own and its neighbours', gaps included.

use crate::units::Length;

use super::layout::RectOnShelf;

/// What a tray may snap to.
#[derive(Clone, Debug)]
pub struct Edges<'a> {
    pub shelf_width: Length,
    pub shelf_depth: Length,
    /// More than the depth where trays may stick out.
    pub usable_depth: Length,
    /// Gaps included, as in the tray itself.
    pub neighbours: &'a [RectOnShelf],
    /// Further away, nothing draws.
    pub reach: Length,
    /// Positions off all edges are whole multiples of this.
    pub grid: Length,
}

/// The corners where a tray of that size may come to lie when it is let go near `(x, y)`: at the
/// nearest edges first, at no edge last. The first that is free is meant.
pub fn snaps(tray: RectOnShelf, edges: &Edges<'_>) -> Vec<(Length, Length)> {
    let mut xs = vec![Length::ZERO, edges.shelf_width - tray.width];
    let mut ys = vec![Length::ZERO, edges.shelf_depth - tray.depth, edges.usable_depth - tray.depth];
    let apart = edges.reach;
    for other in edges.neighbours {
        if other.y < tray.front() + apart && tray.y < other.front() + apart {
            xs.extend([other.right(), other.x - tray.width, other.x]);
        }
        if other.x < tray.right() + apart && tray.x < other.right() + apart {
            ys.extend([other.front(), other.y - tray.depth, other.y]);
        }
    }
    let (xs, ys) = (nearest(tray.x, xs, edges), nearest(tray.y, ys, edges));
    let mut all: Vec<(usize, usize)> = (0..xs.len()).flat_map(|x| (0..ys.len()).map(move |y| (x, y))).collect();
    all.sort_by_key(|(x, y)| (x + y, *x));
    all.into_iter().filter_map(|(x, y)| Some((*xs.get(x)?, *ys.get(y)?))).collect()
}

/// The edges that draw, from the nearest on, and at last the place itself.
fn nearest(at: Length, mut edges_at: Vec<Length>, edges: &Edges<'_>) -> Vec<Length> {
    /// More are not told apart by hand.
    const MOST: usize = 4;
    edges_at.retain(|edge| (*edge - at).abs() <= edges.reach);
    edges_at.sort_by_key(|edge| ((*edge - at).abs(), *edge));
    edges_at.dedup();
    edges_at.truncate(MOST);
    edges_at.push(on_grid(at, edges.grid));
    edges_at
}

pub fn on_grid(at: Length, grid: Length) -> Length {
    let step = grid.units().max(1);
    Length::from_units((at.units() + step / 2).div_euclid(step) * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    #[track_caller]
    fn check(at: (i64, i64), expected: (i64, i64)) {
        let neighbour = RectOnShelf { x: mm(0), y: mm(0), width: mm(283), depth: mm(543) };
        let edges = Edges {
            shelf_width: mm(1219),
            shelf_depth: mm(610),
            usable_depth: mm(610),
            neighbours: &[neighbour],
            reach: mm(20),
            grid: mm(1),
        };
        let tray = RectOnShelf { x: mm(at.0), y: mm(at.1), width: mm(283), depth: mm(543) };
        let found = snaps(tray, &edges);
        assert_eq!(found.first(), Some(&(mm(expected.0), mm(expected.1))), "{at:?}");
        assert_eq!(found.last(), Some(&(mm(at.0), mm(at.1))), "{at:?}: at last where it is");
    }

    #[test]
    fn a_tray_snaps_to_edges_and_to_the_gap_beside_its_neighbour() {
        check((290, 9), (283, 0));
        check((270, 4), (283, 0));
        check((950, 60), (936, 67));
        check((600, 300), (600, 300));
        check((-12, 0), (0, 0));
    }
}
