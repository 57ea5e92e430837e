//! The left side: what wants a spot on the day shown and has none, ready to be dragged.

use egui::{
    Align2, Button, CornerRadius, Key, Modifiers, Rect, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    pos2, vec2,
};

use crate::forecast::Problem;
use crate::outlook::{OnDayCount, Placed};
use crate::words;

use super::action::{Action, Do, Go};
use super::kit::{State, state_next_ui, state_ui};
use super::scene::Scene;
use super::shelves::{Manner, Mark, is_faint, list_keys, tray_response, tray_ui};
use super::state::{BoardView, Gesture};
use super::theme::{self, Palette};
use super::verdict::Work;

const PICTURE_PT: f32 = 44.0;

pub(super) fn waiting_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (view, gesture): (&mut BoardView, &mut Gesture),
    work: &Work<'_>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    view.waiting = ui.max_rect().expand(8.0);
    let placed = scene.placed();
    let waiting: Vec<&Placed<'_>> = placed.iter().filter(|one| one.spot.is_none()).collect();
    ui.horizontal(|ui| {
        ui.label(egui::RichText::new(words::WAITING).font(theme::strong(theme::PART_PT)));
    });
    let there = OnDayCount::of(&placed);
    let said = words::shelves::waiting(there.without, there.trays, scene.day);
    ui.label(egui::RichText::new(said).font(theme::small()).color(palette.soft_ink));
    find_ui(ui, palette, scene, work, actions);
    clash_ui(ui, palette, scene, actions);
    ui.add_space(6.0);
    if waiting.is_empty() {
        none_ui(ui, scene, placed.is_empty(), actions);
    }
    let largest =
        waiting.iter().map(|one| one.stay.shape.width().max(one.stay.shape.depth()).to_mm() as f32).fold(1.0, f32::max);
    let zoom = PICTURE_PT / largest;
    let row = PICTURE_PT + 14.0;
    let list =
        ui.interact(ui.available_rect_before_wrap(), ui.scope_id().with("list"), Sense::focusable_noninteractive());
    list.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, words::shelves::waiting_list(waiting.len())));
    let mut area = ScrollArea::vertical().auto_shrink([false, false]);
    if list.has_focus() {
        let trays: Vec<_> = waiting.iter().map(|one| one.id.tray).collect();
        if let Some(at) = list_keys(ui, scene, list.id, &trays) {
            actions.push(Action::Go(Go::Select(trays.get(at).copied())));
            area = area.vertical_scroll_offset((at as f32 - 1.0).max(0.0) * row);
        }
        let chosen = scene.selection.tray.filter(|tray| trays.contains(tray));
        if let Some(tray) = chosen
            && ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Enter))
        {
            actions.push(Action::Do(Do::FindSpotFor(tray)));
        }
        ui.painter().rect_stroke(
            list.rect,
            CornerRadius::same(3),
            Stroke::new(2.0, palette.selected),
            StrokeKind::Outside,
        );
    }
    if waiting.is_empty() {
        // rows want a height of their own, even where there are none
        return;
    }
    area.show_rows(ui, row - ui.spacing().item_spacing.y, waiting.len(), |ui, rows| {
        for one in waiting.get(rows).unwrap_or_default() {
            waiting_row_ui(ui, scene, palette, one, zoom, gesture, actions);
        }
    });
}

/// In place of those without a spot.
fn none_ui(ui: &mut Ui, scene: &Scene<'_>, nothing_stands: bool, actions: &mut Vec<Action>) {
    let (state, said) = if nothing_stands {
        (State::Empty, words::shelves::NOTHING_STANDS)
    } else {
        (State::InOrder, words::shelves::ALL_HAVE_A_SPOT)
    };
    if let Some((said, next)) = nothing_to_place(scene) {
        match next {
            Some((next, to)) if state_next_ui(ui, State::Empty, said, next) => actions.push(Action::Go(to)),
            Some(_) => {}
            None => state_ui(ui, State::Empty, said),
        }
    } else {
        state_ui(ui, state, said);
    }
}

