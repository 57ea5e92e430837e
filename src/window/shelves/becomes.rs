//! What a tray becomes: the trays its plants are moved on into, where they would stand that day,
//! and which of them have no room.

use std::collections::BTreeSet;

use egui::{Align2, Rect, Sense, Stroke, Ui, WidgetInfo, emath::TSTransform, pos2, vec2};

use crate::outlook::spot_of;
use crate::season::{Op, Spot, TrayKey};
use crate::units::Length;
use crate::window::scene::{Scene, counted};
use crate::window::state::BoardView;
use crate::window::theme::{self, Palette};
use crate::words;

use super::board::{Board, mm};
use super::paint::{dashed_rect_ui, hatch_ui, label_ui};
use super::rect_on_board;
use super::spots::{free_spot, ground};

/// So many are looked for; a tray that becomes more is one for "Find spots".
const MOST_LOOKED_FOR: usize = 24;

/// What one tray becomes, for the season at that revision.
#[derive(Clone, Debug)]
pub(in crate::window) struct Becomes {
    tray: TrayKey,
    revision: u64,
    flats: Vec<Flat>,
    /// The whole of it in words.
    pub(in crate::window) said: String,
}

#[derive(Clone, Debug)]
struct Flat {
    mark: String,
    width: Length,
    depth: Length,
    spot: Option<Spot>,
}

impl Becomes {
    fn is_of(&self, tray: TrayKey, revision: u64) -> bool {
        self.tray == tray && self.revision == revision
    }
}

/// Nothing for a tray that is never moved on.
fn becomes(scene: &Scene<'_>, tray: TrayKey) -> Option<Becomes> {
    let later: Vec<TrayKey> = children(scene, tray);
    let first = |key: TrayKey| scene.forecast.stays_of(key).min_by_key(|stay| stay.span.from());
    let day = later.iter().filter_map(|key| Some(first(*key)?.span.from())).min()?;
    let mut trial = scene.season.clone();
    let mut no_room: BTreeSet<(Length, Length)> = BTreeSet::new();
    let mut flats = Vec::new();
    for key in later.iter().take(MOST_LOOKED_FOR) {
        let Some(stay) = first(*key) else { continue };
        let size = (stay.shape.width(), stay.shape.depth());
        let mut spot = spot_of(&trial, stay, stay.span.from()).copied();
        if spot.is_none() && !no_room.contains(&size) {
            let then = Scene { season: &trial, day: stay.span.from(), from_day: false, ..*scene };
            spot = free_spot(&then, stay, None);
            match spot {
                Some(spot) => drop(trial.apply(&Op::PutSpot(spot).into())),
                None => drop(no_room.insert(size)),
            }
        }
        flats.push(Flat { mark: scene.mark(stay), width: size.0, depth: size.1, spot });
    }
    let without = flats.iter().filter(|flat| flat.spot.is_none()).count();
    let more = later.len() - flats.len();
    let mark = scene.words().tray(tray);
    let mut said = format!("{mark} becomes {} on {}", counted(later.len(), "tray"), words::day(day));
    said = match without {
        0 if later.len() == 1 => format!("{said}: it has room"),
        0 if more == 0 => format!("{said}: all have room"),
        0 => format!("{said}: the first {} have room", flats.len()),
        _ => format!("{said}: {} room, {without} without", has_room(flats.len() - without)),
    };
    Some(Becomes { tray, revision: scene.revision, flats, said })
}

fn has_room(number: usize) -> String {
    if number == 1 { "1 has".to_owned() } else { format!("{number} have") }
}

/// The trays that its plants are moved on into.
pub(in crate::window) fn children(scene: &Scene<'_>, tray: TrayKey) -> Vec<TrayKey> {
    let origins = &scene.forecast.origins;
    origins.iter().filter(|(_, parents)| parents.contains(&tray)).map(|(child, _)| *child).collect()
}

/// What the tray becomes that is in the hand, or that is looked at if that is wanted.
#[expect(clippy::too_many_arguments, reason = "drawn over the whole scene")]
pub(super) fn later_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    palette: &Palette,
    board: &Board,
    view: &mut BoardView,
    tray: Option<TrayKey>,
    pane: Rect,
    transform: TSTransform,
) {
    let Some(tray) = tray else {
        view.becomes = None;
        return;
    };
    if !view.becomes.as_ref().is_some_and(|known| known.is_of(tray, scene.revision)) {
        view.becomes = becomes(scene, tray);
    }
    if let Some(becomes) = &view.becomes {
        becomes_ui(ui, palette, board, becomes, pane, transform, scene);
    }
}

/// Outlines where they will stand; those without room hatched in the corner, all to scale.
fn becomes_ui(
    ui: &mut Ui,
    palette: &Palette,
    board: &Board,
    becomes: &Becomes,
    pane: Rect,
    transform: TSTransform,
    scene: &Scene<'_>,
) {
    let painter = ui.painter().clone();
    for flat in &becomes.flats {
        let Some(spot) = flat.spot else { continue };
        let stay = scene.forecast.stays_of(spot.tray).min_by_key(|stay| stay.span.from());
        let on_board = board.shelves().find(|shelf| shelf.id == spot.shelf);
        let (Some(stay), Some(on_board)) = (stay, on_board) else { continue };
        let rect = transform * rect_on_board(&ground(stay, &spot), on_board);
        dashed_rect_ui(&painter, rect.shrink(1.5), Stroke::new(2.0, palette.selected), 6.0, 4.0);
        label_ui(
            &painter,
            rect.center(),
            Align2::CENTER_CENTER,
            &flat.mark,
            theme::strong(12.0),
            palette.selected,
            palette.shelf,
        );
    }
    let mut left = pane.left() + 14.0;
    for flat in becomes.flats.iter().filter(|flat| flat.spot.is_none()) {
        let size = vec2(mm(flat.width), mm(flat.depth)) * transform.scaling;
        let rect = Rect::from_min_size(pos2(left, pane.bottom() - 14.0 - size.y), size);
        painter.rect_filled(rect, 1.0, palette.paper);
        hatch_ui(&painter, rect, Stroke::new(1.0, palette.trouble.gamma_multiply(0.6)), 8.0);
        dashed_rect_ui(&painter, rect, Stroke::new(2.0, palette.trouble), 6.0, 4.0);
        for (said, dy) in [(flat.mark.as_str(), -8.0), ("no room", 8.0)] {
            let at = rect.center() + vec2(0.0, dy);
            label_ui(&painter, at, Align2::CENTER_CENTER, said, theme::strong(12.0), palette.trouble, palette.paper);
        }
        left += size.x + 8.0;
        if left > pane.right() {
            break;
        }
    }
    let trouble = becomes.flats.iter().any(|flat| flat.spot.is_none());
    let ink = if trouble { palette.trouble } else { palette.selected };
    let at = pos2(pane.center().x, pane.top() + 6.0);
    let said = format!("{} (outlines)", becomes.said);
    let rect = label_ui(&painter, at, Align2::CENTER_TOP, &said, theme::strong(13.0), ink, palette.panel);
    let response = ui.interact(rect, ui.scope_id().with("becomes"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Status, true, &becomes.said));
}
