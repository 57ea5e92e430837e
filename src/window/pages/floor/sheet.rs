//! Where the floor is on the screen, and how large.

use egui::{Pos2, Rect, pos2, vec2};

use crate::fit;
use crate::outlook::FloorOf;
use crate::season::Wall;
use crate::units::Length;
use crate::window::shelves::mm;

/// Around the floor, for the names of doors and the ruler.
pub(super) const MARGIN_PT: f32 = 26.0;
const RULER_PT: f32 = 30.0;

/// Where the floor is on the screen.
pub(super) struct Sheet {
    pub(super) pane: Rect,
    /// Of the room, at its back left.
    pub(super) corner: Pos2,
    /// Points to a millimetre.
    pub(super) zoom: f32,
}

impl Sheet {
    pub(super) fn of(pane: Rect, floor: &FloorOf) -> Self {
        let [width, depth] = [floor.plan.width, floor.plan.depth].map(|side| mm(Length::from_units(side)).max(1.0));
        let room = pane.size() - vec2(2.0 * MARGIN_PT, 2.0 * MARGIN_PT + RULER_PT);
        let zoom = (room.x.max(40.0) / width).min(room.y.max(40.0) / depth);
        let left = pane.left() + ((pane.width() - width * zoom) / 2.0).max(MARGIN_PT);
        Self { pane, corner: pos2(left, pane.top() + MARGIN_PT), zoom }
    }

    pub(super) fn on_screen(&self, (x, y): (Length, Length), (width, depth): (Length, Length)) -> Rect {
        let corner = self.corner + vec2(mm(x), mm(y)) * self.zoom;
        Rect::from_min_size(corner, vec2(mm(width), mm(depth)) * self.zoom)
    }

    pub(super) fn rect(&self, rect: fit::Rect) -> Rect {
        let [x, y, width, depth] = [rect.x, rect.y, rect.w, rect.d].map(Length::from_units);
        self.on_screen((x, y), (width, depth))
    }
}

/// The edge that faces that wall.
pub(super) fn front(rect: Rect, faces: Wall) -> [Pos2; 2] {
    match faces {
        Wall::Front => [rect.left_bottom(), rect.right_bottom()],
        Wall::Back => [rect.left_top(), rect.right_top()],
        Wall::Left => [rect.left_top(), rect.left_bottom()],
        Wall::Right => [rect.right_top(), rect.right_bottom()],
    }
}
