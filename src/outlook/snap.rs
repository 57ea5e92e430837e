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

/// The corner where a tray of that size comes to lie when it is let go near `(x, y)`.
pub fn snap(tray: RectOnShelf, edges: &Edges<'_>) -> (Length, Length) {
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
    (nearest(tray.x, &xs, edges), nearest(tray.y, &ys, edges))
}

fn nearest(at: Length, edges_at: &[Length], edges: &Edges<'_>) -> Length {
    edges_at
        .iter()
        .copied()
        .filter(|edge| (*edge - at).abs() <= edges.reach)
        .min_by_key(|edge| (*edge - at).abs())
        .unwrap_or_else(|| on_grid(at, edges.grid))
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
        assert_eq!(snap(tray, &edges), (mm(expected.0), mm(expected.1)), "{at:?}");
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
