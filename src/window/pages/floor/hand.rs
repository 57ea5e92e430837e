//! A rack in the hand, shown where it would come to stand before it does; and what keys do to the one that is chosen.

use egui::{Align2, CursorIcon, EventFilter, Key, Modifiers, Pos2, Rect, Response, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::outlook::{FloorOf, RackOutline, outline};
use crate::season::{EditLabel, Rack, Stands, Wall, faces};
use crate::units::{Length, LengthUnit, Measure};
use crate::words::floor as said;

use crate::window::action::{Action, Do};
use crate::window::scene::Scene;
use crate::window::shelves::{dashed_rect_ui, hatch_ui, mm};
use crate::window::theme::{self, Palette};

use super::sheet::{Sheet, front};
use super::state::{FloorPage, InHand, put};

/// Walls and racks draw from this far.
const SNAP_PT: f32 = 8.0;

/// Off all edges a rack comes to stand on whole centimetres, or half inches.
const fn grid(unit: LengthUnit) -> Length {
    match unit {
        LengthUnit::Inch => Length::from_units(101_600),
        _ => Length::from_mm(10),
    }
}

/// Whole steps of the keys; the larger one with Shift.
const fn steps(unit: LengthUnit) -> [Length; 2] {
    match unit {
        LengthUnit::Inch => [Length::from_units(203_200), Length::from_units(2_438_400)],
        _ => [Length::from_mm(10), Length::from_mm(100)],
    }
}

fn typed(scene: &Scene<'_>, (x, y): (Length, Length), quarter_turns: u8) -> Stands {
    Stands { x: Measure::of(x, scene.unit), y: Measure::of(y, scene.unit), quarter_turns }
}

/// Carries the rack along with the pointer; ends on release, Escape, or when the window loses it.
pub(super) fn in_hand_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    floor: &FloorOf,
    sheet: &Sheet,
    actions: &mut Vec<Action>,
) {
    let Some(mut hand) = page.hand else { return };
    let given_up = ui.input_mut(|i| {
        let lost = i.events.iter().any(|event| matches!(event, egui::Event::WindowFocused(false)));
        lost || i.consume_key(Modifiers::NONE, Key::Escape)
    });
    let of = scene.season.rack(hand.rack).zip(outline(scene.season, hand.rack));
    let Some((rack, outline)) = of.filter(|_| !given_up) else {
        page.hand = None;
        ui.ctx().stop_dragging();
        return;
    };
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::R)) {
        let (_, depth) = outline.turned(hand.quarter_turns);
        hand.grab_mm = vec2(mm(depth) - hand.grab_mm.y, hand.grab_mm.x);
        hand.quarter_turns = (hand.quarter_turns + 1) % 4;
        page.hand = Some(hand);
    }
    let (pointer, released, down) =
        ui.input(|i| (i.pointer.latest_pos(), i.pointer.primary_released(), i.pointer.primary_down()));
    let there = pointer.filter(|pos| sheet.pane.contains(*pos));
    let aim = there.map(|pos| aim(scene, floor, &hand, &outline, sheet, pos));
    if released || !down {
        page.hand = None;
        ui.request_repaint();
        if let Some(at) = aim.filter(|_| released) {
            page.chosen = Some(rack.id);
            let there = rack.stands.as_ref().map(|now| ((now.x.value(), now.y.value()), now.quarter_turns));
            if there != Some((at, hand.quarter_turns)) {
                let stands = typed(scene, at, hand.quarter_turns);
                actions.push(Action::edit(put(rack, Some(stands), EditLabel::MoveRack)));
            }
        }
        return;
    }
    ui.set_cursor_icon(CursorIcon::Grabbing);
    let size = outline.turned(hand.quarter_turns);
    let front_to = faces(hand.quarter_turns);
    match (aim, pointer) {
        (Some(at), _) => {
            let over = floor.in_its_place(rack.id, at, size);
            let rect = sheet.on_screen(at, size);
            ghost_ui(ui, (rect, front_to), &scene.words().would_stand(at.0, at.1, &over), over.is_empty());
        }
        (None, Some(pos)) => {
            let corner = pos - hand.grab_mm * sheet.zoom;
            let rect = Rect::from_min_size(corner, vec2(mm(size.0), mm(size.1)) * sheet.zoom);
            ghost_ui(ui, (rect, front_to), said::NOT_ON_FLOOR, false);
        }
        (None, None) => {}
    }
}

/// The corner that is meant with the pointer there.
fn aim(
    scene: &Scene<'_>,
    floor: &FloorOf,
    hand: &InHand,
    outline: &RackOutline,
    sheet: &Sheet,
    pos: Pos2,
) -> (Length, Length) {
    let corner = (pos - sheet.corner) / sheet.zoom - hand.grab_mm;
    let whole = |at: f32| Length::try_from_mm(f64::from(at)).unwrap_or_default();
    let (reach, at) = (whole(SNAP_PT / sheet.zoom), (whole(corner.x), whole(corner.y)));
    floor.let_go(hand.rack, outline.turned(hand.quarter_turns), at, (reach, grid(scene.unit)))
}

