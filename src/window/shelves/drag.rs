//! A tray in the hand: its ghost, what the ghost says, and what comes of letting go.

use egui::{Align2, CornerRadius, Key, LayerId, Modifiers, Order, Pos2, Rect, Stroke, Ui, pos2, vec2};

use crate::outlook::{
    Edges, Landing, LetGo, Obstacle, Placed, RectOnShelf, WhyNone, group, landing, let_go, on_grid, put, snaps,
};
use crate::season::{Edit, EditLabel, Op, ShelfId, Spot};
use crate::units::{Length, LengthUnit};
use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::state::{BoardView, Gesture, InHand};
use crate::window::theme::{self, Palette};
use crate::words::shelves as said;

use super::board::mm;
use super::paint::{dashed_rect_ui, label_ui};
use super::{Manner, board_of, rect_on_board, tray_ui};

/// Edges draw a tray from this far.
const SNAP_PT: f32 = 8.0;

/// Where the tray would go if it were let go now.
enum Target {
    Shelf(ShelfId, Result<Landing, Obstacle>),
    /// Back to "No spot yet".
    Waiting,
    Nowhere,
}

/// Carries the tray along with the pointer; ends on release, Escape, or when the window loses it.
pub(in crate::window) fn in_hand_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    view: &BoardView,
    gesture: &mut Gesture,
    actions: &mut Vec<Action>,
) {
    let Gesture::InHand(mut hand) = *gesture else { return };
    let one = scene.placed().into_iter().find(|one| one.id == hand.id);
    let given_up = ui.input_mut(|i| {
        let lost = i.events.iter().any(|event| matches!(event, egui::Event::WindowFocused(false)));
        lost || i.consume_key(Modifiers::NONE, Key::Escape)
    });
    let Some(one) = one.filter(|_| !given_up) else {
        *gesture = Gesture::None;
        ui.request_repaint();
        return;
    };
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::R)) {
        turn_in_hand(&mut hand, &one);
        *gesture = Gesture::InHand(hand);
    }
    let (pointer, released, down) =
        ui.input(|i| (i.pointer.latest_pos(), i.pointer.primary_released(), i.pointer.primary_down()));
    let scene = &Scene { from_day: scene.from_day || ui.input(|i| i.modifiers.alt), ..*scene };
    let outside = pointer.is_none_or(|pos| !ui.content_rect().contains(pos));
    if released || !down {
        *gesture = Gesture::None;
        ui.request_repaint();
        if let Some(pos) = pointer.filter(|_| !outside && released) {
            let (target, rect) = aim_alone(scene, view, &hand, &one, pos);
            if scene.selection.several() {
                drop_group(scene, view, &hand, &one, &target, rect, actions);
            } else {
                drop_there(scene, &one, target, actions);
            }
        }
        return;
    }
    if let Some(pos) = pointer {
        ui.set_cursor_icon(egui::CursorIcon::Grabbing);
        ghost_ui(ui, scene, view, &hand, &one, pos);
    }
}

/// A quarter turn about the point it is held at.
fn turn_in_hand(hand: &mut InHand, one: &Placed<'_>) {
    let (_, depth) = one.stay.shape.turned(hand.quarter_turns);
    hand.grab_mm = vec2(mm(depth) - hand.grab_mm.y, hand.grab_mm.x);
    hand.quarter_turns = (hand.quarter_turns + 1) % 4;
}

fn drop_there(scene: &Scene<'_>, one: &Placed<'_>, target: Target, actions: &mut Vec<Action>) {
    match target {
        Target::Shelf(_, Ok(Landing { spot, .. })) => {
            let stays_put = one.spot.is_some_and(|now| Spot { from: now.from, ..spot } == *now);
            if !stays_put {
                actions.push(Action::edit(put(&scene.on_day(), one.stay, spot, false)));
            }
        }
        Target::Shelf(_, Err(why)) => {
            let why = scene.words().obstacle(&why);
            actions.push(Action::Go(Go::Complain(said::went_back(&scene.mark(one.stay), &why))));
        }
        Target::Waiting => {
            if one.spot.is_some() {
                let from = scene.on_day().counts_from(one.stay);
                actions.push(Action::edit(Op::LiftTray { tray: one.id.tray, from }));
            }
        }
        Target::Nowhere => {}
    }
}

