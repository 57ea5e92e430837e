//! Keys that work wherever the focus is, but never while someone is writing.

use egui::{Event, Key, Modifiers, Ui};

use super::action::{Action, Do, File, Go};
use super::menu;
use super::scene::Scene;
use super::shelves;
use super::state::{Fit, Page};

/// Keys name letters by the layout, and by their place where the layout has no Latin letter there.
pub(super) fn shortcuts(
    ui: &Ui,
    scene: &Scene<'_>,
    (in_hand, was_written): (bool, bool),
    page: Page,
    playing: bool,
    actions: &mut Vec<Action>,
) {
    if ui.ctx().text_edit_focused() {
        return;
    }
    ui.input_mut(|i| i.events.iter_mut().for_each(by_place));
    // With Shift first: matching is not exact.
    for (keys, action) in [
        (menu::REDO, Action::Do(Do::Redo)),
        (menu::UNDO, Action::Do(Do::Undo)),
        (menu::REDO_TOO, Action::Do(Do::Redo)),
        (menu::SAVE_AS, Action::File(File::SaveAs)),
        (menu::SAVE, Action::File(File::Save)),
        (menu::OPEN, Action::File(File::Open)),
        (menu::NEW, Action::File(File::NewSeason)),
        (menu::QUIT, Action::File(File::Close)),
    ] {
        if ui.input_mut(|i| i.consume_shortcut(&keys)) {
            actions.push(action);
        }
    }
    // What is in the hand hears R and Escape first, and so does an open menu.
    if page != Page::Shelves || in_hand || egui::Popup::is_any_open(ui.ctx()) {
        return;
    }
    let nothing_focused = ui.memory(|memory| memory.focused().is_none());
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if pressed(Key::R) {
        shelves::turn_selected(scene, actions);
    }
    if pressed(Key::S) && scene.selection.several() {
        shelves::swap(scene, actions);
    }
    if pressed(Key::P) {
        shelves::pin(scene, actions);
    }
    if pressed(Key::Delete) || pressed(Key::Backspace) {
        shelves::lift(scene, actions);
    }
    if pressed(Key::Num0) {
        actions.push(Action::Go(Go::Fit(Fit::All)));
    }
    if nothing_focused && pressed(Key::Home) {
        actions.push(Action::Go(Go::Fit(Fit::Growing)));
    }
    if nothing_focused {
        if pressed(Key::Space) {
            actions.push(Action::Go(Go::Play(!playing)));
        }
        // from a field it gives up what was written there, and nothing else
        if !was_written && pressed(Key::Escape) {
            actions.push(Action::Go(Go::Select(None)));
        }
        shelves::nudge_keys(ui, scene, actions);
    }
}

/// Leads back from a page that does, where nothing else is left that Escape could mean; to be asked when all is drawn.
/// `is_taken` of the last frame: a field, a menu or a hand that it left alone then.
pub(super) fn escape(ui: &Ui, leads_back: bool, is_taken: &mut bool) -> Option<Action> {
    let pressed = ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
    let back = pressed && !*is_taken && leads_back;
    let focused = ui.memory(|memory| memory.focused().is_some());
    *is_taken = focused || egui::Popup::is_any_open(ui.ctx()) || ui.input(|i| i.pointer.any_down());
    back.then_some(Action::Go(Go::Back))
}

/// Names a key by its place on the keyboard where the layout has a sign in a letter's place: Hebrew
/// has a slash where Q is, and Ctrl with it means Q. Where it has a letter that is not Latin, egui
/// names the place already.
fn by_place(event: &mut Event) {
    let is_letter = |key: Key| (Key::A..=Key::Z).contains(&key);
    if let Event::Key { key, physical_key: Some(place), .. } = event
        && !is_letter(*key)
        && is_letter(*place)
    {
        *key = *place;
    }
}
