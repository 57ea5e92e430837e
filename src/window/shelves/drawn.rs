//! The shapes that `export` draws with, on the screen.

use egui::{Align2, Color32, CornerRadius, Mesh, Painter, Pos2, Rect, Stroke, StrokeKind, vec2};

use crate::export::{Anchor, Class, Family, Shape, TextClass};
use crate::season::RimShape;
use crate::units::Length;
use crate::window::theme::{self, Palette};

use super::board::mm;

/// Cells closer together than this are left out: they would be a grey.
const LEAST_PITCH_PT: f32 = 3.2;
/// How much of its ink shows what is inside a tray.
pub(super) const INSIDE: f32 = 0.38;
/// Of a cell's pitch, from its middle to its edge.
const HALF_CELL: f32 = 0.29;

/// Paints shapes whose origin is at `corner`, `zoom` points to a millimetre.
pub(in crate::window) fn shapes_ui(painter: &Painter, palette: &Palette, shapes: &[Shape], corner: Pos2, zoom: f32) {
    let at = |x: Length, y: Length| corner + vec2(mm(x), mm(y)) * zoom;
    let size = |width: Length, height: Length| vec2(mm(width), mm(height)) * zoom;
    for shape in shapes {
        match shape {
            Shape::Rect { class, family, x, y, width, height, .. } => {
                let (fill, stroke) = look(palette, *class, family.unwrap_or(Family::OTHER));
                let rect = Rect::from_min_size(at(*x, *y), size(*width, *height));
                painter.rect(rect, CornerRadius::same(1), fill, stroke, StrokeKind::Inside);
            }
            Shape::Grid { class, family, x, y, width, height, columns, rows } => {
                let (fill, _) = look(palette, *class, *family);
                grid_ui(painter, Rect::from_min_size(at(*x, *y), size(*width, *height)), (*columns, *rows), fill);
            }
            Shape::Pots { class, family, rim, across, pitch, middles } => {
                let pitch = mm(*pitch) * zoom;
                // Loose pots are all there is to see of them; those in a tray keep their lines apart.
                let is_loose = *class == Class::LoosePot;
                if is_loose || pitch >= LEAST_PITCH_PT {
                    let across = mm(*across) * zoom;
                    let radius = if is_loose { across / 2.0 } else { (across.min(pitch - 1.0) / 2.0).max(1.0) };
                    let look = look(palette, *class, *family);
                    for (x, y) in middles {
                        pot_ui(painter, at(*x, *y), radius, *rim, look);
                    }
                }
            }
            Shape::Lines { class, lines } => {
                let (_, stroke) = look(palette, *class, Family::OTHER);
                for (from, to) in lines {
                    painter.line_segment([at(from.0, from.1), at(to.0, to.1)], stroke);
                }
            }
            Shape::Text { class, anchor, x, y, size, text } => {
                let align = match anchor {
                    Anchor::Start => Align2::LEFT_BOTTOM,
                    Anchor::Middle => Align2::CENTER_BOTTOM,
                    Anchor::End => Align2::RIGHT_BOTTOM,
                };
                painter.text(at(*x, *y), align, text, theme::strong(mm(*size) * zoom), letters(palette, *class));
            }
        }
    }
}

/// Fill and lines.
fn look(palette: &Palette, class: Class, family: Family) -> (Color32, Stroke) {
    let family = palette.of_family(family);
    let line = |colour| (Color32::TRANSPARENT, Stroke::new(1.0, colour));
    match class {
        Class::Shelf => (palette.shelf, palette.ink_stroke()),
        Class::Gap => (palette.panel, Stroke::NONE),
        Class::Tray | Class::LoosePot | Class::Swatch => (family.fill, Stroke::new(1.0, family.ink)),
        Class::Block => (Color32::TRANSPARENT, Stroke::NONE),
        Class::Cells => (family.ink.gamma_multiply(INSIDE), Stroke::NONE),
        Class::Pot => line(family.ink.gamma_multiply(INSIDE)),
        Class::Overhang | Class::Ruler => line(palette.soft_ink),
        Class::Lamp => line(palette.lamp),
        Class::Mat | Class::MatHatch => line(palette.mat),
    }
}

fn letters(palette: &Palette, class: TextClass) -> Color32 {
    match class {
        TextClass::Title | TextClass::Plain => palette.ink,
        TextClass::Soft => palette.soft_ink,
        TextClass::Trouble => palette.trouble,
        TextClass::Mark(family) => palette.of_family(family).ink,
    }
}

fn pitch(rect: Rect, (columns, rows): (u16, u16)) -> egui::Vec2 {
    vec2(rect.width() / f32::from(columns.max(1)), rect.height() / f32::from(rows.max(1)))
}

/// Whether so many cells in it are left out.
pub(in crate::window) fn is_too_fine(rect: Rect, cells: (u16, u16)) -> bool {
    pitch(rect, cells).min_elem() < LEAST_PITCH_PT
}

fn grid_ui(painter: &Painter, rect: Rect, (columns, rows): (u16, u16), ink: Color32) {
    if is_too_fine(rect, (columns, rows)) {
        return;
    }
    let pitch = pitch(rect, (columns, rows));
    let half = pitch * HALF_CELL;
    let mut mesh = Mesh::default();
    for row in 0..rows {
        for column in 0..columns {
            let centre = rect.min + vec2((f32::from(column) + 0.5) * pitch.x, (f32::from(row) + 0.5) * pitch.y);
            mesh.add_colored_rect(Rect::from_min_max(centre - half, centre + half), ink);
        }
    }
    painter.add(egui::Shape::mesh(mesh));
}

fn pot_ui(painter: &Painter, middle: Pos2, radius: f32, rim: RimShape, (fill, stroke): (Color32, Stroke)) {
    match rim {
        RimShape::Round => {
            painter.circle(middle, (radius - 0.5).max(0.5), fill, stroke);
        }
        RimShape::Square => {
            let rect = Rect::from_center_size(middle, vec2(radius, radius) * 2.0);
            painter.rect(rect, CornerRadius::same(1), fill, stroke, StrokeKind::Inside);
        }
    }
}
