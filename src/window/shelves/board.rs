//! Where racks and shelves stand on the board: in millimetres, side by side, tiers from the top.
//!
//! Knows nothing of the screen but how much room its letters want.

use egui::{Pos2, Rect, Ui, Vec2, emath::TSTransform, pos2, vec2};

use crate::outlook::RectOnShelf;
use crate::season::{PlaceId, RackId, Role, Season, Shelf, ShelfId};
use crate::units::Length;

/// The pane that the spaces between racks are made for; any other pane shows the same board.
const USUAL_PANE_PT: Vec2 = vec2(800.0, 520.0);
const HEAD_PT: f32 = 42.0;
const RULER_PT: f32 = 34.0;
const TIER_GAP_PT: f32 = 18.0;
const RACK_GAP_PT: f32 = 20.0;
/// Beside a rack, for the numbers of its tiers and the end of its ruler.
const NUMBER_PT: f32 = 26.0;
/// Of more racks than this only the first of the last row has a ruler, which is that of all, so that they are larger.
const MANY_RACKS: usize = 12;
const NO_RULER_PT: f32 = 8.0;
/// What a shelf whose clear height nobody gave is drawn with, and how thick the boards of shelves are drawn.
const UNKNOWN_CLEAR_MM: f32 = 400.0;
const BOARD_MM: f32 = 20.0;
/// As much larger without those where plants harden off, and these are left to be looked for.
const MUCH_LARGER: f32 = 1.5;
const LEAST_ZOOM: f32 = 0.002;
const MOST_ZOOM: f32 = 8.0;

/// Everything that stands on the board, in millimetres.
#[derive(Clone, Debug, Default)]
pub(super) struct Board {
    pub(super) racks: Vec<RackOnBoard>,
    /// Shelves with their names and rulers.
    pub(super) bounds: Option<Rect>,
    /// The same of those where seed germinates and plants grow on.
    pub(super) growing: Option<Rect>,
}

#[derive(Clone, Debug)]
pub(super) struct RackOnBoard {
    pub(super) id: RackId,
    /// Said above the first rack of each place.
    pub(super) first_of: Option<PlaceId>,
    /// How wide its name may be, and that of its place, so that none lies over the next.
    pub(super) name_room: f32,
    pub(super) place_room: f32,
    pub(super) ruler: bool,
    pub(super) rect_on_board: Rect,
    pub(super) shelves: Vec<ShelfOnBoard>,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct ShelfOnBoard {
    pub(super) id: ShelfId,
    pub(super) rect_on_board: Rect,
    /// Of the board below what stands there, where it is seen from the front.
    pub(super) thick: f32,
}

/// How racks are seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seen {
    FromAbove,
    FromTheFront,
}

impl Seen {
    /// How far a shelf reaches down the board, and with it what is drawn below it.
    fn height(self, shelf: &Shelf) -> (f32, f32) {
        match self {
            Self::FromAbove => (mm(shelf.depth.value()), mm(shelf.usable_depth())),
            Self::FromTheFront => {
                let clear = shelf.clear_height.as_ref().map_or(UNKNOWN_CLEAR_MM, |clear| mm(clear.value()));
                (clear, clear + BOARD_MM)
            }
        }
    }

    /// Between tiers, on the screen; from the front they stand as they do.
    const fn gap_pt(self) -> f32 {
        match self {
            Self::FromAbove => TIER_GAP_PT,
            Self::FromTheFront => 0.0,
        }
    }
}

/// Millimetres as the screen counts them: the one line where lengths become `f32`.
pub(crate) fn mm(length: Length) -> f32 {
    length.to_mm() as f32
}

struct RackSize<'a> {
    id: RackId,
    place: PlaceId,
    shelves: Vec<&'a Shelf>,
    width: f32,
    /// Depths of all tiers, one above the other, without gaps.
    depth: f32,
}

impl RackSize<'_> {
    /// Right of it, where it is one of so many.
    const fn beside_pt(&self, racks: usize) -> f32 {
        if racks <= MANY_RACKS || self.shelves.len() > 1 { RACK_GAP_PT + NUMBER_PT } else { RACK_GAP_PT }
    }
}

/// Below a row of racks.
const fn below_pt(racks: usize, is_last: bool) -> f32 {
    if racks <= MANY_RACKS || is_last { RULER_PT } else { NO_RULER_PT }
}

