//! Taking the last frost from a typed table, in the sense that the grower says it has.

use egui::{Id, Label, RichText, TextEdit, Ui};

use crate::forecast::frost_near;
use crate::store::{Sense, read_frost_table};
use crate::trade::frost_of_table;

use super::{put_frost, title_ui};
use crate::window::action::Action;
use crate::window::kit::{button_ui, choice_ui, reason_ui, row_ui};
use crate::window::scene::Scene;
use crate::window::theme::Palette;

const SENSES: [(Option<Sense>, &str); 2] =
    [(Some(Sense::Later), "a later frost comes"), (Some(Sense::Over), "the last frost is over")];

#[derive(Default)]
pub(super) struct TableForm {
    text: String,
    /// Nothing is taken for granted.
    sense: Option<Sense>,
    refused: Option<String>,
}

pub(super) fn table_ui(ui: &mut Ui, scene: &Scene<'_>, form: &mut TableForm, actions: &mut Vec<Action>) {
    title_ui(ui, "From a table");
    let said = "A line for each temperature, or a head of chances with a row for each; a year is not needed";
    ui.add(Label::new(RichText::new(said).color(Palette::of(ui).soft_ink)).wrap());
    row_ui(ui, "Table", |ui, label| {
        let hint = "36 F: 50% 11 Apr, 10% 18 May\n32 F: 50% 10 Mar, 10% 22 Apr";
        let field = TextEdit::multiline(&mut form.text).id(Id::unique("frost table")).hint_text(hint);
        let response = ui.add(field.desired_rows(4).desired_width(420.0)).labelled_by(label.id);
        if response.changed() {
            form.refused = None;
        }
    });
    form.sense = choice_ui(ui, "Its chances are that", form.sense, &SENSES).unwrap_or(form.sense);
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(!form.text.trim().is_empty(), |ui| {
            if button_ui(ui, "Take the table") {
                match taken(scene, form) {
                    Ok(action) => {
                        form.refused = None;
                        actions.push(action);
                    }
                    Err(why) => form.refused = Some(why),
                }
            }
        });
    });
    if let Some(why) = &form.refused {
        reason_ui(ui, why);
    }
}

fn taken(scene: &Scene<'_>, form: &TableForm) -> Result<Action, String> {
    let sense = form.sense.ok_or("say what its chances are chances of: publications mean either")?;
    let near = frost_near(scene.season).unwrap_or_else(|| scene.near());
    let table = read_frost_table(&form.text, sense, near).map_err(|why| match why.at {
        Some(at) => format!("Line {}, column {}: {}", at.line, at.col, why.kind),
        None => why.to_string(),
    })?;
    let now = scene.season.settings().frost.as_ref();
    let frost = frost_of_table(table, now).map_err(|why| why.to_string())?;
    put_frost(scene, Some(frost))
}
