//! The shelves page: racks side by side, to scale, with what stands on them.

mod becomes;
mod board;
mod drag;
mod drawn;
mod frame;
mod front;
mod keys;
mod menu;
mod paint;
mod pan;
mod tray;
mod zones;

use std::collections::{BTreeMap, BTreeSet};

use egui::{
    Align2, EventFilter, Key, PointerButton, Rect, Response, Role, Sense, Ui, WidgetInfo, emath::TSTransform, pos2,
    vec2,
};

use crate::forecast::Stay;
use crate::outlook::{Placed, RectOnShelf, in_each_others_way};
use crate::season::{RackId, Shelf, ShelfId, SowingId, TrayKey};

use super::action::{Action, Go};
use super::kit::{State, state_in_the_middle_ui};
use super::scene::Scene;
use super::space::Space;
use super::state::{BoardView, Fit, Gesture, InHand, Page};
use super::theme::{self, Family, Palette};
use crate::words::{self, places as said};

pub(super) use board::mm;
use board::{Board, Seen, ShelfOnBoard, rect_on_board, shelf_id};

use becomes::later_ui;
pub(super) use drag::in_hand_ui;
pub(super) use drawn::{is_too_fine, shapes_ui};
use frame::{clipboard, frame_keys_ui, frame_ui};
use front::shelf_front_ui;
pub(super) use keys::{choose_all, lift, nudge_keys, pin, selected, swap, turn_selected};
use menu::{shelf_menu_ui, tray_menu};
pub(super) use paint::{dashed_rect_ui, hatch_ui, ruler_ui};
use pan::pan_and_zoom;
pub(super) use tray::{Manner, Mark, tray_ui};
pub(super) use zones::one_shelf_ui;
use zones::zones_ui;

/// Draws the board into the rest of `ui`.
pub(super) fn shelves_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    view: &mut BoardView,
    gesture: &mut Gesture,
    actions: &mut Vec<Action>,
) {
    let pane = ui.available_rect_before_wrap();
    let ground = ui.allocate_rect(pane, Sense::CLICK | Sense::DRAG);
    let palette = Palette::of(ui);
    ui.painter().rect_filled(pane, egui::CornerRadius::ZERO, palette.paper);
    let seen = if view.from_the_front { Seen::FromTheFront } else { Seen::FromAbove };
    let board = Board::of(scene.season, seen);
    // what stands in the corner lies over no rack
    let free = if has_corner(pane) { pane.with_max_y(pane.bottom() - CORNER_PT) } else { pane };
    fit(view, &board, (pane, free), gesture);
    let mut transform = view.screen_from_board.unwrap_or_default();
    frame_keys_ui(ui, &ground, view);
    pan_and_zoom(
        ui,
        pane,
        &ground,
        view.frame_from.is_some(),
        gesture,
        scene,
        board.bounds.unwrap_or(Rect::NOTHING),
        &mut transform,
    );
    view.screen_from_board = Some(transform);
    if board.racks.is_empty() {
        no_shelves_ui(ui, pane, actions);
        return;
    }
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(pane).id_salt("board"));
    ui.set_clip_rect(pane.intersect(ui.clip_rect()));
    let placed = scene.placed();
    racks_ui(&mut ui, scene, (&board, transform), &placed, (view, gesture), actions);
    if has_corner(pane) {
        seen_ui(&mut ui, pane, view.from_the_front, actions);
    }
    if view.from_the_front {
        look_at_ground(&ui, &ground, &board, transform, actions);
        return;
    }
    ground_menu(&ground, scene, view, &board, transform, actions);
    let held = match gesture {
        Gesture::InHand(hand) => Some(hand.id.tray),
        Gesture::None => scene.selection.tray.filter(|_| scene.selection.later),
    };
    later_ui(&mut ui, scene, palette, &board, view, held, pane, transform);
    frame_ui(&ui, scene, palette, &board, view, &placed, transform, actions);
    clipboard(&ui, scene, view, &board, transform, actions);
    look_at_ground(&ui, &ground, &board, transform, actions);
}

