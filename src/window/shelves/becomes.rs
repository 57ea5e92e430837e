//! What a tray becomes, as outlines over the shelves.

use egui::{Align2, Rect, Sense, Stroke, Ui, WidgetInfo, emath::TSTransform, pos2, vec2};

use crate::outlook::{Becomes, Later, RectOnShelf, becomes};
use crate::season::TrayKey;
use crate::window::scene::Scene;
use crate::window::state::BoardView;
use crate::window::theme::{self, Palette};
use crate::words;

use super::board::{Board, mm, rect_on_board};
use super::paint::{dashed_rect_ui, hatch_ui, label_ui};

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
    let known = |(revision, known): &(u64, Becomes)| *revision == scene.revision && known.tray == tray;
    if !view.becomes.as_ref().is_some_and(known) {
        view.becomes = becomes(&scene.on_day(), tray).map(|becomes| (scene.revision, becomes));
    }
    if let Some((_, becomes)) = &view.becomes {
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
    let first = |one: &Later| scene.forecast.stays_of(one.tray).min_by_key(|stay| stay.span.from());
    let mark = |one: &Later| first(one).map_or_else(String::new, |stay| scene.mark(stay));
    for later in &becomes.later {
        let Some(spot) = later.spot else { continue };
        let stay = first(later);
        let on_board = board.shelves().find(|shelf| shelf.id == spot.shelf);
        let (Some(stay), Some(on_board)) = (stay, on_board) else { continue };
        let rect = transform * rect_on_board(&RectOnShelf::of(stay, &spot), on_board);
        dashed_rect_ui(&painter, rect.shrink(1.5), Stroke::new(2.0, palette.selected), 6.0, 4.0);
        label_ui(
            &painter,
            rect.center(),
            Align2::CENTER_CENTER,
            &mark(later),
            theme::strong(theme::SMALL_PT),
            palette.selected,
            palette.shelf,
        );
    }
    let mut left = pane.left() + 14.0;
    for later in becomes.without() {
        let size = vec2(mm(later.width), mm(later.depth)) * transform.scaling;
        let rect = Rect::from_min_size(pos2(left, pane.bottom() - 14.0 - size.y), size);
        painter.rect_filled(rect, 1.0, palette.paper);
        hatch_ui(&painter, rect, Stroke::new(1.0, palette.trouble.gamma_multiply(0.6)), 8.0);
        dashed_rect_ui(&painter, rect, Stroke::new(2.0, palette.trouble), 6.0, 4.0);
        let mark = mark(later);
        for (said, dy) in [(mark.as_str(), -8.0), (words::shelves::NO_ROOM, 8.0)] {
            let at = rect.center() + vec2(0.0, dy);
            label_ui(
                &painter,
                at,
                Align2::CENTER_CENTER,
                said,
                theme::strong(theme::SMALL_PT),
                palette.trouble,
                palette.paper,
            );
        }
        left += size.x + 8.0;
        if left > pane.right() {
            break;
        }
    }
    let trouble = becomes.without().next().is_some();
    let ink = if trouble { palette.trouble } else { palette.selected };
    let at = pos2(pane.center().x, pane.top() + 6.0);
    let what = scene.words().becomes(becomes);
    let said = format!("{what} (outlines)");
    let rect = label_ui(&painter, at, Align2::CENTER_TOP, &said, theme::strong(theme::BODY_PT), ink, palette.panel);
    let response = ui.interact(rect, ui.scope_id().with("becomes"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Status, true, &what));
}
