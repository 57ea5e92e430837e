//! What can be done with a tray or a shelf, where it is drawn: the menu of the other mouse button.

use egui::{Button, Response, Ui, vec2};

use crate::outlook::Placed;
use crate::season::{ShelfId, TrayKey, make};
use crate::window::action::{Action, Do, Go};
use crate::window::scene::Scene;
use crate::window::space::Space;
use crate::window::state::Page;
use crate::window::theme;
use crate::words::{menu as said, places, tray, ways_out};

use super::keys::{lift, pin, turn_selected};

/// Whether it was chosen; the menu closes then.
fn item_ui(ui: &mut Ui, text: &str) -> bool {
    let chosen = ui.add(Button::new(text).min_size(vec2(190.0, theme::TARGET_PT + 2.0))).clicked();
    if chosen {
        ui.close();
    }
    chosen
}

/// The tray under it is looked at as well, so that keys and panel are about the same one.
pub(super) fn tray_menu(response: &Response, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    if response.secondary_clicked() && !scene.selection.holds(one.id.tray) {
        actions.push(Action::Go(Go::Select(Some(one.id.tray))));
    }
    response.context_menu(|ui| tray_menu_ui(ui, scene, one, actions));
}

fn tray_menu_ui(ui: &mut Ui, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    ui.label(theme::bold(scene.mark(one.stay)));
    if let Some(spot) = one.spot {
        if item_ui(ui, tray::TURN) {
            turn_selected(scene, actions);
        }
        if item_ui(ui, if spot.pinned { tray::UNPIN } else { tray::PIN }) {
            pin(scene, actions);
        }
        if item_ui(ui, tray::LIFT) {
            lift(scene, actions);
        }
        if item_ui(ui, &said::look_at(&scene.words().shelf(spot.shelf))) {
            actions.push(Action::Go(Go::Space(Some(Space::Shelf(spot.shelf)))));
        }
    } else {
        if item_ui(ui, tray::FIND_IT_A_SPOT) {
            actions.push(Action::Do(Do::FindSpotFor(one.id.tray)));
        }
        let short = scene.outlook.is_some_and(|outlook| !outlook.crunches.is_empty());
        if short && item_ui(ui, ways_out::OPEN) {
            actions.push(Action::Go(Go::Page(Page::MakeRoom)));
        }
    }
    ui.separator();
    for sowing in scene.forecast.sowings_on(one.stay, scene.day) {
        let name = scene.words().sowing(sowing);
        if item_ui(ui, &said::in_the_plan(&name)) {
            actions.extend([Go::Sowing(sowing), Go::Page(Page::Plan)].map(Action::Go));
        }
        if item_ui(ui, &said::records_of(&name)) {
            actions.push(Action::Go(Go::Records(sowing)));
        }
    }
    let later = scene.forecast.moved_on_from(one.id.tray);
    if !later.is_empty() && item_ui(ui, tray::OUTLINE_LATER) {
        actions.push(Action::Go(Go::Select(Some(one.id.tray))));
        actions.push(Action::Go(Go::Later(true)));
    }
}

pub(super) fn shelf_menu_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    id: ShelfId,
    here: Vec<TrayKey>,
    actions: &mut Vec<Action>,
) {
    let Some(shelf) = scene.season.shelf(id) else { return };
    ui.label(theme::bold(scene.words().shelf(id)));
    if item_ui(ui, said::CHANGE_SHELF) {
        actions.push(Action::Go(Go::Space(Some(Space::Shelf(id)))));
    }
    if item_ui(ui, said::CHANGE_RACK) {
        actions.push(Action::Go(Go::Space(Some(Space::Rack(shelf.rack)))));
    }
    if !here.is_empty() && item_ui(ui, said::CHOOSE_ALL_HERE) {
        actions.push(Action::Go(Go::Choose(here)));
    }
    if item_ui(ui, places::COPY_BELOW) {
        let (edit, copy) = make::copy_below(scene.season, shelf);
        actions.push(Action::edit(edit));
        actions.push(Action::Go(Go::Space(Some(Space::Shelf(copy)))));
    }
    if item_ui(ui, places::REMOVE_SHELF) {
        actions.push(Action::edit(make::remove(scene.season, shelf)));
    }
}
