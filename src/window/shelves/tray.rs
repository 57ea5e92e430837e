//! One tray to scale, with its cells or pots.

use egui::{Align2, Color32, CornerRadius, Mesh, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

use crate::forecast::{Inside, Shape as Outline, Stay};
use crate::season::RimShape;
use crate::window::theme::{self, Family, Palette};

use super::board::mm;

/// Cells closer together than this are left out: they would be a grey.
const LEAST_PITCH_PT: f32 = 3.2;

/// How a tray is to be drawn.
#[expect(clippy::struct_excessive_bools, reason = "each is a mark of its own, in any company")]
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Manner {
    pub(crate) quarter_turns: u8,
    pub(crate) selected: bool,
    /// Proves the crunch that was asked about.
    pub(crate) marked: bool,
    pub(crate) pinned: bool,
    /// Its place while it is in the hand elsewhere.
    pub(crate) faint: bool,
}

/// Paints the stay into `rect_on_screen`, which is its ground at the board's zoom.
pub(crate) fn tray_ui(
    painter: &Painter,
    palette: &Palette,
    family: Family,
    stay: &Stay,
    mark: &str,
    rect_on_screen: Rect,
    manner: Manner,
) {
    if !painter.clip_rect().intersects(rect_on_screen) {
        return;
    }
    let mut painter = painter.clone();
    if manner.faint {
        painter.multiply_opacity(0.3);
    }
    let turned = manner.quarter_turns % 2 == 1;
    let outline = Stroke::new(1.0, family.ink);
    let inner = family.ink.gamma_multiply(0.38);
    match &stay.shape {
        Outline::Tray { width, inside, .. } => {
            painter.rect(rect_on_screen, CornerRadius::same(1), family.fill, outline, StrokeKind::Inside);
            let across = if turned { rect_on_screen.height() } else { rect_on_screen.width() };
            let zoom = across / mm(*width).max(1.0);
            match *inside {
                Inside::Open => open_ui(&painter, rect_on_screen, inner),
                Inside::Cells { columns, rows } => {
                    cells_ui(&painter, rect_on_screen, turn(columns, rows, turned), inner);
                }
                Inside::Pots { columns, rows, rim, across, number } => {
                    let grid = turn(columns, rows, turned);
                    pots_ui(&painter, rect_on_screen, grid, rim, mm(across) * zoom, number, inner);
                }
            }
            head_ui(&painter, rect_on_screen, manner.quarter_turns, family.ink);
        }
        Outline::Pots { width, depth, rim, across, centres, .. } => {
            let block = vec2(mm(*width), mm(*depth));
            let zoom = (if turned { rect_on_screen.height() } else { rect_on_screen.width() }) / block.x.max(1.0);
            let radius = mm(*across) * zoom / 2.0;
            for (x, y) in centres.iter() {
                let (x, y) = (mm(*x), mm(*y));
                let at = match manner.quarter_turns % 4 {
                    0 => vec2(x, y),
                    1 => vec2(block.y - y, x),
                    2 => vec2(block.x - x, block.y - y),
                    _ => vec2(y, block.x - x),
                };
                pot_ui(&painter, rect_on_screen.min + at * zoom, radius, *rim, family.fill, outline);
            }
        }
    }
    if manner.marked {
        painter.rect_stroke(
            rect_on_screen,
            CornerRadius::same(1),
            Stroke::new(2.0, palette.trouble),
            StrokeKind::Inside,
        );
    }
    mark_ui(&painter, family, mark, rect_on_screen);
    if manner.pinned {
        pin_ui(&painter, rect_on_screen, family);
    }
    if manner.selected {
        painter.rect_stroke(
            rect_on_screen.expand(1.0),
            CornerRadius::same(2),
            Stroke::new(2.5, palette.selected),
            StrokeKind::Middle,
        );
    }
}

fn turn(columns: u16, rows: u16, turned: bool) -> (u16, u16) {
    if turned { (rows, columns) } else { (columns, rows) }
}

fn open_ui(painter: &Painter, rect: Rect, ink: Color32) {
    let inner = rect.shrink(3.0);
    if inner.is_positive() {
        painter.rect_stroke(inner, CornerRadius::same(1), Stroke::new(1.0, ink), StrokeKind::Inside);
    }
}

fn cells_ui(painter: &Painter, rect: Rect, (columns, rows): (u16, u16), ink: Color32) {
    let pitch = vec2(rect.width() / f32::from(columns.max(1)), rect.height() / f32::from(rows.max(1)));
    if pitch.min_elem() < LEAST_PITCH_PT {
        return;
    }
    let half = pitch * 0.29;
    let mut mesh = Mesh::default();
    for row in 0..rows {
        for column in 0..columns {
            let centre = rect.min + vec2((f32::from(column) + 0.5) * pitch.x, (f32::from(row) + 0.5) * pitch.y);
            mesh.add_colored_rect(Rect::from_min_max(centre - half, centre + half), ink);
        }
    }
    painter.add(Shape::mesh(mesh));
}

fn pots_ui(
    painter: &Painter,
    rect: Rect,
    (columns, rows): (u16, u16),
    rim: RimShape,
    across: f32,
    number: u16,
    ink: Color32,
) {
    let pitch = vec2(rect.width() / f32::from(columns.max(1)), rect.height() / f32::from(rows.max(1)));
    if pitch.min_elem() < LEAST_PITCH_PT {
        return;
    }
    let radius = (across.min(pitch.min_elem() - 1.0) / 2.0).max(1.0);
    for n in 0..number.min(columns.saturating_mul(rows)) {
        let (column, row) = (n % columns.max(1), n / columns.max(1));
        let centre = rect.min + vec2((f32::from(column) + 0.5) * pitch.x, (f32::from(row) + 0.5) * pitch.y);
        pot_ui(painter, centre, radius, rim, Color32::TRANSPARENT, Stroke::new(1.0, ink));
    }
}

fn pot_ui(painter: &Painter, centre: Pos2, radius: f32, rim: RimShape, fill: Color32, stroke: Stroke) {
    match rim {
        RimShape::Round => {
            painter.circle(centre, (radius - 0.5).max(0.5), fill, stroke);
        }
        RimShape::Square => {
            let rect = Rect::from_center_size(centre, vec2(radius, radius) * 2.0);
            painter.rect(rect, CornerRadius::same(1), fill, stroke, StrokeKind::Inside);
        }
    }
}

/// A corner cut that turns with the tray: which end is up.
fn head_ui(painter: &Painter, rect: Rect, quarter_turns: u8, ink: Color32) {
    let leg = 5.0_f32.min(rect.width() / 4.0).min(rect.height() / 4.0);
    let (corner, along, down) = match quarter_turns % 4 {
        0 => (rect.left_top(), vec2(leg, 0.0), vec2(0.0, leg)),
        1 => (rect.right_top(), vec2(-leg, 0.0), vec2(0.0, leg)),
        2 => (rect.right_bottom(), vec2(-leg, 0.0), vec2(0.0, -leg)),
        _ => (rect.left_bottom(), vec2(leg, 0.0), vec2(0.0, -leg)),
    };
    painter.add(Shape::convex_polygon(vec![corner, corner + along, corner + down], ink, Stroke::NONE));
}

fn mark_ui(painter: &Painter, family: Family, mark: &str, rect: Rect) {
    let short_side = rect.width().min(rect.height());
    let size = if short_side > 34.0 { (short_side / 10.0).clamp(12.5, 22.0) } else { 10.5 };
    let galley = painter.layout_no_wrap(mark.to_owned(), theme::strong(size), family.ink);
    if galley.size().y > rect.height() + 2.0 || galley.size().x > rect.width() - 1.0 {
        return;
    }
    let text = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
    let scrap = text.expand2(vec2(4.0, 1.0)).intersect(rect.shrink(1.0));
    painter.rect_filled(scrap, CornerRadius::same(2), family.fill);
    painter.galley(text.min, galley, family.ink);
}

/// A pin's head and its needle, at the middle of the far edge.
fn pin_ui(painter: &Painter, rect: Rect, family: Family) {
    let head = pos2(rect.center().x, rect.top() + 7.0);
    painter.line_segment([head, head + vec2(0.0, 9.0)], Stroke::new(1.5, family.ink));
    painter.circle(head, 3.5, family.fill, Stroke::new(1.5, family.ink));
    painter.circle_filled(head, 1.5, family.ink);
}
