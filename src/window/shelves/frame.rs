//! A frame drawn around trays, and the keys that choose, copy and paste.

use egui::{CornerRadius, Key, Modifiers, PointerButton, Rect, Response, Stroke, Ui, emath::TSTransform};

use crate::outlook::{Placed, RectOnShelf};
use crate::season::TrayKey;
use crate::window::action::{Action, Do, Go};
use crate::window::scene::Scene;
use crate::window::state::BoardView;
use crate::window::theme::Palette;

use super::board::{Board, rect_on_board, shelf_id};
use super::keys::choose_all;
use super::paint::dashed_rect_ui;

/// Shift and a drag over empty ground begin a frame around trays.
pub(super) fn frame_keys_ui(ui: &Ui, ground: &Response, view: &mut BoardView) {
    if ground.drag_started_by(PointerButton::Primary) && ui.input(|i| i.modifiers.shift) {
        view.frame_from = ui.input(|i| i.pointer.press_origin());
    }
}

/// The frame that chooses every tray it touches.
#[expect(clippy::too_many_arguments, reason = "drawn over the whole scene")]
pub(super) fn frame_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    palette: &Palette,
    board: &Board,
    view: &mut BoardView,
    placed: &[Placed<'_>],
    transform: TSTransform,
    actions: &mut Vec<Action>,
) {
    let Some(from) = view.frame_from else { return };
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape)) {
        view.frame_from = None;
        return;
    }
    let Some(to) = ui.input(|i| i.pointer.latest_pos()) else { return };
    let frame = Rect::from_two_pos(from, to);
    ui.painter().rect_filled(frame, CornerRadius::ZERO, palette.selected.gamma_multiply(0.12));
    dashed_rect_ui(ui.painter(), frame, Stroke::new(1.5, palette.selected), 5.0, 3.0);
    if ui.input(|i| i.pointer.primary_down()) {
        return;
    }
    view.frame_from = None;
    let touched = |one: &&Placed<'_>| {
        let on_board = one.spot.and_then(|spot| board.shelves().find(|shelf| shelf.id == spot.shelf));
        one.spot.zip(on_board).is_some_and(|(spot, on_board)| {
            frame.intersects(transform * rect_on_board(&RectOnShelf::of(one.stay, spot), on_board))
        })
    };
    let mut trays: Vec<TrayKey> = placed.iter().filter(touched).map(|one| one.id.tray).collect();
    trays.dedup();
    trays.extend(
        scene.selection.tray.filter(|tray| !trays.contains(tray)).filter(|_| ui.input(|i| i.modifiers.command)),
    );
    actions.push(Action::Go(Go::Choose(trays)));
}

/// Copy, paste and choosing all, unless someone is writing.
pub(super) fn clipboard(
    ui: &Ui,
    scene: &Scene<'_>,
    view: &mut BoardView,
    board: &Board,
    transform: TSTransform,
    actions: &mut Vec<Action>,
) {
    let focused = board.shelves().find(|shelf| ui.memory(|memory| memory.has_focus(shelf_id(ui, shelf.id))));
    let pointer = ui.input(|i| i.pointer.latest_pos()).filter(|_| ui.rect_contains_pointer(view.pane));
    let below = pointer.and_then(|pos| board.shelf_near(transform.inverse() * pos, 0.0));
    view.shelf = focused.or(below).map(|shelf| shelf.id).or(view.shelf);
    if ui.ctx().text_edit_focused() || ui.memory(|memory| memory.top_modal_layer().is_some()) {
        return;
    }
    let (copies, pastes) = ui.input(|i| {
        let any = |wanted: fn(&egui::Event) -> bool| i.events.iter().any(wanted);
        (any(|event| matches!(event, egui::Event::Copy)), any(|event| matches!(event, egui::Event::Paste(_))))
    });
    // keys that the system did not take for those are understood too
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::COMMAND, key));
    let (copies, pastes) = (copies | pressed(Key::C), pastes | pressed(Key::V));
    if copies {
        actions.push(Action::Do(Do::CopyTrays));
    }
    if pastes {
        actions.push(Action::Do(Do::PasteTrays));
    }
    if ui.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::A)) {
        match focused {
            Some(shelf) => {
                let on_it = |one: &Placed<'_>| one.spot.is_some_and(|spot| spot.shelf == shelf.id);
                let trays = scene.placed().iter().filter(|one| on_it(one)).map(|one| one.id.tray).collect();
                actions.push(Action::Go(Go::Choose(trays)));
            }
            None => choose_all(scene, actions),
        }
    }
}
