//! The floor to scale: walls and doors, racks with their names and fronts, and where no barrow comes.

use std::f32::consts::FRAC_PI_2;

use egui::epaint::TextShape;
use egui::{
    Color32, CursorIcon, Id, Painter, Pos2, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::forecast::{Cramped, Problem};
use crate::outlook::{FloorOf, outline};
use crate::season::{Door, Floor, Place, Rack, RackId, Stands, Wall};
use crate::units::Length;
use crate::words::floor as said;

use crate::window::action::Action;
use crate::window::kit::soft_ui;
use crate::window::scene::Scene;
use crate::window::shelves::{dashed_rect_ui, hatch_ui, mm, ruler_ui};
use crate::window::theme::{self, Palette};

use super::hand::{in_hand_ui, keys_ui};
use super::sheet::{MARGIN_PT, Sheet, front};
use super::state::{FloorPage, InHand};

pub(super) fn drawn_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    (place, of): (&Place, &FloorOf),
    actions: &mut Vec<Action>,
) {
    let Some(floor) = &place.floor else { return };
    soft_ui(ui, said::HOW);
    let palette = Palette::of(ui);
    let pane = ui.available_rect_before_wrap();
    let sheet = Sheet::of(pane, of);
    let ground = ui.interact(pane, Id::unique("floor_ground"), Sense::CLICK);
    let all = ui.interact(pane, Id::unique("floor_sheet"), Sense::focusable_noninteractive());
    let name = said::floor_said(&place.name, &floor.width, &floor.depth, of.racks.len());
    all.widget_info(|| WidgetInfo::labeled(Role::Image, true, &name));
    keys_ui(ui, scene, page, of, &all, actions);
    let painter = ui.painter_at(pane);
    let room = sheet.on_screen((Length::ZERO, Length::ZERO), (floor.width.value(), floor.depth.value()));
    painter.rect_filled(room, 0, palette.shelf);
    for rect in page.hatched(of) {
        hatch_ui(&painter, sheet.rect(*rect), Stroke::new(1.0, palette.trouble.gamma_multiply(0.5)), 7.0);
    }
    walls_ui(ui, &painter, palette, (floor, room), &sheet);
    let troubled: Vec<RackId> =
        scene.problems.iter().filter_map(|problem| on_floor(problem, place)).flatten().collect();
    for (rack, on_plan) in of.racks.iter().zip(&of.plan.racks) {
        if let Some(rack) = scene.season.rack(*rack)
            && let Some(stands) = &rack.stands
        {
            let rect = sheet.rect(on_plan.rect);
            let manner = Manner {
                chosen: page.chosen == Some(rack.id),
                troubled: troubled.contains(&rack.id) || page.is_barred(of, rack.id),
                focused: all.has_focus(),
            };
            let response = rack_ui(ui, scene, &painter, (rack, stands), (rect, sheet.zoom), manner);
            taken(ui, page, rack, stands, rect, &response, (&sheet, &all));
        }
    }
    ruler_ui(
        &painter,
        palette,
        (pos2(room.left(), room.bottom() + MARGIN_PT), f32::INFINITY),
        mm(floor.width.value()),
        sheet.zoom,
        scene.unit,
    );
    if all.has_focus() {
        let stroke = Stroke::new(2.0, palette.selected);
        painter.rect_stroke(pane.shrink(1.0), 3, stroke, StrokeKind::Inside);
    }
    if ground.clicked() {
        page.chosen = None;
    }
    in_hand_ui(ui, scene, page, of, &sheet, actions);
}

/// Racks of that place that a problem is about.
fn on_floor(problem: &Problem, on: &Place) -> Option<Vec<RackId>> {
    let Problem::OnFloor { place, what } = problem else { return None };
    let other = if let Cramped::Overlap { other, .. } = what { Some(*other) } else { None };
    (*place == on.id).then(|| what.rack().into_iter().chain(other).collect())
}

fn taken(
    ui: &Ui,
    page: &mut FloorPage,
    rack: &Rack,
    stands: &Stands,
    rect: Rect,
    response: &Response,
    (sheet, all): (&Sheet, &Response),
) {
    if response.hovered() && page.hand.is_none() {
        ui.set_cursor_icon(CursorIcon::Grab);
    }
    if response.clicked() || response.drag_started() {
        page.chosen = Some(rack.id);
        all.request_focus();
    }
    if response.drag_started()
        && let Some(from) = ui.input(|i| i.pointer.press_origin())
    {
        let grab_mm = (from - rect.min) / sheet.zoom;
        page.hand = Some(InHand { rack: rack.id, grab_mm, quarter_turns: stands.quarter_turns });
    }
}

