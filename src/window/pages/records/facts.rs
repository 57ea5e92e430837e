//! What follows from the records: how much came up, what is missing and until when it can be sown
//! again, and how few trays the plugs would fill.

use egui::{Button, Label, Ui, vec2};

use crate::forecast::{self, MadeUp, came_up, gap_up};
use crate::season::{Edit, EditLabel, Op, Sowing};
use crate::words::records as said;

use super::put::put;
use crate::window::action::Action;
use crate::window::kit::reason_ui;
use crate::window::scene::Scene;

pub(super) fn facts_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    if let Some(found) = came_up(sowing) {
        ui.add(Label::new(said::came_up(&found)).wrap());
    }
    for verdict in &sowing.verdicts {
        ui.add(Label::new(said::verdict_before(*verdict)).wrap());
    }
    too_few_ui(ui, scene, sowing, actions);
    together_ui(ui, scene, sowing, actions);
}

fn too_few_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let missing = forecast::missing(scene.season, scene.library, scene.forecast, sowing, scene.today);
    let Some(missing) = missing else { return };
    let too_late = missing.made_up.iter().any(|made_up| matches!(made_up, MadeUp::TooLate { .. }));
    if let Some(problem) = missing.problem {
        reason_ui(ui, &scene.words().missing(problem, too_late));
    }
    for made_up in missing.made_up {
        match made_up {
            MadeUp::By(again, starts) => drop(ui.label(said::sown_again(again.plants_wanted(), starts))),
            MadeUp::Offered(offer) => {
                ui.add(Label::new(said::how_much_seed(&offer)).wrap());
                let text = said::sow_more(missing.plants, offer.starts, offer.out);
                if ui.add(Button::new(text).min_size(vec2(160.0, 30.0))).clicked() {
                    let label = EditLabel::AddSowing(scene.words().sowing(sowing.id));
                    actions.push(Action::edit(Edit::new(label, vec![Op::PutSowing(offer.sowing)])));
                }
            }
            // said with what is missing
            MadeUp::TooLate { .. } => {}
        }
    }
}

/// Cells failed: fewer trays would hold the plugs.
fn together_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let Some(offer) = gap_up(scene.season, scene.library, scene.forecast, sowing, scene.day.min(scene.today)) else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        ui.label(said::gap_up(&offer));
        let text = said::gapped_up_on(offer.record.date);
        if ui.add(Button::new(text).min_size(vec2(160.0, 28.0))).clicked() {
            let label = EditLabel::AddRecord(scene.words().record_of(sowing, offer.record.what));
            actions.extend(put(scene, label, Op::PutRecord(sowing.id, offer.record)).ok());
        }
    });
}
