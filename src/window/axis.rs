//! The one axis of days: the week strip and the rows of the plan lie on it, to the pixel.

use chrono::{Datelike as _, Days, NaiveDate, TimeDelta};
use egui::{Painter, Rangef, Rect, Stroke, Ui, pos2};

use crate::forecast::Forecast;
use crate::outlook::Outlook;
use crate::units::monday;
use crate::words;

use super::theme::{self, Palette};

/// Fewer days are not shown at once.
const LEAST_DAYS: f64 = 10.0;
/// A day wide enough for its number, in points.
const DAY_NUMBER_PT: f32 = 18.0;
/// A week wide enough for the day it begins on, in points.
const WEEK_NUMBER_PT: f32 = 34.0;

/// How much room the axis leaves at each side of the window, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Margins {
    pub(super) left: f32,
    /// For what is selected, and who fills the week; 0 where the window is too narrow for it.
    pub(super) right: f32,
}

impl Margins {
    pub(super) fn of(window_pt: f32) -> Self {
        match window_pt {
            wide if wide >= 1_000.0 => Self { left: 200.0, right: 286.0 },
            middle if middle >= 760.0 => Self { left: 150.0, right: 236.0 },
            _ => Self { left: 112.0, right: 0.0 },
        }
    }
}

/// The days that are in view where not all are: from that day, so many.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct InView {
    /// Counted from the first day of our era, with parts of days.
    from: f64,
    days: f64,
}

/// Days to the right, for everything that lies on it in one frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    /// On the screen, in points.
    pub(super) x: Rangef,
    pub(super) margins: Margins,
    /// Of the season: a Monday, and the first day after its last week.
    pub(super) first: NaiveDate,
    pub(super) last: NaiveDate,
    in_view: InView,
}

fn number(day: NaiveDate) -> f64 {
    f64::from(day.num_days_from_ce())
}

impl Axis {
    /// Across a window between those edges; `None` of a season with nothing in it.
    pub(super) fn of(
        forecast: &Forecast,
        outlook: Option<&Outlook>,
        in_view: Option<InView>,
        window: Rangef,
    ) -> Option<Self> {
        let answered = outlook.filter(|outlook| !outlook.weeks.is_empty());
        let (first, last) = if let Some(outlook) = answered {
            let mondays = outlook.weeks.iter().map(|week| week.from);
            (mondays.clone().min()?, mondays.max()?)
        } else {
            let span = forecast.span()?;
            (monday(span.from()), monday(span.last()))
        };
        let last = last.checked_add_days(Days::new(7))?;
        let margins = Margins::of(window.span());
        let x =
            Rangef::new(window.min + margins.left, (window.max - margins.right - 16.0).max(window.min + margins.left));
        let whole = InView { from: number(first), days: (number(last) - number(first)).max(1.0) };
        let in_view = in_view.map_or(whole, |in_view| in_view.within(whole));
        Some(Self { x, margins, first, last, in_view })
    }

    fn whole(&self) -> InView {
        InView { from: number(self.first), days: (number(self.last) - number(self.first)).max(1.0) }
    }

    pub(super) fn day_pt(&self) -> f32 {
        (f64::from(self.x.span()) / self.in_view.days) as f32
    }

    /// Where a day begins, also out of view.
    pub(super) fn x(&self, day: NaiveDate) -> f32 {
        self.x.min + ((number(day) - self.in_view.from) * f64::from(self.x.span()) / self.in_view.days) as f32
    }

    pub(super) fn day_at(&self, x: f32) -> NaiveDate {
        let days = self.in_view.from + f64::from(x - self.x.min) / f64::from(self.day_pt());
        let days = (days - number(self.first)).floor().clamp(-1e6, 1e6) as i64;
        self.clamp(self.first.checked_add_signed(TimeDelta::days(days)).unwrap_or(self.last))
    }

    /// The nearest day of the season.
    pub(super) fn clamp(&self, day: NaiveDate) -> NaiveDate {
        day.clamp(self.first, self.last.pred_opt().unwrap_or(self.last).max(self.first))
    }

    pub(super) fn is_in_view(&self, day: NaiveDate) -> bool {
        let day = number(day);
        day + 1.0 > self.in_view.from && day < self.in_view.from + self.in_view.days
    }

