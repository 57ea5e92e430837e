//! Racks, shelves and rulers, to scale.

use egui::{
    Align2, Color32, CornerRadius, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2,
    vec2,
};

use crate::season::{Shelf, Zone, ZoneKind};
use crate::units::LengthUnit;
use crate::window::theme::{self, Palette};

use super::board::mm;

/// Lines at 45°, for mats, closed shelves and what stands over the rim.
pub(crate) fn hatch_ui(painter: &Painter, rect: Rect, stroke: Stroke, apart: f32) {
    let rect = rect.intersect(painter.clip_rect());
    if !rect.is_positive() {
        return;
    }
    let painter = painter.with_clip_rect(rect);
    // Anchored to the ground, not to the rectangle: neighbours' lines meet.
    let mut start = ((rect.left() - rect.height()) / apart).floor() * apart;
    while start < rect.right() {
        painter.line_segment([pos2(start, rect.bottom()), pos2(start + rect.height(), rect.top())], stroke);
        start += apart;
    }
}

pub(crate) fn dashed_rect_ui(painter: &Painter, rect: Rect, stroke: Stroke, dash: f32, gap: f32) {
    let corners = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    painter.extend(Shape::dashed_line(&corners, stroke, dash, gap));
}

fn dotted_rect_ui(painter: &Painter, rect: Rect, colour: Color32) {
    let corners = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    painter.extend(Shape::dotted_line(&corners, colour, 5.5, 0.9));
}

/// Text on a scrap of the ground's colour, so that lines below don't cross the letters.
pub(crate) fn label_ui(
    painter: &Painter,
    at: Pos2,
    anchor: Align2,
    text: &str,
    font: egui::FontId,
    ink: Color32,
    ground: Color32,
) -> Rect {
    let galley = painter.layout_no_wrap(text.to_owned(), font, ink);
    let rect = anchor.anchor_size(at, galley.size());
    let inside = painter.clip_rect().shrink(3.0);
    let rect = rect.translate(vec2(
        (inside.left() - rect.left()).max(0.0).min((inside.right() - rect.right()).max(0.0))
            + (inside.right() - rect.right()).min(0.0),
        0.0,
    ));
    painter.rect_filled(rect.expand2(vec2(3.0, 1.0)), CornerRadius::same(2), ground);
    painter.galley(rect.min, galley, ink);
    rect
}

pub(super) fn zone_rect(zone: &Zone, rect_on_screen: Rect, zoom: f32) -> Rect {
    let corner = rect_on_screen.min + vec2(mm(zone.x.value()), mm(zone.y.value())) * zoom;
    Rect::from_min_size(corner, vec2(mm(zone.width.value()), mm(zone.depth.value())) * zoom)
}

/// The ground of a shelf with its mat and its lamp's reach, before the trays.
pub(super) fn shelf_ui(painter: &Painter, palette: &Palette, shelf: &Shelf, rect_on_screen: Rect, zoom: f32) {
    let overhang = mm(shelf.overhang.value()) * zoom;
    if overhang > 0.5 {
        let front = Rect::from_min_max(
            pos2(rect_on_screen.left(), rect_on_screen.bottom()),
            pos2(rect_on_screen.right(), rect_on_screen.bottom() + overhang),
        );
        dashed_rect_ui(painter, front, Stroke::new(1.0, palette.soft_ink), 2.0, 3.0);
    }
    painter.rect_filled(rect_on_screen, CornerRadius::ZERO, palette.shelf);
    for zone in shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Heat) {
        let mat = zone_rect(zone, rect_on_screen, zoom);
        hatch_ui(painter, mat, Stroke::new(1.0, palette.mat.gamma_multiply(0.55)), 7.0);
        painter.rect_stroke(mat, CornerRadius::ZERO, Stroke::new(1.0, palette.mat), StrokeKind::Inside);
    }
    for zone in shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Lamp) {
        let reach = zone_rect(zone, rect_on_screen, zoom);
        // A lamp that serves the whole shelf says nothing that the outline doesn't.
        if reach.intersect(rect_on_screen).area() < rect_on_screen.area() * 0.995 {
            dotted_rect_ui(painter, reach, palette.lamp);
        }
    }
}

