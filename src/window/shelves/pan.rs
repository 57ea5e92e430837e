//! What part of the board is seen: by wheel, by drag, by keys, and by its edges during a drag.

use egui::{Key, Modifiers, PointerButton, Pos2, Rect, Response, Ui, emath::TSTransform, vec2};

use crate::window::scene::Scene;
use crate::window::state::Gesture;

use super::board;

#[expect(clippy::too_many_arguments, reason = "the hand may be at anything")]
pub(super) fn pan_and_zoom(
    ui: &Ui,
    pane: Rect,
    ground: &Response,
    framing: bool,
    gesture: &Gesture,
    scene: &Scene<'_>,
    bounds: Rect,
    transform: &mut TSTransform,
) {
    let in_hand = matches!(gesture, Gesture::InHand(_));
    let over = ui.input(|i| i.pointer.latest_pos()).filter(|pos| pane.contains(*pos));
    if let Some(pointer) = over
        && (in_hand || ui.rect_contains_pointer(pane))
    {
        let (scroll, pinch) = ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta()));
        // With something in the hand the wheel brings more shelves; with Ctrl it zooms as ever.
        let factor = if in_hand { pinch } else { pinch * (scroll.y / 400.0).exp() };
        if (factor - 1.0).abs() > 1e-4 {
            *transform = board::zoom_about(*transform, pointer, factor);
        }
        transform.translation.x += scroll.x;
        if in_hand {
            transform.translation.y += scroll.y;
        }
        if in_hand {
            edge_scroll(ui, pane, pointer, bounds, transform);
        }
    }
    // On a tray too the middle button moves the board, so it is asked for here and not of `ground`.
    let middle = ui.input(|i| i.pointer.button_down(PointerButton::Middle)) && over.is_some();
    if middle {
        transform.translation += ui.input(|i| i.pointer.delta());
    } else if ground.dragged_by(PointerButton::Primary) && !in_hand && !framing {
        transform.translation += ground.drag_delta();
    }
    let nothing_focused = ui.memory(|memory| memory.focused().is_none());
    if nothing_focused && scene.selection.tray.is_none() && !ui.ctx().text_edit_focused() {
        let step = 48.0;
        for (key, delta) in [
            (Key::ArrowLeft, vec2(step, 0.0)),
            (Key::ArrowRight, vec2(-step, 0.0)),
            (Key::ArrowUp, vec2(0.0, step)),
            (Key::ArrowDown, vec2(0.0, -step)),
        ] {
            if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
                transform.translation += delta;
            }
        }
    }
}

/// With a tray in the hand near the edge, what lies beyond it comes along.
fn edge_scroll(ui: &Ui, pane: Rect, pointer: Pos2, bounds_on_board: Rect, transform: &mut TSTransform) {
    let edge = 22.0;
    let step = 420.0 * ui.input(|i| i.stable_dt).min(0.05) / edge;
    let bounds = *transform * bounds_on_board;
    let pull = |pane: egui::Rangef, bounds: egui::Rangef, at: f32| {
        let back = (pane.min + edge - at).max(0.0).min((pane.min - bounds.min).max(0.0) / step);
        let on = (at - pane.max + edge).max(0.0).min((bounds.max - pane.max).max(0.0) / step);
        (back - on) * step
    };
    let pull =
        vec2(pull(pane.x_range(), bounds.x_range(), pointer.x), pull(pane.y_range(), bounds.y_range(), pointer.y));
    if pull.length() > 0.1 {
        transform.translation += pull;
        ui.request_repaint();
    }
}
