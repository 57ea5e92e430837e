//! Fields that keep what was typed until it is taken, with the reason beside what was refused.

use std::collections::BTreeMap;

use egui::{Key, RichText, TextEdit, Ui, vec2};

use crate::window::kit::{Fault, named};
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
            .id(egui::Id::unique(("sowing_field", &key)))
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

/// A whole number; a comma or a point in it is refused, never left out.
pub(in crate::window) fn whole<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    crate::window::kit::whole(text).map_err(Fault::into_text)
}

/// The same, or nothing where nothing is written.
pub(in crate::window) fn whole_or_none<T: std::str::FromStr>(text: &str) -> Result<Option<T>, String> {
    crate::window::kit::whole_or_none(text).map_err(Fault::into_text)
}
