//! How long each work of a sowing can wait before a day is short of room.

use egui::Ui;

use crate::season::Sowing;
use crate::words::can_wait;

use crate::window::action::{Action, Do};
use crate::window::kit::soft_ui;
use crate::window::scene::Scene;
use crate::window::theme;

/// Comes when it is worked out, below all else, so that nothing moves then.
pub(in crate::window) fn can_wait_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let Some(waits) = scene.waits.filter(|_| scene.outlook.is_some() && scene.outlook_is_fresh) else { return };
    if waits.is_open(scene.revision, sowing.id) {
        actions.push(Action::Do(Do::WorkOutWaits(Some(sowing.id))));
    }
    let events = scene.forecast.courses_of(sowing.id).flat_map(|course| &course.events);
    let mut slacks: Vec<_> = events.filter_map(|event| waits.of(scene.revision, sowing.id, event)).collect();
    slacks.dedup_by_key(|slack| slack.work);
    if slacks.is_empty() {
        return;
    }
    ui.add_space(6.0);
    ui.label(theme::bold(can_wait::OF_ONE));
    for slack in slacks {
        soft_ui(ui, &scene.words().last_safe_day(slack));
    }
}
