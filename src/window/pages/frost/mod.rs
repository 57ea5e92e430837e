//! The last-frost page: the date and its risk, all dates that are known, and where they come from:
//! the grower, a weather record, a typed table. What another frost moved stands beside it.

mod record;
mod table;

use std::path::PathBuf;

use egui::{Button, Context, Grid, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::forecast::{self, Forecast};
use crate::season::Frost;
use crate::trade::{another_risk, with_risk};
use crate::units::{Temperature, Typed};
use crate::words::cautions::Care;
use crate::words::{self, frost as said};

use crate::window::action::{Action, Do, Go};
use crate::window::kit::{
    Drafts, Field, Owner, cautions_ui, field_ui, middle_ui, part_title_ui, reason_ui, right_side_ui, soft_ui, title_ui,
    wrapped_ui,
};
use crate::window::last_frost::{last_frost_ui, put_frost};
use crate::window::scene::Scene;
use crate::window::theme;

use record::RecordForm;
use table::TableForm;

/// What the page keeps between frames.
#[derive(Default)]
pub(in crate::window) struct FrostPage {
    record: RecordForm,
    table: TableForm,
    /// As it was before the frost was last changed here.
    before: Option<Forecast>,
}

impl FrostPage {
    /// Reads a record off this thread; the page says what became of it.
    pub(in crate::window) fn read(&mut self, path: PathBuf, drafts: &mut Drafts, ctx: &Context) {
        self.record.read(path, drafts, ctx);
    }
}

pub(in crate::window) fn frost_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FrostPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let asked = actions.len();
    right_side_ui(ui, "what_moved", 330.0, 220.0..=480.0, |ui| moved_ui(ui, scene, page.before.as_ref()));
    middle_ui(ui, "frost", |ui| {
        date_ui(ui, scene, drafts, actions);
        known_ui(ui, scene, actions);
        record::record_ui(ui, scene, &mut page.record, drafts, actions);
        table::table_ui(ui, scene, &mut page.table, drafts, actions);
        ui.add_space(12.0);
        soft_ui(ui, &words::frost_cautions(scene.unit));
        cautions_ui(ui, Care::Houses, scene.unit);
    });
    if actions.iter().skip(asked).any(|action| matches!(action, Action::Do(Do::Edit(_)))) {
        page.before = Some(scene.forecast.clone());
    }
}

fn date_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    part_title_ui(ui, said::LAST_FROST);
    let frost = scene.season.settings().frost.as_ref();
    wrapped_ui(ui, &frost.map_or_else(|| said::NOT_KNOWN.to_owned(), |frost| words::last_frost(frost, scene.unit)));
    ui.add_space(4.0);
    last_frost_ui(ui, scene, drafts, said::DAY, actions);
    let Some(frost) = frost else { return };
    let with = |at: &Typed<Temperature>, years: u8| {
        let frost = another_risk(frost, at, years).map_err(|why| why.to_string())?;
        put_frost(scene, Some(frost))
    };
    let risk = Field::new(said::RISK, frost.later_in_ten.to_string()).hint(said::RISK_HINT).width(60.0);
    actions.extend(field_ui(ui, drafts, &Owner::Season, &risk, |text| {
        let years = text.parse::<u8>().map_err(|_why| said::no_risk(text))?;
        with(&frost.temperature, years)
    }));
    let cold = Field::new(said::AS_COLD_AS, frost.temperature.typed()).hint(said::cold_hint(scene.unit));
    actions.extend(field_ui(ui, drafts, &Owner::Season, &cold, |text| {
        with(&Typed::parse_temperature(text)?, frost.later_in_ten)
    }));
    if frost.is_weak() {
        reason_ui(ui, &said::weak());
    }
}

/// Every date of the table; a click chooses its risk.
fn known_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let Some(frost) = scene.season.settings().frost.as_ref().filter(|frost| !frost.table.is_empty()) else { return };
    ui.add_space(8.0);
    ui.label(theme::bold(said::KNOWN));
    let mut temperatures: Vec<&Typed<Temperature>> = frost.table.iter().map(|one| &one.temperature).collect();
    temperatures.sort_by_key(|one| std::cmp::Reverse(one.value()));
    temperatures.dedup_by_key(|one| one.value());
    let risks: Vec<u8> = (1..=9).rev().filter(|risk| frost.table.iter().any(|one| one.later_in_ten == *risk)).collect();
    ScrollArea::horizontal().id_salt("frost_table").auto_shrink([false, true]).show(ui, |ui| {
        Grid::new("frost_dates").spacing([4.0, 4.0]).show(ui, |ui| {
            ui.label(said::COLD_HEAD);
            for risk in &risks {
                ui.label(said::in_ten(*risk));
            }
            ui.end_row();
            for at in temperatures {
                ui.label(words::temperature(at, scene.unit));
                for &risk in &risks {
                    let known = frost.known(at.value(), risk).is_some();
                    match with_risk(frost, at, risk).ok().filter(|_| known) {
                        Some(other) => cell_ui(ui, scene, frost, other, actions),
                        None => drop(ui.label("–")),
                    }
                }
                ui.end_row();
            }
        });
    });
}

fn cell_ui(ui: &mut Ui, scene: &Scene<'_>, now: &Frost, other: Frost, actions: &mut Vec<Action>) {
    let risk = |frost: &Frost| (frost.temperature.value(), frost.later_in_ten, frost.date);
    let chosen = risk(now) == risk(&other);
    let text = words::day(other.date);
    let text = if chosen { theme::bold(text) } else { RichText::new(text) };
    let response = ui.add(Button::new(text).selected(chosen).min_size(vec2(58.0, theme::TARGET_PT)));
    let name = said::date_and_risk(&other, scene.unit);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, &name));
    if response.on_hover_text(&name).clicked() && !chosen {
        let put = put_frost(scene, Some(other));
        actions.push(put.unwrap_or_else(|why| Action::Go(Go::Complain(why.into_text()))));
    }
}

/// What the change made of the dates of sowings.
fn moved_ui(ui: &mut Ui, scene: &Scene<'_>, before: Option<&Forecast>) {
    title_ui(ui, said::MOVED);
    let Some(before) = before else {
        soft_ui(ui, said::MOVED_WHAT);
        return;
    };
    let difference = forecast::dates_moved(before, scene.forecast);
    if difference.moved.is_empty() {
        ui.label(said::NOTHING_MOVED);
    }
    for line in scene.words().moved_and_kept(&difference) {
        wrapped_ui(ui, &line);
    }
}
