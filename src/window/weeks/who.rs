//! Who fills the room: the strip's columns by family, and the week that is shown by crop.

use std::collections::BTreeMap;

use egui::{
    Align2, Button, CornerRadius, Painter, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo,
    pos2, vec2,
};

use crate::outlook::Week;
use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::words::{self, ways_out, weeks as said};

use super::scale::Scale;

const ROW_PT: f32 = 16.0;
const BUTTON_PT: f32 = 30.0;
/// Of the bar of the crop that has most.
const LONGEST_PT: f32 = 90.0;

/// Of a week, by the name that a family has for drawing.
fn by_family<'a>(scene: &Scene<'a>, week: &Week) -> BTreeMap<&'a str, u32> {
    let mut families: BTreeMap<&str, u32> = BTreeMap::new();
    for stands in scene.who_fills(week) {
        *families.entry(stands.family.as_str()).or_insert(0) += stands.number();
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

/// The week of the day shown, by crop, most first; below it the one thing to do where room is short.
pub(super) fn list_ui(
    ui: &mut Ui,
    palette: &Palette,
    at: Rect,
    scene: &Scene<'_>,
    week: &Week,
    actions: &mut Vec<Action>,
) {
    let is_short = scene.outlook.is_some_and(|outlook| !outlook.crunches.is_empty());
    let (at, foot) = at.split_top_bottom_at_y(if is_short { at.bottom() - BUTTON_PT - 4.0 } else { at.bottom() });
    crops_ui(ui, palette, at, scene, week);
    if !is_short {
        return;
    }
    ui.scope_builder(UiBuilder::new().max_rect(foot.with_min_y(foot.top() + 2.0)), |ui| {
        let text = RichText::new(said::MAKE_ROOM).font(theme::strong(theme::PART_PT)).color(palette.on_selected);
        let button = Button::new(text).fill(palette.selected);
        if ui.add_sized(vec2(116.0, BUTTON_PT), button).on_hover_text(ways_out::WHAT_IT_DOES).clicked() {
            actions.push(Action::Go(Go::Page(Page::MakeRoom)));
        }
    });
}

fn crops_ui(ui: &Ui, palette: &Palette, at: Rect, scene: &Scene<'_>, week: &Week) {
    let painter = &ui.painter_at(at);
    let crops = scene.who_fills(week);
    let rows = ((at.height() / ROW_PT) as usize).saturating_sub(1).max(1);
    let mut y = at.top();
    let line = |y: f32, text: &str, font: egui::FontId, ink| {
        let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, ink);
        job.wrap = egui::text::TextWrapping::truncate_at_width(at.width() - LONGEST_PT - 14.0);
        painter.galley(pos2(at.left() + LONGEST_PT + 8.0, y), painter.layout_job(job), ink);
    };
    let title = said::who_fills(week);
    painter.text(pos2(at.left(), y), Align2::LEFT_TOP, &title, theme::strong(theme::BODY_PT), palette.ink);
    y += 4.0;
    let shown = if crops.len() > rows { rows - 1 } else { rows };
    let most = crops.iter().map(words::CropStands::number).max().unwrap_or(1).max(1);
    for stands in crops.iter().take(shown) {
        y += ROW_PT;
        let look = palette.family(&stands.family);
        let long = (LONGEST_PT * stands.number() as f32 / most as f32).max(3.0);
        let bar = Rect::from_min_size(pos2(at.left(), y + 2.0), vec2(long, 11.0));
        painter.rect(bar, CornerRadius::same(1), look.fill, Stroke::new(1.0, look.ink), StrokeKind::Inside);
        line(y, &stands.text(), theme::small(), palette.ink);
    }
    if crops.len() > shown {
        line(y + ROW_PT, &said::more_crops(crops.len() - shown), theme::small(), palette.soft_ink);
    }
    let told: Vec<String> = crops.iter().map(words::CropStands::text).collect();
    let listed = format!("{title}\n{}", told.join("\n"));
    let told = format!("{title}: {}", told.join(", "));
    let response = ui.interact(at, ui.scope_id().with("who_fills"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
    response.on_hover_text(listed);
}