fn racks_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (board, transform): (&Board, TSTransform),
    placed: &[Placed<'_>],
    (view, gesture): (&mut BoardView, &mut Gesture),
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let in_the_way = in_each_others_way(scene.season, placed, scene.problems);
    let mut families = Families { palette, known: BTreeMap::new(), in_the_way };
    let mut on_shelves: BTreeMap<ShelfId, Vec<&Placed<'_>>> = BTreeMap::new();
    for one in placed {
        if let Some(spot) = one.spot {
            on_shelves.entry(spot.shelf).or_default().push(one);
        }
    }
    for rack in &board.racks {
        rack_ui(ui, scene, palette, rack, transform, actions);
        for on_board in &rack.shelves {
            if let Some(shelf) = scene.season.shelf(on_board.id) {
                let here = on_shelves.remove(&shelf.id).unwrap_or_default();
                if view.from_the_front {
                    let rect = transform * on_board.rect_on_board;
                    let stop = stop_ui(ui, scene, shelf, rect, &here, actions);
                    shelf_front_ui(ui, scene, shelf, (on_board, rect, transform.scaling), &here, actions);
                    let is_looked_at = scene.selection.space == Some(Space::Shelf(shelf.id));
                    if stop.has_focus() || is_looked_at {
                        paint::shelf_outline_ui(ui.painter(), palette, rect, true);
                    }
                    continue;
                }
                shelf_ui(ui, scene, &mut families, shelf, on_board, transform, &here, gesture, actions);
                if scene.selection.space == Some(Space::Shelf(shelf.id)) {
                    let on_screen = (transform * on_board.rect_on_board, transform.scaling);
                    zones_ui(ui, scene, shelf, on_screen, &mut view.zone, actions);
                }
            }
        }
    }
}

/// A press beside all trays looks at the shelf below it, or at nothing.
fn look_at_ground(ui: &Ui, ground: &Response, board: &Board, transform: TSTransform, actions: &mut Vec<Action>) {
    if !ground.clicked() {
        return;
    }
    ui.memory_mut(|memory| {
        if let Some(focused) = memory.focused() {
            memory.surrender_focus(focused);
        }
    });
    let below = ground.interact_pointer_pos().and_then(|pos| board.shelf_near(transform.inverse() * pos, 0.0));
    actions.push(Action::Go(Go::Space(below.map(|shelf| Space::Shelf(shelf.id)))));
}

/// Of the shelf below the pointer, beside all trays.
fn ground_menu(
    ground: &Response,
    scene: &Scene<'_>,
    view: &mut BoardView,
    board: &Board,
    transform: TSTransform,
    actions: &mut Vec<Action>,
) {
    if ground.secondary_clicked() {
        let below = ground.interact_pointer_pos().and_then(|pos| board.shelf_near(transform.inverse() * pos, 0.0));
        view.menu_of = below.map(|shelf| shelf.id);
    }
    let Some(shelf) = view.menu_of else { return };
    ground.context_menu(|ui| {
        let here = |one: &Placed<'_>| one.spot.is_some_and(|spot| spot.shelf == shelf);
        let trays = scene.placed().iter().filter(|one| here(one)).map(|one| one.id.tray).collect();
        shelf_menu_ui(ui, scene, shelf, trays, actions);
    });
}

/// High as what stands in the corner.
const CORNER_PT: f32 = 42.0;

/// In a small pane that is in the menu alone.
fn has_corner(pane: Rect) -> bool {
    pane.width() >= 320.0 && pane.height() >= 200.0
}

/// From above, or from the front, and the floor that they stand on; in the corner where the least is drawn.
fn seen_ui(ui: &mut Ui, pane: Rect, from_the_front: bool, actions: &mut Vec<Action>) {
    let size = vec2(112.0_f32.min((pane.width() - 24.0) / 3.0), theme::TARGET_PT + 2.0);
    let mut at = pane.right_bottom() - vec2(3.0 * size.x + 16.0, size.y + 8.0);
    for (front, text) in [(false, words::fields::FROM_ABOVE), (true, words::fields::FROM_THE_FRONT)] {
        let button = egui::Button::new(text).selected(front == from_the_front);
        if ui.put(Rect::from_min_size(at, size), button).clicked() && front != from_the_front {
            actions.push(Action::Go(Go::FromTheFront(front)));
        }
        at.x += size.x + 4.0;
    }
    let floor = egui::Button::new(words::floor::BUTTON);
    if ui.put(Rect::from_min_size(at, size), floor).on_hover_text(words::floor::WHAT_IT_SHOWS).clicked() {
        actions.push(Action::Go(Go::Page(Page::Floor)));
    }
}

