//! Keys that work wherever the focus is, but never while someone is writing.

use egui::{Key, Modifiers, Ui};

use super::action::Action;
use super::menu;
use super::seen::Seen;
use super::shelves;
use super::state::{Fit, Gesture, Page};

/// egui names a key by its place where the layout gives it no Latin letter, so these work on any.
pub(super) fn shortcuts(
    ui: &Ui,
    seen: &Seen<'_>,
    gesture: &Gesture,
    page: Page,
    playing: bool,
    actions: &mut Vec<Action>,
) {
    if ui.ctx().text_edit_focused() {
        return;
    }
    // With Shift first: matching is not exact.
    for (keys, action) in [
        (menu::REDO, Action::Redo),
        (menu::UNDO, Action::Undo),
        (menu::REDO_TOO, Action::Redo),
        (menu::SAVE_AS, Action::SaveAs),
        (menu::SAVE, Action::Save),
        (menu::OPEN, Action::Open),
        (menu::NEW, Action::NewSeason),
        (menu::QUIT, Action::Close),
    ] {
        if ui.input_mut(|i| i.consume_shortcut(&keys)) {
            actions.push(action);
        }
    }
    // What is in the hand hears R and Escape first, and so does an open menu.
    if page != Page::Shelves || matches!(gesture, Gesture::InHand(_)) || egui::Popup::is_any_open(ui.ctx()) {
        return;
    }
    let nothing_focused = ui.memory(|memory| memory.focused().is_none());
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if pressed(Key::R) {
        shelves::turn_selected(seen, actions);
    }
    if pressed(Key::S) && seen.selection.several() {
        shelves::swap(seen, actions);
    }
    if pressed(Key::P) {
        shelves::pin(seen, actions);
    }
    if pressed(Key::Delete) || pressed(Key::Backspace) {
        shelves::lift(seen, actions);
    }
    if pressed(Key::Num0) {
        actions.push(Action::FitToView(Fit::All));
    }
    if nothing_focused && pressed(Key::Home) {
        actions.push(Action::FitToView(Fit::Growing));
    }
    if nothing_focused {
        if pressed(Key::Space) {
            actions.push(Action::Play(!playing));
        }
        if pressed(Key::Escape) {
            actions.push(Action::Select(None));
        }
        shelves::nudge_keys(ui, seen, actions);
    }
}
