use egui::{Painter, Rangef, Stroke};

use crate::outlook::PoolKind;
use crate::window::scene::Scene;
use crate::window::theme::Palette;

use super::scale::Scale;

/// In the middle of each column a thin upright line with a foot and a head: what 9 and 1 of 10
/// springs want at least. What it says in words is in the column's own.
pub(super) fn band_ui(painter: &Painter, palette: &Palette, scale: &Scale, scene: &Scene<'_>, pool: PoolKind) {
    let Some(chance) = scene.chance else { return };
    for week in chance.weeks_of(pool).filter(|week| scale.clamp(week.from) == week.from) {
        let (low, high) = week.needed;
        if low == high {
            continue;
        }
        let column = scale.column(week.from);
        let half = (column.width() * 0.18).clamp(1.5, 4.0);
        band_sign_ui(painter, palette, column.center().x, Rangef::new(scale.y(high), scale.y(low)), half);
    }
}

/// The line from top to bottom, its foot and head `half` to each side.
pub(super) fn band_sign_ui(painter: &Painter, palette: &Palette, x: f32, y: Rangef, half: f32) {
    // a pale edge, so that it can be told on plugs, pots and hatching alike
    for (width, colour) in [(3.5, palette.panel), (1.3, palette.ink)] {
        let stroke = Stroke::new(width, colour);
        let over = (width - 1.3) / 2.0;
        painter.vline(x, y, stroke);
        for end in [y.min, y.max] {
            painter.hline(x - half - over..=x + half + over, end, stroke);
        }
    }
}
