use chrono::NaiveDate;
use egui::{Rect, pos2};

use crate::outlook::{Verdict, Week};
use crate::window::axis::Axis;
use crate::window::scene::Scene;

/// Days to the right, trays upwards.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) plot: Rect,
    pub(super) axis: Axis,
    most: f32,
}

impl Scale {
    /// `plot` is as wide as the axis.
    pub(super) fn of(scene: &Scene<'_>, weeks: &[&Week], axis: Axis, plot: Rect) -> Self {
        let drawn = |week: &Week| scene.chance?.of(week).map(|of| of.needed.1);
        let tallest =
            |week: &&Week| week.needed.max(rim_of(week)).max(week.lit.unwrap_or(0)).max(drawn(week).unwrap_or(0));
        let most = weeks.iter().map(tallest).max();
        Self { plot, axis, most: most.unwrap_or(0).max(1) as f32 * 1.04 }
    }

    pub(super) fn day_pt(&self) -> f32 {
        self.axis.day_pt()
    }

    pub(super) fn x(&self, day: NaiveDate) -> f32 {
        self.axis.x(day)
    }

    pub(super) fn y(&self, trays: u32) -> f32 {
        self.plot.bottom() - self.plot.height() * (trays as f32 / self.most).min(1.0)
    }

    pub(super) fn day_at(&self, x: f32) -> NaiveDate {
        self.axis.day_at(x)
    }

    pub(super) fn clamp(&self, day: NaiveDate) -> NaiveDate {
        self.axis.clamp(day)
    }

    pub(super) fn week_edges(&self, monday: NaiveDate) -> (f32, f32) {
        self.axis.week_edges(monday)
    }

    pub(super) fn column(&self, monday: NaiveDate) -> Rect {
        let (left, right) = self.week_edges(monday);
        let gap = ((right - left) * 0.05).min(2.0);
        Rect::from_min_max(pos2(left + gap, self.plot.top()), pos2(right - gap, self.plot.bottom()))
    }

    /// Whether any of the week is in view.
    pub(super) fn shows(&self, week: &Week) -> bool {
        let (left, right) = self.week_edges(week.from);
        right > self.plot.left() && left < self.plot.right()
    }
}

/// What the shelves hold of what is wanted that week, and of more of its commonest kind.
pub(super) fn rim_of(week: &Week) -> u32 {
    match week.verdict {
        Verdict::Fits | Verdict::Crunch => week.held,
        Verdict::Unsettled => week.needed.saturating_sub(week.short_at_most),
    }
}
