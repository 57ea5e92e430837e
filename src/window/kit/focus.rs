//! A ring around what the keyboard is on, whatever it is filled with.

use egui::{CornerRadius, LayerId, Order, Stroke, StrokeKind, Ui};

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
