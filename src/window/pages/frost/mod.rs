//! The last-frost page: the date and its risk, all dates that are known, and where they come from:
//! the grower, a weather record, a typed table. What another frost moved stands beside it.

mod record;
mod table;

use std::path::PathBuf;

use egui::{Button, Context, Frame, Grid, Label, Margin, Panel, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::forecast::{self, Forecast};
use crate::season::{FieldId, Frost, Op, Settings};
use crate::trade::{another_risk, frost_on_own_day, with_risk};
use crate::units::{Temperature, Typed, read_date};
use crate::words;

use crate::window::action::{Action, Do, Go};
use crate::window::kit::FIELD_PT;
use crate::window::kit::old_fields::{Drafts, Field, Owner, date_field_ui, field_ui, tried};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use record::RecordForm;
use table::TableForm;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct FrostPage {
    drafts: Drafts,
    record: RecordForm,
    table: TableForm,
    /// As it was before the frost was last changed here.
    before: Option<Forecast>,
}

impl FrostPage {
    /// Reads a record off this thread; the page says what became of it.
    pub(in crate::window) fn read(&mut self, path: PathBuf, ctx: &Context) {
        self.record.read(path, ctx);
    }
}

pub(in crate::window) fn frost_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut FrostPage, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let asked = actions.len();
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    Panel::right("what moved").frame(side).default_size(330.0).size_range(220.0..=480.0).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| moved_ui(ui, scene, page.before.as_ref()));
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 12));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            date_ui(ui, scene, page, actions);
            known_ui(ui, scene, actions);
            record::record_ui(ui, scene, &mut page.record, actions);
            table::table_ui(ui, scene, &mut page.table, actions);
            ui.add_space(12.0);
            ui.add(Label::new(RichText::new(words::FROST_CAUTIONS).color(palette.soft_ink)).wrap());
        });
    });
    if actions.iter().skip(asked).any(|action| matches!(action, Action::Do(Do::Edit(_)))) {
        page.before = Some(scene.forecast.clone());
    }
}

fn title_ui(ui: &mut Ui, title: &str) {
    ui.add_space(10.0);
    ui.label(RichText::new(title).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(2.0);
}

/// The edit that gives the season that frost, or none.
pub(in crate::window) fn put_frost(scene: &Scene<'_>, frost: Option<Frost>) -> Result<Action, String> {
    tried(scene.season, Op::SetSettings(Settings { frost, ..scene.season.settings().clone() }))
}

fn date_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut FrostPage, actions: &mut Vec<Action>) {
    title_ui(ui, "Last frost");
    let frost = scene.season.settings().frost.as_ref();
    let said = frost.map_or_else(
        || "Not known yet: give a day of your own, a weather record of a station near you, or a table".to_owned(),
        words::last_frost,
    );
    ui.add(Label::new(said).wrap());
    ui.add_space(4.0);
    let (near, drafts) = (scene.near(), &mut page.drafts);
    let shown = frost.map_or_else(String::new, |frost| words::full_day(frost.date));
    let key = |name| (Owner::Season, name, 0);
    let field = Field { key: key("Last frost"), label: "Day", shown: &shown, hint: "such as 2 May", width: 150.0 };
    date_field_ui(ui, drafts, &field, frost.map_or(near, |frost| frost.date), actions, |text| {
        let date = if text.is_empty() { None } else { Some(read_date(text, near).map_err(|why| why.to_string())?) };
        put_frost(scene, date.map(|date| frost_on_own_day(frost, date)))
    });
    let Some(frost) = frost else { return };
    let shown = frost.later_in_ten.to_string();
    let label = words::field(FieldId::FrostRisk);
    let field = Field { key: key(label), label, shown: &shown, hint: "1 to 9", width: 60.0 };
    field_ui(ui, drafts, &field, actions, |text| {
        let years = text.parse::<u8>().map_err(|_why| format!("found {text:?}; write a whole number, 1 to 9"))?;
        put_frost(scene, Some(another_risk(frost, &frost.temperature, years).map_err(|why| why.to_string())?))
    });
    let label = "A frost is as cold as";
    let shown = frost.temperature.typed().to_owned();
    let field = Field { key: key(label), label, shown: &shown, hint: "0 °C or 32 °F", width: FIELD_PT };
    field_ui(ui, drafts, &field, actions, |text| {
        let at = Typed::<Temperature>::parse_temperature(text).map_err(|why| why.to_string())?;
        put_frost(scene, Some(another_risk(frost, &at, frost.later_in_ten).map_err(|why| why.to_string())?))
    });
    if frost.is_weak() {
        let said = format!("A weak record: fewer than {} springs say little of rare frosts", Frost::ENOUGH_SPRINGS);
        ui.label(RichText::new(said).color(Palette::of(ui).trouble));
    }
}

/// Every date of the table; a click chooses its risk.
fn known_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let Some(frost) = scene.season.settings().frost.as_ref().filter(|frost| !frost.table.is_empty()) else { return };
    ui.add_space(8.0);
    ui.label(theme::bold("Dates known, by the years in 10 that have a later frost; choose the risk you take"));
    let mut temperatures: Vec<&Typed<Temperature>> = frost.table.iter().map(|one| &one.temperature).collect();
    temperatures.sort_by_key(|one| std::cmp::Reverse(one.value()));
    temperatures.dedup_by_key(|one| one.value());
    let risks: Vec<u8> = (1..=9).rev().filter(|risk| frost.table.iter().any(|one| one.later_in_ten == *risk)).collect();
    ScrollArea::horizontal().id_salt("frost table").auto_shrink([false, true]).show(ui, |ui| {
        Grid::new("frost dates").spacing([4.0, 4.0]).show(ui, |ui| {
            ui.label("As cold as");
            for risk in &risks {
                ui.label(format!("{risk} in 10"));
            }
            ui.end_row();
            for at in temperatures {
                ui.label(words::both_scales(at));
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
    let name = format!("{}: {}", words::day(other.date), words::frost_risk(&other));
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, &name));
    if response.on_hover_text(&name).clicked() && !chosen {
        actions.push(put_frost(scene, Some(other)).unwrap_or_else(|why| Action::Go(Go::Complain(why))));
    }
}

/// What the change made of the dates of sowings.
fn moved_ui(ui: &mut Ui, scene: &Scene<'_>, before: Option<&Forecast>) {
    let palette = Palette::of(ui);
    ui.label(RichText::new("What moved").font(theme::strong(theme::TITLE_PT)));
    let Some(before) = before else {
        let said = "Change the last frost, and what it moves is listed here. What is done, and days that you set, stay";
        ui.add(Label::new(RichText::new(said).color(palette.soft_ink)).wrap());
        return;
    };
    let difference = forecast::dates_moved(before, scene.forecast);
    if difference.moved.is_empty() {
        ui.label("Nothing moved");
    }
    for line in scene.words().moved_and_kept(&difference) {
        ui.add(Label::new(line).wrap());
    }
}