/// All of them, or none and why.
fn drop_group(
    scene: &Scene<'_>,
    view: &BoardView,
    hand: &InHand,
    one: &Placed<'_>,
    target: &Target,
    rect: Rect,
    actions: &mut Vec<Action>,
) {
    match target {
        Target::Waiting => actions.extend(group::lifted(&scene.on_day(), &scene.chosen()).map(Action::edit)),
        Target::Nowhere => {}
        Target::Shelf(..) => {
            let wanted = beside(scene, view, hand, one, target, rect);
            let stay =
                |(one, spot): &(Placed<'_>, Spot)| one.spot.is_some_and(|now| Spot { from: now.from, ..*spot } == *now);
            if wanted.iter().all(stay) {
                return;
            }
            let edit = all_there(scene, &wanted);
            actions.push(match edit {
                Ok(edit) => Action::edit(edit),
                Err(why) => Action::Go(Go::Complain(said::all_went_back(&scene.words().why_none(&why)))),
            });
        }
    }
}

/// The move of all of them, each tried with the others where they would be.
fn all_there<'a>(scene: &Scene<'_>, wanted: &[(Placed<'a>, Spot)]) -> Result<Edit, WhyNone<'a>> {
    if wanted.len() < scene.chosen().len() {
        return Err(WhyNone::OffShelves);
    }
    group::together(&scene.on_day(), wanted, EditLabel::MoveTrays(wanted.len()))
}

/// Where each of several would come to stand, with the one in the hand at its target: they keep
/// their places to each other; those without a spot line up behind it.
fn beside<'a>(
    scene: &Scene<'a>,
    view: &BoardView,
    hand: &InHand,
    one: &Placed<'a>,
    target: &Target,
    rect: Rect,
) -> Vec<(Placed<'a>, Spot)> {
    let Target::Shelf(shelf, landing) = target else { return Vec::new() };
    let transform = view.screen_from_board.unwrap_or_default();
    let board = board_of(scene);
    let on_board = |id: ShelfId| board.shelves().find(|shelf| shelf.id == id);
    let Some(there) = on_board(*shelf) else { return Vec::new() };
    let corner = (transform.inverse() * rect).min;
    let whole = |at: f32| Length::try_from_mm(f64::from(at)).unwrap_or_default();
    let at = corner - there.rect_on_board.min;
    let (x, y) = match landing {
        Ok(landing) => (landing.spot.x, landing.spot.y),
        Err(_) => (on_grid(whole(at.x), grid(scene.unit)), on_grid(whole(at.y), grid(scene.unit))),
    };
    // from one shelf to another they keep their places on the board
    let elsewhere = |member: &Placed<'a>| {
        let (spot, lead) = (member.spot?, one.spot?);
        let corner_of = |spot: &Spot| Some(on_board(spot.shelf)?.rect_on_board.min + vec2(mm(spot.x), mm(spot.y)));
        let corner = corner_of(spot)? + (corner - corner_of(lead)?);
        let (w, d) = member.stay.shape.turned(spot.quarter_turns);
        let to = board.shelf_near(corner + vec2(mm(w), mm(d)) / 2.0, 24.0 / transform.scaling)?;
        let at = corner - to.rect_on_board.min;
        Some((to.id, on_grid(whole(at.x), grid(scene.unit)), on_grid(whole(at.y), grid(scene.unit))))
    };
    let to = LetGo { lead: *one, shelf: *shelf, x, y, quarter_turns: hand.quarter_turns };
    let_go::beside(&scene.on_day(), &scene.chosen(), &to, elsewhere)
}

/// As `aim`, with the others that come along out of the way.
fn aim_alone(scene: &Scene<'_>, view: &BoardView, hand: &InHand, one: &Placed<'_>, pos: Pos2) -> (Target, Rect) {
    if !scene.selection.several() {
        return aim(scene, view, hand, one, pos);
    }
    let alone = let_go::alone(scene.season, &scene.chosen(), one);
    aim(&Scene { season: &alone, standing: None, ..*scene }, view, hand, one, pos)
}

/// The target below the pointer, and where the ghost is drawn.
fn aim(scene: &Scene<'_>, view: &BoardView, hand: &InHand, one: &Placed<'_>, pos_on_screen: Pos2) -> (Target, Rect) {
    let transform = view.screen_from_board.unwrap_or_default();
    let (width, depth) = one.stay.shape.turned(hand.quarter_turns);
    let size = vec2(mm(width), mm(depth));
    let corner_on_board = transform.inverse() * pos_on_screen - hand.grab_mm;
    let loose = transform * Rect::from_min_size(corner_on_board, size);
    if view.waiting.contains(pos_on_screen) {
        return (Target::Waiting, loose);
    }
    if !view.pane.contains(pos_on_screen) {
        return (Target::Nowhere, loose);
    }
    let board = board_of(scene);
    let middle = corner_on_board + size / 2.0;
    let reach = 24.0 / transform.scaling;
    let on_board =
        board.shelf_near(transform.inverse() * pos_on_screen, 0.0).or_else(|| board.shelf_near(middle, reach)).copied();
    let Some((on_board, shelf)) = on_board.and_then(|at| Some((at, scene.season.shelf(at.id)?))) else {
        return (Target::Nowhere, loose);
    };
    let at = corner_on_board - on_board.rect_on_board.min;
    let whole = |at: f32| Length::try_from_mm(f64::from(at)).unwrap_or_default();
    let from = scene.on_day().counts_from(one.stay);
    let pinned = one.spot.is_some_and(|spot| spot.pinned);
    let loose_spot = Spot {
        tray: hand.id.tray,
        from,
        until: one.spot.and_then(|spot| spot.until),
        shelf: shelf.id,
        x: whole(at.x),
        y: whole(at.y),
        quarter_turns: hand.quarter_turns,
        pinned,
    };
    let neighbours = scene.on_day().grounds_on(shelf.id, hand.id.tray);
    let edges = Edges {
        shelf_width: shelf.width.value(),
        shelf_depth: shelf.depth.value(),
        neighbours: &neighbours,
        usable_depth: shelf.usable_depth(),
        reach: whole(SNAP_PT / transform.scaling),
        grid: grid(scene.unit),
    };
    let corners = snaps(RectOnShelf::with_gap(scene.season, one.stay, &loose_spot), &edges);
    let there = |(x, y)| (landing(&scene.on_day(), one.stay, Spot { x, y, ..loose_spot }), (x, y));
    let mut tried = corners.into_iter().map(there);
    // an edge may lie where a tray can't; where none of them is free, the nearest says why
    let first = tried.next();
    let free = first.as_ref().is_some_and(|(landing, _)| landing.is_ok());
    let meant = if free { first } else { tried.find(|(landing, _)| landing.is_ok()).or(first) };
    let Some((landing, (x, y))) = meant else { return (Target::Nowhere, loose) };
    let corner = on_board.rect_on_board.min + vec2(mm(x), mm(y));
    let rect = transform * Rect::from_min_size(corner, size);
    (Target::Shelf(shelf.id, landing), rect)
}

/// Off all edges a tray comes to lie on whole millimetres, or sixteenths of an inch.
pub(super) fn grid(unit: LengthUnit) -> Length {
    match unit {
        LengthUnit::Inch => Length::from_units(12_700),
        _ => Length::from_mm(1),
    }
}

fn ghost_ui(ui: &Ui, scene: &Scene<'_>, view: &BoardView, hand: &InHand, one: &Placed<'_>, pos_on_screen: Pos2) {
    let palette = Palette::of(ui);
    let (target, rect) = aim_alone(scene, view, hand, one, pos_on_screen);
    let several = scene.selection.several() && matches!(target, Target::Shelf(..));
    let wanted = if several { beside(scene, view, hand, one, &target, rect) } else { Vec::new() };
    let layer = LayerId::new(Order::Foreground, egui::Id::unique("tray_in_hand"));
    let painter = ui.ctx().layer_painter(layer);
    let words = scene.words();
    let (fits, said) = match &target {
        Target::Shelf(shelf, _) if several => match all_there(scene, &wanted) {
            Ok(_) => (true, said::all_have_room(&place_words(scene, *shelf), wanted.len())),
            Err(why) => (false, words.why_none(&why)),
        },
        Target::Waiting if scene.selection.several() => (true, said::LIFTS_ALL.to_owned()),
        Target::Shelf(shelf, Ok(landing)) => {
            (true, format!("{} · {}", place_words(scene, *shelf), words.landing(landing)))
        }
        Target::Shelf(_, Err(why)) => (false, words.obstacle(why)),
        Target::Waiting if one.spot.is_some() => (true, said::LIFTS.to_owned()),
        Target::Waiting => (true, said::STAYS_WITHOUT.to_owned()),
        Target::Nowhere => (false, said::NO_SHELF_HERE.to_owned()),
    };
    let family = palette.family(scene.family(one.stay));
    let mut body = painter.clone();
    body.multiply_opacity(if fits { 0.8 } else { 0.55 });
    let manner = Manner { quarter_turns: hand.quarter_turns, ..Manner::default() };
    tray_ui(&body, palette, family, one.stay, || scene.mark_on(one), rect, manner);
    let edge = if fits { palette.selected } else { palette.trouble };
    if !fits {
        super::hatch_ui(&painter, rect, Stroke::new(1.0, edge.gamma_multiply(0.6)), 8.0);
    }
    dashed_rect_ui(&painter, rect, Stroke::new(2.0, edge), 7.0, 4.0);
    let board = board_of(scene);
    let transform = view.screen_from_board.unwrap_or_default();
    for (member, spot) in wanted.iter().filter(|(member, _)| member.id != one.id) {
        let Some(on_board) = board.shelves().find(|shelf| shelf.id == spot.shelf) else { continue };
        let rect = transform * rect_on_board(&RectOnShelf::of(member.stay, spot), on_board);
        let family = palette.family(scene.family(member.stay));
        let manner = Manner { quarter_turns: spot.quarter_turns, ..Manner::default() };
        tray_ui(&body, palette, family, member.stay, || scene.mark_on(member), rect, manner);
        dashed_rect_ui(&painter, rect, Stroke::new(2.0, edge), 7.0, 4.0);
    }
    let below = rect.bottom() + 26.0 < ui.content_rect().bottom();
    let at = if below { pos2(rect.center().x, rect.bottom() + 6.0) } else { pos2(rect.center().x, rect.top() - 6.0) };
    let anchor = if below { Align2::CENTER_TOP } else { Align2::CENTER_BOTTOM };
    let scrap = label_ui(&painter, at, anchor, &said, theme::strong(theme::SMALL_PT), edge, palette.shelf);
    painter.rect_stroke(
        scrap.expand2(vec2(4.0, 2.0)),
        CornerRadius::same(2),
        Stroke::new(1.0, edge),
        egui::StrokeKind::Outside,
    );
    say_ui(ui, &said);
}

fn place_words(scene: &Scene<'_>, shelf: ShelfId) -> String {
    scene.words().shelf(shelf)
}

/// The ghost's words for those who can't see it.
fn say_ui(ui: &Ui, said: &str) {
    let response = ui.interact(Rect::NOTHING, egui::Id::unique("ghost_says"), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Status, true, said));
}
