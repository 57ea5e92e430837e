//! The days page: how weeks are counted, on which days nobody is there and who waters then; beside
//! it what that does to the work and to the plants.

mod absences;
mod bends;

use std::collections::BTreeMap;

use chrono::{Datelike as _, Days, NaiveDate};
use egui::{Frame, Label, Margin, RichText, ScrollArea, Ui};

use crate::season::{AwayId, FieldId, Op, Settings, WeekLabels};
use crate::units::read_date;
use crate::words;

use crate::window::action::Action;
use crate::window::kit::old_fields::{Drafts, Field, Owner, date_field_ui, field_ui, tried};
use crate::window::kit::old_form::Form;
use crate::window::kit::{FIELD_PT, Fault, choice_ui, whole};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use absences::absences_ui;
use bends::{Offers, bends_ui};

/// Settings on the left, what follows from them on the right; in a narrower window one below the other.
const TWO_COLUMNS_PT: f32 = 900.0;

const WATERINGS: &str = words::field(FieldId::WaterEvery);
const FIRST_WEEK: &str = words::field(FieldId::FirstWeek);

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct DaysPage {
    drafts: Drafts,
    /// Of new days away without.
    forms: BTreeMap<Option<AwayId>, Form>,
    every_year: bool,
    offers: Option<Offers>,
}

pub(in crate::window) fn days_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 12));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            if ui.available_width() >= TWO_COLUMNS_PT {
                ui.columns_const(|[left, right]| {
                    left.vertical(|ui| settings_ui(ui, scene, page, actions));
                    right.vertical(|ui| {
                        // clear of the bar that scrolls
                        ui.set_max_width(ui.available_width() - 14.0);
                        bends_ui(ui, scene, &mut page.offers, actions);
                    });
                });
            } else {
                settings_ui(ui, scene, page, actions);
                bends_ui(ui, scene, &mut page.offers, actions);
            }
        });
    });
}

fn settings_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, actions: &mut Vec<Action>) {
    title_ui(ui, "Week numbers");
    weeks_ui(ui, scene, &mut page.drafts, actions);
    title_ui(ui, "Days away");
    absences_ui(ui, scene, page, actions);
    title_ui(ui, "Water");
    let settings = scene.season.settings();
    let shown = settings.water_every.to_string();
    let key = (Owner::Season, WATERINGS, 0);
    let field = Field { key, label: WATERINGS, shown: &shown, hint: "", width: FIELD_PT };
    field_ui(ui, &mut page.drafts, &field, actions, |text| {
        let water_every = whole(text).map_err(Fault::into_text)?;
        tried(scene.season, Op::SetSettings(Settings { water_every, ..settings.clone() }))
    });
}

fn title_ui(ui: &mut Ui, title: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(title).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(2.0);
}

fn soft_ui(ui: &mut Ui, said: &str) {
    ui.add(Label::new(RichText::new(said).color(Palette::of(ui).soft_ink)).wrap());
}

fn weeks_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    let settings = scene.season.settings();
    let with = |weeks| Op::SetSettings(Settings { weeks, ..settings.clone() });
    let own = matches!(settings.weeks, WeekLabels::From(_));
    if let Some(own) = choice_ui(ui, "Weeks are", own, &[(false, "ISO weeks"), (true, "counted by yourself")]) {
        let weeks = if own { WeekLabels::From(monday(scene.near())) } else { WeekLabels::Iso };
        actions.push(Action::edit(with(weeks)));
    }
    if let WeekLabels::From(first) = settings.weeks {
        let shown = words::full_day(first);
        let key = (Owner::Season, FIRST_WEEK, 0);
        let field = Field { key, label: FIRST_WEEK, shown: &shown, hint: "a Monday", width: FIELD_PT };
        let near = first.checked_sub_days(Days::new(183)).unwrap_or(first);
        date_field_ui(ui, drafts, &field, first, actions, |text| {
            let first = read_date(text, near).map_err(|why| why.to_string())?;
            tried(scene.season, with(WeekLabels::From(first)))
        });
    }
    let by_iso = "By ISO 8601: week 1 holds the year’s first Thursday. A school counts from its first Monday";
    soft_ui(ui, words::every_label(scene.season, scene.day).as_deref().unwrap_or(by_iso));
}

fn monday(day: NaiveDate) -> NaiveDate {
    day.checked_sub_days(Days::new(u64::from(day.weekday().num_days_from_monday()))).unwrap_or(day)
}
