//! The map of a tray that several sowings share: who stands in which rows, each with a way out of it.

use egui::{CornerRadius, Painter, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::forecast::{SharedPart, SharedTray};
use crate::season::{Op, Sowing, TrayKey};
use crate::words::sharing as said;

use super::action::{Action, Go};
use super::kit::{small_button_ui, soft_ui};
use super::scene::Scene;
use super::state::Page;
use super::theme::{self, Family, Palette};

/// A row is drawn so high; a part of one row has room for its words.
const ROW_PT: f32 = 9.0;

pub(super) fn shared_tray_ui(ui: &mut Ui, scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let Some(shared) = scene.forecast.shared.get(&tray) else { return };
    ui.add_space(8.0);
    ui.label(theme::bold(said::WHO_STANDS_IN_IT));
    soft_ui(ui, &said::of_tray(shared));
    // of a tray that stands there now what is in it now, else all that was or comes
    let is_here = shared.on(scene.day).next().is_some();
    let has_left = |part: &&SharedPart| is_here && part.until <= scene.day;
    for part in shared.parts.iter().filter(|part| !has_left(part)) {
        // the button first: what is left of the line is the part's
        let line = egui::Layout::right_to_left(egui::Align::Min);
        let size = vec2(ui.available_width(), high_of(part));
        ui.allocate_ui_with_layout(size, line, |ui| part_ui(ui, scene, tray, (shared, part), actions));
    }
    let left = shared.parts.iter().filter(has_left).cloned().collect::<Vec<_>>();
    if let Some(free) = said::free(shared, &left) {
        soft_ui(ui, &free);
    }
    let here = |lot| shared.parts.iter().any(|part| part.lot == lot);
    for fewer in scene.forecast.fewer.iter().filter(|fewer| here(fewer.lot)) {
        soft_ui(ui, &scene.words().fewer_trays(fewer));
    }
}

fn part_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    tray: TrayKey,
    (shared, part): (&SharedTray, &SharedPart),
    actions: &mut Vec<Action>,
) {
    let Some(sowing) = scene.season.sowing(part.sowing) else { return };
    let crop = scene.season.crop(scene.library, &sowing.crop);
    let family = Palette::of(ui).family(crop.map_or("", |crop| crop.family.as_str()));
    let text = scene.words().part(shared, part);
    // the program puts together, and takes apart again, what has a key of a lot's own
    let can_leave = matches!(tray, TrayKey::Own { .. });
    if can_leave && small_button_ui(ui, said::TAKE_OUT, &said::take_out(&scene.words().which(sowing.id))) {
        actions.push(Action::edit(Op::PutSowing(Sowing { alone: true, ..sowing.clone() })));
    }
    let rows = part.rows.end.saturating_sub(part.rows.start);
    let size = vec2(ui.available_width(), high_of(part));
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    rows_ui(&ui.painter_at(rect), rect, family, rows, &text);
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &text));
    if response.on_hover_text(&text).clicked() {
        actions.push(Action::Go(Go::Sowing(sowing.id)));
        actions.push(Action::Go(Go::Page(Page::Plan)));
    }
}

fn high_of(part: &SharedPart) -> f32 {
    let rows = part.rows.end.saturating_sub(part.rows.start);
    (rows as f32 * ROW_PT).clamp(theme::TARGET_PT, 3.0 * theme::TARGET_PT)
}

/// A line for each row, and who stands there.
fn rows_ui(painter: &Painter, rect: Rect, family: Family, rows: u32, text: &str) {
    painter.rect(rect, CornerRadius::same(1), family.fill, Stroke::new(1.0, family.ink), StrokeKind::Inside);
    for row in 1..rows {
        let y = rect.top() + rect.height() * row as f32 / rows as f32;
        painter.hline(rect.x_range(), y, Stroke::new(0.5, family.ink.gamma_multiply(0.5)));
    }
    let text = theme::cut_at_a_word(painter, text, theme::small(), family.ink, rect.width() - 10.0);
    let at = pos2(rect.left() + 5.0, rect.center().y - text.size().y / 2.0);
    // no row is drawn through the words
    painter.rect_filled(Rect::from_min_size(at, text.size()).expand2(vec2(3.0, 0.0)), CornerRadius::ZERO, family.fill);
    painter.galley(at, text, family.ink);
}