/// Where nothing can have a spot yet: why, and what to do next where the room beside it doesn't say so.
fn nothing_to_place(scene: &Scene<'_>) -> Option<(&'static str, Option<(&'static str, Go)>)> {
    if scene.season.shelves().next().is_none() {
        return Some((words::shelves::NOT_BEFORE_SHELVES, None));
    }
    let is_empty = scene.forecast.stays.is_empty();
    is_empty.then_some((words::weeks::NOTHING_SOWN, Some((words::sowings::WRITE_FIRST, Go::WriteSowing))))
}

/// A spot for every tray; below it how far that is, while it is looked for.
fn find_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, work: &Work<'_>, actions: &mut Vec<Action>) {
    let size = vec2(ui.available_width(), 30.0);
    let idle = work.progress.is_none() && !work.stopped && work.failure.is_none();
    let none = nothing_to_place(scene);
    let can = idle && scene.outlook.is_some() && !work.layout_stands && none.is_none();
    // the one thing to do while room is short is to make some
    let first = can && scene.outlook.is_some_and(|outlook| outlook.crunches.is_empty());
    let text = egui::RichText::new(words::weeks::FIND_SPOTS).font(theme::strong(theme::PART_PT));
    let text = if first { text.color(palette.on_selected) } else { text };
    let button = Button::new(text).min_size(size);
    let button = if first { button.fill(palette.selected) } else { button };
    let why_not = match work.failure {
        Some(failure) => failure,
        None if none.is_some() => none.map_or("", |(said, _)| said),
        None if work.stopped => words::weeks::STOPPED,
        None if work.layout_stands => words::weeks::ALL_HAVE_A_SPOT,
        None => words::weeks::WORKING,
    };
    let button = ui.add_enabled(can, button).on_hover_text(words::weeks::WHAT_FINDING_DOES);
    if button.on_disabled_hover_text(why_not).clicked() {
        actions.push(Action::Do(Do::FindSpots));
    }
    // as high when nothing is worked out
    let (foot, _) = ui.allocate_exact_size(vec2(size.x, 15.0), Sense::hover());
    if let Some(progress) = work.progress {
        let text = words::weeks::progress(work.finding, progress);
        ui.painter().text(foot.left_top(), Align2::LEFT_TOP, text, theme::small(), palette.soft_ink);
        let bar = foot.with_min_y(foot.bottom() - 2.0);
        ui.painter().rect_filled(bar.with_max_x(bar.left() + bar.width() * progress), CornerRadius::ZERO, palette.pots);
    } else if !can {
        let text = theme::cut_at_a_word(ui.painter(), why_not, theme::small(), palette.soft_ink, foot.width());
        ui.painter().galley(foot.left_top(), text, palette.soft_ink);
    }
}

/// Which trays are drawn over each other, those first that are so first.
fn clash_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let clashes = scene.problems.iter().enumerate().filter_map(|(at, problem)| match problem {
        Problem::Clash { day, .. } => Some((*day, at, problem)),
        _ => None,
    });
    let Some((_, at, problem)) = clashes.min_by_key(|(day, at, _)| (*day, *at)) else { return };
    let text = scene.words().problem(problem);
    let shown = egui::RichText::new(&text).color(palette.trouble);
    let row = Button::new(shown).wrap().min_size(vec2(ui.available_width(), theme::TARGET_PT));
    if ui.add(row).clicked() {
        actions.push(Action::Go(Go::Problem(at)));
    }
}

/// One line; gives its right end.
fn line_ui(
    painter: &egui::Painter,
    at: egui::Pos2,
    right: f32,
    text: &str,
    font: egui::FontId,
    ink: egui::Color32,
) -> f32 {
    let galley = theme::cut_at_a_word(painter, text, font, ink, right - at.x);
    let end = at.x + galley.size().x;
    painter.galley(at, galley, ink);
    end
}

fn waiting_row_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    palette: &Palette,
    one: &Placed<'_>,
    zoom: f32,
    gesture: &mut Gesture,
    actions: &mut Vec<Action>,
) {
    let height = PICTURE_PT + 14.0 - ui.spacing().item_spacing.y;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let stay = one.stay;
    let size = vec2(stay.shape.width().to_mm() as f32, stay.shape.depth().to_mm() as f32) * zoom;
    let picture = Align2::CENTER_CENTER.anchor_size(pos2(rect.left() + PICTURE_PT / 2.0 + 2.0, rect.center().y), size);
    let selected = scene.selection.holds(one.id.tray);
    let painter = ui.painter_at(rect.expand(3.0));
    if selected {
        painter.rect_filled(rect.expand2(vec2(4.0, 0.0)), CornerRadius::same(3), palette.shelf);
    }
    let manner = Manner {
        selected,
        faint: is_faint(scene, gesture, one),
        marked: scene.selection.marked.contains(&one.id.tray),
        ..Manner::default()
    };
    let mark = scene.mark(stay);
    tray_ui(&painter, palette, palette.family(scene.family(stay)), stay, Mark::default, picture, manner);
    let text = rect.left() + PICTURE_PT + 14.0;
    let clip = ui.painter_at(rect);
    let crop = scene.crop_name(stay);
    let right = rect.right();
    let title = line_ui(&clip, pos2(text, rect.top() + 4.0), right, &mark, theme::strong(theme::BODY_PT), palette.ink);
    line_ui(&clip, pos2(title + 6.0, rect.top() + 4.0), right, &crop, theme::body(), palette.ink);
    let dates = words::span(stay.span);
    let what = scene.words().what_briefly(stay);
    line_ui(&clip, pos2(text, rect.top() + 20.0), right, &what, theme::small(), palette.soft_ink);
    line_ui(&clip, pos2(text, rect.top() + 34.0), right, &dates, theme::small(), palette.soft_ink);
    let id = ui.scope_id().with(("waiting", one.id));
    let response = ui.interact(rect, id, Sense::CLICK | Sense::DRAG);
    // Held by its middle when it is taken by its words: the hand is on the tray, not beside it.
    let grabbed = ui.input(|i| i.pointer.press_origin()).filter(|pos| !picture.contains(*pos));
    let held: Rect = grabbed.map_or(picture, |pos| Rect::from_center_size(pos, size));
    tray_response(ui, scene, &response, one, held, 0, zoom, gesture, actions);
    if !response.dragged() {
        response.on_hover_text(format!("{mark}, {crop}, {what}, {dates}"));
    }
}
