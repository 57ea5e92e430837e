//! A ring around what the keyboard is on, whatever it is filled with; and which field is written in.

use egui::{Context, CornerRadius, Id, LayerId, Order, Stroke, StrokeKind, Ui};

use crate::window::theme::Palette;

pub(in crate::window) fn focus_ring_ui(ui: &Ui) {
    let Some(response) = ui.memory(egui::Memory::focused).and_then(|id| ui.ctx().read_response(id)) else { return };
    // The strip and the shelves show it by themselves.
    if response.rect.width() > 420.0 {
        return;
    }
    let layer = LayerId::new(Order::Foreground, egui::Id::unique("focus_ring"));
    let stroke = Stroke::new(2.0, Palette::of(ui).selected);
    ui.ctx().layer_painter(layer).rect_stroke(
        response.rect.expand(2.0),
        CornerRadius::same(4),
        stroke,
        StrokeKind::Outside,
    );
}

fn held_id() -> Id {
    Id::unique("field_held")
}

/// To be told before each frame is drawn. A field that is left by a press of the pointer counts as
/// written in until the pointer is let go: what its text leads to, a reason or another value, may
/// not move what is just being clicked.
pub(in crate::window) fn hold_field(ctx: &Context) {
    if ctx.input(|i| i.pointer.any_down()) {
        return;
    }
    let field = ctx.memory(egui::Memory::focused).filter(|_| ctx.text_edit_focused());
    ctx.data_mut(|data| data.insert_temp(held_id(), field));
}

fn held(ui: &Ui) -> Option<Id> {
    ui.data(|data| data.get_temp::<Option<Id>>(held_id())).flatten().filter(|_| ui.input(|i| i.pointer.any_down()))
}

/// Whether someone is writing in that field.
pub(super) fn is_written_in(ui: &Ui, field: Id) -> bool {
    ui.memory(|memory| memory.has_focus(field)) || held(ui) == Some(field)
}

/// Whether a field was left by a press, and the pointer is not let go yet.
pub(super) fn is_pressed_away(ui: &Ui) -> bool {
    held(ui).is_some()
}
