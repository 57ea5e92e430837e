//! The sowings as a list: sorted by a heading, narrowed by part of a name.

use std::collections::BTreeMap;

use egui::{Button, Response, Ui, WidgetInfo, vec2};

use crate::forecast::What;
use crate::season::{Sowing, SowingId};
use crate::words::{fields, sowings as said};

use crate::window::action::Action;
use crate::window::kit::{List, Row, list_with_menu_ui, part_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::menu::sowing_menu_ui;

/// Room for plants, for the day sown, and for the day out.
const COLUMNS: [f32; 3] = [62.0, 62.0, 76.0];

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Sort {
    #[default]
    Name,
    Sown,
    Out,
}

const SORTS: [(Sort, &str); 3] = [(Sort::Name, said::NAME), (Sort::Sown, said::SOWN), (Sort::Out, said::OUT)];

#[derive(Default)]
pub(in crate::window) struct Listing {
    /// The sowing that is shown; the first of the list without one.
    chosen: Option<SowingId>,
    sort: Sort,
    backwards: bool,
    part: String,
    /// Scrolled to in the next frame.
    bring: Option<SowingId>,
}

struct Listed {
    id: SowingId,
    family: String,
    brief: said::Brief,
}

impl Listing {
    pub(in crate::window) const fn look_at(&mut self, sowing: SowingId) {
        self.chosen = Some(sowing);
        self.bring = Some(sowing);
    }

    fn rows(&self, scene: &Scene<'_>, fits: impl Fn(&str) -> bool) -> Vec<Listed> {
        let words = scene.words();
        let mut sown = BTreeMap::new();
        for course in &scene.forecast.courses {
            let date = course.date(What::Sown).or_else(|| course.date(What::Begun));
            let first = sown.entry(course.sowing).or_insert(date);
            *first = (*first).min(date);
        }
        let listed = |sowing: &Sowing| Listed {
            id: sowing.id,
            family: scene.season.crop(scene.library, &sowing.crop).map_or_else(String::new, |c| c.family.clone()),
            brief: said::Brief {
                name: words.sowing(sowing.id),
                plants: sowing.plants_wanted(),
                begun: sowing.begun.is_some(),
                sown: sown.get(&sowing.id).copied().flatten(),
                out: sowing.out(),
            },
        };
        let mut rows: Vec<Listed> = scene.season.sowings().map(listed).filter(|row| fits(&row.brief.name)).collect();
        rows.sort_by_cached_key(|row| {
            let date = match self.sort {
                Sort::Name => None,
                Sort::Sown => row.brief.sown,
                Sort::Out => row.brief.out,
            };
            (date, row.brief.name.to_lowercase(), row.id)
        });
        if self.backwards {
            rows.reverse();
        }
        rows
    }
}

/// The sowing that is shown afterwards, and whether it was chosen now; `id` is unlike that of any
/// other list.
pub(in crate::window) fn listed_ui<'a>(
    ui: &mut Ui,
    id: &'static str,
    scene: &Scene<'a>,
    list: &mut Listing,
    actions: &mut Vec<Action>,
) -> (Option<&'a Sowing>, bool) {
    let fits = part_ui(ui, &mut list.part, said::FIND, fields::PART_OF_A_NAME);
    sort_ui(ui, list);
    let rows = list.rows(scene, fits);
    if rows.is_empty() && !list.part.trim().is_empty() {
        ui.label(said::NONE_OF_THAT_NAME);
    }
    let chosen = list.chosen.filter(|id| scene.season.sowing(*id).is_some()).or_else(|| rows.first().map(|row| row.id));
    let place = |id: SowingId| rows.iter().position(|row| row.id == id);
    let bring = list.bring.take().and_then(place);
    let shape = List { columns: &COLUMNS, bring, ..List::new(id, said::PAGE) };
    let palette = Palette::of(ui);
    let row = |at: usize| {
        rows.get(at).map_or_else(Row::default, |Listed { family, brief, .. }| Row {
            cells: brief.cells(),
            family: Some(palette.family(family)),
            name: brief.said(),
            hover: brief.many(),
            ..Row::new(brief.title(), "")
        })
    };
    let menu = |of: &Response, at: usize, by_key: bool| {
        if let Some(row) = rows.get(at) {
            sowing_menu_ui(of, scene, (row.id, by_key), actions);
        }
    };
    let pressed = list_with_menu_ui(ui, &shape, (rows.len(), chosen.and_then(place)), row, menu);
    let pressed = pressed.and_then(|at| rows.get(at)).map(|row| row.id);
    list.chosen = pressed.or(list.chosen);
    (pressed.or(chosen).and_then(|id| scene.season.sowing(id)), pressed.is_some())
}

fn sort_ui(ui: &mut Ui, list: &mut Listing) {
    ui.horizontal(|ui| {
        for (sort, heading) in SORTS {
            let now = list.sort == sort;
            let shown = if now { theme::bold(said::sorted_by(heading, list.backwards)) } else { heading.into() };
            let button = ui.add(Button::new(shown).min_size(vec2(64.0, theme::TARGET_PT)));
            let name = said::sort_by(heading);
            button.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, now, &name));
            if button.clicked() {
                list.backwards = now && !list.backwards;
                list.sort = sort;
            }
        }
    });
}
