//! A list to choose from: rows are made only while they show. It is one Tab stop, with arrows inside.

use egui::{
    Align2, Button, CornerRadius, EventFilter, Key, Modifiers, Response, RichText, Role, Sense, Stroke, StrokeKind,
    TextEdit, Ui, WidgetInfo, pos2, vec2,
};
use egui_extras::{Column, TableBuilder};

use crate::forecast::Shape;
use crate::window::glyphs::family_ui;
use crate::window::theme::{self, Family, Palette};

use super::beside::{is_cut, tip_beside, whole_beside};
use super::container::{SIZE, container_into};
use super::field::named;
use super::stop::{Named, Stop};

const ROW_PT: f32 = 28.0;
/// As a button's text is from its edge.
const CELL_GAP_PT: f32 = 10.0;

/// What a row shows.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct Row {
    pub(in crate::window) text: String,
    /// Beside it at the right, as wide as it is.
    pub(in crate::window) more: String,
    /// Right of both, each as wide as its column.
    pub(in crate::window) cells: Vec<String>,
    /// The crop family it is of.
    pub(in crate::window) family: Option<Family>,
    /// The container that it is of.
    pub(in crate::window) container: Option<Shape>,
    /// What a screen reader says; the texts one after the other where it is empty.
    pub(in crate::window) name: String,
    /// What stands under the pointer; the name where it is empty.
    pub(in crate::window) hover: String,
}

impl Row {
    pub(in crate::window) fn new(text: impl Into<String>, more: impl Into<String>) -> Self {
        Self { text: text.into(), more: more.into(), ..Self::default() }
    }

    fn name(&self) -> String {
        match (self.name.as_str(), self.more.as_str()) {
            ("", "") => self.text.clone(),
            ("", more) => format!("{}, {more}", self.text),
            (name, _) => name.to_owned(),
        }
    }
}

pub(in crate::window) struct List<'a> {
    /// Unlike that of any other list.
    pub(in crate::window) id: &'static str,
    /// What a screen reader calls all of it.
    pub(in crate::window) name: &'a str,
    /// Widths of the cells at the right, from left to right.
    pub(in crate::window) columns: &'a [f32],
    /// Brought into view in this frame.
    pub(in crate::window) bring: Option<usize>,
}

impl<'a> List<'a> {
    pub(in crate::window) const fn new(id: &'static str, name: &'a str) -> Self {
        Self { id, name, columns: &[], bring: None }
    }
}

/// The number of the row that was chosen now.
pub(in crate::window) fn list_ui(
    ui: &mut Ui,
    list: &List<'_>,
    number: usize,
    chosen: Option<usize>,
    row: impl Fn(usize) -> Row,
) -> Option<usize> {
    list_with_menu_ui(ui, list, (number, chosen), row, |_, _, _| {})
}

/// The same; `menu` draws that of a row, and is told whether the keys are with it.
pub(in crate::window) fn list_with_menu_ui(
    ui: &mut Ui,
    list: &List<'_>,
    (number, chosen): (usize, Option<usize>),
    row: impl Fn(usize) -> Row,
    mut menu: impl FnMut(&Response, usize, bool),
) -> Option<usize> {
    let area = ui.available_rect_before_wrap();
    let all = ui.interact(area, egui::Id::unique(("list", list.id)), Sense::focusable_noninteractive());
    all.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, list.name));
    let mut wanted = None;
    if all.has_focus() {
        wanted = stepped(ui, all.id, number, chosen);
        let stroke = Stroke::new(2.0, Palette::of(ui).selected);
        ui.painter().rect_stroke(area.expand(2.0), CornerRadius::same(3), stroke, StrokeKind::Outside);
    }
    ui.spacing_mut().item_spacing.y = 0.0;
    let table = TableBuilder::new(ui)
        .id_salt(list.id)
        .sense(Sense::CLICK)
        .auto_shrink([false, false])
        .min_scrolled_height(ROW_PT)
        .column(Column::remainder().clip(true));
    let table = match wanted.or(list.bring) {
        Some(at) => table.scroll_to_row(at, None),
        None => table,
    };
    table.body(|body| {
        body.rows(ROW_PT, number, |mut line| {
            let at = line.index();
            let (row, open) = (row(at), chosen == Some(at));
            line.set_selected(open);
            let mut is_cut = false;
            line.col(|ui| is_cut = row_in_list_ui(ui, &row, list.columns, open));
            let name = row.name();
            let response = line.response();
            response.widget_info(|| WidgetInfo::selected(Role::Button, true, open, &name));
            menu(&response, at, open && all.has_focus());
            if response.clicked() {
                wanted = Some(at);
            }
            if is_cut {
                let whole = if row.hover.is_empty() { name } else { row.hover };
                whole_beside(response, area, &whole);
            } else if !row.hover.is_empty() {
                tip_beside(&response, area, &row.hover);
            }
        });
    });
    wanted
}

