//! What lies behind everything on the axis: months, frost, days away, and the days that are short of room.

use egui::{CornerRadius, Painter, Rangef, Rect, Stroke, pos2};

use crate::window::axis::{self, Axis};
use crate::window::scene::Scene;
use crate::window::shelves::hatch_ui;
use crate::window::theme::Palette;

/// Over those heights, in a painter that ends where the axis does.
pub(in crate::window) fn behind_ui(painter: &Painter, palette: &Palette, scene: &Scene<'_>, axis: &Axis, y: Rangef) {
    let over = |from, last| Rect::from_x_y_ranges(axis.x(from)..=axis.x(last) + axis.day_pt(), y);
    for crunch in scene.outlook.iter().flat_map(|outlook| &outlook.crunches) {
        let rect = over(crunch.span.from(), crunch.span.last());
        painter.rect_filled(rect, CornerRadius::ZERO, palette.trouble.gamma_multiply(0.12));
    }
    for away in scene.season.away() {
        let rect = over(away.span.from(), away.span.last()).intersect(Rect::from_x_y_ranges(axis.x, y));
        if rect.is_positive() {
            hatch_ui(painter, rect, Stroke::new(1.0, palette.line), 7.0);
        }
    }
    axis::months_ui(painter, palette, axis, y);
    if let Some(frost) = &scene.season.settings().frost {
        let x = axis.x(frost.date);
        let line = [pos2(x, y.min), pos2(x, y.max)];
        painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.2, palette.soft_ink), 2.0, 3.0));
    }
}
