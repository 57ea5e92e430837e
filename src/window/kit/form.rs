//! Fields that are read together: what is typed stays in them, with a reason beside each that can't be
//! right, until all of it can be taken.

use std::collections::BTreeMap;

use egui::{Button, Key, Response, Ui};

use crate::season::EditError;
use crate::units::LengthUnit;
use crate::words::{self, fields as said};

use super::drafts::{Drafts, Owner};
use super::fault::Fault;
use super::field::{Field, all_chosen, text_ui};
use super::focus::{is_pressed_away, is_written_in};
use super::row::{LABEL_PT, narrow_row_ui, reason_ui, soft_ui};

/// The fields of one owner, in the order they stand in.
pub(in crate::window) struct Form<'a> {
    owner: Owner,
    fields: Vec<Field<'a>>,
    /// Room for the labels.
    label_pt: f32,
    /// What a refusal says lengths in.
    unit: LengthUnit,
}

/// Reasons by the name of the field each belongs to; those of none at the foot of the form.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::window) struct FieldFaults(BTreeMap<String, String>);

/// What a form says at this moment.
#[derive(Clone, Debug)]
pub(in crate::window) struct Typed<T> {
    /// As it could be taken, or why not.
    pub(in crate::window) read: Result<T, FieldFaults>,
    /// As if what is wrong had not been typed: what can be drawn meanwhile.
    pub(in crate::window) drawn: Option<T>,
}

impl<T> Typed<T> {
    pub(in crate::window) fn faults(&self) -> FieldFaults {
        self.read.as_ref().err().cloned().unwrap_or_default()
    }
}

impl<'a> Form<'a> {
    pub(in crate::window) fn new(owner: Owner, fields: impl IntoIterator<Item = Field<'a>>) -> Self {
        Self { owner, fields: fields.into_iter().collect(), label_pt: LABEL_PT, unit: LengthUnit::default() }
    }

    /// With refusals that say lengths in that unit.
    pub(in crate::window) fn unit(self, unit: LengthUnit) -> Self {
        Self { unit, ..self }
    }

    /// With less room than usual for its labels.
    pub(in crate::window) fn label_pt(self, label_pt: f32) -> Self {
        Self { label_pt, ..self }
    }

