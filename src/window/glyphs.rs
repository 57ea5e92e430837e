//! Small pictures of our own for groups of crops and what becomes of plants: drawn in ink, so that they are as sharp on any screen as letters
//! are. A word always stands beside them.

use egui::{Color32, CornerRadius, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, vec2};

use crate::forecast::What;
use crate::forecast::jobs::Kind;
use crate::season::{ContainerKind, Flat, Pot, RimShape};

use super::theme::Family;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Glyph {
    /// A seed in water.
    Soaked,
    /// A seed below the ground.
    Sown,
    /// Two seed leaves.
    Up,
    /// A plug in a pot.
    MovedOn,
    /// Two pots apart.
    SpacedOut,
    /// Below a bell.
    Hardening,
    /// In the open ground.
    Out,
    /// A pot with a label.
    Sold,
    /// A tray of cells.
    Cells,
    OpenTray,
    /// Pots in a tray.
    PotsInTray,
    RoundPot,
    SquarePot,
}

impl Glyph {
    pub(super) const fn of(kind: Kind) -> Self {
        match kind {
            Kind::Prepare => Self::Soaked,
            Kind::Sow | Kind::Unstack => Self::Sown,
            Kind::LookIfUp(_) => Self::Up,
            Kind::MoveOn => Self::MovedOn,
            Kind::SpaceOut => Self::SpacedOut,
            Kind::Harden { .. } | Kind::FirstNightOut => Self::Hardening,
            Kind::PlantOut => Self::Out,
            Kind::Sell => Self::Sold,
        }
    }
}

impl Glyph {
    /// What stands by itself; nothing of what nothing can be grown in.
    pub(super) const fn of_container(kind: &ContainerKind) -> Option<Self> {
        Some(match kind {
            ContainerKind::Flat(Flat { pockets: Some(_), .. }) => Self::PotsInTray,
            ContainerKind::Flat(_) => Self::OpenTray,
            ContainerKind::Plug(_) => Self::Cells,
            ContainerKind::Pot(Pot { rim: RimShape::Round, .. }) => Self::RoundPot,
            ContainerKind::Pot(Pot { rim: RimShape::Square, .. }) => Self::SquarePot,
            ContainerKind::Class { .. } => return None,
        })
    }

    /// Nothing of what changes only how they are seen.
    pub(super) const fn of_event(what: What) -> Option<Self> {
        Some(match what {
            What::Prepared(_) => Self::Soaked,
            What::Sown | What::Unstacked => Self::Sown,
            What::Up => Self::Up,
            What::MovedOn(_) => Self::MovedOn,
            What::Spaced => Self::SpacedOut,
            What::Hardening | What::FirstNightOut => Self::Hardening,
            What::InFlower => Self::Sold,
            What::Out { .. } => Self::Out,
            _ => return None,
        })
    }
}

/// A pen on a square ground, as many across as it says.
pub(super) struct Pen<'a> {
    pub(super) painter: &'a Painter,
    pub(super) rect: Rect,
    pub(super) ink: Color32,
    pub(super) ground: f32,
}

const GROUND: f32 = 16.0;

