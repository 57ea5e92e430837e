//! Keys that mean something else while someone is writing in a field.

use egui::output::OutputEvent;
use egui::{Event, Key, KeyboardShortcut, Modifiers, Ui};

use super::action::{Do, File};
use super::menu;

/// File commands work there too: the field is left first, so that what stands in it counts. To be
/// carried out after what the field answers.
pub(super) fn left_for(ui: &Ui) -> Option<File> {
    if !ui.ctx().text_edit_focused() {
        return None;
    }
    let keys = [
        (menu::SAVE_AS, File::SaveAs),
        (menu::SAVE, File::Save),
        (menu::OPEN, File::Open),
        (menu::NEW, File::NewSeason),
        (menu::QUIT, File::Close),
    ];
    let (_, asked) = keys.into_iter().find(|(keys, _)| ui.input_mut(|i| i.consume_shortcut(keys)))?;
    leave(ui.ctx());
    Some(asked)
}

/// Ends writing; the field hears of it when it is drawn next.
pub(super) fn leave(ctx: &egui::Context) {
    ctx.memory_mut(|memory| {
        if let Some(field) = memory.focused() {
            memory.surrender_focus(field);
        }
    });
}

/// In a field `Ctrl+Z` takes back what was written; when that is used up, the season's last step.
/// To be asked when all fields are drawn.
pub(super) fn beyond_field(ui: &Ui) -> Option<Do> {
    if !ui.ctx().text_edit_focused() {
        return None;
    }
    let was_text = ui.ctx().output(|output| {
        let changed = |event: &OutputEvent| match event {
            OutputEvent::ValueChanged(info) => info.prev_text_value.is_some(),
            _ => false,
        };
        output.events.iter().any(changed)
    });
    if was_text {
        return None;
    }
    let pressed = |keys: &KeyboardShortcut| {
        let hit = |event: &Event| match event {
            Event::Key { key, pressed: true, modifiers, .. } => {
                *key == keys.logical_key && modifiers.matches_exact(keys.modifiers)
            }
            _ => false,
        };
        ui.input(|i| i.events.iter().any(hit))
    };
    if pressed(&menu::UNDO) {
        Some(Do::Undo)
    } else if pressed(&menu::REDO) || pressed(&KeyboardShortcut::new(Modifiers::COMMAND, Key::Y)) {
        Some(Do::Redo)
    } else {
        None
    }
}
