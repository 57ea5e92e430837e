//! A tray, a pot or a guest by itself, drawn to scale from above and from the side, with its
//! measures.

use egui::{Align2, CornerRadius, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::export;
use crate::forecast::{Inside, Shape as Outline};
use crate::units::{LengthUnit, Measure};

use crate::window::shelves::{mm, shapes_ui};
use crate::window::theme::{self, Family, Palette};
use crate::words::fields as said;

const DRAWN_PT: f32 = 190.0;
/// Room for the figures beside and below.
const FIGURES_PT: f32 = 22.0;

#[derive(Clone, Debug)]
pub(in crate::window) struct Body<'a> {
    pub(in crate::window) width: &'a Measure,
    pub(in crate::window) depth: &'a Measure,
    pub(in crate::window) height: Option<&'a Measure>,
    pub(in crate::window) look: Look<'a>,
    /// What its figures are said in, where the grower did not type them.
    pub(in crate::window) unit: Option<LengthUnit>,
}

#[derive(Clone, Copy, Debug)]
pub(in crate::window) enum Look<'a> {
    Open {
        /// Where bases of pots can stand.
        floor: Option<(&'a Measure, &'a Measure)>,
    },
    /// Columns along the width, rows along the depth.
    Cells {
        columns: u32,
        rows: u32,
    },
    Square {
        base: Option<&'a Measure>,
    },
    Round {
        base: Option<&'a Measure>,
    },
}

/// From above on the left, from the front on the right, at one scale.
pub(in crate::window) fn body_ui(ui: &mut Ui, body: &Body<'_>) {
    let palette = Palette::of(ui);
    let name = said::drawing(body.width, body.depth, body.height, body.unit);
    let (width, depth) = (mm(body.width.value()).max(0.1), mm(body.depth.value()).max(0.1));
    let height = body.height.map(|height| mm(height.value()).max(0.1));
    let views = if height.is_some() { 2.0 } else { 1.0 };
    let room = ui.available_width().min(560.0) - (FIGURES_PT * 2.0 + 14.0) * views;
    let zoom = (room.max(60.0) / (width * views)).min(DRAWN_PT / depth.max(height.unwrap_or(0.0)));
    let tall = depth.max(height.unwrap_or(0.0)) * zoom;
    let wide = (width * zoom + FIGURES_PT * 2.0 + 14.0) * views;
    let (rect, response) = ui.allocate_exact_size(vec2(wide, tall + FIGURES_PT + 20.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &name));
    let painter = ui.painter_at(rect.expand(2.0));
    let family = palette.family("other");
    let top = Rect::from_min_size(rect.min + vec2(2.0, 18.0), vec2(width, depth) * zoom);
    painter.text(rect.min, Align2::LEFT_TOP, said::FROM_ABOVE, theme::small(), palette.soft_ink);
    above(&painter, palette, top, body, family);
    across(&painter, palette, top, &said::figure(body.width, body.unit));
    upright(&painter, palette, top, &said::figure(body.depth, body.unit));
    let (Some(height), Some(typed)) = (height, body.height) else { return };
    let left = top.right() + FIGURES_PT * 2.0 + 14.0;
    painter.text(pos2(left, rect.top()), Align2::LEFT_TOP, said::FROM_THE_FRONT, theme::small(), palette.soft_ink);
    // It stands where the drawing from above ends.
    let floor = (top.top() + tall).min(rect.bottom() - FIGURES_PT);
    let side = Rect::from_min_max(pos2(left, floor - height * zoom), pos2(left + width * zoom, floor));
    front(&painter, palette, side, body, family);
    upright(&painter, palette, side, &said::figure(typed, body.unit));
}

fn above(painter: &Painter, palette: &Palette, rect: Rect, body: &Body<'_>, family: Family) {
    let few = |number: u32| u16::try_from(number).unwrap_or(u16::MAX);
    let stroke = Stroke::new(1.0, family.ink);
    let share = |inner: &Measure, outer: &Measure| (mm(inner.value()) / mm(outer.value()).max(0.1)).clamp(0.0, 1.0);
    let inside = |width: f32, depth: f32| Rect::from_center_size(rect.center(), rect.size() * vec2(width, depth));
    match body.look {
        Look::Open { floor } => {
            painter.rect(rect, CornerRadius::same(2), family.fill, stroke, StrokeKind::Inside);
            if let Some((width, depth)) = floor {
                let floor = inside(share(width, body.width), share(depth, body.depth));
                painter.rect_stroke(floor, CornerRadius::same(1), stroke, StrokeKind::Inside);
            }
        }
        Look::Cells { columns, rows } => {
            let inside = Inside::Cells { columns: few(columns), rows: few(rows) };
            let outline = Outline::Tray { width: body.width.value(), depth: body.depth.value(), inside };
            let zoom = rect.width() / mm(body.width.value()).max(0.1);
            shapes_ui(painter, palette, &export::tray(&outline, export::Family::OTHER, 0), rect.min, zoom);
        }
        Look::Square { base } => {
            painter.rect(rect, CornerRadius::same(2), family.fill, stroke, StrokeKind::Inside);
            if let Some(base) = base {
                let base = share(base, body.width);
                painter.rect_stroke(inside(base, base), CornerRadius::same(1), stroke, StrokeKind::Inside);
            }
        }
        Look::Round { base } => {
            painter.circle(rect.center(), rect.width() / 2.0 - 0.5, family.fill, stroke);
            if let Some(base) = base {
                painter.circle_stroke(rect.center(), rect.width() / 2.0 * share(base, body.width), stroke);
            }
        }
    }
}

fn front(painter: &Painter, palette: &Palette, rect: Rect, body: &Body<'_>, family: Family) {
    let base = match body.look {
        Look::Open { floor } => floor.map(|(width, _)| width),
        Look::Square { base } | Look::Round { base } => base,
        Look::Cells { .. } => None,
    };
    let base = base.map_or(rect.width(), |base| {
        rect.width() * (mm(base.value()) / mm(body.width.value()).max(0.1)).clamp(0.0, 1.0)
    });
    let inset = (rect.width() - base) / 2.0;
    let corners = vec![
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom() - vec2(inset, 0.0),
        rect.left_bottom() + vec2(inset, 0.0),
    ];
    painter.add(Shape::convex_polygon(corners, family.fill, Stroke::new(1.0, family.ink)));
    painter.hline(rect.x_range().expand(8.0), rect.bottom(), palette.ink_stroke());
}

/// A measure below, from end to end.
fn across(painter: &Painter, palette: &Palette, of: Rect, text: &str) {
    let y = of.bottom() + 7.0;
    line(painter, palette, pos2(of.left(), y), pos2(of.right(), y), vec2(0.0, 3.0));
    painter.text(pos2(of.center().x, y + 2.0), Align2::CENTER_TOP, text, theme::small(), palette.ink);
}

/// A measure beside, from end to end.
fn upright(painter: &Painter, palette: &Palette, of: Rect, text: &str) {
    let x = of.right() + 7.0;
    line(painter, palette, pos2(x, of.top()), pos2(x, of.bottom()), vec2(3.0, 0.0));
    painter.text(pos2(x + 5.0, of.center().y), Align2::LEFT_CENTER, text, theme::small(), palette.ink);
}

fn line(painter: &Painter, palette: &Palette, from: Pos2, to: Pos2, tick: egui::Vec2) {
    let stroke = Stroke::new(1.0, palette.soft_ink);
    painter.line_segment([from, to], stroke);
    for end in [from, to] {
        painter.line_segment([end - tick, end + tick], stroke);
    }
}
