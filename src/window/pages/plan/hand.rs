//! What the hand and the keys do to a row: its bar and its edges are put on other days, shown before they are.

use std::collections::BTreeSet;

use egui::{
    CornerRadius, CursorIcon, EventFilter, Key, LayerId, Modifiers, Order, Pos2, Rect, Response, Role, Sense, Stroke,
    StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::forecast::{Course, Forecast};
use crate::outlook::{Handle, handles, on_other_days};
use crate::season::{Edit, EditLabel, Op, Season, Sowing, SowingId};
use crate::units::shifted;
use crate::words::plan as said;

use crate::window::action::{Action, Do, Go};
use crate::window::axis::Axis;
use crate::window::kit::told_beside;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::bar::extent;

/// As wide as an edge that can be taken, where its neighbours leave room.
const EDGE_PT: f32 = 24.0;
/// As wide as what is told at the hand may be.
const TOLD_PT: f32 = 300.0;

/// What the hand holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Grip {
    pub(super) sowing: SowingId,
    pub(super) handle: Handle,
    /// Where it was taken, on the screen.
    from: Pos2,
    pub(super) days: i64,
}

/// Which sowings are looked at, and what of the first the keys move.
#[derive(Clone, Debug, Default)]
pub(super) struct Chosen {
    pub(super) one: Option<SowingId>,
    pub(super) more: BTreeSet<SowingId>,
    pub(super) handle: Option<Handle>,
}

impl Chosen {
    pub(super) fn only(&mut self, sowing: SowingId) {
        if self.one != Some(sowing) {
            self.handle = None;
        }
        self.one = Some(sowing);
        self.more.clear();
    }

    pub(super) fn toggle(&mut self, sowing: SowingId) {
        if self.one == Some(sowing) {
            self.one = self.more.pop_first();
        } else if !self.more.remove(&sowing) {
            self.more.extend(self.one.replace(sowing));
        }
        self.handle = None;
    }

    pub(super) fn holds(&self, sowing: SowingId) -> bool {
        self.one == Some(sowing) || self.more.contains(&sowing)
    }

    /// That one, with all that are chosen beside it where it is one of them.
    fn with(&self, sowing: SowingId) -> Vec<SowingId> {
        let others = self.more.iter().chain(&self.one).copied().filter(|one| *one != sowing);
        let others: Vec<SowingId> = if self.holds(sowing) { others.collect() } else { Vec::new() };
        std::iter::once(sowing).chain(others).collect()
    }
}

/// The edit that puts them on other days; `None` where nothing moves.
pub(super) fn edit(season: &Season, now: &Forecast, of: &[SowingId], handle: Handle, days: i64) -> Option<Edit> {
    let one = |id: &SowingId| on_other_days(now, season.sowing(*id)?, handle, days);
    let mut ops: Vec<Op> = of.iter().filter_map(one).collect();
    match ops.len() {
        0 => None,
        1 => ops.pop().map(Edit::from),
        number => Some(Edit::new(EditLabel::OtherDays(number), ops)),
    }
}

/// Where each handle of a bar lies that can be taken, on the screen.
fn grips(axis: &Axis, sowing: &Sowing, course: &Course, row: Rect) -> Vec<(Handle, Rect)> {
    let edges: Vec<(Handle, f32)> = handles(sowing, course)
        .into_iter()
        .filter(|handle| *handle != Handle::Whole)
        .filter_map(|handle| Some((handle, axis.x(handle.date(course)?))))
        .collect();
    let near = |at: usize| {
        let x = |at: usize| edges.get(at).map(|(_, x)| *x);
        let (Some(own), before, after) = (x(at), at.checked_sub(1).and_then(x), x(at + 1)) else { return EDGE_PT };
        let gaps = [before.map(|x| own - x), after.map(|x| x - own)].into_iter().flatten();
        gaps.fold(EDGE_PT, f32::min).max(8.0)
    };
    let rect = |at: usize, x: f32| {
        let half = near(at) / 2.0;
        Rect::from_x_y_ranges(x - half..=x + half, row.y_range())
    };
    edges.iter().enumerate().map(|(at, (handle, x))| (*handle, rect(at, *x))).collect()
}