    pub(super) fn shows_all(&self) -> bool {
        self.in_view.days >= self.whole().days - 0.5
    }

    pub(super) fn week_edges(&self, monday: NaiveDate) -> (f32, f32) {
        (self.x(monday), self.x(monday) + 7.0 * self.day_pt())
    }

    /// So many times as close, with the day at `x` where it is.
    pub(super) fn closer(&self, times: f64, x: f32) -> InView {
        let at = f64::from((x - self.x.min) / self.x.span().max(1.0)).clamp(0.0, 1.0);
        let days = (self.in_view.days / times).clamp(LEAST_DAYS, self.whole().days.max(LEAST_DAYS));
        InView { from: self.in_view.from + at * (self.in_view.days - days), days }.within(self.whole())
    }

    /// Carried so many points to the left.
    pub(super) fn carried(&self, by_pt: f32) -> InView {
        let from = self.in_view.from + f64::from(by_pt / self.day_pt());
        InView { from, ..self.in_view }.within(self.whole())
    }

    /// The same, with that day in its middle where it was out of view.
    pub(super) fn with(&self, day: NaiveDate) -> InView {
        if self.is_in_view(day) {
            return self.in_view;
        }
        InView { from: number(day) - self.in_view.days / 2.0, ..self.in_view }.within(self.whole())
    }
}

impl InView {
    /// Shifted and cut so that nothing outside of the season is in view.
    fn within(self, whole: Self) -> Self {
        let days = self.days.min(whole.days);
        Self { from: self.from.min(whole.from + whole.days - days).max(whole.from), days }
    }
}

/// What the wheel brings into view over anything that lies on the axis: with Ctrl, or pinched, closer and wider;
/// sideways, along it.
pub(super) fn wheel_ui(ui: &Ui, rect: Rect, axis: &Axis) -> Option<InView> {
    let pointed = ui.rect_contains_pointer(rect).then(|| ui.input(|i| i.pointer.hover_pos())).flatten();
    let pos = pointed.filter(|pos| axis.x.contains(pos.x))?;
    let (zoom, sideways) = ui.input(|i| (i.zoom_delta(), i.smooth_scroll_delta().x));
    if (zoom - 1.0).abs() > f32::EPSILON {
        return Some(axis.closer(f64::from(zoom), pos.x));
    }
    (sideways != 0.0 && !axis.shows_all()).then(|| axis.carried(-sideways))
}

/// Upright lines where months begin, over those heights.
pub(super) fn months_ui(painter: &Painter, palette: &Palette, axis: &Axis, y: Rangef) {
    for (_, x) in months(axis) {
        painter.vline(x, y, palette.line_stroke());
    }
}

/// The months that are in view, each with where its part of the axis begins.
fn months(axis: &Axis) -> Vec<(NaiveDate, f32)> {
    let mut found = Vec::new();
    let mut month = axis.first.with_day(1).unwrap_or(axis.first);
    while month <= axis.last {
        let next = month.checked_add_months(chrono::Months::new(1)).unwrap_or(NaiveDate::MAX);
        let (from, to) = (axis.x(month.max(axis.first)).max(axis.x.min), axis.x(next.min(axis.last)));
        if to > axis.x.min && from < axis.x.max {
            found.push((month, from));
        }
        if next == NaiveDate::MAX {
            break;
        }
        month = next;
    }
    found
}

