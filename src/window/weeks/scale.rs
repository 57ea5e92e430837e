use chrono::{Days, NaiveDate, TimeDelta};
use egui::{Rect, pos2};

use crate::outlook::{Verdict, Week};
use crate::units::monday;
use crate::window::scene::Scene;

/// Days to the right, trays upwards.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) plot: Rect,
    /// A Monday.
    pub(super) first: NaiveDate,
    /// The first day after the last column.
    pub(super) last: NaiveDate,
    most: f32,
}

impl Scale {
    /// The same days for every pool, so that the hand stays where it is.
    pub(super) fn of(scene: &Scene<'_>, weeks: &[&Week], plot: Rect) -> Option<Self> {
        let answered = scene.outlook.filter(|outlook| !outlook.weeks.is_empty());
        let (first, last) = if let Some(outlook) = answered {
            let mondays = outlook.weeks.iter().map(|week| week.from);
            (mondays.clone().min()?, mondays.max()?)
        } else {
            let span = scene.forecast.span()?;
            (monday(span.from()), monday(span.last()))
        };
        let last = last.checked_add_days(Days::new(7))?;
        let drawn = |week: &Week| scene.chance?.of(week).map(|of| of.needed.1);
        let tallest =
            |week: &&Week| week.needed.max(rim_of(week)).max(week.lit.unwrap_or(0)).max(drawn(week).unwrap_or(0));
        let most = weeks.iter().map(tallest).max();
        Some(Self { plot, first, last, most: most.unwrap_or(0).max(1) as f32 * 1.04 })
    }

    pub(super) fn day_pt(&self) -> f32 {
        self.plot.width() / (self.last - self.first).num_days().max(1) as f32
    }

    pub(super) fn x(&self, day: NaiveDate) -> f32 {
        self.plot.left() + (day - self.first).num_days() as f32 * self.day_pt()
    }

    pub(super) fn y(&self, trays: u32) -> f32 {
        self.plot.bottom() - self.plot.height() * (trays as f32 / self.most).min(1.0)
    }

    pub(super) fn day_at(&self, x: f32) -> NaiveDate {
        let days = ((x - self.plot.left()) / self.day_pt()).floor().clamp(0.0, 1e6) as i64;
        self.clamp(self.first.checked_add_signed(TimeDelta::days(days)).unwrap_or(self.last))
    }

    pub(super) fn clamp(&self, day: NaiveDate) -> NaiveDate {
        day.clamp(self.first, self.last.pred_opt().unwrap_or(self.last).max(self.first))
    }

    pub(super) fn week_edges(&self, monday: NaiveDate) -> (f32, f32) {
        (self.x(monday), self.x(monday) + 7.0 * self.day_pt())
    }

    pub(super) fn column(&self, monday: NaiveDate) -> Rect {
        let (left, right) = self.week_edges(monday);
        let gap = ((right - left) * 0.05).min(2.0);
        Rect::from_min_max(pos2(left + gap, self.plot.top()), pos2(right - gap, self.plot.bottom()))
    }
}

/// What the shelves hold of what is wanted that week, and of more of its commonest kind.
pub(super) fn rim_of(week: &Week) -> u32 {
    match week.verdict {
        Verdict::Fits | Verdict::Crunch => week.held,
        Verdict::Unsettled => week.needed.saturating_sub(week.short_at_most),
    }
}
