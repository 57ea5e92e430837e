//! Lamps and heat mats dragged in the drawing of their shelf: by their middle they move, by the
//! grip at the front right corner they change size. The fields beside do the same by keys.

use egui::{CornerRadius, CursorIcon, Id, Key, Modifiers, Rect, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2};

use crate::season::{Op, Shelf, Zone, ZoneKind};
use crate::units::{Length, LengthUnit, Measure, unit_of};
use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::window::state::ZoneInHand;
use crate::window::theme::{self, Palette};
use crate::words::places as said;

use super::board::mm;
use super::paint::{self, dashed_rect_ui};

const GRIP_PT: f32 = 24.0;

/// The shelf from above by itself, with its zones to drag.
pub(in crate::window) fn one_shelf_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    shelf: &Shelf,
    hand: &mut Option<ZoneInHand>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let (on_screen, zoom) = paint::one_shelf_ui(ui, palette, shelf, &scene.shelf_name(shelf, 0), scene.unit);
    zones_ui(ui, scene, shelf, (on_screen, zoom), hand, actions);
}

/// Its zones, to be dragged where the shelf is drawn.
pub(in crate::window) fn zones_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    shelf: &Shelf,
    (on_screen, zoom): (Rect, f32),
    hand: &mut Option<ZoneInHand>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    if hand.is_some_and(|hand| hand.shelf != shelf.id) {
        *hand = None;
    }
    if hand.is_some() && ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape)) {
        *hand = None;
        ui.ctx().stop_dragging();
    }
    for (at, zone) in shelf.zones.iter().enumerate() {
        let rect = on_screen_rect(zone, on_screen, zoom);
        let grip = Rect::from_center_size(rect.max - Vec2::splat(GRIP_PT / 4.0), Vec2::splat(GRIP_PT))
            .intersect(rect.expand(GRIP_PT / 2.0));
        let parts = [(false, rect, said::move_zone(zone.kind, at)), (true, grip, said::size_zone(zone.kind, at))];
        for (resizes, rect, name) in parts {
            let response = ui.interact(rect, Id::unique(("zone", shelf.id, at, resizes)), Sense::drag());
            response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
            if response.hovered() {
                ui.set_cursor_icon(if resizes { CursorIcon::ResizeNwSe } else { CursorIcon::Grab });
            }
            if response.drag_started() {
                *hand = Some(ZoneInHand { shelf: shelf.id, at, resizes, moved: Vec2::ZERO });
            }
            let Some(held) = hand.as_mut().filter(|held| held.at == at && held.resizes == resizes) else { continue };
            held.moved += response.drag_delta();
            let new = dragged(shelf, zone, held, zoom, scene.unit);
            if response.drag_stopped() {
                *hand = None;
                if new != *zone {
                    let mut shelf = shelf.clone();
                    if let Some(one) = shelf.zones.get_mut(at) {
                        *one = new;
                    }
                    actions.push(Action::edit(Op::PutShelf(shelf)));
                }
            } else {
                held_ui(ui, palette, &new, on_screen_rect(&new, on_screen, zoom));
            }
        }
        let (stroke, dash) = match zone.kind {
            ZoneKind::Lamp => (palette.lamp, (2.0, 3.0)),
            ZoneKind::Heat => (palette.mat, (6.0, 3.0)),
        };
        dashed_rect_ui(ui.painter(), rect, Stroke::new(1.5, stroke), dash.0, dash.1);
        let corner = Rect::from_min_max(rect.max - Vec2::splat(8.0), rect.max);
        ui.painter().rect(
            corner,
            CornerRadius::same(1),
            palette.shelf,
            Stroke::new(1.2, palette.ink),
            StrokeKind::Inside,
        );
    }
}

fn on_screen_rect(zone: &Zone, on_screen: Rect, zoom: f32) -> Rect {
    let corner = vec2(mm(zone.x.value()), mm(zone.y.value())) * zoom;
    Rect::from_min_size(on_screen.min + corner, vec2(mm(zone.width.value()), mm(zone.depth.value())) * zoom)
}

/// The zone where it would come to lie: on whole steps, and on its shelf.
fn dragged(shelf: &Shelf, zone: &Zone, held: &ZoneInHand, zoom: f32, unit: LengthUnit) -> Zone {
    // a quarter of an inch, or 5 mm
    let step = if unit == LengthUnit::Inch { 50_800 } else { 40_000 };
    let moved = |start: i64, by: f32, least: i64, most: i64| {
        let by = Length::try_from_mm(f64::from(by / zoom)).unwrap_or_default().units();
        let whole = (start + by + step / 2).div_euclid(step) * step;
        // what did not move keeps its own figure, and an edge is reached even off the steps
        let to = if by == 0 {
            start
        } else if (most - start - by).abs() <= step {
            most
        } else {
            whole
        };
        Length::from_units(to.clamp(least.min(most), most.max(least)))
    };
    let like = |old: &Measure, new: Length| {
        if new == old.value() { old.clone() } else { Measure::of(new, unit_of(old.typed())) }
    };
    let (width, depth) = (shelf.width.value().units(), shelf.depth.value().units());
    let (x, y) = (zone.x.value().units(), zone.y.value().units());
    let (w, d) = (zone.width.value().units(), zone.depth.value().units());
    if held.resizes {
        let (w, d) = (moved(w, held.moved.x, step, width - x), moved(d, held.moved.y, step, depth - y));
        Zone { width: like(&zone.width, w), depth: like(&zone.depth, d), ..zone.clone() }
    } else {
        let (x, y) = (moved(x, held.moved.x, 0, width - w), moved(y, held.moved.y, 0, depth - d));
        Zone { x: like(&zone.x, x), y: like(&zone.y, y), ..zone.clone() }
    }
}

fn held_ui(ui: &Ui, palette: &Palette, zone: &Zone, rect: Rect) {
    dashed_rect_ui(ui.painter(), rect, Stroke::new(2.0, palette.selected), 7.0, 4.0);
    let painter = ui.painter();
    let galley = painter.layout(said::lies_at(zone), theme::small(), palette.ink, 220.0);
    let at = Rect::from_min_size(rect.min + Vec2::splat(4.0), galley.size());
    painter.rect_filled(at.expand(2.0), CornerRadius::same(2), palette.shelf);
    painter.galley(at.min, galley, palette.ink);
}
