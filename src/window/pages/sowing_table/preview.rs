//! The rows as they would be taken in, and those that are left out; only what is in view is drawn.

use egui::{
    Align2, Color32, CornerRadius, EventFilter, Id, Key, Modifiers, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use super::reading::Found;
use crate::window::theme::{self, Palette};
use crate::words::sowing_table::{self as said, HEADS, PreviewRow};

const ROW_PT: f32 = 24.0;
/// Parts of the width; the first starts at the left.
const COLUMNS: [f32; HEADS.len()] = [0.06, 0.22, 0.08, 0.135, 0.135, 0.235, 0.135];
/// Numbers stand to the right.
const PLANTS: usize = 2;
/// Narrower, and it scrolls sideways.
const LEAST_PT: f32 = 820.0;
/// By the arrows to the sides.
const FAR: usize = 10;

#[derive(Default)]
pub(super) struct PreviewView {
    /// The row that the keys are on.
    at: usize,
    /// A line of the file, brought into view in the next frame.
    bring: Option<u64>,
    /// That row is marked.
    brought: bool,
}

impl PreviewView {
    pub(super) fn bring(&mut self, line: u64) {
        self.bring = Some(line);
    }
}

pub(super) fn preview_ui(ui: &mut Ui, found: &Found, view: &mut PreviewView) {
    let rows = found.lines.len();
    view.at = view.at.min(rows.saturating_sub(1));
    ui.label(theme::bold(said::would_be_taken_in(found.taken)));
    ScrollArea::horizontal().id_salt("table_sideways").auto_shrink([false, false]).show(ui, |ui| {
        ui.set_width(ui.available_width().max(LEAST_PT));
        ui.spacing_mut().item_spacing.y = 0.0;
        head_ui(ui);
        let rect = ui.available_rect_before_wrap();
        // one Tab stop, arrows inside
        let id = Id::unique("table_rows");
        let response = ui.interact(rect, id, Sense::click());
        let moved = if response.has_focus() { keys(ui, id, view, rows) } else { false };
        let mut area = ScrollArea::vertical().id_salt("table").auto_shrink([false, false]);
        if let Some(at) = view.bring.take().and_then(|line| found.lines.iter().position(|one| one.line == line)) {
            (view.at, view.brought) = (at, true);
            area = area.vertical_scroll_offset(at.saturating_sub(2) as f32 * ROW_PT);
        } else if moved {
            area = area.vertical_scroll_offset(view.at.saturating_sub(4) as f32 * ROW_PT);
        }
        let marked = (view.brought || response.has_focus()).then_some(view.at);
        area.show_rows(ui, ROW_PT, rows, |ui, shown| {
            let first = shown.start;
            for (number, line) in found.lines.get(shown).unwrap_or_default().iter().enumerate() {
                line_ui(ui, line, marked == Some(first + number));
            }
        });
        if response.clicked() {
            response.request_focus();
        }
        let row = found.lines.get(view.at).map_or_else(String::new, said::row);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::ListBox, true, said::rows(rows, &row)));
        if response.has_focus() {
            let stroke = Stroke::new(2.0, Palette::of(ui).selected);
            ui.painter().rect_stroke(rect, CornerRadius::same(2), stroke, StrokeKind::Inside);
        }
    });
}

/// Whether the row was changed.
fn keys(ui: &Ui, id: Id, view: &mut PreviewView, rows: usize) -> bool {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let (now, last) = (view.at, rows.saturating_sub(1));
    for (key, to) in [
        (Key::ArrowUp, now.saturating_sub(1)),
        (Key::ArrowDown, now + 1),
        (Key::ArrowLeft, now.saturating_sub(FAR)),
        (Key::ArrowRight, now + FAR),
        (Key::Home, 0),
        (Key::End, last),
    ] {
        if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            view.at = to.min(last);
        }
    }
    view.at != now
}

/// Left end and width of each column.
fn spans(rect: Rect) -> impl Iterator<Item = (f32, f32)> {
    let mut left = rect.left() + 6.0;
    COLUMNS.into_iter().map(move |part| {
        let width = (rect.width() - 6.0) * part;
        left += width;
        (left - width, width)
    })
}

fn head_ui(ui: &mut Ui) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW_PT));
    let palette = Palette::of(ui);
    for (place, (name, span)) in HEADS.into_iter().zip(spans(rect)).enumerate() {
        cell_ui(ui, rect, span, name, place == PLANTS, theme::strong(theme::BODY_PT), palette.ink);
    }
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, palette.soft_ink));
}

fn line_ui(ui: &mut Ui, line: &PreviewRow, at: bool) {
    let palette = Palette::of(ui);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW_PT));
    let response = ui.interact(rect, Id::unique(("table_row", line.line)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::ListItem, true, said::row(line)));
    if at {
        ui.painter().rect_filled(rect, CornerRadius::same(2), palette.shelf);
    }
    let left_out = line.out.is_empty();
    let ink = if left_out { palette.soft_ink } else { palette.ink };
    let number = line.line.to_string();
    let cells = [&number, &line.sowing, &line.plants, &line.sow, &line.out, &line.rule, line.odd];
    for (place, (text, span)) in cells.into_iter().zip(spans(rect)).enumerate() {
        let odd = place == COLUMNS.len() - 1;
        let font = if odd { theme::strong(theme::BODY_PT) } else { theme::body() };
        cell_ui(ui, rect, span, text, place == PLANTS, font, if odd { palette.trouble } else { ink });
    }
    response.on_hover_text(said::row(line));
}

fn cell_ui(ui: &Ui, row: Rect, (left, width): (f32, f32), text: &str, right: bool, font: egui::FontId, ink: Color32) {
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(width - 10.0);
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let (anchor, x) = if right { (Align2::RIGHT_CENTER, left + width - 16.0) } else { (Align2::LEFT_CENTER, left) };
    let place = anchor.anchor_size(pos2(x, row.center().y), galley.size());
    ui.painter().galley(place.min, galley, ink);
}