/// Whether something of it was pressed. The list is the one Tab stop: what is drawn in it is none.
pub(super) fn row_hand_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    axis: &Axis,
    row: Rect,
    (sowing, course): (&Sowing, &Course),
    state: (&mut Chosen, &mut Option<Grip>),
) -> bool {
    let (chosen, grip) = state;
    let mut pressed = false;
    let lane = Rect::from_x_y_ranges(axis.x, row.y_range());
    let name = scene.words().sowing(sowing.id);
    let mut take = |handle: Handle, rect: Rect, cursor: CursorIcon| {
        let rect = rect.intersect(lane);
        let Some(date) = handle.date(course).filter(|_| rect.width() > 2.0) else { return };
        let id = ui.scope_id().with(("plan", sowing.id, handle));
        let response = ui.interact(rect, id, Sense::CLICK | Sense::DRAG);
        let told = said::handle(handle, &name, date);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &told));
        answered(ui, &response, (sowing.id, handle), chosen, grip);
        pressed |= response.clicked() || response.drag_started();
        told_beside(&response.on_hover_and_drag_cursor(cursor), row.with_max_x(axis.x.max), &told);
    };
    let can = handles(sowing, course);
    if can.contains(&Handle::Whole)
        && let Some(x) = extent(axis, course)
    {
        take(Handle::Whole, Rect::from_x_y_ranges(x, row.y_range()), CursorIcon::Grab);
    }
    for (handle, rect) in grips(axis, sowing, course, row) {
        take(handle, rect, CursorIcon::ResizeHorizontal);
    }
    pressed
}

fn answered(
    ui: &Ui,
    response: &Response,
    (sowing, handle): (SowingId, Handle),
    chosen: &mut Chosen,
    grip: &mut Option<Grip>,
) {
    if response.clicked() {
        if ui.input(|i| i.modifiers.command) {
            chosen.toggle(sowing);
        } else {
            chosen.only(sowing);
            chosen.handle = Some(handle);
        }
    }
    if response.drag_started()
        && let Some(from) = ui.input(|i| i.pointer.press_origin())
    {
        if !chosen.holds(sowing) {
            chosen.only(sowing);
        }
        chosen.handle = Some(handle);
        *grip = Some(Grip { sowing, handle, from, days: 0 });
    }
}

/// Follows the hand that holds something, wherever it is; the season is shown as it would be.
pub(super) fn held_ui(
    ui: &Ui,
    axis: &Axis,
    planned: (&Season, &Forecast),
    (chosen, grip): (&Chosen, &mut Option<Grip>),
    actions: &mut Vec<Action>,
) {
    let Some(held) = grip else { return };
    let given_up = ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))
        || ui.input(|i| i.events.contains(&egui::Event::WindowFocused(false)));
    if given_up {
        *grip = None;
        actions.push(Action::Go(Go::LeavePreview));
        return;
    }
    ui.set_cursor_icon(CursorIcon::Grabbing);
    if ui.input(|i| i.pointer.any_released() || !i.pointer.any_down()) {
        actions.push(if held.days == 0 { Action::Go(Go::LeavePreview) } else { Action::Do(Do::TakePreview) });
        *grip = None;
        return;
    }
    let Some(pos) = ui.input(|i| i.pointer.latest_pos()) else { return };
    let days = ((pos.x - held.from.x) / axis.day_pt()).round().clamp(-4_000.0, 4_000.0) as i64;
    if days != held.days {
        held.days = days;
        let (season, now) = planned;
        let edit = edit(season, now, &chosen.with(held.sowing), held.handle, days).filter(|_| days != 0);
        actions.push(edit.map_or(Action::Go(Go::LeavePreview), |edit| Action::Go(Go::TryOut(edit))));
    }
}