    fn field(&self, name: &str) -> Option<&Field<'a>> {
        self.fields.iter().find(|field| field.name == name)
    }

    /// What all fields say together. `read` gives nothing where it has said of a field what is wrong;
    /// what it gives is taken where `may` has nothing against it.
    pub(in crate::window) fn typed<T: Clone>(
        &self,
        drafts: &Drafts,
        read: impl Fn(&mut Reader<'_>) -> Option<T>,
        may: impl Fn(&T) -> Result<(), EditError>,
    ) -> Typed<T> {
        let as_typed = |but: &FieldFaults| {
            let mut reader = Reader { form: self, drafts, but, faults: FieldFaults::default() };
            let value = read(&mut reader);
            (value, reader.faults)
        };
        let (value, mut faults) = as_typed(&FieldFaults::default());
        if let Some(value) = value.filter(|_| faults.0.is_empty()) {
            match may(&value) {
                Ok(()) => return Typed { drawn: Some(value.clone()), read: Ok(value) },
                Err(why) => drop(faults.0.insert(self.blamed(&why), words::refusal_in(&why, self.unit))),
            }
        }
        let drawn = as_typed(&faults).0;
        Typed { read: Err(faults), drawn }
    }

    /// The name of the field that a refusal of the season is about.
    fn blamed(&self, why: &EditError) -> String {
        let label = words::field(why.field);
        let by_id = self.fields.iter().find(|field| field.id == Some(why.field));
        let field = by_id.or_else(|| self.fields.iter().find(|field| field.label == label));
        field.map_or(label, |field| &field.name).to_owned()
    }

    /// Whether it is time to take what is typed: a field was left just now, or nobody is in any,
    /// because another page was shown meanwhile.
    pub(in crate::window) fn is_left(&self, ui: &Ui, drafts: &mut Drafts) -> bool {
        if is_pressed_away(ui) {
            return false;
        }
        let left = drafts.take_left(&self.owner) || !ui.ctx().text_edit_focused();
        left && drafts.has_any(&self.owner)
    }

    pub(in crate::window) fn is_typed(&self, drafts: &Drafts, name: &str) -> bool {
        drafts.text(&self.owner, name).is_some()
    }

    pub(in crate::window) fn text<'t>(&'t self, drafts: &'t Drafts, name: &str) -> &'t str {
        self.field(name).map_or("", |field| field.text(drafts, &self.owner))
    }

    /// As if that had been typed.
    pub(in crate::window) fn set(&self, drafts: &mut Drafts, name: &str, text: String) {
        drafts.set(&self.owner, name, text);
    }

    pub(in crate::window) fn forget(&self, drafts: &mut Drafts) {
        drafts.forget_all(&self.owner);
    }

    /// All its fields, one a line, and at its foot what belongs to none of them.
    pub(in crate::window) fn ui(&self, ui: &mut Ui, drafts: &mut Drafts, faults: &FieldFaults) {
        for field in &self.fields {
            self.line_ui(ui, drafts, faults, &field.name, |_| ());
        }
        self.foot_ui(ui, faults);
    }

    /// Whether Enter is pressed in one of them now: to be asked before they are drawn.
    pub(in crate::window) fn is_entered(&self, ui: &Ui) -> bool {
        let focused = ui.memory(egui::Memory::focused);
        let is_here = self.fields.iter().any(|field| Some(field.screen_id(&self.owner)) == focused);
        is_here && ui.input(|i| i.key_pressed(egui::Key::Enter))
    }

    pub(in crate::window) fn has_keys(&self, ui: &Ui, name: &str) -> bool {
        self.field(name).is_some_and(|field| ui.memory(|memory| memory.has_focus(field.screen_id(&self.owner))))
    }

    /// The keys go to one of them; what is typed next stands in place of what stands there.
    pub(in crate::window) fn focus(&self, ui: &Ui, drafts: &Drafts, name: &str) {
        if let Some(field) = self.field(name) {
            let id = field.screen_id(&self.owner);
            ui.memory_mut(|memory| memory.request_focus(id));
            all_chosen(ui, id, field.text(drafts, &self.owner), self.is_typed(drafts, name));
        }
    }

    /// One of them, with more behind it. Whether Enter was pressed in it just now.
    pub(in crate::window) fn line_ui(
        &self,
        ui: &mut Ui,
        drafts: &mut Drafts,
        faults: &FieldFaults,
        name: &str,
        beside: impl FnOnce(&mut Ui),
    ) -> bool {
        let Some(field) = self.field(name) else { return false };
        narrow_row_ui(ui, self.label_pt, &field.label, |ui, label| {
            let response = text_ui(ui, drafts, &self.owner, field, Some(label));
            beside(ui);
            self.why_ui(ui, drafts, faults, field);
            response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter))
        })
    }

    /// Several of them in a line, each with its label close before it.
    pub(in crate::window) fn several_ui<N: AsRef<str>>(
        &self,
        ui: &mut Ui,
        drafts: &mut Drafts,
        faults: &FieldFaults,
        names: &[N],
    ) {
        let fields = || names.iter().filter_map(|name| self.field(name.as_ref()));
        for field in fields() {
            if !field.label.is_empty() {
                ui.label(&*field.label);
            }
            text_ui(ui, drafts, &self.owner, field, None);
        }
        for field in fields() {
            self.why_ui(ui, drafts, faults, field);
        }
    }

    /// Nobody is told off in the middle of a word, nor for what is still to come.
    fn why_ui(&self, ui: &mut Ui, drafts: &Drafts, faults: &FieldFaults, field: &Field<'_>) {
        if let Some(why) = faults.0.get(&*field.name).filter(|_| self.is_said(ui, drafts, field)) {
            reason_ui(ui, why);
        }
    }

    fn is_said(&self, ui: &Ui, drafts: &Drafts, field: &Field<'_>) -> bool {
        let writing = is_written_in(ui, field.screen_id(&self.owner));
        let to_come = field.to_come && !self.is_typed(drafts, &field.name);
        !writing && !to_come
    }

    /// The button that takes what is typed. While it can't be, it says why under the pointer, and behind it where no
    /// field has said so already.
    pub(in crate::window) fn take_ui<T>(
        &self,
        ui: &mut Ui,
        drafts: &Drafts,
        typed: &Typed<T>,
        button: Button<'_>,
    ) -> Response {
        let response = ui.add_enabled(typed.read.is_ok(), button);
        let Err(faults) = &typed.read else { return response };
        let of = |field: &&Field<'_>| faults.0.contains_key(&*field.name);
        let unsaid = self.fields.iter().filter(of).find(|field| !self.is_said(ui, drafts, field));
        let Some(field) = unsaid.or_else(|| self.fields.iter().find(of)) else {
            return response.on_disabled_hover_text(faults.0.values().next().map_or("", String::as_str));
        };
        let why = faults.0.get(&*field.name).map_or_else(String::new, |why| said::of_field(&field.label, why));
        if unsaid.is_some() {
            soft_ui(ui, &why);
        }
        response.on_disabled_hover_text(why)
    }

    pub(in crate::window) fn foot_ui(&self, ui: &mut Ui, faults: &FieldFaults) {
        for (_, why) in faults.0.iter().filter(|(name, _)| self.field(name).is_none()) {
            reason_ui(ui, why);
        }
    }
}

/// Reads the fields of a form, and keeps what is wrong with each.
pub(in crate::window) struct Reader<'a> {
    form: &'a Form<'a>,
    drafts: &'a Drafts,
    /// Read as they are shown, whatever is typed in them.
    but: &'a FieldFaults,
    faults: FieldFaults,
}

impl Reader<'_> {
    pub(in crate::window) fn is_typed(&self, name: &str) -> bool {
        !self.but.0.contains_key(name) && self.form.is_typed(self.drafts, name)
    }

    pub(in crate::window) fn text(&self, name: &str) -> &str {
        let Some(field) = self.form.field(name) else { return "" };
        if self.is_typed(name) { field.text(self.drafts, &self.form.owner) } else { field.shown.trim() }
    }

    pub(in crate::window) fn read<T, F: Into<Fault>>(
        &mut self,
        name: &str,
        how: impl FnOnce(&str) -> Result<T, F>,
    ) -> Option<T> {
        match how(self.text(name)) {
            Ok(value) => Some(value),
            Err(why) => {
                self.fault(name, why);
                None
            }
        }
    }

    pub(in crate::window) fn fault(&mut self, name: &str, why: impl Into<Fault>) {
        self.faults.0.insert(name.to_owned(), why.into().into_text());
    }
}