/// The outline, over the trays: it must be seen when the shelf is full.
pub(super) fn shelf_outline_ui(painter: &Painter, palette: &Palette, rect_on_screen: Rect, focused: bool) {
    let stroke = if focused { Stroke::new(2.5, palette.selected) } else { palette.ink_stroke() };
    painter.rect_stroke(rect_on_screen, CornerRadius::ZERO, stroke, StrokeKind::Outside);
}

/// One shelf by itself, as wide as there is room, with a ruler below it; gives where it is drawn,
/// and the points to a millimetre.
pub(crate) fn one_shelf_ui(ui: &mut Ui, palette: &Palette, shelf: &Shelf, name: &str, unit: LengthUnit) -> (Rect, f32) {
    let (width, depth) = (mm(shelf.width.value()), mm(shelf.usable_depth()));
    let zoom = ((ui.available_width() - 36.0) / width.max(1.0)).min(190.0 / depth.max(1.0));
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), depth * zoom + 38.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, crate::words::shelves::drawing_of(name)));
    let corner = rect.min + vec2(4.0, 4.0);
    let on_screen = Rect::from_min_size(corner, vec2(width, mm(shelf.depth.value())) * zoom);
    let painter = ui.painter_at(rect);
    shelf_ui(&painter, palette, shelf, on_screen, zoom);
    shelf_outline_ui(&painter, palette, on_screen, false);
    let below = pos2(corner.x, corner.y + depth * zoom + 9.0);
    ruler_ui(&painter, palette, (below, f32::INFINITY), width, zoom, unit);
    (on_screen, zoom)
}

/// A scale below a rack, in millimetres or inches; letters that would lie over the next, which begins at `until`, are
/// left out.
pub(crate) fn ruler_ui(
    painter: &Painter,
    palette: &Palette,
    (left_top, until): (Pos2, f32),
    width_mm: f32,
    zoom: f32,
    unit: LengthUnit,
) {
    let (unit_mm, steps): (f32, &[f32]) = match unit {
        LengthUnit::Inch => (25.4, &[1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0, 240.0, 480.0]),
        _ => (1.0, &[10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0]),
    };
    let pt_per_unit = unit_mm * zoom;
    let step = steps.iter().copied().find(|step| step * pt_per_unit >= 38.0).unwrap_or(10_000.0);
    let stroke = Stroke::new(1.0, palette.soft_ink);
    let right = left_top.x + width_mm * zoom;
    painter.line_segment([left_top, pos2(right, left_top.y)], stroke);
    painter.line_segment([pos2(right, left_top.y), pos2(right, left_top.y + 6.0)], stroke);
    let end = width_mm / unit_mm;
    let mut last_right = left_top.x;
    let mut number = |at: Pos2, align: Align2, text: String| {
        let galley = painter.layout_no_wrap(text, theme::small(), palette.soft_ink);
        let rect = align.anchor_size(at, galley.size());
        if rect.right() <= until {
            painter.galley(rect.min, galley, palette.soft_ink);
            last_right = rect.right();
        }
        last_right
    };
    let below = |x: f32| pos2(x, left_top.y + 8.0);
    let mut written = left_top.x;
    for value in (0..400_u16).map(|n| f32::from(n) * step).take_while(|value| *value <= end + 0.01) {
        let x = left_top.x + value * pt_per_unit;
        painter.line_segment([pos2(x, left_top.y), pos2(x, left_top.y + 6.0)], stroke);
        written = number(below(x), Align2::CENTER_TOP, format!("{value}"));
    }
    if right - 15.0 > written + 4.0 && (end.round() - end).abs() < 0.01 {
        written = number(below(right), Align2::CENTER_TOP, format!("{end:.0}"));
    }
    number(below(written + 5.0), Align2::LEFT_TOP, unit.sign().to_owned());
}
