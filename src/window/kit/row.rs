//! A label of its own width with what belongs to it behind, and what else a page says in a line.

use egui::{Align, Button, Label, Layout, Response, RichText, Role, Ui, WidgetInfo, vec2};

use crate::window::theme::{self, Palette};
use crate::words::fields::with_aside;

use super::stop::{Named, Stop};

pub(in crate::window) const LABEL_PT: f32 = 148.0;

pub(in crate::window) fn row_ui<R>(ui: &mut Ui, label: &str, rest: impl FnOnce(&mut Ui, &Response) -> R) -> R {
    narrow_row_ui(ui, LABEL_PT, label, rest)
}

pub(in crate::window) fn narrow_row_ui<R>(
    ui: &mut Ui,
    width: f32,
    label: &str,
    rest: impl FnOnce(&mut Ui, &Response) -> R,
) -> R {
    let row = ui.horizontal_wrapped(|ui| {
        let size = vec2(width, 26.0);
        let label = ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_size(size);
            ui.add(Label::new(label).wrap())
        });
        rest(ui, &label.inner)
    });
    row.inner
}

pub(in crate::window) fn reason_ui(ui: &mut Ui, why: &str) {
    ui.add(Label::new(RichText::new(why).color(Palette::of(ui).trouble)).wrap());
}

pub(in crate::window) fn title_ui(ui: &mut Ui, title: &str) {
    ui.label(RichText::new(title).font(theme::strong(theme::TITLE_PT)));
}

/// The title of one part of several on a page.
pub(in crate::window) fn part_title_ui(ui: &mut Ui, title: &str) {
    ui.add_space(8.0);
    title_ui(ui, title);
    ui.add_space(2.0);
}

/// What explains, and asks for nothing.
pub(in crate::window) fn soft_ui(ui: &mut Ui, said: &str) {
    ui.add(Label::new(RichText::new(said).color(Palette::of(ui).soft_ink)).wrap());
}

pub(in crate::window) fn wrapped_ui(ui: &mut Ui, said: &str) {
    ui.add(Label::new(said).wrap());
}

/// One line behind a field, the whole of it under the pointer.
pub(in crate::window) fn aside_ui(ui: &mut Ui, said: &str) {
    let left = ui.available_size_before_wrap().x;
    // On a line of its own where too little is left behind the fields.
    let room = if left < 110.0 { ui.max_rect().width() } else { left };
    let text = theme::cut_at_a_word(ui.painter(), said, theme::small(), Palette::of(ui).soft_ink, room);
    ui.allocate_ui(vec2(room, 20.0), |ui| {
        let line = ui.add(Label::new(text));
        line.widget_info(|| WidgetInfo::labeled(Role::Label, true, said));
        line.on_hover_text(said);
    });
}

/// One thing to go to: what it is, more about it, where the click leads.
pub(in crate::window) fn thing_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    title: RichText,
    more: Option<&str>,
    leads: &str,
) -> bool {
    marked_thing_ui(ui, stop, (title, ""), more, leads)
}

/// The same with a mark at its end.
pub(in crate::window) fn marked_thing_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    (title, mark): (RichText, &str),
    more: Option<&str>,
    leads: &str,
) -> bool {
    ui.add_space(4.0);
    let said = with_aside(title.text(), mark);
    let button = Button::new(title).wrap().right_text(theme::bold(mark));
    let button = button.min_size(vec2(ui.available_width(), 32.0));
    let pressed = stop.row_ui(ui, button, Named { hover: leads, ..Named::new(&said) });
    if let Some(more) = more {
        ui.indent(("more", &said), |ui| ui.add(Label::new(more).wrap()));
    }
    pressed
}