fn ghost_ui(ui: &Ui, (rect, faces): (Rect, Wall), said: &str, fits: bool) {
    let palette = Palette::of(ui);
    let layer = egui::LayerId::new(egui::Order::Foreground, egui::Id::unique("rack_in_hand"));
    let painter = ui.ctx().layer_painter(layer);
    let edge = if fits { palette.selected } else { palette.trouble };
    painter.rect_filled(rect, 0, palette.panel.gamma_multiply(0.7));
    if !fits {
        hatch_ui(&painter, rect, Stroke::new(1.0, edge.gamma_multiply(0.6)), 8.0);
    }
    dashed_rect_ui(&painter, rect, Stroke::new(2.0, edge), 7.0, 4.0);
    painter.line_segment(front(rect.shrink(1.5), faces), Stroke::new(3.5, edge));
    let galley = painter.layout(said.to_owned(), theme::strong(theme::SMALL_PT), edge, 320.0);
    let below = rect.bottom() + galley.size().y + 10.0 < ui.content_rect().bottom();
    let at = pos2(rect.center().x, if below { rect.bottom() + 6.0 } else { rect.top() - 6.0 });
    let anchor = if below { Align2::CENTER_TOP } else { Align2::CENTER_BOTTOM };
    let scrap = anchor.anchor_size(at, galley.size());
    painter.rect_filled(scrap.expand(3.0), 2, palette.shelf);
    painter.galley(scrap.min, galley, edge);
    let response = ui.interact(Rect::NOTHING, egui::Id::unique("rack_ghost_says"), egui::Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Status, true, said));
}

/// Where a rack comes to stand that is turned once more: its corner stays, within the room.
pub(super) fn turned(scene: &Scene<'_>, floor: &FloorOf, rack: &Rack, quarter_turns: u8) -> Option<Stands> {
    let (now, outline) = (rack.stands.as_ref()?, outline(scene.season, rack.id)?);
    let stays = (now.x.value(), now.y.value());
    let at = floor.within(stays, outline.turned(quarter_turns));
    // what was typed stays as it was typed where it is still so
    let stands = if at == stays { Stands { quarter_turns, ..now.clone() } } else { typed(scene, at, quarter_turns) };
    Some(stands)
}

/// Arrows move the chosen rack, R turns it, Delete takes it off, Page Down and Up choose another.
pub(super) fn keys_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    floor: &FloorOf,
    sheet: &Response,
    actions: &mut Vec<Action>,
) {
    // keys mean the one in the hand while there is one
    if !sheet.has_focus() || page.hand.is_some() {
        return;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(sheet.id, arrows));
    let pressed = |modifiers, key| ui.input_mut(|i| i.consume_key(modifiers, key));
    let at = page.chosen.and_then(|chosen| floor.racks.iter().position(|rack| *rack == chosen));
    if pressed(Modifiers::NONE, Key::PageDown) {
        page.chosen = floor.racks.get(at.map_or(0, |at| at + 1)).or(floor.racks.first()).copied();
    } else if pressed(Modifiers::NONE, Key::PageUp) {
        let before = at.and_then(|at| at.checked_sub(1));
        page.chosen = before.and_then(|at| floor.racks.get(at)).or(floor.racks.last()).copied();
    }
    let chosen = page.chosen.and_then(|rack| scene.season.rack(rack));
    let Some((rack, now)) = chosen.and_then(|rack| Some((rack, rack.stands.as_ref()?))) else { return };
    let Some(outline) = outline(scene.season, rack.id) else { return };
    if pressed(Modifiers::NONE, Key::R) {
        let stands = turned(scene, floor, rack, (now.quarter_turns + 1) % 4);
        actions.push(Action::edit(put(rack, stands, EditLabel::TurnRack)));
        return;
    }
    if pressed(Modifiers::NONE, Key::Delete) || pressed(Modifiers::NONE, Key::Backspace) {
        actions.push(Action::edit(put(rack, None, EditLabel::RackOffPlan)));
        return;
    }
    let [small, large] = steps(scene.unit);
    let (mut x, mut y) = (now.x.value(), now.y.value());
    for (modifiers, step) in [(Modifiers::SHIFT, large), (Modifiers::NONE, small)] {
        for (key, by) in [(Key::ArrowLeft, -step), (Key::ArrowRight, step)] {
            x += if pressed(modifiers, key) { by } else { Length::ZERO };
        }
        for (key, by) in [(Key::ArrowUp, -step), (Key::ArrowDown, step)] {
            y += if pressed(modifiers, key) { by } else { Length::ZERO };
        }
    }
    let to = floor.within((x, y), outline.turned(now.quarter_turns));
    if (x, y) != (now.x.value(), now.y.value()) && to != (now.x.value(), now.y.value()) {
        let edit = put(rack, Some(typed(scene, to, now.quarter_turns)), EditLabel::MoveRack);
        actions.push(Action::Do(Do::Nudge(edit)));
    }
}
