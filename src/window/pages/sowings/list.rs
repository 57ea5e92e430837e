//! The sowings as a list: sorted by a heading, narrowed by part of a name.

use chrono::NaiveDate;
use egui::{Align2, Button, CornerRadius, ScrollArea, Sense, StrokeKind, TextEdit, Ui, WidgetInfo, pos2, vec2};

use crate::forecast::What;
use crate::season::SowingId;
use crate::words;

use super::field::named;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

const ROW_PT: f32 = 28.0;
/// Room for a date at the right of a row, and for a number of plants.
const DATE_PT: f32 = 62.0;
const PLANTS_PT: f32 = 62.0;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Sort {
    #[default]
    Name,
    Sown,
    Out,
}

#[derive(Default)]
pub(in crate::window) struct Listing {
    sort: Sort,
    backwards: bool,
    part: String,
    /// Scrolled to in the next frame.
    pub(in crate::window) bring: Option<SowingId>,
}

pub(in crate::window) struct Row {
    pub(in crate::window) id: SowingId,
    name: String,
    family: String,
    plants: u32,
    sown: Option<NaiveDate>,
    /// It stood there already on its date.
    begun: bool,
    out: Option<NaiveDate>,
}

impl Listing {
    pub(in crate::window) fn rows(&self, scene: &Scene<'_>) -> Vec<Row> {
        let words = scene.words();
        let mut sown = std::collections::BTreeMap::new();
        for course in &scene.forecast.courses {
            let date = course.date(What::Sown).or_else(|| course.date(What::Begun));
            let first = sown.entry(course.sowing).or_insert(date);
            *first = (*first).min(date);
        }
        let part = self.part.trim().to_lowercase();
        let mut rows: Vec<Row> = scene
            .season
            .sowings()
            .map(|sowing| Row {
                id: sowing.id,
                name: words.sowing(sowing.id),
                family: scene.season.crop(scene.library, &sowing.crop).map_or_else(String::new, |c| c.family.clone()),
                plants: sowing.plants_wanted(),
                begun: sowing.begun.is_some(),
                sown: sown.get(&sowing.id).copied().flatten(),
                out: sowing.out(),
            })
            .filter(|row| part.is_empty() || row.name.to_lowercase().contains(&part))
            .collect();
        rows.sort_by_cached_key(|row| {
            let date = match self.sort {
                Sort::Name => None,
                Sort::Sown => row.sown,
                Sort::Out => row.out,
            };
            (date, row.name.to_lowercase(), row.id)
        });
        if self.backwards {
            rows.reverse();
        }
        rows
    }
}

/// The one that was chosen in this frame.
pub(in crate::window) fn list_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    list: &mut Listing,
    rows: &[Row],
    selected: Option<SowingId>,
) -> Option<SowingId> {
    let field = TextEdit::singleline(&mut list.part).hint_text("Part of a name").min_size(vec2(0.0, theme::TARGET_PT));
    named(ui.add(field.desired_width(f32::INFINITY)), "Find a sowing");
    ui.horizontal(|ui| {
        for (sort, text) in [(Sort::Name, "Name"), (Sort::Sown, "Sown"), (Sort::Out, "Out")] {
            let now = list.sort == sort;
            let arrow = if list.backwards { "↑" } else { "↓" };
            let shown = if now { theme::bold(format!("{text} {arrow}")) } else { text.into() };
            let button = ui.add(Button::new(shown).min_size(vec2(64.0, theme::TARGET_PT)));
            let name = format!("Sort by {}", text.to_lowercase());
            button.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, now, &name));
            if button.clicked() {
                list.backwards = now && !list.backwards;
                list.sort = sort;
            }
        }
    });
    if rows.is_empty() && !list.part.trim().is_empty() {
        ui.label("No sowing of that name");
    }
    ui.spacing_mut().item_spacing.y = 0.0;
    let mut chosen = None;
    let mut area = ScrollArea::vertical().auto_shrink([false, false]);
    if let Some(at) = list.bring.and_then(|id| rows.iter().position(|row| row.id == id)) {
        list.bring = None;
        area = area.vertical_scroll_offset(at.saturating_sub(3) as f32 * ROW_PT);
    }
    area.show_rows(ui, ROW_PT, rows.len(), |ui, shown| {
        for row in rows.get(shown).unwrap_or_default() {
            if row_ui(ui, scene, row, selected == Some(row.id)) {
                chosen = Some(row.id);
            }
        }
    });
    chosen
}

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, row: &Row, selected: bool) -> bool {
    let palette = Palette::of(ui);
    let width = ui.available_width();
    let (_, rect) = ui.allocate_space(vec2(width, ROW_PT));
    let response = ui.interact(rect, egui::Id::unique(("sowing row", row.id)), Sense::click());
    let date = |date: Option<NaiveDate>| date.map_or_else(|| "?".to_owned(), words::day);
    let (sown, out) = (date(row.sown), date(row.out));
    let since = if row.begun { "here" } else { "sown" };
    let name = format!("{}, {} plants, {since} {sown}, out {out}", row.name, row.plants);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, selected, &name));
    let painter = ui.painter_at(rect);
    if selected || response.hovered() {
        let fill = if selected { ui.visuals().selection.bg_fill } else { palette.shelf };
        painter.rect_filled(rect, CornerRadius::same(2), fill);
    }
    let family = palette.family(&row.family);
    let swatch = egui::Rect::from_center_size(pos2(rect.left() + 12.0, rect.center().y), vec2(12.0, 12.0));
    painter.rect(swatch, CornerRadius::same(1), family.fill, egui::Stroke::new(1.0, family.ink), StrokeKind::Inside);
    let right = rect.right() - 8.0;
    let y = rect.center().y;
    for (x, text) in [
        (right, format!("out {out}")),
        (right - DATE_PT - 14.0, sown),
        (right - 2.0 * DATE_PT - 14.0, row.plants.to_string()),
    ] {
        painter.text(pos2(x, y), Align2::RIGHT_CENTER, text, theme::body(), palette.ink);
    }
    let room = rect.width() - 24.0 - 2.0 * DATE_PT - 14.0 - PLANTS_PT;
    let font = if selected { theme::strong(theme::BODY_PT) } else { theme::body() };
    let shown = if row.begun { format!("{}, here already", row.name) } else { row.name.clone() };
    let mut job = egui::text::LayoutJob::simple_singleline(shown, font, palette.ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room.max(40.0));
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    painter.galley(pos2(rect.left() + 24.0, y - galley.size().y / 2.0), galley, palette.ink);
    let said = format!("{}: {} plants", scene.words().sowing(row.id), row.plants);
    response.on_hover_text(said).clicked()
}
