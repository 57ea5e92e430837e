//! Pictures of our own for what is not there, what is in order, what is being worked out and what did not come of it: drawn
//! in ink, larger than a glyph. A sentence always stands below them.

use egui::{Color32, Painter, Rect};

use super::glyphs::Pen;
use super::theme::Palette;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Picture {
    /// Shelves with nothing on them.
    EmptyShelf,
    /// A tray with nothing in its cells, and nothing on its label.
    EmptyTray,
    /// A plant in the sun.
    InTheSun,
    /// Seedlings that come up one after the other as the work goes on; half of them where nobody knows how far it is.
    ComingUp(Option<f32>),
    /// A plant that hangs over its pot.
    Wilted,
}

const GROUND: f32 = 48.0;

/// Draws it into a square.
pub(super) fn picture_into(painter: &Painter, rect: Rect, picture: Picture, palette: &Palette) {
    let with = |ink: Color32| Pen { painter, rect, ink, ground: GROUND };
    let (pen, living) = (with(palette.soft_ink), with(palette.good));
    match picture {
        Picture::EmptyShelf => empty_shelf(&pen),
        Picture::EmptyTray => {
            tray(&pen);
            pen.line(&[(31.0, 31.0), (31.0, 19.0)]);
            pen.line(&[(22.0, 6.0), (40.0, 6.0), (40.0, 19.0), (22.0, 19.0), (22.0, 6.0)]);
        }
        Picture::InTheSun => {
            sun(&with(palette.lamp));
            pot(&pen);
            living.line(&[(18.0, 30.0), (18.0, 17.0)]);
            for (from, to) in [(23.0, (8.5, 18.0)), (23.0, (27.5, 18.0)), (17.0, (11.0, 8.5)), (17.0, (25.0, 8.5))] {
                living.leaf((18.0, from), to);
            }
        }
        Picture::ComingUp(done) => coming_up(&pen, &living, done.unwrap_or(0.5)),
        Picture::Wilted => {
            pot(&pen);
            pen.line(&[(18.0, 30.0), (18.0, 20.0), (20.0, 14.5), (24.5, 12.0), (29.0, 13.5), (31.5, 18.0)]);
            for (from, to) in [((31.5, 18.0), (27.5, 28.0)), ((31.5, 18.0), (36.0, 27.5)), ((18.4, 19.0), (9.5, 27.0))]
            {
                pen.leaf(from, to);
            }
            pen.leaf((34.0, 45.0), (44.0, 43.5));
        }
    }
}

fn empty_shelf(pen: &Pen<'_>) {
    for x in [7.0, 41.0] {
        pen.line(&[(x, 3.0), (x, 46.0)]);
    }
    for y in [12.0, 27.0, 42.0] {
        for below in [0.0, 2.0] {
            pen.line(&[(4.0, y + below), (44.0, y + below)]);
        }
    }
    for y in [14.0, 29.0] {
        pen.line(&[(14.0, y + 2.5), (34.0, y + 2.5)]);
    }
}

fn pot(pen: &Pen<'_>) {
    pen.line(&[(8.5, 30.0), (27.5, 30.0), (27.5, 33.5), (8.5, 33.5), (8.5, 30.0)]);
    pen.line(&[(10.5, 33.5), (12.5, 45.0), (23.5, 45.0), (25.5, 33.5)]);
}

fn sun(pen: &Pen<'_>) {
    pen.ring(37.0, 12.0, 4.5);
    for turn in 0..8_u8 {
        let (sin, cos) = (std::f32::consts::TAU * f32::from(turn) / 8.0).sin_cos();
        pen.line(&[(37.0 + 6.8 * cos, 12.0 + 6.8 * sin), (37.0 + 9.6 * cos, 12.0 + 9.6 * sin)]);
    }
}

const CELLS: u8 = 4;

/// From the front.
fn tray(pen: &Pen<'_>) {
    pen.line(&[(3.0, 31.0), (45.0, 31.0), (42.5, 42.0), (5.5, 42.0), (3.0, 31.0)]);
    for cell in 1..CELLS {
        let x = 3.0 + 42.0 * f32::from(cell) / f32::from(CELLS);
        pen.line(&[(x, 31.0), (x, 42.0)]);
    }
}

/// A cell for each seedling.
fn coming_up(pen: &Pen<'_>, living: &Pen<'_>, done: f32) {
    tray(pen);
    for cell in 0..CELLS {
        let x = 3.0 + 42.0 * (f32::from(cell) + 0.5) / f32::from(CELLS);
        let up = (done * f32::from(CELLS) - f32::from(cell)).clamp(0.0, 1.0);
        if up < 0.15 {
            pen.dot(x, 35.5, 1.3);
        } else {
            living.seedling(x, 31.0, 4.0 + 6.5 * up);
        }
    }
}