/// Walls as a thick line, and a gap in it for each door.
fn walls_ui(ui: &Ui, painter: &Painter, palette: &Palette, (floor, room): (&Floor, Rect), sheet: &Sheet) {
    const WALL_PT: f32 = 5.0;
    painter.rect_stroke(room, 0, Stroke::new(WALL_PT, palette.ink), StrokeKind::Outside);
    for (at, door) in floor.doors.iter().enumerate() {
        let gap = doorway(door, room, sheet.zoom, WALL_PT);
        painter.rect_filled(gap, 0, palette.paper);
        for side in sides(door.wall, gap) {
            painter.line_segment(side, Stroke::new(2.0, palette.ink));
        }
        let text = said::door(at);
        let galley = painter.layout_no_wrap(text, theme::small(), palette.soft_ink);
        let size = galley.size();
        let label = match door.wall {
            Wall::Back => pos2(gap.center().x - size.x / 2.0, gap.top() - size.y - 2.0),
            Wall::Front => pos2(gap.center().x - size.x / 2.0, gap.bottom() + 2.0),
            Wall::Left => pos2(gap.left() - size.y - 2.0, gap.center().y + size.x / 2.0),
            Wall::Right => pos2(gap.right() + 2.0 + size.y, gap.center().y - size.x / 2.0),
        };
        let angle = match door.wall {
            Wall::Back | Wall::Front => 0.0,
            Wall::Left => -FRAC_PI_2,
            Wall::Right => FRAC_PI_2,
        };
        painter.add(TextShape::new(label, galley, palette.soft_ink).with_angle(angle));
        let response = ui.interact(gap.expand(3.0), Id::unique(("floor_door", at)), Sense::hover());
        let told = said::door_said(at, door);
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &told));
        response.on_hover_text(told);
    }
}

fn doorway(door: &Door, room: Rect, zoom: f32, wall_pt: f32) -> Rect {
    let (from, until) = (mm(door.along.value()) * zoom, mm(door.along.value() + door.width.value()) * zoom);
    match door.wall {
        Wall::Back => {
            Rect::from_min_max(pos2(room.left() + from, room.top() - wall_pt), pos2(room.left() + until, room.top()))
        }
        Wall::Front => Rect::from_min_max(
            pos2(room.left() + from, room.bottom()),
            pos2(room.left() + until, room.bottom() + wall_pt),
        ),
        Wall::Left => {
            Rect::from_min_max(pos2(room.left() - wall_pt, room.top() + from), pos2(room.left(), room.top() + until))
        }
        Wall::Right => {
            Rect::from_min_max(pos2(room.right(), room.top() + from), pos2(room.right() + wall_pt, room.top() + until))
        }
    }
}

fn sides(wall: Wall, gap: Rect) -> [[Pos2; 2]; 2] {
    match wall {
        Wall::Back | Wall::Front => [[gap.left_top(), gap.left_bottom()], [gap.right_top(), gap.right_bottom()]],
        Wall::Left | Wall::Right => [[gap.left_top(), gap.right_top()], [gap.left_bottom(), gap.right_bottom()]],
    }
}

#[derive(Clone, Copy)]
struct Manner {
    chosen: bool,
    troubled: bool,
    focused: bool,
}

/// Its outline, a thick line along its front, dashes around what may stick out, and its name.
fn rack_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    painter: &Painter,
    (rack, stands): (&Rack, &Stands),
    (rect, zoom): (Rect, f32),
    manner: Manner,
) -> Response {
    let palette = Palette::of(ui);
    let out = outline(scene.season, rack.id).map_or(0.0, |outline| mm(outline.depth - outline.bench_depth) * zoom);
    let bench = less(rect, stands.faces(), out);
    if out > 0.5 {
        dashed_rect_ui(painter, rect, Stroke::new(1.0, palette.soft_ink), 2.0, 3.0);
    }
    painter.rect(bench, 0, palette.panel, palette.ink_stroke(), StrokeKind::Inside);
    let ink = if manner.troubled { palette.trouble } else { palette.ink };
    if manner.troubled {
        dashed_rect_ui(painter, rect.shrink(2.0), Stroke::new(1.5, palette.trouble), 5.0, 3.0);
    }
    painter.line_segment(front(bench.shrink(1.5), stands.faces()), Stroke::new(3.5, ink));
    if manner.chosen {
        let width = if manner.focused { 3.0 } else { 2.0 };
        painter.rect_stroke(rect, 0, Stroke::new(width, palette.selected), StrokeKind::Outside);
    }
    name_ui(&painter.with_clip_rect(rect.intersect(painter.clip_rect())), &rack.name, bench, ink);
    let response = ui.interact(rect, Id::unique(("floor_rack", rack.id)), Sense::CLICK | Sense::DRAG);
    let told = said::rack_said(rack, stands);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, manner.chosen, &told));
    response.on_hover_text(told)
}

/// Along its longer side, where that is what it takes.
fn name_ui(painter: &Painter, name: &str, bench: Rect, ink: Color32) {
    let galley = painter.layout_no_wrap(name.to_owned(), theme::strong(theme::SMALL_PT), ink);
    let size = galley.size();
    let upright = size.x + 6.0 > bench.width() && bench.height() > bench.width();
    let (at, angle) = if upright {
        (bench.center() + vec2(size.y / 2.0, -size.x / 2.0), FRAC_PI_2)
    } else {
        (bench.center() - size / 2.0, 0.0)
    };
    painter.add(TextShape::new(at, galley, ink).with_angle(angle));
}

/// Without so much at its front.
fn less(rect: Rect, faces: Wall, by: f32) -> Rect {
    let mut rect = rect;
    match faces {
        Wall::Front => rect.max.y -= by,
        Wall::Back => rect.min.y += by,
        Wall::Left => rect.min.x += by,
        Wall::Right => rect.max.x -= by,
    }
    rect
}