/// Brings into view what is wanted there.
fn fit(view: &mut BoardView, board: &Board, (pane, free): (Rect, Rect), gesture: &Gesture) {
    view.pane = pane;
    // racks that were changed meanwhile are to be seen whole
    if view.bounds.is_some() && view.bounds != board.bounds {
        view.fit_wanted.get_or_insert(Fit::Growing);
    }
    view.bounds = board.bounds;
    let in_hand = matches!(gesture, Gesture::InHand(_));
    // in a window that is another size now it is fitted again, unless a hand moved it since
    let untouched = view.fitted.filter(|(_, _, seen)| view.screen_from_board == Some(*seen) && !in_hand);
    let resized = untouched.filter(|(_, size, _)| *size != pane.size()).map(|(fit, ..)| fit);
    let first = view.screen_from_board.is_none().then_some(Fit::Growing);
    let wanted = view.fit_wanted.take().or(first).or(resized);
    if let Some(fit) = wanted {
        let fitted = board.fit(free, fit == Fit::All);
        view.screen_from_board = Some(fitted);
        view.fitted = Some((fit, pane.size(), fitted));
    }
}

fn no_shelves_ui(ui: &mut Ui, pane: Rect, actions: &mut Vec<Action>) {
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(pane.shrink(12.0)).id_salt("no_shelves"));
    let next = Some(words::shelves::ADD_SHELVES);
    if state_in_the_middle_ui(&mut ui, State::Empty, words::shelves::NO_SHELVES, next) {
        actions.push(Action::Go(Go::Page(Page::Places)));
    }
}

fn rack_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    palette: &Palette,
    rack: &board::RackOnBoard,
    transform: TSTransform,
    actions: &mut Vec<Action>,
) {
    let painter = ui.painter();
    let rect = transform * rack.rect_on_board;
    if !painter.clip_rect().intersects(rect.expand(60.0)) {
        return;
    }
    if let Some(named) = scene.season.rack(rack.id) {
        let at = rect.left_top() - vec2(0.0, 6.0);
        let room = rack.name_room * transform.scaling;
        let name = said::rack_said(&named.name);
        let head = Head { at, room, over: rack.id, of: Space::Rack(rack.id), text: &named.name, name };
        head_ui(ui, scene, (theme::strong(theme::BODY_PT), palette.ink), &head, actions);
    }
    if let Some(place) = rack.first_of.and_then(|id| scene.season.place(id)) {
        let at = rect.left_top() - vec2(0.0, 23.0);
        let name = said::place_said(&place.name, place.role);
        let room = rack.place_room * transform.scaling;
        let head = Head { at, room, over: rack.id, of: Space::Place(place.id), text: &place.name, name };
        head_ui(ui, scene, (theme::small(), palette.soft_ink), &head, actions);
    }
    if !rack.ruler {
        return;
    }
    let front = rack
        .shelves
        .last()
        .and_then(|last| scene.season.shelf(last.id))
        .map_or(0.0, |shelf| mm(shelf.overhang.value()) * transform.scaling);
    let left_top = pos2(rect.left(), rect.bottom() + 9.0 + front);
    let until = rect.left() + rack.name_room * transform.scaling;
    paint::ruler_ui(painter, palette, (left_top, until), rack.rect_on_board.width(), transform.scaling, scene.unit);
}

/// The name over a rack, or over the first of a place.
struct Head<'a> {
    at: egui::Pos2,
    /// As wide as it may be.
    room: f32,
    /// A place is named over the first of its racks in each row.
    over: RackId,
    of: Space,
    text: &'a str,
    name: String,
}

/// A click looks at what it names.
fn head_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    (font, ink): (egui::FontId, egui::Color32),
    head: &Head<'_>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let is_looked_at = scene.selection.space == Some(head.of);
    let ink = if is_looked_at { palette.selected } else { ink };
    let whole = ui.painter().layout_no_wrap(head.text.to_owned(), font.clone(), ink);
    // of `Bench 12` the number tells it from the others
    let number = head.text.rsplit(' ').next().filter(|end| end.bytes().all(|c| c.is_ascii_digit()));
    let galley = match number {
        _ if whole.size().x <= head.room => whole,
        Some(number) => theme::cut_at_a_word(ui.painter(), number, font, ink, head.room),
        None => theme::cut_at_a_word(ui.painter(), head.text, font, ink, head.room),
    };
    let text = Align2::LEFT_BOTTOM.anchor_size(head.at, galley.size());
    ui.painter().galley(text.min, galley, ink);
    let target = text.expand2(vec2(4.0, 3.0));
    // no Tab stop of its own: each shelf leads to its rack, and the rack to its place
    let response = ui.interact(target, ui.scope_id().with(("head", head.over, head.of)), Sense::CLICK);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_looked_at, &head.name));
    if response.hovered() || is_looked_at {
        let foot = [text.left_bottom(), text.right_bottom()];
        ui.painter().line_segment(foot, egui::Stroke::new(1.0, ink));
    }
    if response.clicked() {
        actions.push(Action::Go(Go::Space(Some(head.of))));
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text(&head.name);
}

