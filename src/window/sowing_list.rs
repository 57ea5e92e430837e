//! The sowings as a list: sorted by a heading, narrowed by part of a name.

use chrono::NaiveDate;
use egui::{Button, Ui, WidgetInfo, vec2};

use crate::forecast::What;
use crate::season::SowingId;
use crate::words::{self, fields, sowing_list as said};

use super::kit::{List, Row, list_ui, part_ui};
use super::scene::Scene;
use super::theme::{self, Palette};

/// Plants, sown, out.
const COLUMNS_PT: [f32; 3] = [62.0, 62.0, 76.0];

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Sort {
    #[default]
    Name,
    Sown,
    Out,
}

#[derive(Default)]
pub(in crate::window) struct SowingList {
    sort: Sort,
    backwards: bool,
    part: String,
    /// Scrolled to in the next frame.
    pub(in crate::window) bring: Option<SowingId>,
}

pub(in crate::window) struct SowingRow {
    pub(in crate::window) id: SowingId,
    name: String,
    family: String,
    plants: u32,
    sown: Option<NaiveDate>,
    /// It stood there already on its date.
    begun: bool,
    out: Option<NaiveDate>,
}

impl SowingList {
    pub(in crate::window) fn rows(&self, scene: &Scene<'_>) -> Vec<SowingRow> {
        let words = scene.words();
        let mut sown = std::collections::BTreeMap::new();
        for course in &scene.forecast.courses {
            let date = course.date(What::Sown).or_else(|| course.date(What::Begun));
            let first = sown.entry(course.sowing).or_insert(date);
            *first = (*first).min(date);
        }
        let part = self.part.trim().to_lowercase();
        let mut rows: Vec<SowingRow> = scene
            .season
            .sowings()
            .map(|sowing| SowingRow {
                id: sowing.id,
                name: words.sowing(sowing.id),
                family: scene.season.crop(scene.library, &sowing.crop).map_or_else(String::new, |c| c.family.clone()),
                plants: sowing.plants_wanted(),
                begun: sowing.begun.is_some(),
                sown: sown.get(&sowing.id).copied().flatten(),
                out: sowing.out(),
            })
            .filter(|row| part.is_empty() || row.name.to_lowercase().contains(&part))
            .collect();
        rows.sort_by_cached_key(|row| {
            let date = match self.sort {
                Sort::Name => None,
                Sort::Sown => row.sown,
                Sort::Out => row.out,
            };
            (date, row.name.to_lowercase(), row.id)
        });
        if self.backwards {
            rows.reverse();
        }
        rows
    }
}

/// The one that was chosen in this frame.
pub(in crate::window) fn sowing_list_ui(
    ui: &mut Ui,
    list: &mut SowingList,
    rows: &[SowingRow],
    selected: Option<SowingId>,
) -> Option<SowingId> {
    drop(part_ui(ui, &mut list.part, said::FIND, fields::PART_OF_A_NAME));
    ui.horizontal(|ui| {
        for (sort, text, name) in [
            (Sort::Name, said::BY_NAME, said::SORT_BY_NAME),
            (Sort::Sown, said::BY_SOWN, said::SORT_BY_SOWN),
            (Sort::Out, said::BY_OUT, said::SORT_BY_OUT),
        ] {
            let now = list.sort == sort;
            let arrow = if list.backwards { "↑" } else { "↓" };
            let shown = if now { theme::bold(format!("{text} {arrow}")) } else { text.into() };
            let button = ui.add(Button::new(shown).min_size(vec2(64.0, theme::TARGET_PT)));
            button.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, now, name));
            if button.clicked() {
                list.backwards = now && !list.backwards;
                list.sort = sort;
            }
        }
    });
    if rows.is_empty() && !list.part.trim().is_empty() {
        ui.label(said::NONE_OF_THAT_NAME);
    }
    let at = |id: Option<SowingId>| rows.iter().position(|row| Some(row.id) == id);
    let shown = List { columns: &COLUMNS_PT, bring: at(list.bring.take()), ..List::new("sowings", said::PAGE) };
    let palette = Palette::of(ui);
    let row = |at: usize| rows.get(at).map_or_else(Row::default, |row| row_of(palette, row));
    let chosen = list_ui(ui, &shown, rows.len(), at(selected), row);
    chosen.and_then(|at| rows.get(at)).map(|row| row.id)
}

fn row_of(palette: &Palette, row: &SowingRow) -> Row {
    let date = |date: Option<NaiveDate>| date.map_or_else(|| "?".to_owned(), words::day);
    let (sown, out) = (date(row.sown), date(row.out));
    Row {
        text: if row.begun { said::here_already(&row.name) } else { row.name.clone() },
        name: said::row(&row.name, row.plants, row.begun, &sown, &out),
        hover: said::so_many(&row.name, row.plants),
        cells: vec![row.plants.to_string(), sown, said::out_on(&out)],
        family: Some(palette.family(&row.family)),
        ..Row::default()
    }
}