/// At the hand: the day that it comes to, and what that breaks which was right before.
pub(super) fn told_ui(ui: &Ui, scene: &Scene<'_>, planned: &Forecast, held: &Grip) {
    let was = planned.courses_of(held.sowing).next().and_then(|course| held.handle.date(course));
    let (Some(pos), Some(was)) = (ui.input(|i| i.pointer.latest_pos()), was) else { return };
    let (palette, words) = (Palette::of(ui), scene.words());
    let head = said::handle(held.handle, &words.sowing(held.sowing), shifted(was, held.days));
    let beyond = scene.forecast.problems.iter().filter(|problem| problem.is_of_sowing(held.sowing));
    let beyond: Vec<String> =
        beyond.filter(|problem| !planned.problems.contains(problem)).map(|problem| words.problem(problem)).collect();
    let layer = LayerId::new(Order::Tooltip, egui::Id::unique("plan_at_the_hand"));
    let painter = ui.ctx().layer_painter(layer);
    let galley = |text: String, font, ink| painter.layout(text, font, ink, TOLD_PT);
    let mut lines = vec![galley(head.clone(), theme::strong(theme::BODY_PT), palette.ink)];
    lines.extend(beyond.iter().map(|why| galley(why.clone(), theme::body(), palette.trouble)));
    let size = lines.iter().fold(vec2(0.0, 0.0), |size, line| vec2(size.x.max(line.size().x), size.y + line.size().y));
    let room = ui.content_rect().shrink(8.0);
    // above the hand, where it hides neither its row nor the strip
    let corner = pos2(pos.x.min(room.right() - size.x), (pos.y - size.y - 26.0).max(room.top()));
    let ground = Rect::from_min_size(corner, size).expand2(vec2(6.0, 4.0));
    let edge = Stroke::new(1.0, if beyond.is_empty() { palette.selected } else { palette.trouble });
    painter.rect(ground, CornerRadius::same(3), palette.shelf, edge, StrokeKind::Outside);
    let mut top = corner.y;
    for line in lines {
        let height = line.size().y;
        painter.galley(pos2(corner.x, top), line, palette.ink);
        top += height;
    }
    let said = std::iter::once(head).chain(beyond).collect::<Vec<_>>().join("; ");
    let response = ui.interact(Rect::NOTHING, egui::Id::unique("plan_says"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Status, true, &said));
}

/// Up and down for the row, sideways for what moves; with Shift it moves, by days and by weeks.
pub(super) fn keys_ui(
    ui: &Ui,
    list: &Response,
    scene: &Scene<'_>,
    chosen: &mut Chosen,
    beside: impl Fn(bool) -> Option<SowingId>,
    actions: &mut Vec<Action>,
) -> bool {
    if !list.has_focus() {
        return false;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(list.id, arrows));
    let pressed = |modifiers, key| ui.input_mut(|i| i.consume_key(modifiers, key));
    let by = [(Key::ArrowLeft, -1), (Key::ArrowRight, 1), (Key::ArrowUp, -7), (Key::ArrowDown, 7)];
    for (key, days) in by {
        if pressed(Modifiers::SHIFT, key)
            && let Some(one) = chosen.one
        {
            let handle = chosen.handle.unwrap_or(Handle::Whole);
            let edit = edit(scene.season, scene.forecast, &chosen.with(one), handle, days);
            actions.extend(edit.map(|edit| Action::Do(Do::Nudge(edit))));
        }
    }
    for (key, down) in [(Key::ArrowDown, true), (Key::ArrowUp, false)] {
        if pressed(Modifiers::NONE, key)
            && let Some(next) = beside(down)
        {
            let handle = chosen.handle;
            chosen.only(next);
            chosen.handle = handle.filter(|handle| !matches!(handle, Handle::MovedOn(_)));
            return true;
        }
    }
    let all =
        chosen.one.and_then(|one| Some(handles(scene.season.sowing(one)?, scene.forecast.courses_of(one).next()?)));
    let Some(all) = all.filter(|all| !all.is_empty()) else { return false };
    let at = chosen.handle.and_then(|handle| all.iter().position(|one| *one == handle));
    for (key, right) in [(Key::ArrowRight, true), (Key::ArrowLeft, false)] {
        if pressed(Modifiers::NONE, key) {
            let to = match (at, right) {
                (Some(at), true) => (at + 1).min(all.len() - 1),
                (Some(at), false) => at.saturating_sub(1),
                (None, _) => 0,
            };
            chosen.handle = all.get(to).copied();
        }
    }
    false
}
