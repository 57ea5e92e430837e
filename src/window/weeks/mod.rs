//! The week strip: one column a week, against the rim of what the shelves hold.

mod away;
mod band;
mod headline;
mod scale;
mod who;

use chrono::{Datelike as _, NaiveDate};
use egui::{
    Align2, CornerRadius, EventFilter, Key, Modifiers, Painter, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::outlook::{PoolKind, Verdict, Week};
use crate::units::shifted;
use crate::words;

use super::action::{Action, Go};
use super::scene::Scene;
use super::shelves::hatch_ui;
use super::state::DayShown;
use super::theme::{self, Palette};

pub(super) use headline::Work;
use scale::{Scale, rim_of};

/// As wide as `room for 1280`.
const LEFT_PT: f32 = 92.0;
const RIGHT_PT: f32 = 16.0;
const AXIS_PT: f32 = 44.0;
const HEAD_PT: f32 = 20.0;
const PLAY_PT: f32 = 28.0;

/// Draws headline and strip.
pub(super) fn weeks_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    shown: &DayShown,
    pool: PoolKind,
    work: &Work<'_>,
    actions: &mut Vec<Action>,
) {
    headline::headline_ui(ui, scene, pool, work, actions);
    let palette = Palette::of(ui);
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    let weeks: Vec<&Week> = scene.outlook.map(|outlook| outlook.weeks_of(pool).collect()).unwrap_or_default();
    let listed = rect.width() >= who::LEAST_PT;
    let right = rect.right() - RIGHT_PT - if listed { who::LIST_PT } else { 0.0 };
    let plot =
        Rect::from_min_max(pos2(rect.left() + LEFT_PT, rect.top() + HEAD_PT), pos2(right, rect.bottom() - AXIS_PT));
    let Some(scale) = Scale::of(scene, &weeks, plot) else {
        ui.painter().text(
            rect.center(),
            Align2::CENTER_CENTER,
            words::weeks::NOTHING_SOWN,
            theme::body(),
            palette.soft_ink,
        );
        return;
    };
    hand_keys(ui, &response, scene, &scale, shown, actions);
    if let Some(pos) = response.interact_pointer_pos()
        && (response.dragged() || response.clicked() || response.is_pointer_button_down_on())
        && (plot.left() - 12.0..=plot.right() + 12.0).contains(&pos.x)
    {
        let day = scale.day_at(pos.x);
        // from here the arrows go on
        response.request_focus();
        if day != scene.day {
            actions.push(Action::Go(Go::Day(day)));
        }
    }
    let said = words::every_label(scene.season, scene.day).unwrap_or_else(|| words::full_day(scene.day));
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, words::weeks::day_shown(&said)));
    let mut painter = ui.painter_at(rect);
    if !scene.outlook_is_fresh {
        painter.multiply_opacity(0.45);
    }
    for week in &weeks {
        column_ui(ui, &painter, palette, &scale, week, scene);
    }
    limits_ui(&painter, palette, &scale, &weeks, scene.day);
    band::band_ui(&painter, palette, &scale, scene, pool);
    let painter = ui.painter_at(rect);
    axis_ui(&painter, palette, &scale);
    away::away_ui(ui, &painter, palette, &scale, scene);
    frost_ui(ui, &painter, palette, &scale, scene);
    sowing_ui(ui, &painter, palette, &scale, scene);
    hand_ui(&painter, palette, &scale, scene.day, response.has_focus());
    for week in weeks.iter().filter(|week| week.verdict == Verdict::Crunch) {
        short_ui(&painter, palette, &scale, week);
    }
    let here = |week: &&&Week| week.from <= scene.day && (scene.day - week.from).num_days() < 7;
    if let Some(week) = weeks.iter().find(here).filter(|week| listed && !week.who.is_empty()) {
        let at = Rect::from_min_max(pos2(right + 18.0, rect.top() + 2.0), rect.right_bottom() - vec2(0.0, 6.0));
        who::list_ui(ui, &painter, palette, at, scene, week);
    }
    if weeks.is_empty() {
        let said = if work.progress.is_some() { words::weeks::WORKING_ON_WEEKS } else { words::weeks::NOT_WORKED_OUT };
        painter.text(plot.center(), Align2::CENTER_CENTER, said, theme::body(), palette.soft_ink);
    }
    play_ui(ui, palette, rect, shown.playing, actions);
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
            (Key::Home, scale.first),
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
        painter.text(bar.center_top() - vec2(0.0, 1.0), Align2::CENTER_BOTTOM, "?", theme::strong(11.0), palette.ink);
    }
    let id = ui.scope_id().with(("week", week.from));
    let response = ui.interact(rect.with_max_y(rect.bottom()), id, Sense::hover());
    let said = week_words(week, scene);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    let day = response.hover_pos().map(|pos| scale.day_at(pos.x));
    response.on_hover_text_at_pointer(away::with_labels(scene, day, said));
}

