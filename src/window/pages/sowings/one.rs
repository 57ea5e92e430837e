//! One sowing with all that the grower says of it, and beside that what becomes of it.

use egui::Ui;

use crate::season::{Edit, EditLabel, Op, Sowing, SowingId};
use crate::words::{fields, sharing, sowing as said};

use super::dates::dates_ui;
use super::editor::Editor;
use super::lots::lots_ui;
use super::plants::{begun_ui, seed_ui, wanted_ui};
use super::steps::steps_ui;
use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, Field, beside_at_least_ui, small_button_ui, title_ui};
use crate::window::scene::Scene;

const FORM_PT: f32 = 566.0;
const DATES_PT: f32 = 260.0;

/// The copy that was made in this frame.
pub(super) fn sowing_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    let mut editor = Editor::new(scene, sowing, drafts, actions);
    let copied = head_ui(ui, &mut editor);
    beside_at_least_ui(
        ui,
        FORM_PT,
        DATES_PT,
        &mut editor,
        |ui, editor| {
            begun_ui(ui, editor);
            wanted_ui(ui, editor);
            if editor.sowing.begun.is_none() {
                seed_ui(ui, editor);
            }
            steps_ui(ui, editor);
            lots_ui(ui, editor);
            alone_ui(ui, editor);
            ui.add_space(6.0);
            ui.horizontal_wrapped(|ui| note_ui(ui, editor));
            ui.add_space(10.0);
        },
        |ui, editor| dates_ui(ui, scene, sowing, editor.actions),
    );
    ui.add_space(16.0);
    copied
}

fn head_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) -> Option<SowingId> {
    let mut copied = None;
    ui.horizontal_wrapped(|ui| {
        let (scene, id) = (editor.scene, editor.sowing.id);
        title_ui(ui, &scene.words().sowing(id));
        ui.add_space(8.0);
        if small_button_ui(ui, said::DUPLICATE, said::DUPLICATE) {
            let copy = editor.sowing.renumbered(scene.season.next_id());
            copied = Some(copy.id);
            let crop = scene.season.crop(scene.library, &copy.crop);
            let name = crop.map_or_else(|| copy.crop.to_string(), |crop| crop.name.clone());
            editor.actions.push(Action::edit(Edit::new(EditLabel::AddSowing(name), vec![Op::PutSowing(copy)])));
        }
        if small_button_ui(ui, said::RECORDS, said::RECORDS_OF_IT) {
            editor.actions.push(Action::Go(Go::Records(id)));
        }
        if small_button_ui(ui, fields::REMOVE, said::REMOVE) {
            editor.actions.push(Action::edit(Op::RemoveSowing(id)));
            editor.forget_all();
        }
    });
    ui.horizontal_wrapped(|ui| {
        let field = Field::new(said::VARIETY, editor.sowing.variety.clone()).width(200.0);
        editor.text_ui(ui, &field, |sowing, variety| sowing.variety = variety);
    });
    copied
}

/// Whether what does not fill a tray may share one.
fn alone_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    ui.add_space(6.0);
    let mut alone = editor.sowing.alone;
    ui.checkbox(&mut alone, sharing::ALONE).on_hover_text(sharing::WHAT_ALONE_DOES);
    if alone != editor.sowing.alone {
        editor.choose(|sowing| sowing.alone = alone);
    }
}

fn note_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    let field = Field::new(said::NOTE, editor.sowing.note.clone()).width(400.0);
    editor.text_ui(ui, &field, |sowing, note| sowing.note = note);
}