impl Pen<'_> {
    fn at(&self, x: f32, y: f32) -> Pos2 {
        self.rect.left_top() + vec2(x, y) * self.scale()
    }

    fn scale(&self) -> f32 {
        self.rect.width() / self.ground
    }

    fn stroke(&self) -> Stroke {
        Stroke::new((1.3 * self.scale()).max(1.0), self.ink)
    }

    pub(super) fn line(&self, points: &[(f32, f32)]) {
        let points = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
        self.painter.add(Shape::line(points, self.stroke()));
    }

    pub(super) fn dot(&self, x: f32, y: f32, radius: f32) {
        self.painter.circle_filled(self.at(x, y), radius * self.scale(), self.ink);
    }

    pub(super) fn rays(&self, from: (f32, f32), to: &[(f32, f32)]) {
        for to in to {
            self.line(&[from, *to]);
        }
    }

    fn frame(&self, left: f32, top: f32, right: f32, bottom: f32) {
        self.line(&[(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]);
    }

    pub(super) fn ring(&self, x: f32, y: f32, radius: f32) {
        self.painter.circle_stroke(self.at(x, y), radius * self.scale(), self.stroke());
    }

    fn ground(&self, y: f32) {
        self.line(&[(1.0, y), (15.0, y)]);
    }

    /// From the stem to a tip, full in the middle.
    pub(super) fn leaf(&self, (x, y): (f32, f32), (to_x, to_y): (f32, f32)) {
        let (middle_x, middle_y) = (f32::midpoint(x, to_x), f32::midpoint(y, to_y));
        let (across_x, across_y) = ((to_y - y) * 0.28, (x - to_x) * 0.28);
        let points = [
            (x, y),
            (middle_x + across_x, middle_y + across_y),
            (to_x, to_y),
            (middle_x - across_x, middle_y - across_y),
        ];
        let points = points.iter().map(|(x, y)| self.at(*x, *y)).collect();
        self.painter.add(Shape::convex_polygon(points, self.ink, Stroke::NONE));
    }

    pub(super) fn seedling(&self, x: f32, foot: f32, height: f32) {
        self.line(&[(x, foot), (x, foot - height)]);
        let top = foot - height;
        self.leaf((x, top), (x - height * 0.62, top - height * 0.42));
        self.leaf((x, top), (x + height * 0.62, top - height * 0.42));
    }

    fn pot(&self, middle: f32, top: f32, half: f32) {
        let foot = 15.0;
        self.line(&[
            (middle - half, top),
            (middle - half * 0.7, foot),
            (middle + half * 0.7, foot),
            (middle + half, top),
            (middle - half, top),
        ]);
    }
}

/// The picture of a group of crops on its own ground, into a square.
pub(super) fn family_ui(painter: &Painter, rect: Rect, family: Family) {
    painter.rect(rect, CornerRadius::same(3), family.fill, Stroke::new(1.0, family.ink), StrokeKind::Inside);
    let pen = Pen { painter, rect: rect.shrink(rect.width() * 0.1), ink: family.ink, ground: GROUND };
    match family.kind.name() {
        "solanaceae" => {
            pen.ring(8.0, 9.5, 5.5);
            pen.rays((8.0, 5.0), &[(4.5, 3.5), (6.6, 1.8), (9.4, 1.8), (11.5, 3.5)]);
        }
        "brassica" => {
            pen.ring(8.0, 8.0, 6.5);
            pen.line(&[(3.0, 4.2), (6.5, 7.5), (8.0, 14.0)]);
            pen.line(&[(13.0, 4.2), (9.5, 7.5), (8.0, 14.0)]);
            pen.ring(8.0, 6.2, 2.0);
        }
        "leaf" => {
            for to in [(2.0, 6.0), (8.0, 1.5), (14.0, 6.0)] {
                pen.leaf((8.0, 14.0), to);
            }
        }
        "allium" => {
            pen.ring(8.0, 11.5, 3.6);
            pen.rays((8.0, 8.0), &[(4.0, 1.5), (8.0, 1.0), (12.0, 1.5)]);
        }
        "flower" => {
            for turn in 0..5_u8 {
                let angle = std::f32::consts::TAU * f32::from(turn) / 5.0;
                pen.ring(8.0 + 4.2 * angle.sin(), 8.0 - 4.2 * angle.cos(), 2.7);
            }
            pen.dot(8.0, 8.0, 1.8);
        }
        "herb" => {
            pen.line(&[(8.0, 15.0), (8.0, 2.0)]);
            for y in [5.0, 9.0, 13.0] {
                pen.leaf((8.0, y), (2.5, y - 2.5));
                pen.leaf((8.0, y), (13.5, y - 2.5));
            }
        }
        "cucurbit" => {
            pen.ring(6.0, 10.0, 4.4);
            pen.line(&[(9.2, 6.8), (12.2, 3.8), (14.5, 3.8)]);
            pen.line(&[(4.0, 8.0), (8.0, 12.0)]);
            pen.leaf((12.2, 3.8), (8.5, 1.5));
        }
        "legume" => {
            let pod = [(2.0, 12.0), (4.0, 6.5), (9.0, 3.0), (14.0, 2.0), (12.5, 7.5), (8.5, 11.5), (2.0, 12.0)];
            pen.line(&pod);
            for (x, y) in [(5.2, 9.2), (8.0, 7.3), (10.8, 5.0)] {
                pen.dot(x, y, 1.4);
            }
        }
        "root" => {
            pen.line(&[(4.0, 6.0), (8.0, 15.0), (12.0, 6.0), (4.0, 6.0)]);
            pen.rays((8.0, 6.0), &[(4.5, 1.5), (8.0, 1.0), (11.5, 1.5)]);
        }
        _ => {
            pen.pot(8.0, 8.5, 5.0);
            pen.seedling(8.0, 8.5, 4.2);
        }
    }
}

