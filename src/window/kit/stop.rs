//! Rows of any height and buttons in them that are one Tab stop together: arrows lead from one to the next, Home and End to
//! the first and the last, Enter does what a click does. The one that the keys are with has the ring, and a screen reader
//! hears its name behind that of all.

use std::fmt::Debug;
use std::hash::Hash;

use egui::{
    Button, CornerRadius, EventFilter, Id, Key, Modifiers, Pos2, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui,
    Vec2, WidgetInfo, vec2,
};

use crate::window::theme::{self, Palette};
use crate::words::fields::with_aside;

use super::beside::{is_cut, tip_beside, whole_beside};

/// What is left of a frame for the next one.
#[derive(Clone, Copy, Debug, Default)]
struct Known {
    /// The one that the keys are with.
    at: usize,
    number: usize,
    size: Vec2,
}

pub(in crate::window) struct Stop {
    has_keys: bool,
    /// The keys came to another, or to the list.
    moved: bool,
    pressed: bool,
    at: usize,
    /// The name of the one that the keys are with.
    here: String,
    number: usize,
    lowest: Pos2,
}

/// How one of them looks and is called.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::window) struct Named<'a> {
    /// For a screen reader.
    pub(in crate::window) name: &'a str,
    /// Under the pointer; nothing where it is empty.
    pub(in crate::window) hover: &'a str,
    /// What it leads to is shown.
    pub(in crate::window) chosen: Option<bool>,
}

impl<'a> Named<'a> {
    pub(in crate::window) const fn new(name: &'a str) -> Self {
        Self { name, hover: "", chosen: None }
    }
}

/// `id` is unlike that of any other list, `name` what a screen reader calls all of it. Where there are no rows there is
/// no stop.
pub(in crate::window) fn stop_ui<R>(
    ui: &mut Ui,
    id: impl Hash + Debug,
    name: &str,
    rows: impl FnOnce(&mut Ui, &mut Stop) -> R,
) -> R {
    let id = Id::unique(("stop", id));
    let known = ui.data(|data| data.get_temp::<Known>(id)).unwrap_or_default();
    let corner = ui.cursor().min;
    let (at, number) = (known.at.min(known.number.saturating_sub(1)), 0);
    let mut stop =
        Stop { has_keys: false, moved: false, pressed: false, at, here: String::new(), number, lowest: corner };
    // before its rows, so that Tab and a screen reader come to it where it stands
    let all = (known.number > 0)
        .then(|| ui.interact(Rect::from_min_size(corner, known.size), id, Sense::focusable_noninteractive()));
    if let Some(all) = all.as_ref().filter(|all| all.has_focus()) {
        stop.has_keys = true;
        stop.moved = all.gained_focus();
        stop.follow_keys(ui, id, known.number);
    }
    let result = rows(ui, &mut stop);
    if let Some(all) = all {
        all.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, with_aside(name, &stop.here)));
    } else if stop.number > 0 {
        ui.ctx().request_repaint();
    }
    let known = Known { at: stop.at, number: stop.number, size: stop.lowest - corner };
    ui.data_mut(|data| data.insert_temp(id, known));
    result
}

impl Stop {
    fn follow_keys(&mut self, ui: &Ui, id: Id, number: usize) {
        let filter = EventFilter { vertical_arrows: true, horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
        let last = number.saturating_sub(1);
        let before = self.at;
        if pressed(Key::ArrowDown) || pressed(Key::ArrowRight) {
            self.at = (self.at + 1).min(last);
        } else if pressed(Key::ArrowUp) || pressed(Key::ArrowLeft) {
            self.at = self.at.saturating_sub(1);
        } else if pressed(Key::Home) {
            self.at = 0;
        } else if pressed(Key::End) {
            self.at = last;
        }
        self.moved |= self.at != before;
        self.pressed = pressed(Key::Enter) || pressed(Key::Space);
    }

    /// The next of them; whether it was pressed, by the pointer or by keys.
    pub(in crate::window) fn row_ui(&mut self, ui: &mut Ui, button: Button<'_>, named: Named<'_>) -> bool {
        let at = self.number;
        self.number += 1;
        let response = ui.add(button.sense(Sense::CLICK));
        response.widget_info(|| match named.chosen {
            Some(chosen) => WidgetInfo::selected(Role::Button, true, chosen, named.name),
            None => WidgetInfo::labeled(Role::Button, true, named.name),
        });
        self.lowest = self.lowest.max(response.rect.max);
        let has_keys = self.has_keys && at == self.at;
        if has_keys {
            named.name.clone_into(&mut self.here);
            let stroke = Stroke::new(2.0, Palette::of(ui).selected);
            ui.painter().rect_stroke(response.rect, CornerRadius::same(4), stroke, StrokeKind::Inside);
            if self.moved {
                response.scroll_to_me(None);
            }
        }
        let clicked = response.clicked();
        // a row may not be covered by what is told of another
        let is_row = response.rect.width() >= 0.8 * ui.max_rect().width();
        let repeats = named.hover == named.name;
        if is_row && repeats && is_cut(&response) {
            let rows = response.rect;
            whole_beside(response, rows, named.hover);
        } else if is_row && !repeats {
            tip_beside(&response, response.rect, named.hover);
        } else if !is_row && !named.hover.is_empty() {
            response.on_hover_text(named.hover);
        }
        if clicked {
            self.at = at;
        }
        clicked || (has_keys && self.pressed)
    }

    /// A button in a line with others; its name tells it from those of the same text.
    pub(in crate::window) fn small_button_ui(&mut self, ui: &mut Ui, text: &str, name: &str) -> bool {
        let text = RichText::new(text).color(Palette::of(ui).ink);
        self.row_ui(ui, Button::new(text).min_size(vec2(64.0, theme::TARGET_PT)), Named::new(name))
    }
}