/// How trays look, looked up once a frame.
struct Families<'a> {
    palette: &'a Palette,
    known: BTreeMap<SowingId, Family>,
    /// Trays on the same ground.
    in_the_way: BTreeSet<TrayKey>,
}

impl Families<'_> {
    fn of(&mut self, scene: &Scene<'_>, stay: &Stay) -> Family {
        let look = || self.palette.family(scene.family(stay));
        match stay.sowing {
            Some(sowing) => *self.known.entry(sowing).or_insert_with(look),
            None => look(),
        }
    }
}

#[expect(clippy::too_many_arguments, reason = "one shelf needs the whole scene")]
fn shelf_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    families: &mut Families<'_>,
    shelf: &Shelf,
    on_board: &ShelfOnBoard,
    transform: TSTransform,
    here: &[&Placed<'_>],
    gesture: &mut Gesture,
    actions: &mut Vec<Action>,
) {
    let palette = families.palette;
    let rect_on_screen = transform * on_board.rect_on_board;
    let response = stop_ui(ui, scene, shelf, rect_on_screen, here, actions);
    let painter = ui.painter().clone();
    paint::shelf_ui(&painter, palette, shelf, rect_on_screen, transform.scaling);
    shelf_words_ui(&painter, scene, palette, shelf, rect_on_screen, here.is_empty());
    // The selected one last: its frame lies over its neighbours.
    let is_selected = |one: &&&Placed<'_>| scene.selection.holds(one.id.tray);
    let others = here.iter().filter(|one| !is_selected(one));
    for one in others.chain(here.iter().filter(is_selected)) {
        let Some(spot) = one.spot else { continue };
        let rect = transform * rect_on_board(&RectOnShelf::of(one.stay, spot), on_board);
        let manner = Manner {
            quarter_turns: spot.quarter_turns,
            selected: scene.selection.holds(one.id.tray),
            marked: scene.selection.marked.contains(&one.id.tray),
            pinned: spot.pinned,
            faint: is_faint(scene, gesture, one),
            in_the_way: families.in_the_way.contains(&one.id.tray),
        };
        let family = families.of(scene, one.stay);
        tray_ui(&painter, palette, family, one.stay, || scene.mark_on(one), rect, manner);
        let id = ui.scope_id().with(("tray", one.id));
        let response = ui.interact(rect, id, Sense::CLICK | Sense::DRAG);
        tray_response(ui, scene, &response, one, rect, spot.quarter_turns, transform.scaling, gesture, actions);
    }
    let is_looked_at = scene.selection.space == Some(Space::Shelf(shelf.id));
    paint::shelf_outline_ui(&painter, palette, rect_on_screen, response.has_focus() || is_looked_at);
}

/// The one Tab stop of a shelf: arrows choose what stands there, Enter the shelf itself or, of a tray, where it stands.
fn stop_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    shelf: &Shelf,
    rect_on_screen: Rect,
    here: &[&Placed<'_>],
    actions: &mut Vec<Action>,
) -> Response {
    let id = shelf_id(ui, shelf.id);
    // Not a target for the pointer: empty ground pans, and what stands here is taken by itself.
    let response = ui.interact(rect_on_screen, id, Sense::focusable_noninteractive());
    response.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, scene.shelf_name(shelf, here.len())));
    if response.has_focus() {
        let mut trays: Vec<_> =
            here.iter().filter_map(|one| one.spot).map(|spot| (spot.y, spot.x, spot.tray)).collect();
        trays.sort_unstable();
        let trays: Vec<TrayKey> = trays.into_iter().map(|(_, _, tray)| tray).collect();
        let chosen = list_keys(ui, scene, id, &trays);
        actions.extend(chosen.map(|at| Action::Go(Go::Select(trays.get(at).copied()))));
        let holds_selected = scene.selection.tray.is_some_and(|tray| trays.contains(&tray));
        if ui.input_mut(|i| i.consume_key(egui::Modifiers::NONE, Key::Enter)) {
            if holds_selected {
                ui.memory_mut(|memory| memory.surrender_focus(id));
            } else {
                actions.push(Action::Go(Go::Space(Some(Space::Shelf(shelf.id)))));
            }
        }
    }
    response
}

