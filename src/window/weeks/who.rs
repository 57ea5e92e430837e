//! Who fills the room: the strip's columns by family, and the week that is shown by crop.

use std::collections::BTreeMap;

use egui::{Align2, CornerRadius, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::outlook::Week;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};
use crate::words;

use super::scale::Scale;

pub(super) const LIST_PT: f32 = 158.0;
/// Below it the strip has the whole width.
pub(super) const LEAST_PT: f32 = 1_000.0;
const ROW_PT: f32 = 16.0;

/// Of a week, by the name that a family has for drawing.
fn by_family<'a>(scene: &Scene<'a>, week: &Week) -> BTreeMap<&'a str, u32> {
    let mut families: BTreeMap<&str, u32> = BTreeMap::new();
    for stands in scene.words().who_fills(week) {
        *families.entry(stands.family).or_insert(0) += stands.number();
    }
    families
}

/// The part of a column that has room, family on family.
pub(super) fn families_ui(
    painter: &Painter,
    scale: &Scale,
    scene: &Scene<'_>,
    week: &Week,
    held: u32,
    palette: &Palette,
) {
    let columns = scale.column(week.from).x_range();
    let mut from = 0;
    for (family, number) in by_family(scene, week) {
        let to = (from + number).min(held);
        if to > from {
            let look = palette.family(family);
            let bar = Rect::from_x_y_ranges(columns, scale.y(to)..=scale.y(from));
            painter.rect(bar, CornerRadius::ZERO, look.fill, Stroke::new(0.6, look.ink), StrokeKind::Inside);
        }
        from += number;
    }
}

/// The week of the day shown, by crop, most first.
pub(super) fn list_ui(ui: &Ui, painter: &Painter, palette: &Palette, at: Rect, scene: &Scene<'_>, week: &Week) {
    let crops = scene.words().who_fills(week);
    let rows = ((at.height() / ROW_PT) as usize).saturating_sub(1).max(1);
    let mut y = at.top();
    let line = |y: f32, text: &str, font: egui::FontId, ink| {
        let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, ink);
        job.wrap = egui::text::TextWrapping::truncate_at_width(at.width() - 14.0);
        painter.galley(pos2(at.left() + 14.0, y), painter.layout_job(job), ink);
    };
    let title = words::weeks::who_fills(week);
    painter.text(pos2(at.left(), y), Align2::LEFT_TOP, &title, theme::strong(11.5), palette.ink);
    let shown = if crops.len() > rows { rows - 1 } else { rows };
    for stands in crops.iter().take(shown) {
        y += ROW_PT;
        let look = palette.family(stands.family);
        let swatch = Rect::from_min_size(pos2(at.left(), y + 3.0), vec2(9.0, 9.0));
        painter.rect(swatch, CornerRadius::same(1), look.fill, Stroke::new(1.0, look.ink), StrokeKind::Inside);
        line(y, &stands.text(), theme::small(), palette.ink);
    }
    if crops.len() > shown {
        line(y + ROW_PT, &words::weeks::more(crops.len() - shown), theme::small(), palette.soft_ink);
    }
    let said: Vec<String> = crops.iter().map(words::CropStands::text).collect();
    let listed = format!("{title}\n{}", said.join("\n"));
    let said = format!("{title}: {}", said.join(", "));
    let response = ui.interact(at, ui.scope_id().with("who_fills"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
    response.on_hover_text(listed);
}