/// Draws it into a square.
pub(super) fn glyph_ui(painter: &Painter, rect: Rect, glyph: Glyph, ink: Color32) {
    let pen = Pen { painter, rect, ink, ground: GROUND };
    match glyph {
        Glyph::Soaked => {
            pen.line(&[(2.5, 4.0), (3.5, 14.0), (12.5, 14.0), (13.5, 4.0)]);
            pen.line(&[(3.5, 7.5), (6.0, 6.5), (8.0, 7.5), (10.0, 6.5), (12.5, 7.5)]);
            pen.dot(8.0, 11.0, 1.5);
        }
        Glyph::Sown => {
            pen.ground(6.0);
            pen.dot(8.0, 10.5, 2.0);
        }
        Glyph::Up => {
            pen.ground(14.0);
            pen.seedling(8.0, 14.0, 6.5);
        }
        Glyph::MovedOn => {
            pen.pot(8.0, 8.5, 5.5);
            pen.seedling(8.0, 8.5, 4.2);
        }
        Glyph::SpacedOut => {
            pen.pot(3.6, 10.5, 2.6);
            pen.pot(12.4, 10.5, 2.6);
            pen.line(&[(3.6, 5.5), (12.4, 5.5)]);
            pen.line(&[(5.4, 3.7), (3.4, 5.5), (5.4, 7.3)]);
            pen.line(&[(10.6, 3.7), (12.6, 5.5), (10.6, 7.3)]);
        }
        Glyph::Hardening => {
            pen.ground(14.0);
            pen.seedling(8.0, 14.0, 4.6);
            let bell = (0..=12_u8).map(|step| {
                let turn = std::f32::consts::PI * f32::from(step) / 12.0;
                (8.0 - 6.3 * turn.cos(), 14.0 - 11.5 * turn.sin())
            });
            pen.line(&bell.collect::<Vec<_>>());
        }
        Glyph::Out => {
            pen.ground(13.0);
            pen.seedling(8.0, 13.0, 5.5);
            pen.line(&[(8.0, 13.0), (5.5, 15.5)]);
            pen.line(&[(8.0, 13.0), (10.5, 15.5)]);
            pen.dot(13.2, 2.8, 1.6);
        }
        Glyph::Sold => {
            pen.pot(6.0, 9.0, 4.5);
            pen.seedling(6.0, 9.0, 4.2);
            pen.line(&[(10.5, 9.5), (13.5, 9.5), (15.0, 11.2), (13.5, 13.0), (10.5, 13.0), (10.5, 9.5)]);
        }
        _ => container_ui(&pen, glyph),
    }
}

/// From above.
fn container_ui(pen: &Pen<'_>, glyph: Glyph) {
    const TRAY: (f32, f32, f32, f32) = (1.0, 3.5, 15.0, 12.5);
    let (left, top, right, bottom) = TRAY;
    match glyph {
        Glyph::Cells => {
            pen.frame(left, top, right, bottom);
            for x in [4.5, 8.0, 11.5] {
                pen.line(&[(x, top), (x, bottom)]);
            }
            pen.line(&[(left, 8.0), (right, 8.0)]);
        }
        Glyph::OpenTray => {
            pen.frame(left, top, right, bottom);
            pen.frame(left + 2.0, top + 2.0, right - 2.0, bottom - 2.0);
        }
        Glyph::PotsInTray => {
            pen.frame(left, top, right, bottom);
            for (x, y) in [(3.6, 5.9), (8.0, 5.9), (12.4, 5.9), (3.6, 10.1), (8.0, 10.1), (12.4, 10.1)] {
                pen.ring(x, y, 1.5);
            }
        }
        Glyph::RoundPot => {
            pen.ring(8.0, 8.0, 6.0);
            pen.ring(8.0, 8.0, 3.8);
        }
        Glyph::SquarePot => {
            pen.frame(2.5, 2.5, 13.5, 13.5);
            pen.frame(4.8, 4.8, 11.2, 11.2);
        }
        _ => {}
    }
}