/// Where the arrows lead.
fn stepped(ui: &Ui, list: egui::Id, number: usize, chosen: Option<usize>) -> Option<usize> {
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(list, filter));
    let last = number.checked_sub(1)?;
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let to = if pressed(Key::ArrowDown) {
        chosen.map_or(0, |at| at + 1).min(last)
    } else if pressed(Key::ArrowUp) {
        chosen.map_or(last, |at| at.saturating_sub(1))
    } else if pressed(Key::Home) {
        0
    } else if pressed(Key::End) {
        last
    } else {
        return None;
    };
    (chosen != Some(to)).then_some(to)
}

/// Painted, not laid out: the row has one name, not one for each of its texts. Whether its text is cut.
fn row_in_list_ui(ui: &Ui, row: &Row, columns: &[f32], open: bool) -> bool {
    let palette = Palette::of(ui);
    let rect = ui.max_rect();
    let painter = ui.painter();
    let middle = rect.center().y;
    let mut right = rect.right() - CELL_GAP_PT;
    for (text, width) in row.cells.iter().zip(columns).rev() {
        painter.text(pos2(right, middle), Align2::RIGHT_CENTER, text, theme::body(), palette.ink);
        right -= width;
    }
    if !row.more.is_empty() {
        let at = pos2(right, middle);
        let ink = if open { palette.ink } else { palette.soft_ink };
        let more = painter.text(at, Align2::RIGHT_CENTER, &row.more, theme::body(), ink);
        right = more.left() - CELL_GAP_PT;
    }
    let mut left = rect.left() + CELL_GAP_PT;
    if let Some(family) = row.family {
        let picture = egui::Rect::from_center_size(pos2(left + 6.0, middle), vec2(20.0, 20.0));
        family_ui(painter, picture, family);
        left += 23.0;
    }
    if let Some(shape) = &row.container {
        let picture = egui::Rect::from_center_size(pos2(left + SIZE.x / 2.0, middle), SIZE);
        container_into(painter, palette, picture, shape);
        left += SIZE.x + 8.0;
    }
    let font = if open { theme::strong(theme::BODY_PT) } else { theme::body() };
    let galley = theme::cut_at_a_word(painter, &row.text, font, palette.ink, (right - left).max(40.0));
    let is_cut = galley.elided || galley.text() != row.text;
    painter.galley(pos2(left, middle - galley.size().y / 2.0), galley, palette.ink);
    is_cut
}

/// A row by itself, before a list or between two: what it leads to is shown while `open`.
pub(in crate::window) fn row_button_ui(ui: &mut Ui, row: &Row, open: bool) -> bool {
    let name = row.name();
    let response = ui.add(row_button(ui, row, open));
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, open, &name));
    let clicked = response.clicked();
    if is_cut(&response) {
        let rows = response.rect;
        whole_beside(response, rows, &name);
    }
    clicked
}

/// The same among those of one Tab stop.
pub(in crate::window) fn row_in_stop_ui(ui: &mut Ui, stop: &mut Stop, row: &Row, open: bool) -> bool {
    let name = row.name();
    let button = row_button(ui, row, open);
    stop.row_ui(ui, button, Named { name: &name, hover: &name, chosen: Some(open) })
}

fn row_button<'a>(ui: &Ui, row: &'a Row, open: bool) -> Button<'a> {
    let soft = RichText::new(&row.more).color(Palette::of(ui).soft_ink);
    let button = Button::new(&row.text).right_text(soft).min_size(vec2(ui.available_width(), ROW_PT)).truncate();
    button.selected(open).frame_when_inactive(open)
}

/// A field above a list, for part of a name. Whether a name has that part.
pub(in crate::window) fn part_ui(
    ui: &mut Ui,
    part: &mut String,
    name: &str,
    hint: &str,
) -> impl Fn(&str) -> bool + use<> {
    let field = TextEdit::singleline(part).hint_text(hint).min_size(vec2(0.0, theme::TARGET_PT));
    named(ui.add(field.desired_width(f32::INFINITY)), name);
    let wanted = part.trim().to_lowercase();
    move |name| wanted.is_empty() || name.to_lowercase().contains(&wanted)
}