impl Board {
    pub(super) fn of(season: &Season, seen: Seen) -> Self {
        let racks = racks_by_place(season, seen);
        let most_depth = |row: &[RackSize<'_>]| row.iter().map(|rack| rack.depth).fold(0.0, f32::max);
        let most_tiers = |row: &[RackSize<'_>]| row.iter().map(|rack| rack.shelves.len()).max().unwrap_or(0);
        let zoom_for = |per_row: usize| {
            let rows = racks.chunks(per_row);
            let across = rows
                .clone()
                .map(|row| {
                    let width: f32 = row.iter().map(|rack| rack.width).sum();
                    let gaps: f32 = row.iter().map(|rack| rack.beside_pt(racks.len())).sum();
                    (USUAL_PANE_PT.x - gaps).max(80.0) / width.max(1.0)
                })
                .fold(f32::MAX, f32::min);
            let below = (rows.len() - 1) as f32 * below_pt(racks.len(), false) + RULER_PT;
            let spaces: f32 = rows.clone().map(|row| HEAD_PT + most_tiers(row) as f32 * seen.gap_pt()).sum();
            let spaces = spaces + below;
            let depth: f32 = rows.map(most_depth).sum();
            across.min((USUAL_PANE_PT.y - spaces).max(80.0) / depth.max(1.0))
        };
        let best = (1..=racks.len()).map(|per_row| (zoom_for(per_row), per_row)).max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((zoom, per_row)) = best else { return Self::default() };
        let zoom = zoom.clamp(LEAST_ZOOM, MOST_ZOOM);
        let mut board = Self::default();
        let mut top = 0.0;
        let rows = racks.chunks(per_row);
        let last_row = rows.len() - 1;
        for (at, row) in rows.enumerate() {
            let below = below_pt(racks.len(), at == last_row);
            let mut left: f32 = 0.0;
            let (mut right, mut deepest) = (0.0_f32, 0.0_f32);
            let mut place = None;
            for rack in row {
                let mut placed = rack_at(rack, pos2(left, top + HEAD_PT / zoom), (seen, seen.gap_pt() / zoom), place);
                placed.ruler = racks.len() <= MANY_RACKS || (at == last_row && left == 0.0);
                place = Some(rack.place);
                right = left + rack.width + NUMBER_PT / zoom;
                left += rack.width + rack.beside_pt(racks.len()) / zoom;
                deepest = deepest.max(placed.rect_on_board.bottom());
                if season.place(rack.place).is_some_and(|place| place.role != Role::Hardening) {
                    let with_words = Rect::from_min_max(
                        pos2(placed.rect_on_board.left(), top),
                        placed.rect_on_board.max + vec2(NUMBER_PT, below) / zoom,
                    );
                    board.growing = Some(board.growing.map_or(with_words, |bounds| bounds.union(with_words)));
                }
                board.racks.push(placed);
            }
            let in_row = board.racks.len() - row.len();
            make_room_for_names(board.racks.get_mut(in_row..).unwrap_or_default(), 12.0 / zoom);
            let bottom = deepest + below / zoom;
            let row_rect = Rect::from_min_max(pos2(0.0, top), pos2(right, bottom));
            board.bounds = Some(board.bounds.map_or(row_rect, |bounds| bounds.union(row_rect)));
            top = bottom;
        }
        board
    }

    pub(super) fn shelves(&self) -> impl Iterator<Item = &ShelfOnBoard> {
        self.racks.iter().flat_map(|rack| &rack.shelves)
    }

    /// The whole board in that pane; or the racks where plants grow on, as large as they can be,
    /// with the others beside them.
    pub(super) fn fit(&self, pane: Rect, all: bool) -> TSTransform {
        let Some(whole) = self.bounds else { return TSTransform::from_translation(pane.min.to_vec2()) };
        let pane = pane.shrink(12.0);
        let zoom_of = |bounds: Rect| {
            let size = bounds.size().max(Vec2::splat(1.0));
            (pane.width() / size.x).min(pane.height() / size.y).clamp(LEAST_ZOOM, MOST_ZOOM)
        };
        let bounds = self.growing.filter(|_| !all).unwrap_or(whole);
        let (bounds, zoom) = if zoom_of(bounds) > zoom_of(whole) * MUCH_LARGER {
            (bounds, zoom_of(bounds))
        } else {
            (whole, zoom_of(whole))
        };
        let spare = (pane.size() - bounds.size() * zoom).max(Vec2::ZERO);
        let shift_x = if bounds == whole { spare.x / 2.0 } else { (spare.x / 2.0).min(12.0) };
        let corner = pane.min + vec2(shift_x, (spare.y / 3.0).min(40.0));
        TSTransform::new(corner - bounds.min * zoom, zoom)
    }

    /// The shelf below that point, or the nearest within `reach`.
    pub(super) fn shelf_near(&self, pos_on_board: Pos2, reach: f32) -> Option<&ShelfOnBoard> {
        self.shelves()
            .map(|shelf| (shelf.rect_on_board.distance_to_pos(pos_on_board), shelf))
            .filter(|(distance, _)| *distance <= reach)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, shelf)| shelf)
    }
}

