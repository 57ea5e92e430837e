//! What was planned of a sowing and what became of it, side by side.

use egui::{Grid, Label, RichText, Ui, WidgetInfo, vec2};

use crate::forecast::planned_beside;
use crate::season::Sowing;
use crate::words::records::{self as said, RowBeside};
use crate::words::sowings;

use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

pub(super) fn planned_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing) {
    ui.label(RichText::new(said::NOT_SEEN_YET).font(theme::small()).color(Palette::of(ui).soft_ink));
    let words = scene.words();
    for lot in planned_beside(scene.season, scene.library, scene.forecast, sowing) {
        if sowing.lots.len() > 1 {
            ui.label(theme::bold(sowings::lot_of(lot.at, lot.go_out, sowing.plants_wanted())));
        }
        let mut rows: Vec<RowBeside> = lot.dates.iter().map(|date| words.date_beside(date)).collect();
        rows.extend(lot.trays.iter().map(|trays| words.trays_beside(sowing, trays)));
        rows_ui(ui, &rows, lot.at);
    }
}

fn rows_ui(ui: &mut Ui, rows: &[RowBeside], lot: usize) {
    let palette = Palette::of(ui);
    let grid =
        Grid::new(("planned_and_actual", lot)).spacing(vec2(12.0, 4.0)).min_row_height(20.0).max_col_width(176.0);
    grid.striped(true).show(ui, |ui| {
        for head in said::HEADS {
            ui.label(RichText::new(head).font(theme::small()).color(palette.soft_ink));
        }
        ui.end_row();
        for row in rows {
            let what = ui.add(Label::new(theme::bold(&row.what)).wrap());
            let said = row.said();
            what.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &said));
            for text in [&row.planned, &row.actual_and_how(), &row.apart] {
                ui.label(text);
            }
            ui.end_row();
        }
    });
}
