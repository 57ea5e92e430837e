//! How a lot is drawn along the axis: what it takes of the room, not only when.

use chrono::NaiveDate;
use egui::{CornerRadius, Painter, Rangef, Rect, Stroke, StrokeKind, pos2, vec2};

use crate::forecast::{Course, Event, What, Why};

use crate::window::axis::Axis;
use crate::window::shelves::dashed_rect_ui;
use crate::window::theme::{Family, Palette};

const CELL_PT: f32 = 5.0;
const POT_PT: f32 = 12.0;

/// What a lot stands in for a while.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stands {
    /// In the dark or on the mat, not up yet.
    Sown,
    Cells,
    Pots,
    Hardening,
}

impl Stands {
    const fn half_pt(self) -> f32 {
        match self {
            Self::Sown => 4.0,
            Self::Cells => 7.0,
            Self::Pots => 9.0,
            Self::Hardening => 6.0,
        }
    }
}

/// One after the other, from sowing until it goes; what takes no day is left out.
fn parts(course: &Course) -> Vec<(NaiveDate, NaiveDate, Stands)> {
    let mut parts: Vec<(NaiveDate, NaiveDate, Stands)> = Vec::new();
    let mut now: Option<(NaiveDate, Stands)> = None;
    for event in &course.events {
        let next = match event.what {
            What::Sown => Stands::Sown,
            What::Begun => match event.why {
                Why::Stage { stage: crate::season::Stage::Sown, .. } => Stands::Sown,
                _ => Stands::Cells,
            },
            What::Up if matches!(now, Some((_, Stands::Sown))) => Stands::Cells,
            What::MovedOn(_) => Stands::Pots,
            What::Hardening => Stands::Hardening,
            What::Out { .. } => {
                if let Some((from, stands)) = now.filter(|(from, _)| *from < event.date) {
                    parts.push((from, event.date, stands));
                    now = Some((event.date, stands));
                }
                continue;
            }
            _ => continue,
        };
        // moved on while it hardens off: in pots, outside
        let next = if matches!(now, Some((_, Stands::Hardening))) { Stands::Hardening } else { next };
        if let Some((from, stands)) = now.filter(|(from, _)| *from < event.date) {
            parts.push((from, event.date, stands));
        }
        now = Some((event.date, next));
    }
    parts
}

/// From the first day to the last, on the screen.
pub(super) fn extent(axis: &Axis, course: &Course) -> Option<Rangef> {
    let parts = parts(course);
    Some(Rangef::new(axis.x(parts.first()?.0), axis.x(parts.last()?.1)))
}

pub(super) fn bar_ui(painter: &Painter, palette: &Palette, axis: &Axis, look: Family, course: &Course, y: f32) {
    waits_ui(painter, palette, axis, course, y);
    for (from, until, stands) in parts(course) {
        let x = Rangef::new(axis.x(from), axis.x(until));
        if x.max < axis.x.min || x.min > axis.x.max {
            continue;
        }
        let rect = Rect::from_x_y_ranges(x, y - stands.half_pt()..=y + stands.half_pt());
        if stands == Stands::Hardening {
            painter.rect_filled(rect, CornerRadius::ZERO, palette.shelf);
            dashed_rect_ui(painter, rect, Stroke::new(1.2, look.ink), 4.0, 3.0);
            continue;
        }
        painter.rect(rect, CornerRadius::ZERO, look.fill, Stroke::new(1.0, look.ink), StrokeKind::Inside);
        inside_ui(painter, axis, look, rect, stands);
    }
    for event in &course.events {
        ends_ui(painter, palette, axis, look, event, y);
    }
}

/// Cells as upright lines, pots as squares.
fn inside_ui(painter: &Painter, axis: &Axis, look: Family, rect: Rect, stands: Stands) {
    let seen = rect.intersect(Rect::from_x_y_ranges(axis.x, rect.y_range()));
    let ink = look.ink.gamma_multiply(0.55);
    let (step, half) = match stands {
        Stands::Cells => (CELL_PT, 4.0),
        Stands::Pots => (POT_PT, 4.5),
        Stands::Sown | Stands::Hardening => return,
    };
    let skipped = ((seen.left() - rect.left()) / step).floor().max(0.0);
    let mut x = rect.left() + skipped * step + step;
    while x + step / 2.0 < seen.right().min(rect.right() - 1.0) {
        let centre = pos2(x, rect.center().y);
        if stands == Stands::Cells {
            painter.vline(x, centre.y - half..=centre.y + half, Stroke::new(1.0, ink));
        } else {
            let pot = Rect::from_center_size(centre, vec2(2.0 * half, 2.0 * half));
            painter.rect_stroke(pot, CornerRadius::ZERO, Stroke::new(1.0, ink), StrokeKind::Inside);
        }
        x += step;
    }
}

/// How long moving on may wait, as a line below.
fn waits_ui(painter: &Painter, palette: &Palette, axis: &Axis, course: &Course, y: f32) {
    let due = |event: &&Event| event.what == What::Due;
    let Some(due) = course.events.iter().find(due) else { return };
    let latest = course.events.iter().find(|event| matches!(event.what, What::Latest(_)) && event.date > due.date);
    if let Some(latest) = latest {
        let below = y + 12.5;
        painter.hline(axis.x(due.date)..=axis.x(latest.date), below, Stroke::new(3.0, palette.soft_ink));
    }
}

/// Early and late as thin ends, what was seen as a solid edge, the day out as a dot.
fn ends_ui(painter: &Painter, palette: &Palette, axis: &Axis, look: Family, event: &Event, y: f32) {
    if let (What::Up | What::MovedOn(_), Some((early, late))) = (event.what, event.range) {
        let (early, late) = (axis.x(early), axis.x(late));
        painter.hline(early..=late, y, Stroke::new(1.2, look.ink));
        for end in [early, late] {
            painter.vline(end, y - 3.0..=y + 3.0, Stroke::new(1.2, look.ink));
        }
    }
    let x = axis.x(event.date);
    if event.why == Why::Seen {
        painter.vline(x, y - 10.0..=y + 10.0, Stroke::new(3.0, palette.ink));
    }
    if matches!(event.what, What::Out { .. }) {
        painter.circle(pos2(x, y), 4.5, look.ink, Stroke::new(1.0, palette.paper));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{forecast::forecast, store};

    /// No gap and no overlap from the first day to the last, in every course of the sample.
    #[test]
    fn a_lot_stands_in_one_thing_at_a_time() {
        let forecast = forecast(&store::sample(), store::library());
        for course in &forecast.courses {
            let parts = parts(course);
            assert!(!parts.is_empty(), "{course:?}");
            for (one, next) in parts.iter().zip(parts.iter().skip(1)) {
                assert_eq!(one.1, next.0, "{parts:?}");
            }
            let out =
                course.events.iter().filter(|event| matches!(event.what, What::Out { .. })).map(|event| event.date);
            assert_eq!(parts.last().map(|part| part.1), out.max());
            assert_eq!(parts.first().map(|part| part.0), course.date(What::Sown).or_else(|| course.date(What::Begun)));
        }
    }
}
