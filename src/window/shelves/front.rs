//! Racks from the front, to scale: clear heights, and on every shelf its trays with their plants as high as they are on
//! the day shown, the gap to the lamp above them, and what is too tall.
//!
//! To look at and to choose; moved and turned they are from above.

use egui::{Align2, CornerRadius, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use crate::forecast::Heights;
use crate::outlook::{Placed, RectOnShelf};
use crate::season::{Shelf, ZoneKind};
use crate::units::Length;
use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};
use crate::words::shelves as said;

use super::board::{ShelfOnBoard, mm};
use super::paint::{dashed_rect_ui, hatch_ui, label_ui};

/// What stands on one shelf, from the left, those at the back first.
pub(super) fn shelf_front_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    shelf: &Shelf,
    (on_board, rect, zoom): (&ShelfOnBoard, Rect, f32),
    here: &[&Placed<'_>],
    actions: &mut Vec<Action>,
) {
    let (palette, painter) = (Palette::of(ui), ui.painter().clone());
    painter.rect_filled(rect, CornerRadius::ZERO, palette.shelf);
    let mut here: Vec<&Placed<'_>> = here.to_vec();
    here.sort_by_key(|one| one.spot.map(|spot| (spot.y, spot.x)));
    for one in here {
        let Some(spot) = one.spot else { continue };
        let ground = RectOnShelf::of(one.stay, spot);
        let left = rect.left() + mm(ground.x) * zoom;
        let width = mm(ground.width) * zoom;
        let stands = Stands { heights: one.stay.heights_on(scene.day), foot: rect.bottom(), left, width, zoom };
        tray_front_ui(ui, scene, shelf, one, &stands, actions);
    }
    clear_ui(&painter, palette, scene, shelf, rect);
    // the board that they stand on
    let board = Rect::from_min_max(rect.left_bottom(), pos2(rect.right(), rect.bottom() + on_board.thick * zoom));
    painter.rect_filled(board, CornerRadius::ZERO, palette.ink.gamma_multiply(0.7));
}

/// Where a tray stands on the screen, seen from the front.
struct Stands {
    heights: Heights,
    foot: f32,
    left: f32,
    width: f32,
    zoom: f32,
}

impl Stands {
    /// From one height above the shelf to another.
    fn rect(&self, from: Length, to: Length) -> Rect {
        let at = |height: Length| self.foot - mm(height) * self.zoom;
        Rect::from_min_max(pos2(self.left, at(to)), pos2(self.left + self.width, at(from)))
    }
}

