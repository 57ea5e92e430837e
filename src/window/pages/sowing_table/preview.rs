//! The rows as they would be taken in, and those that are left out.

use egui::Ui;

use crate::window::kit::{At, Cells, Head, Table, table_ui};
use crate::window::theme;
use crate::words::sowing_table::{self as said, HEADS, PreviewRow};

use super::reading::Found;

/// Parts of the width.
const PARTS: [f32; HEADS.len()] = [0.06, 0.22, 0.08, 0.135, 0.135, 0.235, 0.135];
/// The column of numbers.
const PLANTS: usize = 2;
const ODD: usize = HEADS.len() - 1;
const LEAST_PT: f32 = 820.0;

#[derive(Default)]
pub(super) struct PreviewView {
    at: At,
    /// A line of the file, brought into view in the next frame.
    bring: Option<u64>,
}

impl PreviewView {
    pub(super) fn bring(&mut self, line: u64) {
        self.bring = Some(line);
    }
}

pub(super) fn preview_ui(ui: &mut Ui, found: &Found, view: &mut PreviewView) {
    ui.label(theme::bold(said::would_be_taken_in(found.taken)));
    if let Some(row) = view.bring.take().and_then(|line| found.lines.iter().position(|one| one.line == line)) {
        view.at.bring(row);
    }
    let mut heads = HEADS.map(|name| Head { name, part: 0.0, right: false, alerts: false });
    for (place, (head, part)) in heads.iter_mut().zip(PARTS).enumerate() {
        (head.part, head.right, head.alerts) = (part, place == PLANTS, place == ODD);
    }
    let table = Table { id: "sowing_table", heads: &heads, least_pt: LEAST_PT };
    let rows = found.lines.len();
    table_ui(ui, &table, &mut view.at, rows, |at| found.lines.get(at).map(cells), |here| said::rows(rows, here));
}

fn cells(row: &PreviewRow) -> Cells<'_, { HEADS.len() }> {
    let texts = [&row.number, &row.sowing, &row.plants, &row.sow, &row.out, &row.rule, row.odd];
    Cells { texts, faint: row.out.is_empty(), name: said::row(row) }
}
