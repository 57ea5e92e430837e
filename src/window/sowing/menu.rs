//! What can be done with a sowing, wherever it is shown in a row.

use egui::{Response, Ui};

use crate::season::SowingId;
use crate::units::DateSpan;
use crate::words::{can_wait, menu, plan, sowing as said, sowings};

use crate::window::action::{Action, Go};
use crate::window::kit::{context_item_ui, context_ui, soft_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;

/// `by_key`: the keys are with its row.
pub(in crate::window) fn sowing_menu_ui(
    of: &Response,
    scene: &Scene<'_>,
    (sowing, by_key): (SowingId, bool),
    actions: &mut Vec<Action>,
) {
    context_ui(of, by_key, |ui| items_ui(ui, scene, sowing, actions));
}

fn items_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: SowingId, actions: &mut Vec<Action>) {
    soft_ui(ui, &scene.words().sowing(sowing));
    for (text, page) in [(plan::PAGE, Page::Plan), (menu::SOWINGS, Page::Sowings)] {
        if context_item_ui(ui, text) {
            actions.extend([Action::Go(Go::Sowing(sowing)), Action::Go(Go::Page(page))]);
        }
    }
    if context_item_ui(ui, said::RECORDS_OF_IT) {
        actions.push(Action::Go(Go::Records(sowing)));
    }
    if context_item_ui(ui, can_wait::OPEN) {
        actions.push(Action::Go(Go::Page(Page::CanWait)));
    }
    let spans = || scene.forecast.courses_of(sowing).flat_map(|course| &course.events).map(|event| event.date);
    let span = spans().min().zip(spans().max()).and_then(|(from, until)| DateSpan::new(from, until).ok());
    if let Some(span) = span {
        let day = scene.day.clamp(span.from(), span.last());
        if context_item_ui(ui, &sowings::show_on_shelves(day)) {
            actions.extend([Go::Day(day), Go::Highlight(Some(sowing)), Go::Page(Page::Shelves)].map(Action::Go));
        }
    }
}
