//! What was seen so far: each record with its day and number to change, and a way to take it out.

use std::collections::BTreeMap;

use chrono::Days;
use egui::{RichText, Ui};

use crate::season::{EditLabel, Observation, Observed, Sowing};
use crate::units::read_date;
use crate::words;

use super::put;
use crate::window::action::{Action, Go};
use crate::window::kit::old_typed::{Fields, Look, whole, whole_or_none};
use crate::window::kit::pick_ui;
use crate::window::kit::{remove_at, small_button_ui};
use crate::window::scene::Scene;
use crate::window::theme::Palette;

pub(super) fn observed_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    fields: &mut Fields,
    actions: &mut Vec<Action>,
) {
    if sowing.seen.is_empty() {
        let said = "Nothing yet: the plan stands as it was made";
        ui.label(RichText::new(said).color(Palette::of(ui).soft_ink));
    }
    let mut alike = BTreeMap::new();
    for (at, record) in sowing.seen.iter().enumerate() {
        let mut name = format!("{} {}", kind(scene, record.what), words::day(record.date));
        let number = alike.entry(name.clone()).or_insert(0_usize);
        *number += 1;
        if *number > 1 {
            name = format!("{name}, {number}");
        }
        let mut row = Row { scene, sowing, at, record: *record, name, fields, actions };
        ui.horizontal_wrapped(|ui| row.row_ui(ui));
    }
}

/// The record without its number: what its fields are known by while the number is changed.
fn kind(scene: &Scene<'_>, what: Observed) -> String {
    match what {
        Observed::Sown { .. } => "sown".to_owned(),
        Observed::Up { .. } => "up".to_owned(),
        Observed::TrueLeaves(_) => "true leaves".to_owned(),
        Observed::Lost { why, .. } => format!("lost, {}", words::loss_name(why)),
        Observed::PutOut(_) => "put out".to_owned(),
        Observed::Sold(_) => "sold".to_owned(),
        Observed::MovedOn(_) | Observed::GappedUp | Observed::Grown(_) => scene.words().record(what),
    }
}

struct Row<'a, 'b> {
    scene: &'a Scene<'a>,
    sowing: &'a Sowing,
    at: usize,
    record: Observation,
    /// Told apart by it from other records, also while one of them goes or moves.
    name: String,
    fields: &'b mut Fields,
    actions: &'b mut Vec<Action>,
}

impl Row<'_, '_> {
    fn row_ui(&mut self, ui: &mut Ui) {
        self.day_ui(ui);
        ui.label(kind(self.scene, self.record.what));
        self.number_ui(ui);
        if small_button_ui(ui, "Remove", &format!("Remove: {}", self.name)) {
            let mut next = self.sowing.clone();
            remove_at(&mut next.seen, self.at);
            let label = EditLabel::RemoveRecord(self.scene.words().record_of(self.sowing, self.record.what));
            self.actions.extend(put(self.scene.season, label, next).ok());
        }
    }

    fn day_ui(&mut self, ui: &mut Ui) {
        let name = format!("Day: {}", self.name);
        let date = self.record.date;
        // without a year the nearest such day is meant
        let near = date.checked_sub_days(Days::new(183)).unwrap_or(date);
        let shown = date.format("%-d %b %Y").to_string();
        self.field_ui(ui, &Look::bare(&name, 100.0), &shown, |text, record| {
            record.date = read_date(text, near).map_err(|why| why.to_string())?;
            Ok(())
        });
        if let Some(picked) = pick_ui(ui, &name, date) {
            self.fields.forget_one(self.sowing.id.0, &name);
            match self.changed(Observation { date: picked, ..self.record }) {
                Ok(action) => self.actions.extend(action),
                Err(why) => self.actions.push(Action::Go(Go::Complain(format!("Not done: {why}")))),
            }
        }
    }

    fn number_ui(&mut self, ui: &mut Ui) {
        let (what, hint) = match self.record.what {
            Observed::Sown { .. } | Observed::Up { .. } => ("cells", "uncounted"),
            Observed::TrueLeaves(_) => ("of them", ""),
            Observed::Lost { .. } | Observed::PutOut(_) | Observed::Sold(_) => ("plants", ""),
            Observed::MovedOn(_) | Observed::GappedUp | Observed::Grown(_) => return,
        };
        let name = format!("How many: {}", self.name);
        let shown = self.record.what.number().map_or_else(String::new, |number| number.to_string());
        self.field_ui(ui, &Look { hint, ..Look::bare(&name, 86.0) }, &shown, |text, record| {
            record.what = with_number(record.what, text)?;
            Ok(())
        });
        ui.label(what);
    }

    fn field_ui(
        &mut self,
        ui: &mut Ui,
        look: &Look<'_>,
        shown: &str,
        change: impl FnOnce(&str, &mut Observation) -> Result<(), String>,
    ) {
        let mut fields = std::mem::take(self.fields);
        fields.field_ui(ui, self.sowing.id.0, look, shown, |text| {
            let mut record = self.record;
            change(text, &mut record)?;
            self.actions.extend(self.changed(record)?);
            Ok(())
        });
        *self.fields = fields;
    }

    /// The edit that puts the record in this one's place; none where nothing is another.
    fn changed(&self, record: Observation) -> Result<Option<Action>, String> {
        if record == self.record {
            return Ok(None);
        }
        let mut next = self.sowing.clone();
        if let Some(one) = next.seen.get_mut(self.at) {
            *one = record;
        }
        next.seen.sort_by_key(|seen| seen.date);
        let label = EditLabel::ChangeRecord(self.scene.words().record_of(self.sowing, record.what));
        put(self.scene.season, label, next).map(Some).map_err(|why| words::refusal(&why))
    }
}

/// The same with the number that is typed.
pub(super) fn with_number(what: Observed, text: &str) -> Result<Observed, String> {
    Ok(match what {
        Observed::Sown { .. } => Observed::Sown { cells: whole_or_none(text)? },
        Observed::Up { .. } => Observed::Up { plants: whole_or_none(text)? },
        Observed::TrueLeaves(_) => Observed::TrueLeaves(whole(text)?),
        Observed::Lost { why, .. } => Observed::Lost { plants: whole(text)?, why },
        Observed::PutOut(_) => Observed::PutOut(whole(text)?),
        Observed::Sold(_) => Observed::Sold(whole(text)?),
        Observed::MovedOn(_) | Observed::GappedUp | Observed::Grown(_) => what,
    })
}
