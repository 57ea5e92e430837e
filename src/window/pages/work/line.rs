//! One line of the list: a box to tick, whose it is and what is done, and what else is to be known.

use std::sync::Arc;

use egui::{CornerRadius, Galley, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2};

use crate::forecast::jobs::{Job, Written};
use crate::words::{fields, jobs as said};

use crate::window::glyphs::{Glyph, family_ui, glyph_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::chosen::as_room_lets;

const LINE_PT: f32 = 32.0;
const BOX_PT: f32 = 18.0;
/// Where the text of a line begins: after the box, the swatch and the picture of what is done.
pub(super) const TEXT_AT_PT: f32 = LINE_PT + 50.0;
/// Where what else is to be known begins, as a part of the line.
const ASIDE_AT: f32 = 0.6;
/// Beside what is done it has as much room; with less it stands below.
const ASIDE_PT: f32 = 200.0;
const GAP_PT: f32 = 12.0;

pub(super) enum PressedAt {
    Box,
    Line,
}

/// `dated` where the line doesn't stand below its day.
pub(super) fn line_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    job: &Job,
    (open, bring): (bool, bool),
    dated: bool,
) -> Option<PressedAt> {
    let palette = Palette::of(ui);
    let words = scene.words();
    let known = as_room_lets(scene, job);
    let (work, aside) = (words.job(job), words.job_aside(known.as_ref().unwrap_or(job)));
    let name = said::on_day(&work, job.day);
    let texts = Texts::of(ui, palette, job, (if dated { &name } else { &work }, &aside));
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), texts.height), Sense::hover());
    let tick = rect.with_max_x(rect.left() + LINE_PT);
    let line = rect.with_min_x(tick.right());
    let id = ui.scope_id().with(("job", &name, job.lots.first()));
    let why_not = words.why_no_box(job);
    let ticked = ui.interact(tick, id.with("box"), if why_not.is_some() { Sense::hover() } else { Sense::CLICK });
    let row = ui.interact(line, id, Sense::CLICK);
    row.widget_info(|| WidgetInfo::selected(Role::Button, true, open, fields::with_aside(&name, &aside)));
    if why_not.is_none() {
        ticked.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, job.done().is_some(), &name));
    }
    if bring {
        row.scroll_to_me(None);
    }
    if !ui.is_rect_visible(rect) {
        return None;
    }
    let painter = ui.painter();
    if open {
        painter.rect_filled(line, CornerRadius::same(3), ui.visuals().selection.bg_fill);
    }
    if row.hovered() {
        painter.rect_stroke(line, CornerRadius::same(3), palette.line_stroke(), StrokeKind::Inside);
    }
    box_ui(painter, palette, Rect::from_center_size(tick.center(), vec2(BOX_PT, BOX_PT)), job, ticked.hovered());
    text_ui(painter, palette, scene, line, job, texts);
    if let Some(why) = why_not {
        ticked.on_hover_text(why);
    } else if ticked.clicked() {
        return Some(PressedAt::Box);
    }
    row.clicked().then_some(PressedAt::Line)
}

fn box_ui(painter: &Painter, palette: &Palette, rect: Rect, job: &Job, hovered: bool) {
    let ink = Stroke::new(if hovered { 2.0 } else { 1.0 }, palette.ink);
    match job.written {
        Written::NotYet => {
            painter.rect(rect, CornerRadius::same(2), palette.shelf, ink, StrokeKind::Inside);
        }
        Written::Done(_) => {
            painter.rect(rect, CornerRadius::same(2), palette.shelf, ink, StrokeKind::Inside);
            let at = |x: f32, y: f32| pos2(rect.left() + x * rect.width(), rect.top() + y * rect.height());
            let tick = Stroke::new(2.0, palette.ink);
            painter.line_segment([at(0.22, 0.52), at(0.43, 0.74)], tick);
            painter.line_segment([at(0.43, 0.74), at(0.80, 0.26)], tick);
        }
        Written::Passed => {
            painter.circle_filled(rect.center(), 2.5, palette.soft_ink);
        }
    }
}

/// What is said in a line, wrapped, so that none of it is cut.
struct Texts {
    work: Arc<Galley>,
    aside: Arc<Galley>,
    /// From the corner of the first.
    aside_at: Vec2,
    /// Of the line.
    height: f32,
}

impl Texts {
    fn of(ui: &Ui, palette: &Palette, job: &Job, (work, aside): (&str, &str)) -> Self {
        let settled = matches!(job.written, Written::Done(_) | Written::Passed);
        let ink = if settled { palette.soft_ink } else { palette.ink };
        let soft = if said::is_trouble(job) { palette.trouble } else { palette.soft_ink };
        let wrapped =
            |text: &str, ink, room: f32| ui.painter().layout(text.to_owned(), theme::body(), ink, room.max(40.0));
        let room = ui.available_width() - TEXT_AT_PT - 8.0;
        let whole = wrapped(work, ink, f32::INFINITY).size().x;
        let fair = ASIDE_AT * (ui.available_width() - LINE_PT) - TEXT_AT_PT + LINE_PT;
        let beside = fair.max((whole + 16.0).min(room - ASIDE_PT));
        let is_beside = aside.is_empty() || room - beside >= ASIDE_PT.min(wrapped(aside, soft, f32::INFINITY).size().x);
        let work_room = if aside.is_empty() || !is_beside { room } else { beside - GAP_PT };
        let work = wrapped(work, ink, work_room);
        let aside = wrapped(aside, soft, if is_beside { room - beside } else { room });
        let below = work.size().y + if is_beside { 0.0 } else { aside.size().y };
        let aside_at = if is_beside { vec2(beside, 0.0) } else { vec2(0.0, work.size().y) };
        let height = LINE_PT.max(below.max(aside.size().y) + 10.0);
        Self { work, aside, aside_at, height }
    }
}

fn text_ui(painter: &Painter, palette: &Palette, scene: &Scene<'_>, line: Rect, job: &Job, texts: Texts) {
    let middle = line.center().y;
    let crop = scene.season.sowing(job.sowing).and_then(|sowing| scene.season.crop(scene.library, &sowing.crop));
    let family = palette.family(crop.map_or("", |crop| crop.family.as_str()));
    family_ui(painter, Rect::from_center_size(pos2(line.left() + 11.0, middle), vec2(18.0, 18.0)), family);
    let settled = matches!(job.written, Written::Done(_) | Written::Passed);
    let ink = if settled { palette.soft_ink } else { palette.ink };
    let picture = Rect::from_center_size(pos2(line.left() + 34.0, middle), vec2(17.0, 17.0));
    glyph_ui(painter, picture, Glyph::of(job.kind), ink);
    let left = line.left() - LINE_PT + TEXT_AT_PT;
    let Texts { work, aside, aside_at, .. } = texts;
    if aside_at.y > 0.0 {
        let top = middle - f32::midpoint(work.size().y, aside.size().y);
        painter.galley(pos2(left, top), work, ink);
        painter.galley(pos2(left, top + aside_at.y), aside, ink);
    } else {
        painter.galley(pos2(left, middle - work.size().y / 2.0), work, ink);
        painter.galley(pos2(left + aside_at.x, middle - aside.size().y / 2.0), aside, ink);
    }
}
