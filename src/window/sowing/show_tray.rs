use crate::season::TrayKey;

use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::state::Page;

/// On the shelves, on its first day.
pub(in crate::window) fn show_tray(scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let first = scene.forecast.stays_of(tray).map(|stay| stay.span.from()).min();
    actions.extend(first.map(|day| Action::Go(Go::Day(day))));
    actions.push(Action::Go(Go::Page(Page::Shelves)));
    actions.push(Action::Go(Go::Select(Some(tray))));
}