/// How many have no room, over the hand so that it can be read on any day.
fn short_ui(painter: &Painter, palette: &Palette, scale: &Scale, week: &Week) {
    let rect = scale.column(week.from);
    let layout = |text: String| painter.layout_no_wrap(text, theme::strong(11.0), palette.trouble);
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
fn limits_ui(painter: &Painter, palette: &Palette, scale: &Scale, weeks: &[&Week], day: NaiveDate) {
    let lit: Vec<_> = weeks.iter().map(|week| (week.from, week.lit)).collect();
    for [from, to] in steps(scale, &lit) {
        painter.extend(egui::Shape::dashed_line(&[from, to], Stroke::new(1.5, palette.lamp), 5.0, 4.0));
    }
    let rim: Vec<_> = weeks.iter().map(|week| (week.from, Some(rim_of(week)))).collect();
    for line in steps(scale, &rim) {
        painter.line_segment(line, Stroke::new(1.6, palette.ink));
    }
    let Some(week) = weeks.iter().find(|week| week.from <= day && (day - week.from).num_days() < 7) else { return };
    let left = scale.plot.left() - 8.0;
    let mut y = scale.y(rim_of(week));
    let rim_text = words::weeks::held(rim_of(week));
    painter.text(pos2(left, y), Align2::RIGHT_CENTER, rim_text, theme::strong(12.0), palette.ink);
    if let Some(limit) = week.lit {
        let at = scale.y(limit);
        y = if at >= y { at.max(y + 15.0) } else { at.min(y - 15.0) };
        painter.text(pos2(left, y), Align2::RIGHT_CENTER, words::weeks::lit(limit), theme::small(), palette.soft_ink);
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

fn axis_ui(painter: &Painter, palette: &Palette, scale: &Scale) {
    let y = scale.plot.bottom();
    painter.hline(scale.plot.x_range(), y, Stroke::new(1.0, palette.soft_ink));
    let mut month = scale.first.with_day(1).unwrap_or(scale.first);
    while month <= scale.last {
        let x = scale.x(month.max(scale.first));
        let next = month.checked_add_months(chrono::Months::new(1)).unwrap_or(NaiveDate::MAX);
        if scale.x(next.min(scale.last)) - x > 26.0 {
            painter.vline(x, y..=y + 14.0, Stroke::new(1.0, palette.soft_ink));
            let name = words::month_on_axis(month, scale.x(next.min(scale.last)) - x > 62.0);
            painter.text(pos2(x + 4.0, y + 4.0), Align2::LEFT_TOP, name, theme::small(), palette.soft_ink);
        }
        if next == NaiveDate::MAX {
            break;
        }
        month = next;
    }
}

/// When the sowing stands there that is to stand out.
fn sowing_ui(ui: &Ui, painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>) {
    let Some(sowing) = scene.selection.sowing else { return };
    let stays = || scene.forecast.stays.iter().filter(|stay| scene.forecast.sowings_in(stay).contains(&sowing));
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

/// The last frost that the season reckons with, if it lies in what is shown.
fn frost_ui(ui: &Ui, painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>) {
    let Some(frost) = scene.season.settings().frost.as_ref().filter(|frost| scale.clamp(frost.date) == frost.date)
    else {
        return;
    };
    let x = scale.x(frost.date);
    let y = scale.plot.bottom() + 17.0;
    let line = [pos2(x, scale.plot.top()), pos2(x, y + 12.0)];
    painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.2, palette.soft_ink), 2.0, 3.0));
    let galley = painter.layout_no_wrap(words::later_frost(frost.later_in_ten), theme::small(), palette.ink);
    let rect = Rect::from_min_size(pos2(x + 3.0, y), galley.size());
    let rect = if rect.right() > scale.plot.right() { rect.translate(vec2(-rect.width() - 6.0, 0.0)) } else { rect };
    // beside the pill of the day shown
    let pill = scale.x(scene.day) + scale.day_pt() / 2.0;
    let covered = rect.left() < pill + 50.0 && rect.right() > pill - 50.0;
    let rect = if covered { Rect::from_min_size(pos2(pill + 52.0, y), rect.size()) } else { rect };
    let rect = if rect.right() > scale.plot.right() + 12.0 {
        Rect::from_min_size(pos2(pill.min(x) - 52.0 - rect.width(), y), rect.size())
    } else {
        rect
    };
    painter.galley(rect.min, galley, palette.ink);
    let said = words::last_frost_line(frost, scene.unit);
    let response = ui.interact(rect.expand(2.0), ui.scope_id().with("frost"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    response.on_hover_text(said);
}

fn hand_ui(painter: &Painter, palette: &Palette, scale: &Scale, day: NaiveDate, focused: bool) {
    let x = scale.x(day) + scale.day_pt() / 2.0;
    let y = scale.plot.bottom() + AXIS_PT - 13.0;
    painter.vline(x, scale.plot.top() - HEAD_PT + 4.0..=y, Stroke::new(2.0, palette.selected));
    let text = words::weekday_and_day(day);
    let galley = painter.layout_no_wrap(text, theme::strong(12.0), palette.on_selected);
    let clip = painter.clip_rect().shrink(2.0);
    let half = galley.size().x / 2.0 + 9.0;
    let centre = pos2(x.clamp(clip.left() + half, (clip.right() - half).max(clip.left() + half)), y);
    let pill = Rect::from_center_size(centre, vec2(half * 2.0, 21.0));
    painter.rect_filled(pill, CornerRadius::same(10), palette.selected);
    if focused {
        painter.rect_stroke(
            pill.expand(2.0),
            CornerRadius::same(12),
            Stroke::new(2.0, palette.ink),
            StrokeKind::Outside,
        );
    }
    painter.galley(Align2::CENTER_CENTER.anchor_size(centre, galley.size()).min, galley, palette.on_selected);
}

fn play_ui(ui: &Ui, palette: &Palette, strip: Rect, playing: bool, actions: &mut Vec<Action>) {
    let centre: Pos2 = pos2(strip.left() + 8.0 + PLAY_PT / 2.0, strip.bottom() - PLAY_PT / 2.0 - 2.0);
    let rect = Rect::from_center_size(centre, vec2(PLAY_PT, PLAY_PT));
    let response = ui.interact(rect, ui.scope_id().with("play"), Sense::click());
    let name = if playing { words::weeks::STOP_DAYS } else { words::weeks::RUN_DAYS };
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    let visuals = ui.style().interact(&response);
    ui.painter().rect(rect, CornerRadius::same(3), visuals.bg_fill, visuals.bg_stroke, StrokeKind::Inside);
    if playing {
        for dx in [-4.0, 4.0] {
            let bar = Rect::from_center_size(centre + vec2(dx, 0.0), vec2(3.5, 11.0));
            ui.painter().rect_filled(bar, CornerRadius::ZERO, palette.ink);
        }
    } else {
        let points = vec![centre + vec2(-4.0, -6.0), centre + vec2(6.0, 0.0), centre + vec2(-4.0, 6.0)];
        ui.painter().add(egui::Shape::convex_polygon(points, palette.ink, Stroke::NONE));
    }
    if response.on_hover_text(name).clicked() {
        actions.push(Action::Go(Go::Play(!playing)));
    }
}
