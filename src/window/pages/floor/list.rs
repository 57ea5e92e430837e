//! Which place, and its racks: those on its floor, and those that are not there yet.

use egui::{Button, Id, ScrollArea, Sense, Ui, WidgetInfo, vec2};

use crate::outlook::{FloorOf, outline};
use crate::season::{EditLabel, Place, PlaceId, Rack, Stands};
use crate::units::Measure;
use crate::words::floor as said;

use crate::window::action::Action;
use crate::window::kit::{List, Named, Row, State, Stop, button, drop_down_ui, list_ui, state_ui, stop_ui};
use crate::window::scene::Scene;
use crate::window::shelves::mm;
use crate::window::theme;

use super::state::{FloorPage, InHand, put};

pub(super) fn listed_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    (place, floor): (&Place, Option<&FloorOf>),
    actions: &mut Vec<Action>,
) {
    let places: Vec<(PlaceId, &str)> = scene.season.places().map(|place| (place.id, place.name.as_str())).collect();
    ui.label(said::WHICH);
    if let Some(other) = drop_down_ui(ui, said::WHICH, ui.available_width() - 12.0, place.id, &places) {
        page.look_at(other, None);
    }
    ui.add_space(8.0);
    let all = scene.season.racks().into_iter().filter(|rack| rack.place == place.id);
    let (on, off): (Vec<&Rack>, Vec<&Rack>) =
        all.filter(|rack| outline(scene.season, rack.id).is_some()).partition(|rack| rack.stands.is_some());
    if on.is_empty() && off.is_empty() {
        state_ui(ui, State::Empty, said::NO_RACKS);
    }
    if let Some(floor) = floor.filter(|_| !off.is_empty()) {
        ui.label(theme::bold(said::NOT_YET));
        // most of a season's racks may still be to come
        let most = if on.is_empty() { f32::INFINITY } else { ui.available_height() * 0.6 };
        ScrollArea::vertical().max_height(most).auto_shrink([false, true]).show(ui, |ui| {
            stop_ui(ui, "not_on_the_floor", said::NOT_YET, |ui, stop| {
                for rack in &off {
                    not_yet_ui(ui, (scene, stop), page, floor, rack, actions);
                }
            });
        });
        ui.add_space(8.0);
    }
    if !on.is_empty() {
        ui.label(theme::bold(said::ON_IT));
        let row = |at: usize| on.get(at).map_or_else(Row::default, |rack| Row::new(rack.name.as_str(), ""));
        let chosen = on.iter().position(|rack| page.chosen == Some(rack.id));
        let chosen = list_ui(ui, &List::new("floor_racks", said::ON_IT), on.len(), chosen, row);
        if let Some(rack) = chosen.and_then(|at| on.get(at)) {
            page.chosen = Some(rack.id);
        }
    }
}

fn not_yet_ui(
    ui: &mut Ui,
    (scene, stop): (&Scene<'_>, &mut Stop),
    page: &mut FloorPage,
    floor: &FloorOf,
    rack: &Rack,
    actions: &mut Vec<Action>,
) {
    let Some(outline) = outline(scene.season, rack.id) else { return };
    let size = outline.turned(0);
    // what can be dragged is no Tab stop: the button below it does the same
    let row =
        ui.add(Button::new(&rack.name).min_size(vec2(ui.available_width(), theme::TARGET_PT)).sense(Sense::hover()));
    let name = said::drag_on(&rack.name);
    let hold = ui.interact(row.rect, Id::unique(("not_on_floor", rack.id)), Sense::DRAG);
    hold.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
    if hold.hovered() {
        ui.set_cursor_icon(egui::CursorIcon::Grab);
    }
    if hold.drag_started() {
        let grab_mm = vec2(mm(size.0), mm(size.1)) / 2.0;
        page.hand = Some(InHand { rack: rack.id, grab_mm, quarter_turns: 0 });
    }
    let text = said::put_on(&rack.name);
    if stop.row_ui(ui, button(&text), Named::new(&text)) {
        let (x, y) = floor.free_corner(rack.id, size);
        let [x, y] = [x, y].map(|at| Measure::of(at, scene.unit));
        page.chosen = Some(rack.id);
        actions.push(Action::edit(put(rack, Some(Stands { x, y, quarter_turns: 0 }), EditLabel::MoveRack)));
    }
    ui.add_space(4.0);
}
