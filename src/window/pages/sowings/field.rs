//! Fields that keep what was typed until it is taken, with the reason beside what was refused.

use std::collections::BTreeMap;

use egui::{ComboBox, Key, PopupCloseBehavior, Response, RichText, ScrollArea, TextEdit, Ui, vec2};

use crate::window::theme::{self, Palette};

/// What stands in fields and isn't in the season, by sowing and field.
#[derive(Default)]
pub(in crate::window) struct Fields {
    drafts: BTreeMap<(u32, String), Draft>,
}

struct Draft {
    text: String,
    refused: Option<String>,
}

/// How a field looks.
pub(in crate::window) struct Look<'a> {
    /// For the screen reader, and for the eye where `label` is set.
    pub(in crate::window) name: &'a str,
    pub(in crate::window) label: bool,
    pub(in crate::window) width: f32,
    pub(in crate::window) hint: &'a str,
}

impl<'a> Look<'a> {
    pub(in crate::window) const fn labelled(name: &'a str, width: f32) -> Self {
        Self { name, label: true, width, hint: "" }
    }

    pub(in crate::window) const fn bare(name: &'a str, width: f32) -> Self {
        Self { name, label: false, width, hint: "" }
    }
}

impl Fields {
    /// Forgets what was typed for a sowing that is gone.
    pub(in crate::window) fn forget(&mut self, sowing: u32) {
        self.drafts.retain(|(id, _), _| *id != sowing);
    }

    /// Forgets what was typed in one of its fields.
    pub(in crate::window) fn forget_one(&mut self, sowing: u32, field: &str) {
        self.drafts.retain(|(id, name), _| *id != sowing || name != field);
    }

    /// A field that shows `shown` until something else is typed; `take` gets that once it is left,
    /// and says why not.
    pub(in crate::window) fn field_ui(
        &mut self,
        ui: &mut Ui,
        sowing: u32,
        look: &Look<'_>,
        shown: &str,
        take: impl FnOnce(&str) -> Result<(), String>,
    ) {
        let key = (sowing, look.name.to_owned());
        let mut text = self.drafts.get(&key).map_or_else(|| shown.to_owned(), |draft| draft.text.clone());
        let label = look.label.then(|| ui.label(look.name));
        let field = TextEdit::singleline(&mut text)
            .id(egui::Id::unique(("sowing field", &key)))
            .hint_text(look.hint)
            .desired_width(look.width)
            .min_size(vec2(look.width, theme::TARGET_PT));
        let response = ui.add(field);
        let response = match label {
            Some(label) => response.labelled_by(label.id),
            None => named(response, look.name),
        };
        if response.changed() {
            self.drafts.insert(key.clone(), Draft { text, refused: None });
        }
        if !response.has_focus()
            && let Some(draft) = self.drafts.get_mut(&key)
        {
            let given_up = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape));
            if given_up || draft.text.trim() == shown {
                self.drafts.remove(&key);
            } else if draft.refused.is_none() {
                match take(draft.text.trim()) {
                    Ok(()) => drop(self.drafts.remove(&key)),
                    Err(why) => draft.refused = Some(why),
                }
            }
        }
        if let Some(why) = self.drafts.get(&key).and_then(|draft| draft.refused.as_deref()) {
            let room = ui.available_size_before_wrap().x.max(200.0);
            ui.vertical(|ui| {
                ui.set_max_width(room);
                ui.label(RichText::new(why).color(Palette::of(ui).trouble));
            });
            ui.end_row();
        }
    }
}

/// A few choices are seen at once.
const CHOICES_PT: f32 = 380.0;

/// Names what has no label of its own beside it.
pub(in crate::window) fn named(response: Response, name: &str) -> Response {
    response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
    response
}

/// A choice among a few.
pub(in crate::window) fn choice_ui<T: Copy + PartialEq>(
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

/// A choice among many, found by part of the name. The answer is the number of the one chosen.
pub(in crate::window) fn search_ui(ui: &mut Ui, name: &str, width: f32, shown: &str, all: &[String]) -> Option<usize> {
    let mut chosen = None;
    let id = ui.scope_id().with(("search", name));
    let combo = ComboBox::from_id_salt(name)
        .width(width)
        .truncate()
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .selected_text(shown)
        .show_ui(ui, |ui| {
            ui.set_min_width(260.0);
            let mut part = ui.data(|data| data.get_temp::<String>(id)).unwrap_or_default();
            let field = TextEdit::singleline(&mut part).hint_text("Part of the name").min_size(vec2(0.0, 24.0));
            let field = named(ui.add(field.desired_width(f32::INFINITY)), "Find a container");
            let wanted = part.trim().to_lowercase();
            let mut fits = all.iter().enumerate().filter(|(_, one)| one.to_lowercase().contains(&wanted)).peekable();
            if field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
                chosen = fits.peek().map(|(at, _)| *at);
            }
            ScrollArea::vertical().max_height(220.0).show(ui, |ui| {
                if fits.peek().is_none() {
                    ui.label("No container of that name");
                }
                for (at, one) in fits {
                    if ui.selectable_label(one == shown, one).clicked() {
                        chosen = Some(at);
                    }
                }
            });
            if chosen.is_some() {
                part.clear();
                ui.close();
            }
            ui.data_mut(|data| data.insert_temp(id, part));
        });
    named(combo.response, name);
    chosen
}

/// A whole number; a comma or a point in it is refused, never left out.
pub(in crate::window) fn whole<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    match text.parse() {
        Ok(number) if digits => Ok(number),
        _ if digits => Err(format!("found {text}, which is too large")),
        _ if text.is_empty() => Err("nothing is written here; write a whole number".to_owned()),
        _ => Err(format!("found {text:?}; write a whole number")),
    }
}

/// The same, or nothing where nothing is written.
pub(in crate::window) fn whole_or_none<T: std::str::FromStr>(text: &str) -> Result<Option<T>, String> {
    if text.is_empty() { Ok(None) } else { whole(text).map(Some) }
}