fn racks_by_place(season: &Season, seen: Seen) -> Vec<RackSize<'_>> {
    let mut order: Vec<PlaceId> = Vec::new();
    let mut racks = season.racks();
    for rack in &racks {
        if !order.contains(&rack.place) {
            order.push(rack.place);
        }
    }
    racks.sort_by_key(|rack| order.iter().position(|place| *place == rack.place));
    racks
        .into_iter()
        .map(|rack| {
            let shelves = season.shelves_of(rack.id);
            RackSize {
                id: rack.id,
                place: rack.place,
                width: shelves.iter().map(|shelf| mm(shelf.width.value())).fold(300.0, f32::max),
                depth: shelves.iter().map(|shelf| seen.height(shelf).1).sum::<f32>().max(100.0),
                shelves,
            }
        })
        .collect()
}

fn rack_at(rack: &RackSize<'_>, corner: Pos2, (seen, gap): (Seen, f32), place_before: Option<PlaceId>) -> RackOnBoard {
    let mut top = corner.y;
    let mut rect_on_board = Rect::from_min_size(corner, vec2(rack.width, 0.0));
    let mut shelves = Vec::new();
    for shelf in &rack.shelves {
        let (height, down) = seen.height(shelf);
        let size = vec2(mm(shelf.width.value()), height);
        let shelf_rect = Rect::from_min_size(pos2(corner.x, top), size);
        rect_on_board = rect_on_board.union(shelf_rect);
        shelves.push(ShelfOnBoard { id: shelf.id, rect_on_board: shelf_rect, thick: down - height });
        top += down + gap;
    }
    let first_of = (place_before != Some(rack.place)).then_some(rack.place);
    RackOnBoard { id: rack.id, first_of, name_room: 0.0, place_room: 0.0, ruler: true, rect_on_board, shelves }
}

/// Names reach to the next rack of their row, those of places to the next place.
fn make_room_for_names(row: &mut [RackOnBoard], apart: f32) {
    let (mut next_rack, mut next_place) = (f32::INFINITY, f32::INFINITY);
    for rack in row.iter_mut().rev() {
        let left = rack.rect_on_board.left();
        rack.name_room = (next_rack - left - apart).max(0.0);
        rack.place_room = (next_place - left - apart).max(0.0);
        next_rack = left;
        if rack.first_of.is_some() {
            next_place = left;
        }
    }
}

/// Zooms so that the point under the pointer stays where it is.
pub(super) fn zoom_about(screen_from_board: TSTransform, pointer: Pos2, factor: f32) -> TSTransform {
    let zoom = (screen_from_board.scaling * factor).clamp(LEAST_ZOOM, MOST_ZOOM);
    let factor = zoom / screen_from_board.scaling;
    TSTransform::new(pointer.to_vec2() + (screen_from_board.translation - pointer.to_vec2()) * factor, zoom)
}

pub(super) fn rect_on_board(ground: &RectOnShelf, on_board: &ShelfOnBoard) -> Rect {
    let corner = on_board.rect_on_board.min + vec2(mm(ground.x), mm(ground.y));
    Rect::from_min_size(corner, vec2(mm(ground.width), mm(ground.depth)))
}

pub(super) fn shelf_id(ui: &Ui, shelf: ShelfId) -> egui::Id {
    ui.scope_id().with(("shelf", shelf))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_point_under_the_pointer_stays_when_zooming() {
        let pointer = pos2(321.0, 123.0);
        let before = TSTransform::new(vec2(17.0, -40.0), 0.25);
        for factor in [0.1, 0.5, 1.5, 90.0, 0.0001] {
            let after = zoom_about(before, pointer, factor);
            let moved = after * (before.inverse() * pointer);
            assert!(moved.distance(pointer) < 0.01, "{factor}: {moved:?}");
        }
    }
}
