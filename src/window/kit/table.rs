//! A table to read: a head over each column, rows made only while they show, one Tab stop with arrows
//! inside. The row that the keys are on is told to a screen reader.

use egui::{
    Align, CornerRadius, EventFilter, Id, Key, Label, Layout, Modifiers, RichText, Role, ScrollArea, Sense, Stroke,
    StrokeKind, Ui, WidgetInfo,
};
use egui_extras::{Column, TableBuilder};

use crate::window::theme::{self, Palette};

const ROW_PT: f32 = 24.0;
/// By the arrows to the sides.
const FAR: usize = 10;

/// A column by its head.
#[derive(Clone, Copy, Debug)]
pub(in crate::window) struct Head<'a> {
    pub(in crate::window) name: &'a str,
    /// Its part of the width.
    pub(in crate::window) part: f32,
    /// Numbers stand to the right.
    pub(in crate::window) right: bool,
    /// What wants the grower's eye.
    pub(in crate::window) alerts: bool,
}

pub(in crate::window) struct Table<'a> {
    /// Unlike that of any other table.
    pub(in crate::window) id: &'static str,
    pub(in crate::window) heads: &'a [Head<'a>],
    /// Narrower, and it scrolls sideways.
    pub(in crate::window) least_pt: f32,
}

/// What a row shows, one text a column.
pub(in crate::window) struct Cells<'a, const N: usize> {
    pub(in crate::window) texts: [&'a str; N],
    /// Drawn faint.
    pub(in crate::window) faint: bool,
    /// What a screen reader says, and what stands under the pointer.
    pub(in crate::window) name: String,
}

/// Which row the keys are on.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::window) struct At {
    row: usize,
    /// Brought into view in the next frame.
    bring: bool,
    /// Marked though the keys are elsewhere.
    marked: bool,
}

impl At {
    pub(in crate::window) fn bring(&mut self, row: usize) {
        *self = Self { row, bring: true, marked: true };
    }
}

/// `row` gives what the row of that number shows, `all` what the whole is called while that row is the
/// one that the keys are on.
pub(in crate::window) fn table_ui<'r, const N: usize>(
    ui: &mut Ui,
    table: &Table<'_>,
    at: &mut At,
    rows: usize,
    row: impl Fn(usize) -> Option<Cells<'r, N>>,
    all: impl Fn(&str) -> String,
) {
    at.row = at.row.min(rows.saturating_sub(1));
    ScrollArea::horizontal().id_salt((table.id, "sideways")).auto_shrink([false, false]).show(ui, |ui| {
        let width = ui.available_width().max(table.least_pt);
        ui.set_width(width);
        ui.spacing_mut().item_spacing = egui::vec2(6.0, 0.0);
        let area = ui.available_rect_before_wrap();
        let stop = ui.interact(area, Id::unique(("table", table.id)), Sense::click());
        let moved = stop.has_focus() && stepped(ui, stop.id, at, rows);
        let mut builder = TableBuilder::new(ui)
            .id_salt(table.id)
            .sense(Sense::hover())
            .auto_shrink([false, false])
            .min_scrolled_height(ROW_PT);
        for head in table.heads {
            let wide = (head.part * width - 6.0).max(20.0);
            builder = builder.column(Column::exact(wide).clip(true));
        }
        if moved || std::mem::take(&mut at.bring) {
            builder = builder.scroll_to_row(at.row, None);
        }
        let marked = (at.marked || stop.has_focus()).then_some(at.row);
        let builder = builder.header(ROW_PT, |mut line| {
            for head in table.heads {
                line.col(|ui| {
                    cell_ui(ui, head.right, theme::bold(head.name));
                });
            }
        });
        builder.body(|body| body.rows(ROW_PT, rows, |line| row_ui(line, table.heads, &row, marked)));
        if stop.clicked() {
            stop.request_focus();
        }
        let here = row(at.row).map_or_else(String::new, |cells| cells.name);
        stop.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, all(&here)));
        if stop.has_focus() {
            let stroke = Stroke::new(2.0, Palette::of(ui).selected);
            ui.painter().rect_stroke(area, CornerRadius::same(2), stroke, StrokeKind::Inside);
        }
    });
}

fn row_ui<'r, const N: usize>(
    mut line: egui_extras::TableRow<'_, '_>,
    heads: &[Head<'_>],
    row: impl Fn(usize) -> Option<Cells<'r, N>>,
    marked: Option<usize>,
) {
    let at = line.index();
    let Some(cells) = row(at) else { return };
    line.set_selected(marked == Some(at));
    for (head, text) in heads.iter().zip(cells.texts) {
        line.col(|ui| {
            let palette = Palette::of(ui);
            let ink = if cells.faint { palette.soft_ink } else { palette.ink };
            let text =
                if head.alerts { theme::bold(text).color(palette.trouble) } else { RichText::new(text).color(ink) };
            cell_ui(ui, head.right, text);
        });
    }
    let response = line.response();
    response.widget_info(|| WidgetInfo::labeled(Role::ListItem, true, &cells.name));
}

fn cell_ui(ui: &mut Ui, right: bool, text: RichText) {
    let layout = if right { Layout::right_to_left(Align::Center) } else { Layout::left_to_right(Align::Center) };
    ui.with_layout(layout, |ui| ui.add(Label::new(text).truncate().selectable(false)));
}

/// Whether the keys went on to another row.
fn stepped(ui: &Ui, stop: Id, at: &mut At, rows: usize) -> bool {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(stop, filter));
    let (now, last) = (at.row, rows.saturating_sub(1));
    for (key, to) in [
        (Key::ArrowUp, now.saturating_sub(1)),
        (Key::ArrowDown, now + 1),
        (Key::ArrowLeft, now.saturating_sub(FAR)),
        (Key::ArrowRight, now + FAR),
        (Key::Home, 0),
        (Key::End, last),
    ] {
        if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            at.row = to.min(last);
        }
    }
    at.row != now
}
