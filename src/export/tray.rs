//! How one tray, stack or block of pots is drawn from above, by whatever draws it.

use crate::forecast::{Inside, Shape as Outline};
use crate::units::Length;

use super::{Class, Family, Shape};

/// Outline and what is inside, as it stands when turned: its back left corner at 0, 0.
pub fn tray(outline: &Outline, family: Family, quarter_turns: u8) -> Vec<Shape> {
    let ground = Ground { width: outline.width(), depth: outline.depth(), quarter_turns: quarter_turns % 4 };
    let (width, height) = ground.turned(ground.width, ground.depth);
    let on_ground = |class| Shape::rect(class, Length::ZERO, Length::ZERO, width, height).of(family);
    match outline {
        Outline::Tray { inside, .. } => {
            let mut shapes = vec![on_ground(Class::Tray)];
            shapes.extend(ground.inside(inside, family));
            shapes
        }
        Outline::Pots { rim, across, pitch, centres, .. } => {
            let middles = centres.iter().map(|(x, y)| ground.point(*x, *y)).collect();
            let pots =
                Shape::Pots { class: Class::LoosePot, family, rim: *rim, across: *across, pitch: *pitch, middles };
            vec![on_ground(Class::Block), pots]
        }
    }
}

/// The ground before any turn.
struct Ground {
    width: Length,
    depth: Length,
    quarter_turns: u8,
}

impl Ground {
    /// A pair along the width and along the depth, as it lies when turned.
    const fn turned<T: Copy>(&self, width: T, depth: T) -> (T, T) {
        if self.quarter_turns % 2 == 1 { (depth, width) } else { (width, depth) }
    }

    /// Where a point of the ground lies when turned.
    fn point(&self, x: Length, y: Length) -> (Length, Length) {
        match self.quarter_turns {
            0 => (x, y),
            1 => (self.depth - y, x),
            2 => (self.width - x, self.depth - y),
            _ => (y, self.width - x),
        }
    }

    fn inside(&self, inside: &Inside, family: Family) -> Option<Shape> {
        match *inside {
            Inside::Open | Inside::Cells { columns: 0, .. } | Inside::Cells { rows: 0, .. } => None,
            Inside::Cells { columns, rows } => {
                let (width, height) = self.turned(self.width, self.depth);
                let (columns, rows) = self.turned(columns, rows);
                Some(Shape::Grid {
                    class: Class::Cells,
                    family,
                    width,
                    height,
                    columns,
                    rows,
                    x: Length::ZERO,
                    y: Length::ZERO,
                })
            }
            Inside::Pots { columns, rows, rim, across, number } => {
                let (columns, rows) = (i64::from(columns).max(1), i64::from(rows).max(1));
                let pitch = (self.width / columns).min(self.depth / rows);
                let middle = |pot: i64| {
                    let (column, row) = (pot % columns, pot / columns);
                    self.point(self.width * (2 * column + 1) / (2 * columns), self.depth * (2 * row + 1) / (2 * rows))
                };
                let middles = (0..i64::from(number).min(columns * rows)).map(middle).collect();
                // Rims that pass each other are drawn side by side.
                Some(Shape::Pots { class: Class::Pot, family, rim, across: across.min(pitch), pitch, middles })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::RimShape;

    const TRAY: (Length, Length) = (Length::from_mm(60), Length::from_mm(40));

    fn with(inside: Inside) -> Outline {
        Outline::Tray { width: TRAY.0, depth: TRAY.1, inside }
    }

    /// Middles of the pots in millimetres, and how wide the pots are drawn.
    fn pots(outline: &Outline, quarter_turns: u8) -> (Vec<(f64, f64)>, f64) {
        match &tray(outline, Family::OTHER, quarter_turns)[..] {
            [Shape::Rect { .. }, Shape::Pots { middles, across, .. }] => {
                (middles.iter().map(|(x, y)| (x.to_mm(), y.to_mm())).collect(), across.to_mm())
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn pots_turn_with_their_tray() {
        let (columns, rows, rim, across) = (3, 2, RimShape::Round, Length::from_mm(30));
        let outline = with(Inside::Pots { columns, rows, rim, across, number: 4 });
        assert_eq!(pots(&outline, 0), (vec![(10.0, 10.0), (30.0, 10.0), (50.0, 10.0), (10.0, 30.0)], 20.0));
        // The back left corner comes to the back right one.
        assert_eq!(pots(&outline, 1).0, [(30.0, 10.0), (30.0, 30.0), (30.0, 50.0), (10.0, 10.0)]);
        assert_eq!(pots(&outline, 2).0, [(50.0, 30.0), (30.0, 30.0), (10.0, 30.0), (50.0, 10.0)]);
        assert_eq!(pots(&outline, 3).0, [(10.0, 50.0), (10.0, 30.0), (10.0, 10.0), (30.0, 50.0)]);
        assert_eq!(pots(&outline, 5), pots(&outline, 1));
    }

    #[test]
    fn a_tray_lies_on_the_ground_that_it_covers() {
        let outline = with(Inside::Cells { columns: 6, rows: 4 });
        for (quarter_turns, size, cells) in [(0, TRAY, (6, 4)), (1, (TRAY.1, TRAY.0), (4, 6)), (2, TRAY, (6, 4))] {
            match &tray(&outline, Family::OTHER, quarter_turns)[..] {
                [Shape::Rect { width, height, class: Class::Tray, .. }, Shape::Grid { columns, rows, .. }] => {
                    assert_eq!(((*width, *height), (*columns, *rows)), (size, cells));
                }
                other => panic!("{other:?}"),
            }
        }
        assert_eq!(tray(&with(Inside::Open), Family::OTHER, 0).len(), 1);
        assert_eq!(tray(&with(Inside::Cells { columns: 0, rows: 4 }), Family::OTHER, 0).len(), 1);
    }
}
