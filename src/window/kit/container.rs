//! Small pictures of containers from above, all to one scale, by what draws them on the shelves.

use egui::{Painter, Rect, Ui, Vec2, vec2};

use crate::export;
use crate::forecast::Shape;
use crate::window::shelves::{is_too_fine, mm, shapes_ui};
use crate::window::theme::Palette;

/// Points to a millimetre: a flat of 545 × 280 mm goes into a row of a list.
const SCALE: f32 = 0.09;
/// Of its ink, what cells too fine to be drawn show.
const TONE: f32 = 0.25;
/// Room for it; only what is larger is drawn smaller than to scale.
pub(super) const SIZE: Vec2 = vec2(50.0, 26.0);

/// In the middle of that rectangle, its longer side along it.
pub(super) fn container_into(painter: &Painter, palette: &Palette, rect: Rect, shape: &Shape) {
    let (long, short) = (mm(shape.width().max(shape.depth())), mm(shape.width().min(shape.depth())));
    let zoom = SCALE.min(rect.width() / long.max(1.0)).min(rect.height() / short.max(1.0));
    let quarter_turns = u8::from(shape.depth() > shape.width());
    let drawn = Rect::from_center_size(rect.center(), vec2(long, short) * zoom);
    let shapes = export::tray(shape, export::Family::OTHER, quarter_turns);
    shapes_ui(painter, palette, &shapes, drawn.min, zoom);
    // cells too fine to be drawn are a tone, so that the tray is not taken for an open one
    let is_fine = |shape: &export::Shape| matches!(shape, export::Shape::Grid { columns, rows, .. } if is_too_fine(drawn, (*columns, *rows)));
    if shapes.iter().any(is_fine) {
        let ink = palette.of_family(export::Family::OTHER).ink;
        painter.rect_filled(drawn.shrink(2.0), 0.0, ink.gamma_multiply(TONE));
    }
}

/// Beside a field; space alone where there is nothing to be seen.
pub(in crate::window) fn container_picture_ui(ui: &mut Ui, shape: Option<&Shape>) {
    let (_, rect) = ui.allocate_space(SIZE);
    if let Some(shape) = shape {
        container_into(ui.painter(), Palette::of(ui), rect, shape);
    }
}
