//! The week strip: one column a week, against the rim of what the shelves hold.

mod away;
mod band;
mod behind;
mod frost;
mod menu;
mod scale;
mod side;
mod who;

use std::sync::Arc;

use chrono::NaiveDate;
use egui::{
    Align2, CornerRadius, EventFilter, Galley, Key, Modifiers, Painter, Pos2, Rangef, Rect, Role, Sense, Stroke,
    StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};

use crate::outlook::{PoolKind, Verdict, Week};
use crate::units::shifted;
use crate::words;

use super::action::{Action, Go};
use super::axis::{self, Axis};
use super::kit::State;
use super::pictures::picture_into;
use super::scene::Scene;
use super::shelves::hatch_ui;
use super::state::DayShown;
use super::theme::{self, Palette};

pub(super) use behind::behind_ui;
use scale::{Scale, rim_of};
use side::{Looks, side_ui};

const AXIS_PT: f32 = 44.0;
const HEAD_PT: f32 = 20.0;
/// Of the strip where it is one line.
pub(super) const FOLDED_PT: f32 = 58.0;

/// What the strip is of, beside the season.
#[derive(Clone, Copy, Debug)]
pub(super) struct Strip<'a> {
    pub(super) shown: &'a DayShown,
    pub(super) pool: PoolKind,
    pub(super) folded: bool,
    /// How far the work on the outlook is, while it goes on.
    pub(super) working: Option<f32>,
}

/// Draws the strip on that axis; nothing lies on it where there is none.
pub(super) fn weeks_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    axis: Option<&Axis>,
    strip: &Strip<'_>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    let Some(axis) = axis else {
        let said = words::weeks::NOTHING_SOWN;
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, said));
        no_weeks_ui(ui, rect, State::NothingSown, said);
        return;
    };
    let Strip { shown, pool, folded, working } = *strip;
    let weeks: Vec<&Week> = scene.outlook.map(|outlook| outlook.weeks_of(pool).collect()).unwrap_or_default();
    let head = if folded { 4.0 } else { HEAD_PT };
    let plot = Rect::from_x_y_ranges(axis.x, rect.top() + head..=rect.bottom() - AXIS_PT);
    let scale = Scale::of(scene, &weeks, *axis, plot);
    hand_keys(ui, &response, scene, &scale, shown, actions);
    actions.extend(axis::wheel_ui(ui, rect, axis).map(|in_view| Action::Go(Go::Along(Some(in_view)))));
    if let Some(pos) = response.interact_pointer_pos()
        && (response.dragged()
            || response.clicked()
            || response.secondary_clicked()
            || response.is_pointer_button_down_on())
        && (plot.left() - 12.0..=plot.right() + 12.0).contains(&pos.x)
    {
        let day = scale.day_at(pos.x.clamp(plot.left(), plot.right() - 0.01));
        // from here the arrows go on
        response.request_focus();
        if day != scene.day {
            actions.push(Action::Go(Go::Day(day)));
        }
    }
    let said = words::every_label(scene.season, scene.day).unwrap_or_else(|| words::full_day(scene.day));
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, words::weeks::day_shown(&said)));
    on_axis_ui(ui, rect, scene, &scale, (&weeks, strip), response.has_focus());
    let here = |week: &&&Week| week.from <= scene.day && (scene.day - week.from).num_days() < 7;
    let here = weeks.iter().find(here).copied();
    menu::week_menu_ui(&response, scene, here, actions);
    if axis.margins.right > 0.0
        && !folded
        && let Some(week) = here
    {
        let at = Rect::from_min_max(pos2(axis.x.max + 26.0, rect.top() + 2.0), rect.max);
        who::list_ui(ui, palette, at, scene, week, actions);
    }
    if weeks.is_empty() && !folded {
        let (state, said) = match working {
            Some(progress) => (State::Working(Some(progress)), words::weeks::WORKING_ON_WEEKS),
            None => (State::Stopped, words::weeks::NOT_WORKED_OUT),
        };
        no_weeks_ui(ui, plot, state, said);
    }
    let left = Rect::from_min_max(rect.min, pos2(axis.x.min - 10.0, rect.bottom()));
    let looks = Looks { playing: shown.playing, folded };
    side_ui(ui, left, scene, (axis, pool, here), looks, actions);
}

