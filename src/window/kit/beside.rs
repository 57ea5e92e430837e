//! What is told under the pointer of a row among others, beside the rows and not over them.

use egui::{Align, Layout, Rect, RectAlign, Response, Tooltip};

/// Right of `rows`, at the height of the row; `response` is what the pointer is over.
pub(in crate::window) fn told_beside(response: &Response, rows: Rect, text: &str) {
    let at = Rect::from_x_y_ranges(rows.x_range(), response.rect.y_range());
    let mut told = Tooltip::for_enabled(response);
    told.popup = told.popup.anchor(at).align(RectAlign::RIGHT).align_alternatives(&[RectAlign::LEFT]);
    told.popup = told.popup.layout(Layout::top_down(Align::Min));
    told.show(|ui| ui.label(text));
}