/// One Tab stop a shelf; inside it arrows choose, and Enter lets the arrows move what is chosen.
/// Gives the place in `trays` that was chosen now.
pub(super) fn list_keys(ui: &Ui, scene: &Scene<'_>, id: egui::Id, trays: &[TrayKey]) -> Option<usize> {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let at = trays.iter().position(|tray| scene.selection.tray == Some(*tray));
    let (forward, back) = ui.input_mut(|i| {
        let mut pressed = |key| i.consume_key(egui::Modifiers::NONE, key);
        let forward = pressed(Key::ArrowRight) | pressed(Key::ArrowDown);
        (forward, pressed(Key::ArrowLeft) | pressed(Key::ArrowUp))
    });
    let next = match (at, forward, back) {
        (None, true, _) | (None, _, true) => 0,
        (Some(at), true, _) => (at + 1).min(trays.len().saturating_sub(1)),
        (Some(at), _, true) => at.saturating_sub(1),
        _ => return None,
    };
    (next < trays.len()).then_some(next)
}

/// What a tray does under the pointer, on a shelf or in the list of those without a spot.
#[expect(clippy::too_many_arguments, reason = "a tray is taken where it lies")]
pub(super) fn tray_response(
    ui: &Ui,
    scene: &Scene<'_>,
    response: &Response,
    one: &Placed<'_>,
    rect: Rect,
    quarter_turns: u8,
    zoom: f32,
    gesture: &mut Gesture,
    actions: &mut Vec<Action>,
) {
    let selected = scene.selection.holds(one.id.tray);
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, true, selected, scene.tray_name(one)));
    if response.hovered() {
        ui.set_cursor_icon(egui::CursorIcon::Grab);
    }
    if response.clicked() {
        let too = ui.input(|i| i.modifiers.command || i.modifiers.shift);
        let tray = one.id.tray;
        actions.push(if too { Action::Go(Go::ChooseToo(tray)) } else { Action::Go(Go::Select(Some(tray))) });
        ui.memory_mut(|memory| {
            if let Some(focused) = memory.focused() {
                memory.surrender_focus(focused);
            }
        });
    }
    // a menu that is open is that of one that is looked at
    if response.hovered() || selected {
        tray_menu(response, scene, one, actions);
    }
    if response.drag_started_by(PointerButton::Primary)
        && let Some(origin) = ui.input(|i| i.pointer.press_origin())
    {
        // one of several takes the others along
        actions.push(if selected {
            Action::Go(Go::Lead(one.id.tray))
        } else {
            Action::Go(Go::Select(Some(one.id.tray)))
        });
        let grab_mm = (origin - rect.min) / zoom.max(1e-6);
        *gesture = Gesture::InHand(InHand { id: one.id, grab_mm, quarter_turns });
    }
}

/// In the hand elsewhere, or not of the sowing that is to stand out.
pub(super) fn is_faint(scene: &Scene<'_>, gesture: &Gesture, one: &Placed<'_>) -> bool {
    let in_hand = matches!(gesture, Gesture::InHand(hand)
        if hand.id == one.id || (scene.selection.several() && scene.selection.holds(one.id.tray)));
    in_hand || scene.selection.sowing.is_some_and(|sowing| !scene.forecast.is_in(sowing, one.stay))
}

fn shelf_words_ui(
    painter: &egui::Painter,
    scene: &Scene<'_>,
    palette: &Palette,
    shelf: &Shelf,
    rect: Rect,
    empty: bool,
) {
    // A bench has nothing above or below to be told from.
    if scene.season.shelves_of(shelf.rack).len() > 1 {
        painter.text(rect.right_top() + vec2(6.0, 1.0), Align2::LEFT_TOP, shelf.tier, theme::small(), palette.soft_ink);
    }
    let shut = scene.shut_notes(shelf).into_iter().next();
    if shut.is_some() {
        hatch_ui(painter, rect, egui::Stroke::new(1.0, palette.line), 10.0);
    }
    let said = shut.or_else(|| empty.then(|| scene.shelf_notes(shelf).join(" · ")));
    if let Some(said) = said.filter(|said| !said.is_empty()) {
        let galley = painter.layout_no_wrap(said, theme::small(), palette.soft_ink);
        if galley.size().x < rect.width() - 8.0 && galley.size().y < rect.height() {
            let text = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
            painter.rect_filled(text.expand2(vec2(4.0, 1.0)), egui::CornerRadius::same(2), palette.shelf);
            painter.galley(text.min, galley, palette.soft_ink);
        }
    }
}

/// The board as it lies on the screen, for what is dropped on it.
fn board_of(scene: &Scene<'_>) -> Board {
    Board::of(scene.season, Seen::FromAbove)
}
