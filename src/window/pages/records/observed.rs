//! What was seen so far: each record with its day and number to change, and a way to take it out.

use std::collections::BTreeMap;

use egui::Ui;

use crate::season::{EditLabel, Observation, Observed, Op, Sowing};
use crate::words::{fields, records as said};

use super::put::put;
use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Fault, Field, Owner, State, bare_field_ui, date, small_button_ui, state_ui, whole, whole_or_none,
};
use crate::window::scene::Scene;

pub(super) fn observed_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    if sowing.seen.is_empty() {
        state_ui(ui, State::NothingSown, said::NOTHING_SEEN);
    }
    let mut alike = BTreeMap::new();
    for record in &sowing.seen {
        let name = scene.words().record_on(sowing, record);
        let number = alike.entry(name.clone()).or_insert(0_usize);
        let row = RecordRow { scene, sowing, record: *record, name: fields::numbered(&name, *number) };
        *number += 1;
        ui.horizontal_wrapped(|ui| row.row_ui(ui, drafts, actions));
    }
}

struct RecordRow<'a> {
    scene: &'a Scene<'a>,
    sowing: &'a Sowing,
    record: Observation,
    /// Told apart by it from other records, also while one of them goes or moves.
    name: String,
}

impl RecordRow<'_> {
    fn row_ui(&self, ui: &mut Ui, drafts: &mut Drafts, actions: &mut Vec<Action>) {
        self.day_ui(ui, drafts, actions);
        ui.label(self.scene.words().record_kind(self.record.what));
        if let Some(batch) = said::batch_of(self.sowing, self.record.lot) {
            ui.label(batch);
        }
        self.number_ui(ui, drafts, actions);
        if small_button_ui(ui, fields::REMOVE, &said::remove(&self.name)) {
            let remove = Op::RemoveRecord(self.sowing.id, self.record.id);
            let label = EditLabel::RemoveRecord(self.scene.words().record_of(self.sowing, self.record.what));
            actions.extend(put(self.scene, label, remove).ok());
        }
    }

    fn owner(&self) -> Owner {
        Owner::Record(self.record.id)
    }

    fn day_ui(&self, ui: &mut Ui, drafts: &mut Drafts, actions: &mut Vec<Action>) {
        let date = self.record.date;
        let field = Field::date("", date).named(said::day_of(&self.name)).width(100.0);
        let changed = bare_field_ui(ui, drafts, &self.owner(), &field, |text| {
            self.changed(Observation { date: date::near(text, date)?, ..self.record })
        });
        actions.extend(changed.flatten());
    }

    fn number_ui(&self, ui: &mut Ui, drafts: &mut Drafts, actions: &mut Vec<Action>) {
        let (what, hint) = match self.record.what {
            Observed::Sown { .. } | Observed::Up { .. } => (said::CELLS, said::UNCOUNTED),
            Observed::TrueLeaves(_) => (said::OF_THEM, ""),
            Observed::Lost { .. } | Observed::PutOut(_) | Observed::Sold(_) => (said::PLANTS, ""),
            _ => return,
        };
        let shown = self.record.what.number().map_or_else(String::new, |number| number.to_string());
        let field = Field::new("", shown).named(said::how_many(&self.name)).hint(hint).width(86.0);
        let changed = bare_field_ui(ui, drafts, &self.owner(), &field, |text| {
            self.changed(Observation { what: with_number(self.record.what, text)?, ..self.record })
        });
        actions.extend(changed.flatten());
        ui.label(what);
    }

    /// The edit that puts the record in this one's place; none where nothing is another.
    fn changed(&self, record: Observation) -> Result<Option<Action>, Fault> {
        if record == self.record {
            return Ok(None);
        }
        let label = EditLabel::ChangeRecord(self.scene.words().record_of(self.sowing, record.what));
        Ok(Some(put(self.scene, label, Op::PutRecord(self.sowing.id, record))?))
    }
}

/// The same with the number that is typed.
pub(super) fn with_number(what: Observed, text: &str) -> Result<Observed, Fault> {
    Ok(match what {
        Observed::Sown { .. } => Observed::Sown { cells: whole_or_none(text)? },
        Observed::Up { .. } => Observed::Up { plants: whole_or_none(text)? },
        Observed::TrueLeaves(_) => Observed::TrueLeaves(whole(text)?),
        Observed::Lost { why, .. } => Observed::Lost { plants: whole(text)?, why },
        Observed::PutOut(_) => Observed::PutOut(whole(text)?),
        Observed::Sold(_) => Observed::Sold(whole(text)?),
        what => what,
    })
}
