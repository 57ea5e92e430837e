//! The page of supplies: trays, pots and seed that the season needs, a table each. Quiet, to be read and printed.

use std::sync::Arc;

use egui::{Align, Grid, Label, Layout, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::forecast::Forecast;
use crate::forecast::supplies::{Supplies, supplies};
use crate::words::sowings;
use crate::words::supplies::{self as said, RowOf};

use crate::window::action::{Action, Go};
use crate::window::kit::{State, middle_ui, part_title_ui, soft_ui, state_next_ui, state_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

/// Wider, and a line is lost on the way to its figure.
const MOST_PT: f32 = 900.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct SuppliesPage {
    /// Those of that forecast.
    known: Option<(Arc<Forecast>, Supplies)>,
}

pub(in crate::window) fn supplies_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut SuppliesPage,
    forecast: &Arc<Forecast>,
    actions: &mut Vec<Action>,
) {
    let of = match page.known.take() {
        Some((of, known)) if Arc::ptr_eq(&of, forecast) => known,
        _ => supplies(scene.season, scene.library, forecast),
    };
    middle_ui(ui, "supplies", |ui| {
        ui.set_max_width(ui.available_width().min(MOST_PT));
        title_ui(ui, said::PAGE);
        if scene.season.sowings().next().is_none() {
            if state_next_ui(ui, State::NothingSown, said::NOTHING_SOWN, sowings::WRITE_FIRST) {
                actions.push(Action::Go(Go::WriteSowing));
            }
            return;
        }
        let words = scene.words();
        part_title_ui(ui, said::TRAYS);
        soft_ui(ui, said::WHAT_TRAYS_COUNT);
        table_ui(ui, "trays", &said::IN_USE_HEADS, of.trays.iter().map(|one| words.in_use(one)));
        part_title_ui(ui, said::POTS);
        if of.pots.is_empty() {
            state_ui(ui, State::Empty, said::NO_POTS);
        } else {
            soft_ui(ui, said::WHAT_POTS_COUNT);
            table_ui(ui, "pots", &said::IN_USE_HEADS, of.pots.iter().map(|one| words.in_use(one)));
        }
        // the longest, so that it is in nobody's way
        part_title_ui(ui, said::SEED);
        if of.seed.is_empty() {
            state_ui(ui, State::Empty, said::NO_SEED);
        } else {
            soft_ui(ui, &said::what_seed_counts(scene.season.settings().sure_percent));
            table_ui(ui, "seed", &said::SEED_HEADS, of.seed.iter().map(|one| words.seed_wanted(one)));
        }
        ui.add_space(16.0);
    });
    page.known = Some((Arc::clone(forecast), of));
}

/// Names to the left, figures to the right; each row is one sentence to a screen reader.
fn table_ui(ui: &mut Ui, id: &str, heads: &[&str], rows: impl Iterator<Item = RowOf>) {
    ui.add_space(4.0);
    ScrollArea::horizontal().id_salt((id, "sideways")).show(ui, |ui| {
        let grid = Grid::new(("supplies", id)).spacing(vec2(24.0, 4.0)).min_row_height(24.0).striped(true);
        grid.show(ui, |ui| {
            for (at, head) in heads.iter().enumerate() {
                cell_ui(ui, at, RichText::new(*head).font(theme::small()).color(Palette::of(ui).soft_ink));
            }
            ui.end_row();
            for row in rows {
                for (at, cell) in row.cells.iter().enumerate() {
                    if at == 0 {
                        let name = ui.add(Label::new(theme::bold(cell)));
                        name.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &row.said));
                    } else {
                        cell_ui(ui, at, RichText::new(cell));
                    }
                }
                ui.end_row();
            }
        });
    });
}

fn cell_ui(ui: &mut Ui, at: usize, text: RichText) {
    let layout = if at == 0 { Layout::left_to_right(Align::Center) } else { Layout::right_to_left(Align::Center) };
    ui.with_layout(layout, |ui| ui.label(text));
}
