//! What is told under the pointer of a row among others, beside the rows and not over them.

use egui::{Align, Color32, Layout, Rect, RectAlign, Response, Tooltip};

use crate::window::theme;

/// Of what is told, around its text.
const ROUND_PT: f32 = 28.0;

/// Right of `rows`, at the height of the row; `response` is what the pointer is over.
pub(in crate::window) fn told_beside(response: &Response, rows: Rect, text: &str) {
    let at = Rect::from_x_y_ranges(rows.x_range(), response.rect.y_range());
    let mut told = Tooltip::for_enabled(response);
    told.popup = told.popup.anchor(at).align(RectAlign::RIGHT).align_alternatives(&[RectAlign::LEFT]);
    told.popup = told.popup.layout(Layout::top_down(Align::Min));
    told.show(|ui| ui.label(text));
}

/// The same where there is room for it beside the rows; whether there is.
pub(in crate::window) fn tip_beside(response: &Response, rows: Rect, text: &str) -> bool {
    if text.is_empty() || !response.hovered() {
        return true;
    }
    let screen = response.ctx.content_rect();
    let most = response.ctx.global_style().spacing.tooltip_width;
    let galley = response.ctx.fonts_mut(|fonts| fonts.layout(text.to_owned(), theme::body(), Color32::BLACK, most));
    let room = (screen.right() - rows.right()).max(rows.left() - screen.left());
    let has_room = galley.size().x + ROUND_PT <= room;
    if has_room {
        told_beside(response, rows, text);
    }
    has_room
}

/// All of a row that is cut, beside it where there is room.
pub(in crate::window) fn whole_beside(response: Response, rows: Rect, text: &str) -> Response {
    if tip_beside(&response, rows, text) { response } else { response.on_hover_text(text) }
}

/// Its text has less room than it takes.
pub(in crate::window) fn is_cut(response: &Response) -> bool {
    response.intrinsic_size().is_some_and(|whole| whole.x > response.rect.width() + 0.5)
}
