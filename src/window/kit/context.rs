//! A menu of what can be done with one thing: by the right mouse button, by Shift and F10, or by the menu key.

use egui::{Button, Id, Key, Modifiers, Popup, Response, SetOpenCommand, Ui, vec2};

use crate::window::theme;

/// `by_key`: the keys are with that thing.
pub(in crate::window) fn context_ui(of: &Response, by_key: bool, menu: impl FnOnce(&mut Ui)) {
    let (ctx, opened_by_key) = (&of.ctx, of.id.with("menu_by_key"));
    let pressed = by_key
        && ctx.input_mut(|i| i.consume_key(Modifiers::SHIFT, Key::F10) || i.consume_key(Modifiers::NONE, Key::Menu));
    // also where something else of it lies over it
    let here = of.contains_pointer() && ctx.input(|i| i.pointer.secondary_clicked());
    let mut popup = Popup::context_menu(of);
    if pressed {
        ctx.data_mut(|data| {
            data.insert_temp(opened_by_key, true);
            data.insert_temp(first(), true);
        });
        popup = popup.open_memory(SetOpenCommand::Bool(true));
    } else if here {
        popup = popup.open_memory(SetOpenCommand::Bool(true));
        ctx.data_mut(|data| data.remove::<bool>(opened_by_key));
    }
    // where the hand is not, it opens at the thing itself
    if ctx.data(|data| data.get_temp::<bool>(opened_by_key)).is_some() {
        popup = popup.at_position(of.rect.left_bottom() + vec2(24.0, 0.0));
    }
    popup.show(menu);
}

/// One thing that can be done. Opened by a key, the keys go on from the first.
pub(in crate::window) fn context_item_ui(ui: &mut Ui, text: &str) -> bool {
    let item = ui.add(Button::new(text).min_size(vec2(200.0, theme::TARGET_PT)));
    if ui.data_mut(|data| data.remove_temp::<bool>(first())).is_some() {
        item.request_focus();
    }
    item.clicked()
}

fn first() -> Id {
    Id::unique("first_item_of_a_menu")
}
