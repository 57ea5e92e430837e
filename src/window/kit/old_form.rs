//! A form that is taken as a whole: what is typed stays in it, with a reason beside each field
//! that can't be right, until all of it can be taken.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use egui::{Id, Key, Ui};

use crate::season::EditError;
use crate::units::{LengthUnit, Measure, read_date};
use crate::words;

use crate::window::kit::old_fields::text_ui;
use crate::window::kit::{pick_ui, reason_ui, row_ui};

/// What is typed and not taken yet, by the name of its field.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct Form {
    typed: BTreeMap<String, String>,
    /// A field was left in this frame; what is typed may be taken.
    left: bool,
}

/// Reasons, by the name of the field each belongs to.
pub(in crate::window) type Faults = BTreeMap<String, String>;

impl Form {
    pub(in crate::window) fn has(&self, name: &str) -> bool {
        self.typed.contains_key(name)
    }

    pub(in crate::window) fn set(&mut self, name: &str, text: &str) {
        self.typed.insert(name.to_owned(), text.to_owned());
        self.left = true;
    }

    pub(in crate::window) fn forget(&mut self, name: &str) {
        self.typed.remove(name);
    }

    /// As if what is wrong had not been typed: what can be drawn meanwhile.
    pub(in crate::window) fn without(&self, faults: &Faults) -> Self {
        let mut rest = self.clone();
        rest.typed.retain(|name, _| !faults.contains_key(name));
        rest
    }

    /// Whether it is time to take what is typed. Also true when nobody is in any field: another
    /// page was shown meanwhile.
    pub(in crate::window) fn is_left(&mut self, ui: &Ui) -> bool {
        let left = std::mem::take(&mut self.left) || !ui.ctx().text_edit_focused();
        left && !self.typed.is_empty()
    }

    pub(in crate::window) fn text<'a>(&'a self, name: &str, shown: &'a str) -> &'a str {
        self.typed.get(name).map_or(shown, String::as_str)
    }
}

/// Reads all fields of a form, and keeps what is wrong with each.
pub(in crate::window) struct Reader<'a> {
    form: &'a Form,
    pub(in crate::window) faults: Faults,
}

impl<'a> Reader<'a> {
    pub(in crate::window) const fn new(form: &'a Form) -> Self {
        Self { form, faults: Faults::new() }
    }

    pub(in crate::window) fn read<T>(
        &mut self,
        name: &str,
        shown: &str,
        how: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        match how(self.form.text(name, shown).trim()) {
            Ok(value) => Some(value),
            Err(why) => {
                self.faults.insert(name.to_owned(), why);
                None
            }
        }
    }

    pub(in crate::window) fn fault(&mut self, name: &str, why: &str) {
        self.faults.insert(name.to_owned(), why.to_owned());
    }

    /// The season's reason, beside the field that it names.
    pub(in crate::window) fn refused(&mut self, why: &EditError) {
        self.fault(words::field(why.field), &words::refusal(why));
    }

    pub(in crate::window) fn date(&mut self, name: &str, shown: &str, near: NaiveDate) -> Option<NaiveDate> {
        self.read(name, shown, |text| read_date(text, near).map_err(|why| why.to_string()))
    }
}

/// A length, or `None` where nothing is written.
pub(in crate::window) fn length_or_none(text: &str, unit: LengthUnit) -> Result<Option<Measure>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    Measure::parse_length(text, Some(unit)).map(Some).map_err(|why| why.to_string())
}

/// The fields of one form as they are drawn.
pub(in crate::window) struct Lines<'a> {
    pub(in crate::window) form: &'a mut Form,
    pub(in crate::window) faults: &'a Faults,
    /// Told apart from the fields of the same name in other forms.
    pub(in crate::window) of: Id,
}

impl Lines<'_> {
    /// One line: label, field, reason.
    pub(in crate::window) fn line_ui(&mut self, ui: &mut Ui, name: &str, shown: &str, hint: &str, width: f32) {
        self.line_with_ui(ui, name, shown, hint, width, |_| ());
    }

    /// The same with more behind the field.
    pub(in crate::window) fn line_with_ui(
        &mut self,
        ui: &mut Ui,
        name: &str,
        shown: &str,
        hint: &str,
        width: f32,
        beside: impl FnOnce(&mut Ui),
    ) {
        row_ui(ui, name, |ui, label| {
            self.text_ui(ui, name, shown, hint, width, Some(label.id));
            beside(ui);
            self.why_ui(ui, name);
        });
    }

    /// A line whose label is shorter than its name, because others have the same label. What `beside`
    /// gives is taken as if it had been typed.
    pub(in crate::window) fn named_ui(
        &mut self,
        ui: &mut Ui,
        (label, name): (&str, &str),
        (shown, hint): (&str, &str),
        width: f32,
        beside: impl FnOnce(&mut Ui) -> Option<String>,
    ) {
        row_ui(ui, label, |ui, _| {
            self.text_ui(ui, name, shown, hint, width, None);
            if let Some(given) = beside(ui) {
                self.form.set(name, &given);
            }
            self.why_ui(ui, name);
        });
    }

    /// A date, and a month to pick it from.
    pub(in crate::window) fn date_ui(&mut self, ui: &mut Ui, name: &str, shown: &str, date: NaiveDate, width: f32) {
        row_ui(ui, name, |ui, label| {
            self.text_ui(ui, name, shown, "15 Mar", width, Some(label.id));
            if let Some(picked) = pick_ui(ui, name, date) {
                self.form.set(name, &picked.to_string());
            }
            self.why_ui(ui, name);
        });
    }

    /// Several fields behind one label; each has a name of its own, and a short one beside it.
    pub(in crate::window) fn several_ui(
        &mut self,
        ui: &mut Ui,
        label: &str,
        fields: &[(&str, &str, &str)],
        beside: impl FnOnce(&mut Ui),
    ) {
        row_ui(ui, label, |ui, _| {
            self.fields_ui(ui, fields);
            beside(ui);
        });
    }

    /// The same without a label before them all.
    pub(in crate::window) fn fields_ui(&mut self, ui: &mut Ui, fields: &[(&str, &str, &str)]) {
        for (short, name, shown) in fields {
            if !short.is_empty() {
                ui.label(*short);
            }
            let width = if shown.len() > 4 { 74.0 } else { 44.0 };
            self.text_ui(ui, name, shown, "", width, None);
        }
        for (_, name, _) in fields {
            self.why_ui(ui, name);
        }
    }

    fn text_ui(&mut self, ui: &mut Ui, name: &str, shown: &str, hint: &str, width: f32, label: Option<Id>) {
        let mut text = self.form.text(name, shown).to_owned();
        let response = text_ui(ui, &mut text, self.of.with(name), hint, width);
        let response = if let Some(label) = label {
            response.labelled_by(label)
        } else {
            response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
            response
        };
        if response.changed() {
            self.form.typed.insert(name.to_owned(), text);
        }
        if response.lost_focus() {
            self.form.left = true;
            let given_up = ui.input(|i| i.key_pressed(Key::Escape));
            if given_up || self.form.text(name, shown).trim() == shown {
                self.form.forget(name);
            }
        }
    }

    /// Nobody is told off in the middle of a word.
    fn why_ui(&self, ui: &mut Ui, name: &str) {
        if ui.memory(|memory| memory.has_focus(self.of.with(name))) {
            return;
        }
        if let Some(why) = self.faults.get(name) {
            reason_ui(ui, why);
        }
    }
}