fn tray_front_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    shelf: &Shelf,
    one: &Placed<'_>,
    stands: &Stands,
    actions: &mut Vec<Action>,
) {
    let (palette, painter) = (Palette::of(ui), ui.painter());
    let Heights { container, plants, gap } = stands.heights;
    let family = palette.family(scene.family(one.stay));
    let outline = Stroke::new(1.0, family.ink);
    let pot = stands.rect(Length::ZERO, container);
    if container == Length::ZERO {
        // how high it is nobody has said
        let foot = Rect::from_min_max(pot.left_bottom() - vec2(0.0, 14.0), pot.right_bottom());
        dashed_rect_ui(painter, foot.shrink2(vec2(0.5, 0.0)), outline, 3.0, 3.0);
    }
    painter.rect(pot.shrink2(vec2(0.5, 0.0)), CornerRadius::same(1), family.fill, outline, StrokeKind::Inside);
    let whole = container + plants + gap;
    let clear = shelf.clear_height.as_ref().map(crate::units::Typed::value);
    let over = clear.map_or(Length::ZERO, |clear| (whole - clear).max(Length::ZERO));
    if plants > Length::ZERO {
        leaves_ui(painter, stands.rect(container, container + plants), family.fill, outline);
    }
    if gap > Length::ZERO {
        let gap = stands.rect(container + plants, whole);
        dashed_rect_ui(painter, gap.shrink2(vec2(2.0, 0.0)), Stroke::new(1.0, palette.lamp), 2.0, 3.0);
    }
    if over > Length::ZERO {
        let beyond = stands.rect(whole - over, whole);
        hatch_ui(painter, beyond, Stroke::new(1.5, palette.trouble), 5.0);
        painter.rect_stroke(beyond, CornerRadius::ZERO, Stroke::new(1.5, palette.trouble), StrokeKind::Inside);
    }
    let selected = scene.selection.holds(one.id.tray);
    let all = stands.rect(Length::ZERO, whole);
    if selected {
        let stroke = Stroke::new(2.0, palette.selected);
        painter.rect_stroke(all, CornerRadius::same(1), stroke, StrokeKind::Outside);
    }
    let words = scene.words();
    let heights = words.from_the_front(&stands.heights, over);
    let mark = scene.mark(one.stay);
    if pot.width() > 26.0 {
        let at = pos2(pot.center().x, stands.foot - 2.0);
        let ink = if over > Length::ZERO { palette.trouble } else { family.ink };
        label_ui(painter, at, Align2::CENTER_BOTTOM, &mark, theme::strong(theme::SMALL_PT), ink, family.fill);
    }
    let all = all.union(Rect::from_min_max(pot.left_bottom() - vec2(0.0, 14.0), pot.right_bottom()));
    let response = ui.interact(all, ui.scope_id().with(("front", one.id)), Sense::CLICK);
    let name = format!("{}, {heights}", scene.tray_name(one));
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, true, selected, &name));
    if response.clicked() {
        actions.push(Action::Go(Go::Select(Some(one.id.tray))));
    }
    response.on_hover_text(format!("{mark}: {heights}"));
}

/// Plants as a crown over their container: an outline that is theirs to the top, and no more than that is known of it.
fn leaves_ui(painter: &Painter, rect: Rect, fill: egui::Color32, outline: Stroke) {
    let corner = (rect.height().min(rect.width()) * 0.45).clamp(0.0, 60.0) as u8;
    let crown = CornerRadius { nw: corner, ne: corner, sw: corner / 3, se: corner / 3 };
    painter.rect(rect.shrink2(vec2(1.5, 0.0)), crown, fill.gamma_multiply(0.45), outline, StrokeKind::Inside);
}

/// The top of the clear height: lamps where they hang, and how high it is.
fn clear_ui(painter: &Painter, palette: &Palette, scene: &Scene<'_>, shelf: &Shelf, rect: Rect) {
    let zoom = rect.width() / mm(shelf.width.value()).max(1.0);
    let top = if shelf.clear_height.is_some() { palette.soft_ink } else { palette.line };
    painter.line_segment([rect.left_top(), rect.right_top()], Stroke::new(1.0, top));
    painter.line_segment([rect.left_top(), rect.left_bottom()], palette.ink_stroke());
    painter.line_segment([rect.right_top(), rect.right_bottom()], palette.ink_stroke());
    for zone in &shelf.zones {
        let x = rect.left() + mm(zone.x.value()) * zoom;
        let across = x..=x + mm(zone.width.value()) * zoom;
        let (height, colour) = match zone.kind {
            ZoneKind::Lamp => (egui::Rangef::new(rect.top(), rect.top() + 4.0), palette.lamp),
            ZoneKind::Heat => (egui::Rangef::new(rect.bottom() - 3.0, rect.bottom()), palette.mat),
        };
        let bar = Rect::from_x_y_ranges(across, height);
        painter.rect(bar, CornerRadius::same(1), colour, Stroke::new(1.0, palette.ink), StrokeKind::Inside);
    }
    let clear = shelf.clear_height.as_ref().map(|clear| scene.words().length(clear.value()));
    let text = clear.map_or_else(|| said::NO_CLEAR_HEIGHT.to_owned(), |clear| said::clear(&clear));
    let at = rect.right_top() + vec2(-5.0, 7.0);
    painter.text(at, Align2::RIGHT_TOP, text, theme::small(), palette.soft_ink);
}
