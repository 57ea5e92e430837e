//! One line of the list: a box to tick, whose it is and what is done, and what else is to be known.

use egui::{CornerRadius, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::forecast::jobs::{Job, Written};
use crate::words::{fields, jobs as said};

use crate::window::glyphs::{Glyph, family_ui, glyph_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

const LINE_PT: f32 = 32.0;
const BOX_PT: f32 = 18.0;
/// Where the text of a line begins: after the box, the swatch and the picture of what is done.
pub(super) const TEXT_AT_PT: f32 = LINE_PT + 50.0;
/// Where what else is to be known begins, as a part of the line.
const ASIDE_AT: f32 = 0.6;

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
    let (work, aside) = (words.job(job), words.job_aside(job));
    let name = said::on_day(&work, job.day);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), LINE_PT), Sense::hover());
    let tick = Rect::from_min_size(rect.min, vec2(LINE_PT, LINE_PT));
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
    text_ui(painter, palette, scene, line, job, (if dated { &name } else { &work }, &aside));
    if let Some(why) = why_not {
        ticked.on_hover_text(why);
    } else if ticked.clicked() {
        return Some(PressedAt::Box);
    }
    row.on_hover_text(fields::with_aside(&name, &aside)).clicked().then_some(PressedAt::Line)
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

fn text_ui(
    painter: &Painter,
    palette: &Palette,
    scene: &Scene<'_>,
    line: Rect,
    job: &Job,
    (work, aside): (&str, &str),
) {
    let middle = line.center().y;
    let crop = scene.season.sowing(job.sowing).and_then(|sowing| scene.season.crop(scene.library, &sowing.crop));
    let family = palette.family(crop.map_or("", |crop| crop.family.as_str()));
    family_ui(painter, Rect::from_center_size(pos2(line.left() + 11.0, middle), vec2(18.0, 18.0)), family);
    let settled = matches!(job.written, Written::Done(_) | Written::Passed);
    let ink = if settled { palette.soft_ink } else { palette.ink };
    let picture = Rect::from_center_size(pos2(line.left() + 34.0, middle), vec2(17.0, 17.0));
    glyph_ui(painter, picture, Glyph::of(job.kind), ink);
    let left = line.left() - LINE_PT + TEXT_AT_PT;
    let whole = painter.layout_no_wrap(work.to_owned(), theme::body(), ink);
    let aside_at =
        (line.left() + ASIDE_AT * line.width()).max((left + whole.size().x + 16.0).min(line.right() - 200.0));
    let room = if aside.is_empty() { line.right() } else { aside_at } - left - 12.0;
    let text = theme::cut_at_a_word(painter, work, theme::body(), ink, room);
    painter.galley(pos2(left, middle - text.size().y / 2.0), text, ink);
    let ink = if said::is_trouble(job) { palette.trouble } else { palette.soft_ink };
    let text = theme::cut_at_a_word(painter, aside, theme::body(), ink, line.right() - aside_at - 8.0);
    painter.galley(pos2(aside_at, middle - text.size().y / 2.0), text, ink);
}