/// Months below a line, and days or the first days of weeks where they have room beside what is `taken`.
pub(super) fn labels_ui(painter: &Painter, palette: &Palette, axis: &Axis, y: f32, taken: &[Rangef]) {
    painter.hline(axis.x, y, Stroke::new(1.0, palette.soft_ink));
    let months = months(axis);
    for (at, (month, x)) in months.iter().enumerate() {
        let room = months.get(at + 1).map_or(axis.x.max, |(_, x)| *x) - x;
        if room > 26.0 {
            painter.vline(*x, y..=y + 14.0, Stroke::new(1.0, palette.soft_ink));
            let name = words::month_on_axis(*month, room > 62.0);
            let clip = Rect::from_x_y_ranges(*x..=*x + room, y..=y + 20.0);
            let painter = painter.with_clip_rect(clip.intersect(painter.clip_rect()));
            painter.text(pos2(x + 4.0, y + 4.0), egui::Align2::LEFT_TOP, name, theme::small(), palette.soft_ink);
        }
    }
    let day_pt = axis.day_pt();
    let step = match day_pt {
        wide if wide >= DAY_NUMBER_PT => 1,
        week if week * 7.0 >= WEEK_NUMBER_PT => 7,
        _ => return,
    };
    let mut day = axis.day_at(axis.x.min);
    if step == 7 {
        day = monday(day);
    }
    while day < axis.last && axis.x(day) < axis.x.max {
        let x = axis.x(day) + if step == 1 { day_pt / 2.0 } else { 0.0 };
        let is_monday = day.weekday() == chrono::Weekday::Mon;
        if axis.x.contains(x) {
            painter.vline(axis.x(day).max(axis.x.min), y - 3.0..=y, Stroke::new(1.0, palette.soft_ink));
            let font = if step == 1 && is_monday { theme::strong(theme::SMALL_PT) } else { theme::small() };
            let at = if step == 1 { egui::Align2::CENTER_BOTTOM } else { egui::Align2::LEFT_BOTTOM };
            let at_x = if step == 1 { x } else { x + 2.0 };
            let number = painter.layout_no_wrap(day.day().to_string(), font, palette.soft_ink);
            let rect = at.anchor_size(pos2(at_x, y + 31.0), number.size());
            if !taken.iter().any(|other| other.intersects(rect.x_range().expand(2.0))) {
                painter.galley(rect.min, number, palette.soft_ink);
            }
        }
        let Some(next) = day.checked_add_days(Days::new(step)) else { break };
        day = next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::shifted;
    use crate::{forecast::forecast, store};

    fn axis(in_view: Option<InView>) -> Axis {
        let forecast = forecast(&store::sample(), store::library());
        Axis::of(&forecast, None, in_view, Rangef::new(0.0, 1280.0)).expect("something is sown")
    }

    #[test]
    fn a_day_lies_where_it_is_found() {
        let all = axis(None);
        for in_view in [None, Some(all.closer(3.0, 700.0)), Some(all.closer(9.0, 0.0))] {
            let axis = axis(in_view);
            for day in all.first.iter_days().take_while(|day| *day < all.last) {
                if axis.is_in_view(day) {
                    let middle = axis.x(day) + axis.day_pt() / 2.0;
                    assert_eq!(axis.day_at(middle), day);
                }
            }
        }
    }

    #[test]
    fn what_is_pointed_at_stays_where_it_is_as_it_comes_closer() {
        let all = axis(None);
        let x = 640.0;
        let day = all.day_at(x);
        let close = axis(Some(all.closer(4.0, x)));
        assert!((close.x(day) - all.x(day)).abs() <= 4.0 * all.day_pt(), "{} {}", close.x(day), all.x(day));
        assert!((close.day_pt() - 4.0 * all.day_pt()).abs() < 0.01);
        assert!(!close.shows_all() && all.shows_all());
    }

    #[test]
    fn nothing_beside_the_season_comes_into_view() {
        let all = axis(None);
        for by in [-5_000.0, 5_000.0] {
            let axis = axis(Some(axis(Some(all.closer(5.0, 300.0))).carried(by)));
            assert!(axis.x(axis.first) <= axis.x.min + 0.01 && axis.x(axis.last) >= axis.x.max - 0.01);
        }
        let wide = axis(Some(all.closer(0.01, 300.0)));
        assert!(wide.shows_all());
        let close = axis(Some(all.closer(1e9, 300.0)));
        assert!(f64::from(close.day_pt()) <= f64::from(close.x.span()) / LEAST_DAYS + 0.1);
    }

    #[test]
    fn a_day_out_of_view_is_brought_into_its_middle() {
        let all = axis(None);
        let close = axis(Some(all.closer(8.0, 0.0)));
        let day = shifted(all.first, 60);
        assert!(!close.is_in_view(day));
        let then = axis(Some(close.with(day)));
        assert!(then.is_in_view(day) && (then.x(day) - then.x.center()).abs() < 2.0 * then.day_pt());
        assert_eq!(close.with(all.first), close.in_view);
    }
}
