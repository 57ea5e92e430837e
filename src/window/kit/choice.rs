//! Choices and buttons.

use egui::{Button, ComboBox, Key, PopupCloseBehavior, RichText, ScrollArea, TextEdit, Ui, WidgetInfo, vec2};

use crate::window::glyphs::{Glyph, glyph_ui};
use crate::window::theme::{self, Palette};
use crate::words::{containers, fields};

use super::field::named;
use super::row::{row_ui, soft_ui};
use super::stop::{Named, stop_ui};

/// A few choices are seen at once.
const CHOICES_PT: f32 = 380.0;

pub(in crate::window) fn button_ui(ui: &mut Ui, text: &str) -> bool {
    ui.add(button(text)).clicked()
}

/// As large as buttons are below a form.
pub(in crate::window) fn button(text: &str) -> Button<'_> {
    Button::new(text).min_size(vec2(72.0, 28.0))
}

/// A button that can't be pressed for that reason: it says so under the pointer, and behind it.
pub(in crate::window) fn able_button_ui(ui: &mut Ui, button: Button<'_>, why_not: Option<&str>) -> bool {
    let response = ui.add_enabled(why_not.is_none(), button);
    let Some(why) = why_not else { return response.clicked() };
    response.on_disabled_hover_text(why);
    soft_ui(ui, why);
    false
}

/// A button in a line of fields; its name tells it from others of the same text.
pub(in crate::window) fn small_button_ui(ui: &mut Ui, text: &str, name: &str) -> bool {
    let text = RichText::new(text).color(Palette::of(ui).ink);
    let button = ui.add(Button::new(text).min_size(vec2(64.0, theme::TARGET_PT)));
    button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, name));
    button.clicked()
}

/// Yes or no; gives what it was changed to.
pub(in crate::window) fn check_ui(ui: &mut Ui, text: &str, now: bool) -> Option<bool> {
    let mut wanted = now;
    row_ui(ui, "", |ui, _| ui.checkbox(&mut wanted, text));
    (wanted != now).then_some(wanted)
}

/// Choices beside each other, each with its name; gives the one that was chosen now.
pub(in crate::window) fn choice_ui<T: Copy + PartialEq>(
    ui: &mut Ui,
    label: &str,
    now: T,
    choices: &[(T, &str)],
) -> Option<T> {
    let mut chosen = None;
    row_ui(ui, label, |ui, _| {
        ui.horizontal_wrapped(|ui| {
            for (value, name) in choices {
                let shown = short(name);
                let is_cut = shown != *name;
                let mut choice = ui.radio(*value == now, shown);
                if is_cut {
                    choice.widget_info(|| WidgetInfo::selected(egui::Role::RadioButton, true, *value == now, *name));
                    choice = choice.on_hover_text(*name);
                }
                if choice.clicked() && *value != now {
                    chosen = Some(*value);
                }
            }
        });
    });
    chosen
}

/// A name that leaves room for others beside it.
fn short(name: &str) -> String {
    if name.chars().count() <= 40 {
        return name.to_owned();
    }
    let start: String = name.chars().take(39).collect();
    format!("{}…", start.rsplit_once(' ').map_or(start.as_str(), |(words, _)| words))
}

/// A choice among a few, behind a button that shows the one that counts.
pub(in crate::window) fn drop_down_ui<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    width: f32,
    current: T,
    all: &[(T, &str)],
) -> Option<T> {
    let shown = all.iter().find(|(one, _)| *one == current).map_or("", |(_, text)| text);
    let mut chosen = None;
    let combo = ComboBox::from_id_salt(name).width(width).height(CHOICES_PT);
    let combo = combo.selected_text(shown).show_ui(ui, |ui| {
        for (one, text) in all {
            if ui.selectable_label(*one == current, *text).clicked() && *one != current {
                chosen = Some(*one);
            }
        }
    });
    named(combo.response, name);
    chosen
}

/// What a choice among many says of itself.
pub(in crate::window) struct Search<'a> {
    pub(in crate::window) name: &'a str,
    /// The name of the field for part of a name, and its hint.
    pub(in crate::window) find: &'a str,
    pub(in crate::window) hint: &'a str,
    /// Where nothing has that part in its name.
    pub(in crate::window) none: &'a str,
    pub(in crate::window) width: f32,
}

impl<'a> Search<'a> {
    /// Among containers.
    pub(in crate::window) const fn container(name: &'a str, width: f32) -> Self {
        let (find, none, hint) = (containers::FIND, containers::NONE_OF_THAT_NAME, fields::PART_OF_A_NAME);
        Self { name, find, hint, none, width }
    }
}

/// A choice among many, found by part of the name. The answer is the number of the one chosen.
/// Each with its picture.
pub(in crate::window) fn search_ui(
    ui: &mut Ui,
    search: &Search<'_>,
    shown: &str,
    all: &[(String, Option<Glyph>)],
) -> Option<usize> {
    let mut chosen = None;
    let id = ui.scope_id().with(("search", search.name));
    let combo = ComboBox::from_id_salt(search.name)
        .width(search.width)
        .truncate()
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .selected_text(shown)
        .show_ui(ui, |ui| {
            ui.set_min_width(260.0);
            // of a list that is open just now: nothing that is lost with it
            let (shown_at, part, had_keys) =
                ui.data(|data| data.get_temp::<(u64, String, bool)>(id)).unwrap_or_default();
            let now = ui.ctx().cumulative_pass_nr();
            let opens = shown_at + 1 < now;
            let mut part = if opens { String::new() } else { part };
            let field = TextEdit::singleline(&mut part).hint_text(search.hint).min_size(vec2(0.0, theme::TARGET_PT));
            let field = named(ui.add(field.desired_width(f32::INFINITY)), search.find);
            // not before it is drawn for the first time, after its size is known
            let had_keys = (had_keys && !opens) || field.has_focus();
            if !had_keys {
                field.request_focus();
            }
            let wanted = part.trim().to_lowercase();
            let mut fits =
                all.iter().enumerate().filter(|(_, (one, _))| one.to_lowercase().contains(&wanted)).peekable();
            if field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
                chosen = fits.peek().map(|(at, _)| *at);
            }
            ScrollArea::vertical().max_height(220.0).show(ui, |ui| {
                if fits.peek().is_none() {
                    ui.label(search.none);
                }
                stop_ui(ui, "found", search.name, |ui, stop| {
                    for (at, (one, glyph)) in fits {
                        ui.horizontal(|ui| {
                            glyph_before_ui(ui, *glyph);
                            let named = Named { chosen: Some(one == shown), ..Named::new(one) };
                            if stop.row_ui(ui, Button::selectable(one == shown, one), named) {
                                chosen = Some(at);
                            }
                        });
                    }
                });
            });
            if chosen.is_some() {
                ui.close();
            }
            ui.data_mut(|data| data.insert_temp(id, (now, part, had_keys)));
        });
    named(combo.response, search.name);
    chosen
}

/// As wide where there is none.
fn glyph_before_ui(ui: &mut Ui, glyph: Option<Glyph>) {
    let (_, rect) = ui.allocate_space(vec2(16.0, 16.0));
    if let Some(glyph) = glyph {
        glyph_ui(ui.painter(), rect, glyph, Palette::of(ui).soft_ink);
    }
}