/// In the middle of it; the picture only where there is room above the sentence.
fn no_weeks_ui(ui: &Ui, rect: Rect, state: State, said: &str) {
    const PICTURE_PT: f32 = 48.0;
    let palette = Palette::of(ui);
    let line = theme::body().size + 6.0;
    let has_picture = rect.height() >= PICTURE_PT + line;
    let middle = rect.center() + if has_picture { vec2(0.0, PICTURE_PT / 2.0) } else { Vec2::ZERO };
    if has_picture {
        let at = Rect::from_center_size(middle - vec2(0.0, f32::midpoint(PICTURE_PT, line)), Vec2::splat(PICTURE_PT));
        picture_into(ui.painter(), at, state.picture(), palette);
    }
    ui.painter().text(middle, Align2::CENTER_CENTER, said, theme::body(), palette.soft_ink);
}

/// All that lies between the ends of the axis.
fn on_axis_ui(
    ui: &Ui,
    rect: Rect,
    scene: &Scene<'_>,
    scale: &Scale,
    (weeks, strip): (&[&Week], &Strip<'_>),
    focused: bool,
) {
    let palette = Palette::of(ui);
    let clip = Rect::from_x_y_ranges(scale.axis.x, rect.y_range()).intersect(ui.clip_rect());
    let mut painter = ui.painter_at(clip);
    if !scene.outlook_is_fresh {
        painter.multiply_opacity(0.45);
    }
    for week in weeks.iter().filter(|week| scale.shows(week)) {
        column_ui(ui, &painter, palette, scale, week, scene);
    }
    if !strip.folded {
        limits_ui(&painter, palette, scale, weeks);
        band::band_ui(&painter, palette, scale, scene, strip.pool);
    }
    let painter = ui.painter_at(clip);
    let frost = frost_words(&painter, palette, scale, scene);
    let pill = scale.axis.is_in_view(scene.day).then(|| pill(&painter, palette, scale, scene.day).0.x_range());
    let taken: Vec<Rangef> = frost.iter().map(|(rect, _)| rect.x_range()).chain(pill).collect();
    axis::labels_ui(&painter, palette, &scale.axis, scale.plot.bottom(), &taken);
    away::away_ui(ui, &painter, palette, scale, scene);
    frost_ui(ui, &painter, palette, scale, scene, frost);
    sowing_ui(ui, &painter, palette, scale, scene);
    if scale.axis.is_in_view(scene.day) {
        hand_ui(&ui.painter_at(rect), palette, scale, scene.day, focused);
    }
    if !strip.folded {
        for week in weeks.iter().filter(|week| week.verdict == Verdict::Crunch && scale.shows(week)) {
            short_ui(&painter, palette, scale, week);
        }
    }
}

fn hand_keys(
    ui: &Ui,
    response: &egui::Response,
    scene: &Scene<'_>,
    scale: &Scale,
    shown: &DayShown,
    actions: &mut Vec<Action>,
) {
    let step = |days: i64| scale.clamp(shifted(scene.day, days));
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let mut to = None;
    let asked = ui.memory(|memory| memory.top_modal_layer().is_some());
    if !ui.ctx().text_edit_focused() && !asked {
        if pressed(Key::PageUp) {
            to = Some(step(-7));
        }
        if pressed(Key::PageDown) {
            to = Some(step(7));
        }
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, ..Default::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        for (key, day) in [
            (Key::ArrowLeft, step(-1)),
            (Key::ArrowRight, step(1)),
            (Key::Home, scale.axis.first),
            (Key::End, scale.clamp(NaiveDate::MAX)),
        ] {
            if pressed(key) {
                to = Some(day);
            }
        }
        if pressed(Key::Space) {
            actions.push(Action::Go(Go::Play(!shown.playing)));
        }
    }
    actions.extend(to.filter(|day| *day != scene.day).map(|day| Action::Go(Go::Day(day))));
}

/// What has room by family; what has none stands hatched over the rim.
fn column_ui(ui: &Ui, painter: &Painter, palette: &Palette, scale: &Scale, week: &Week, scene: &Scene<'_>) {
    let rect = scale.column(week.from);
    let held = if week.verdict == Verdict::Crunch { week.held } else { week.needed };
    let bar = |from: u32, to: u32| Rect::from_x_y_ranges(rect.x_range(), scale.y(to)..=scale.y(from));
    who::families_ui(painter, scale, scene, week, held, palette);
    let short = week.needed.saturating_sub(held);
    if short > 0 {
        let over = bar(held, week.needed);
        painter.rect_filled(over, CornerRadius::ZERO, palette.trouble.gamma_multiply(0.16));
        hatch_ui(painter, over, Stroke::new(1.2, palette.trouble), 6.0);
        painter.rect_stroke(over, CornerRadius::ZERO, Stroke::new(1.2, palette.trouble), StrokeKind::Inside);
    }
    if week.verdict == Verdict::Unsettled {
        let bar = bar(0, week.needed.max(1));
        super::shelves::dashed_rect_ui(painter, bar, Stroke::new(1.0, palette.ink), 3.0, 3.0);
        painter.text(
            bar.center_top() - vec2(0.0, 1.0),
            Align2::CENTER_BOTTOM,
            "?",
            theme::strong(theme::SMALL_PT),
            palette.ink,
        );
    }
    let id = ui.scope_id().with(("week", week.from));
    let response = ui.interact(rect.intersect(scale.plot), id, Sense::hover());
    let said = week_words(week, scene);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    let day = response.hover_pos().map(|pos| scale.day_at(pos.x));
    response.on_hover_text_at_pointer(away::with_labels(scene, day, said));
}

/// How many have no room, over the hand so that it can be read on any day.
fn short_ui(painter: &Painter, palette: &Palette, scale: &Scale, week: &Week) {
    let rect = scale.column(week.from);
    let layout = |text: String| painter.layout_no_wrap(text, theme::strong(theme::SMALL_PT), palette.trouble);
    let mut galley = layout(words::weeks::short(week));
    if galley.size().x > rect.width() + 4.0 {
        galley = layout(words::weeks::short_number(week));
    }
    let top = pos2(rect.center().x, scale.y(week.needed) - 3.0);
    let at = Align2::CENTER_BOTTOM.anchor_size(top, galley.size());
    painter.rect_filled(at.expand2(vec2(2.0, 0.0)), CornerRadius::same(2), palette.panel);
    painter.galley(at.min, galley, palette.trouble);
}

fn week_words(week: &Week, scene: &Scene<'_>) -> String {
    let chance = scene.chance.and_then(|chance| Some((chance, chance.of(week)?)));
    words::weeks::of_week(week, chance, scene.outlook_is_fresh)
}

/// The rim of what the shelves hold, and the dashed line of what lamps serve.
fn limits_ui(painter: &Painter, palette: &Palette, scale: &Scale, weeks: &[&Week]) {
    let lit: Vec<_> = weeks.iter().map(|week| (week.from, week.lit)).collect();
    for [from, to] in steps(scale, &lit) {
        painter.extend(egui::Shape::dashed_line(&[from, to], Stroke::new(1.5, palette.lamp), 5.0, 4.0));
    }
    let rim: Vec<_> = weeks.iter().map(|week| (week.from, Some(rim_of(week)))).collect();
    for line in steps(scale, &rim) {
        painter.line_segment(line, Stroke::new(1.6, palette.ink));
    }
}

/// A line that runs level through weeks of one figure, and upright between two.
fn steps(scale: &Scale, weeks: &[(NaiveDate, Option<u32>)]) -> Vec<[Pos2; 2]> {
    let mut lines: Vec<[Pos2; 2]> = Vec::new();
    for (monday, figure) in weeks {
        let Some(figure) = figure else { continue };
        let (left, right) = scale.week_edges(*monday);
        let y = scale.y(*figure);
        match lines.last_mut() {
            Some([_, to]) if (to.x - left).abs() < 0.5 && (to.y - y).abs() < 0.1 => to.x = right,
            Some(&mut [_, to]) if (to.x - left).abs() < 0.5 => {
                lines.extend([[to, pos2(left, y)], [pos2(left, y), pos2(right, y)]]);
            }
            _ => lines.push([pos2(left, y), pos2(right, y)]),
        }
    }
    lines
}

/// When the sowing stands there that is to stand out.
fn sowing_ui(ui: &Ui, painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>) {
    let Some(sowing) = scene.selection.sowing else { return };
    let stays = || scene.forecast.stays.iter().filter(|stay| scene.forecast.is_in(sowing, stay));
    let (Some(from), Some(last)) =
        (stays().map(|stay| stay.span.from()).min(), stays().map(|stay| stay.span.last()).max())
    else {
        return;
    };
    let x = scale.x(scale.clamp(from))..=scale.x(scale.clamp(last)) + scale.day_pt();
    let y = scale.plot.bottom();
    let bar = Rect::from_x_y_ranges(x, y - 2.5..=y + 2.5);
    painter.rect_filled(bar, CornerRadius::same(2), palette.selected);
    let said = words::weeks::stands_from_to(&scene.words().sowing(sowing), from, last);
    let response = ui.interact(bar.expand(3.0), ui.scope_id().with("stands_out"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    response.on_hover_text(said);
}

/// What is said of the last frost that the season reckons with, and where, if that lies in what is shown.
fn frost_words(painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>) -> Option<(Rect, Arc<Galley>)> {
    let frost = scene.season.settings().frost.as_ref().filter(|frost| scale.axis.is_in_view(frost.date))?;
    let x = scale.x(frost.date);
    let text = words::later_frost(frost.later_in_ten);
    let whole = painter.layout_no_wrap(text.clone(), theme::small(), palette.ink);
    let in_two = painter.layout(text, theme::small(), palette.ink, whole.size().x * 0.62);
    let hand = scale.x(scene.day) + scale.day_pt() / 2.0;
    let pill = Rangef::new(hand - 50.0, hand + 50.0);
    let plot = Rangef::new(scale.plot.left(), scale.plot.right() + 12.0);
    let (left, is_whole) = frost::beside(x, [whole.size().x, in_two.size().x], pill, plot);
    let galley = if is_whole { whole } else { in_two };
    Some((Rect::from_min_size(pos2(left, scale.plot.bottom() + 17.0), galley.size()), galley))
}

fn frost_ui(
    ui: &Ui,
    painter: &Painter,
    palette: &Palette,
    scale: &Scale,
    scene: &Scene<'_>,
    written: Option<(Rect, Arc<Galley>)>,
) {
    let (Some(frost), Some((rect, galley))) = (&scene.season.settings().frost, written) else { return };
    let x = scale.x(frost.date);
    let line = [pos2(x, scale.plot.top()), pos2(x, rect.top() + 12.0)];
    painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.2, palette.soft_ink), 2.0, 3.0));
    painter.rect_filled(rect.expand2(vec2(2.0, 0.0)), CornerRadius::ZERO, palette.panel);
    painter.galley(rect.min, galley, palette.ink);
    let said = words::last_frost_line(frost, scene.unit);
    let response = ui.interact(rect.expand(2.0), ui.scope_id().with("frost"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    response.on_hover_text(said);
}

/// Where the day shown stands written, and what is.
fn pill(painter: &Painter, palette: &Palette, scale: &Scale, day: NaiveDate) -> (Rect, Arc<Galley>) {
    let x = scale.x(day) + scale.day_pt() / 2.0;
    let y = scale.plot.bottom() + AXIS_PT - 15.0;
    let galley =
        painter.layout_no_wrap(words::weekday_and_day(day), theme::strong(theme::SMALL_PT), palette.on_selected);
    let half = galley.size().x / 2.0 + 9.0;
    let along = scale.axis.x;
    let centre = pos2(x.clamp(along.min + half, (along.max - half).max(along.min + half)), y);
    (Rect::from_center_size(centre, vec2(half * 2.0, 21.0)), galley)
}

fn hand_ui(painter: &Painter, palette: &Palette, scale: &Scale, day: NaiveDate, focused: bool) {
    let x = scale.x(day) + scale.day_pt() / 2.0;
    let (pill, galley) = pill(painter, palette, scale, day);
    painter.vline(x, scale.plot.top() - HEAD_PT + 4.0..=pill.center().y, Stroke::new(2.0, palette.selected));
    painter.rect_filled(pill, CornerRadius::same(10), palette.selected);
    if focused {
        painter.rect_stroke(
            pill.expand(2.0),
            CornerRadius::same(12),
            Stroke::new(2.0, palette.ink),
            StrokeKind::Outside,
        );
    }
    painter.galley(Align2::CENTER_CENTER.anchor_size(pill.center(), galley.size()).min, galley, palette.on_selected);
}
