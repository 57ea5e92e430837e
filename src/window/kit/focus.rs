//! A ring around what the keyboard is on, whatever it is filled with; and which field is written in.

use egui::accesskit::{Action, ActionRequest, TreeId};
use egui::{
    Context, CornerRadius, Event, EventFilter, Id, Key, LayerId, Modifiers, Order, Rect, Stroke, StrokeKind, Ui,
};

use crate::window::theme::Palette;

pub(in crate::window) fn focus_ring_ui(ui: &Ui) {
    let Some(response) = ui.memory(egui::Memory::focused).and_then(|id| ui.ctx().read_response(id)) else { return };
    // The strip and the shelves show it by themselves, an edge between panes as a line.
    if response.rect.width() > 420.0 && !is_edge(response.rect) {
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

/// Between two panes, dragged to give one of them more room.
fn is_edge(rect: Rect) -> bool {
    const THIN_PT: f32 = 14.0;
    const LONG_PT: f32 = 100.0;
    (rect.width() < THIN_PT && rect.height() > LONG_PT) || (rect.height() < THIN_PT && rect.width() > LONG_PT)
}

/// Arrow keys move an edge that the keys are with. To be told before panes are drawn.
pub(in crate::window) fn edge_keys(ui: &Ui) {
    let edge = ui.memory(egui::Memory::focused).and_then(|id| ui.ctx().read_response(id));
    let Some(edge) = edge.filter(|edge| is_edge(edge.rect)) else { return };
    let (upright, left) = (edge.rect.height() > edge.rect.width(), edge.rect.center().x < ui.max_rect().center().x);
    let (more, less) = match (upright, left) {
        (true, true) => (Key::ArrowRight, Key::ArrowLeft),
        (true, false) => (Key::ArrowLeft, Key::ArrowRight),
        (false, _) => (Key::ArrowUp, Key::ArrowDown),
    };
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(edge.id, filter));
    for (key, action) in [(more, Action::Increment), (less, Action::Decrement)] {
        if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            let request =
                ActionRequest { action, target_tree: TreeId::ROOT, target_node: edge.id.accesskit_id(), data: None };
            ui.input_mut(|i| i.events.push(Event::AccessKitActionRequest(request)));
        }
    }
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
