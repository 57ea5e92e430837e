//! Days on which nobody is there, along the foot of the strip.

use chrono::NaiveDate;
use egui::{CornerRadius, Painter, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::window::scene::Scene;
use crate::window::theme::Palette;
use crate::words;

use super::scale::Scale;

/// From the foot down: a bar between two stops, so that it is no bar of trays.
pub(super) fn away_ui(ui: &Ui, painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>) {
    for away in scene.season.away() {
        let (first, last) = (scale.clamp(away.span.from()), scale.clamp(away.span.last()));
        if first > away.span.last() || last < away.span.from() {
            continue;
        }
        let (left, right) = (scale.x(first), (scale.x(last) + scale.day_pt()).max(scale.x(first) + 3.0));
        let foot = scale.plot.bottom();
        let bar = Rect::from_min_max(pos2(left, foot), pos2(right, foot + 4.0));
        painter.rect_filled(bar, CornerRadius::ZERO, palette.soft_ink.gamma_multiply(0.45));
        for x in [left, right] {
            painter.vline(x, foot - 3.0..=foot + 6.0, Stroke::new(1.5, palette.ink));
        }
        let said = words::weeks::nobody_there(away);
        let response = ui.interact(bar.expand2(vec2(2.0, 4.0)), ui.scope_id().with(("away", away.id)), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
        response.on_hover_text(said);
    }
}

/// What a week or the hand says of a day where weeks are the grower's own: date, week and ISO week.
pub(super) fn with_labels(scene: &Scene<'_>, day: Option<NaiveDate>, said: String) -> String {
    match day.and_then(|day| words::every_label(scene.season, day)) {
        Some(labels) => format!("{labels}\n{said}"),
        None => said,
    }
}
