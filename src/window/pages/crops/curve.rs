//! Height and spread over the weeks, as a small drawing that follows what is typed.

use egui::{Align2, CornerRadius, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::season::{Crop, GrowthPoint};
use crate::units::{Length, LengthUnit};
use crate::window::theme::{self, Palette};
use crate::words::crops as said;

const HIGH_PT: f32 = 150.0;
const LEFT_PT: f32 = 58.0;
const RIGHT_PT: f32 = 62.0;

pub(super) fn curve_ui(ui: &mut Ui, crop: &Crop, unit: LengthUnit) {
    let palette = Palette::of(ui);
    let (heights, spreads) = (&crop.heights.value, &crop.spreads.value);
    let all = || heights.iter().chain(spreads);
    let weeks = all().map(|point| point.week).fold(1.0, f64::max);
    let most = all().map(|point| point.mm).fold(10.0, f64::max);
    let end = |points: &[GrowthPoint]| {
        let last = points.last().map_or((0.0, 0.0), |point| (point.mm, point.week));
        (words(last.0, unit), last.1)
    };
    let (high, wide) = (end(heights), end(spreads));
    let name = said::drawing((&high.0, high.1), (&wide.0, wide.1));
    let width = ui.available_width().clamp(220.0, 460.0);
    let (rect, response) = ui.allocate_exact_size(vec2(width, HIGH_PT + 24.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &name));
    let painter = ui.painter_at(rect.expand(2.0));
    let field = Rect::from_min_max(rect.min + vec2(LEFT_PT, 6.0), pos2(rect.right() - RIGHT_PT, rect.top() + HIGH_PT));
    painter.rect(field, CornerRadius::ZERO, palette.shelf, Stroke::new(1.0, palette.line), StrokeKind::Outside);
    for (mm, y) in [(0.0, field.bottom()), (most / 2.0, field.center().y), (most, field.top())] {
        painter.hline(field.x_range(), y, Stroke::new(1.0, palette.line));
        let at = pos2(field.left() - 5.0, y);
        painter.text(at, Align2::RIGHT_CENTER, words(mm, unit), theme::small(), palette.soft_ink);
    }
    let last = weeks.ceil().min(60.0) as u32;
    let step = last.div_ceil(8).max(1);
    for week in (0..=last).step_by(step as usize) {
        let at = pos2(field.left() + field.width() * (f64::from(week) / weeks) as f32, field.bottom() + 3.0);
        painter.text(at, Align2::CENTER_TOP, week.to_string(), theme::small(), palette.soft_ink);
    }
    let place = |point: &GrowthPoint| {
        let (x, y) = ((point.week / weeks) as f32, (point.mm / most) as f32);
        pos2(field.left() + field.width() * x, field.bottom() - field.height() * y)
    };
    let line = |points: &[GrowthPoint]| -> Vec<Pos2> {
        std::iter::once(field.left_bottom()).chain(points.iter().map(place)).collect()
    };
    let (high, wide) = (line(heights), line(spreads));
    painter.add(Shape::line(high.clone(), Stroke::new(2.0, palette.ink)));
    painter.extend(Shape::dashed_line(&wide, Stroke::new(2.0, palette.selected), 6.0, 4.0));
    for at in high.iter().skip(1) {
        painter.circle_filled(*at, 3.0, palette.ink);
    }
    let ends = [(said::HEIGHT, high.last(), palette.ink), (said::SPREAD, wide.last(), palette.selected)];
    labels(&painter, field, &ends);
}

/// Behind the end of each line, the lower one below the other where they would collide.
fn labels(painter: &Painter, field: Rect, ends: &[(&str, Option<&Pos2>, egui::Color32); 2]) {
    let ys = ends.map(|(_, at, _)| at.map_or(field.bottom(), |at| at.y));
    let [mut first, mut second] = ys;
    if (first - second).abs() < 13.0 {
        let middle = f32::midpoint(first, second).max(field.top() + 7.0);
        (first, second) = (middle - 7.0, middle + 7.0);
    }
    for ((text, _, ink), y) in ends.iter().zip([first, second]) {
        painter.text(pos2(field.right() + 6.0, y), Align2::LEFT_CENTER, *text, theme::small(), *ink);
    }
}

fn words(mm: f64, unit: LengthUnit) -> String {
    Length::try_from_mm(mm).unwrap_or(Length::ZERO).in_words(unit)
}
