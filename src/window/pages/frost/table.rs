//! Taking the last frost from a typed table, in the sense that the grower says it has.

use egui::Ui;

use crate::forecast::frost_near;
use crate::store::{Sense, read_frost_table};
use crate::trade::frost_of_table;
use crate::words::frost as said;

use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Fault, Field, Owner, able_button_ui, area_ui, button, choice_ui, part_title_ui, reason_ui, row_ui, soft_ui,
};
use crate::window::last_frost::put_frost;
use crate::window::scene::Scene;

const SENSES: [(Option<Sense>, &str); 2] =
    [(Some(Sense::Later), said::LATER_COMES), (Some(Sense::Over), said::IS_OVER)];
const OWNER: Owner = Owner::Form("frost_table");

#[derive(Default)]
pub(super) struct TableForm {
    /// Nothing is taken for granted.
    sense: Option<Sense>,
    refused: Option<String>,
}

pub(super) fn table_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    form: &mut TableForm,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    part_title_ui(ui, said::FROM_TABLE);
    soft_ui(ui, said::WHAT_TABLE);
    let field = Field::new(said::TABLE, "").hint(said::TABLE_HINT).width(420.0);
    if area_ui(ui, drafts, &OWNER, &field, 4) {
        form.refused = None;
    }
    form.sense = choice_ui(ui, said::CHANCES_ARE, form.sense, &SENSES).unwrap_or(form.sense);
    let text = drafts.text(&OWNER, said::TABLE).unwrap_or("");
    row_ui(ui, "", |ui, _| {
        let why_not = text.trim().is_empty().then_some(said::TABLE_FIRST);
        if able_button_ui(ui, button(said::TAKE_TABLE), why_not) {
            match taken(scene, text, form.sense) {
                Ok(action) => {
                    form.refused = None;
                    actions.push(action);
                }
                Err(why) => form.refused = Some(why.into_text()),
            }
        }
    });
    if let Some(why) = &form.refused {
        reason_ui(ui, why);
    }
}

fn taken(scene: &Scene<'_>, text: &str, sense: Option<Sense>) -> Result<Action, Fault> {
    let sense = sense.ok_or(said::SAY_THE_SENSE)?;
    let near = frost_near(scene.season).unwrap_or_else(|| scene.near());
    let table = read_frost_table(text, sense, near).map_err(|why| match why.at {
        Some(at) => said::at_line(at.line, at.col, &why.kind.to_string()),
        None => why.to_string(),
    })?;
    let now = scene.season.settings().frost.as_ref();
    let frost = frost_of_table(table, now).map_err(|why| why.to_string())?;
    put_frost(scene, Some(frost))
}
