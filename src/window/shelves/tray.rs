//! One tray on the board: as `export` draws it, and the marks of the moment.

use egui::emath::GuiRounding as _;
use egui::{Align2, Color32, CornerRadius, Mesh, Painter, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

use crate::export;
use crate::forecast::{Inside, Shape as Outline, Stay};
use crate::window::theme::{self, Family, Palette};

use super::board::mm;
use super::drawn::{INSIDE, shapes_ui};
use super::paint::hatch_ui;

/// A smaller tray is drawn as its outline alone.
const LEAST_PT: f32 = 18.0;

/// What is written on a tray.
#[derive(Clone, Debug, Default)]
pub(crate) struct Mark {
    pub(crate) tray: String,
    /// Of a tray that is carried out and in, and is drawn where it stands by day and where by night.
    pub(crate) part_of_day: Option<&'static str>,
}

/// How a tray is to be drawn.
#[expect(clippy::struct_excessive_bools, reason = "each is a mark of its own, in any company")]
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Manner {
    pub(crate) quarter_turns: u8,
    pub(crate) selected: bool,
    /// Proves the crunch that was asked about.
    pub(crate) marked: bool,
    pub(crate) pinned: bool,
    /// Its place while it is in the hand elsewhere.
    pub(crate) faint: bool,
    /// On ground where another stands.
    pub(crate) in_the_way: bool,
}

/// Paints the stay into `rect_on_screen`, which is its ground at the board's zoom.
pub(crate) fn tray_ui(
    painter: &Painter,
    palette: &Palette,
    family: Family,
    stay: &Stay,
    mark: impl FnOnce() -> Mark,
    rect_on_screen: Rect,
    manner: Manner,
) {
    if !painter.clip_rect().intersects(rect_on_screen) {
        return;
    }
    let mut painter = painter.clone();
    if manner.faint {
        painter.multiply_opacity(0.3);
    }
    let turned = manner.quarter_turns % 2 == 1;
    let along = if turned { rect_on_screen.height() } else { rect_on_screen.width() };
    let zoom = along / mm(stay.shape.width()).max(1.0);
    let is_small = rect_on_screen.size().max_elem() < LEAST_PT;
    if is_small {
        small_ui(&painter, rect_on_screen, family);
    } else {
        let shapes = export::tray(&stay.shape, family.kind, manner.quarter_turns);
        shapes_ui(&painter, palette, &shapes, rect_on_screen.min, zoom);
    }
    if let (Outline::Tray { inside, .. }, false) = (&stay.shape, is_small) {
        if *inside == Inside::Open {
            open_ui(&painter, rect_on_screen, family.ink.gamma_multiply(INSIDE));
        }
        head_ui(&painter, rect_on_screen, manner.quarter_turns, family.ink);
    }
    if manner.in_the_way {
        hatch_ui(&painter, rect_on_screen, Stroke::new(1.5, palette.trouble), 7.0);
    }
    if manner.marked || manner.in_the_way {
        painter.rect_stroke(
            rect_on_screen,
            CornerRadius::same(1),
            Stroke::new(2.0, palette.trouble),
            StrokeKind::Inside,
        );
    }
    if !is_small {
        mark_ui(&painter, family, &mark(), rect_on_screen);
    }
    if manner.pinned {
        pin_ui(&painter, rect_on_screen, family);
    }
    if manner.selected {
        painter.rect_stroke(
            rect_on_screen.expand(1.0),
            CornerRadius::same(2),
            Stroke::new(2.5, palette.selected),
            StrokeKind::Middle,
        );
    }
}

/// As it is: edges on whole pixels want no smoothing, which is most of what a full room costs to draw.
fn small_ui(painter: &Painter, rect: Rect, family: Family) {
    let outer = rect.round_to_pixels(painter.pixels_per_point());
    let inner = outer.shrink(1.0);
    let mut mesh = Mesh::default();
    if inner.is_positive() {
        mesh.add_colored_rect(inner, family.fill);
        for side in [
            outer.with_max_y(inner.top()),
            outer.with_min_y(inner.bottom()),
            Rect::from_x_y_ranges(outer.left()..=inner.left(), inner.y_range()),
            Rect::from_x_y_ranges(inner.right()..=outer.right(), inner.y_range()),
        ] {
            mesh.add_colored_rect(side, family.ink);
        }
    } else {
        mesh.add_colored_rect(outer, family.ink);
    }
    painter.add(Shape::mesh(mesh));
}

fn open_ui(painter: &Painter, rect: Rect, ink: Color32) {
    let inner = rect.shrink(3.0);
    if inner.is_positive() {
        painter.rect_stroke(inner, CornerRadius::same(1), Stroke::new(1.0, ink), StrokeKind::Inside);
    }
}

/// A corner cut that turns with the tray: which end is up.
fn head_ui(painter: &Painter, rect: Rect, quarter_turns: u8, ink: Color32) {
    let leg = 5.0_f32.min(rect.width() / 4.0).min(rect.height() / 4.0);
    let (corner, along, down) = match quarter_turns % 4 {
        0 => (rect.left_top(), vec2(leg, 0.0), vec2(0.0, leg)),
        1 => (rect.right_top(), vec2(-leg, 0.0), vec2(0.0, leg)),
        2 => (rect.right_bottom(), vec2(-leg, 0.0), vec2(0.0, -leg)),
        _ => (rect.left_bottom(), vec2(leg, 0.0), vec2(0.0, -leg)),
    };
    painter.add(Shape::convex_polygon(vec![corner, corner + along, corner + down], ink, Stroke::NONE));
}

fn mark_ui(painter: &Painter, family: Family, mark: &Mark, rect: Rect) {
    let short_side = rect.width().min(rect.height());
    let size = if short_side > 34.0 { (short_side / 10.0).clamp(12.5, 22.0) } else { 10.5 };
    let with_part = mark.part_of_day.map(|part| format!("{}, {part}", mark.tray));
    let mut galleys = with_part
        .into_iter()
        .chain([mark.tray.clone()])
        .map(|text| painter.layout_no_wrap(text, theme::strong(size), family.ink));
    let fits = |size: egui::Vec2| size.y <= rect.height() + 2.0 && size.x <= rect.width() - 1.0;
    let Some(galley) = galleys.find(|galley| fits(galley.size())) else { return };
    let text = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
    let scrap = text.expand2(vec2(4.0, 1.0)).intersect(rect.shrink(1.0));
    painter.rect_filled(scrap, CornerRadius::same(2), family.fill);
    painter.galley(text.min, galley, family.ink);
}

/// A pin's head and its needle, at the middle of the far edge.
fn pin_ui(painter: &Painter, rect: Rect, family: Family) {
    let head = pos2(rect.center().x, rect.top() + 7.0);
    painter.line_segment([head, head + vec2(0.0, 9.0)], Stroke::new(1.5, family.ink));
    painter.circle(head, 3.5, family.fill, Stroke::new(1.5, family.ink));
    painter.circle_filled(head, 1.5, family.ink);
}
