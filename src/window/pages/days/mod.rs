//! The days page: how weeks are counted, on which days nobody is there and who waters then; beside
//! it what that does to the work and to the plants.

mod absences;
mod bends;

use egui::Ui;

use crate::season::{Op, Settings, WeekLabels};
use crate::units::monday;
use crate::words::{self, days_away as said};

use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Field, Owner, choice_ui, date, field_ui, middle_ui, part_title_ui, soft_ui, tried, whole,
};
use crate::window::scene::Scene;

use absences::absences_ui;
use bends::{Offers, bends_ui};

/// Settings on the left, what follows from them on the right; in a narrower window one below the other.
const TWO_COLUMNS_PT: f32 = 900.0;

/// What the page keeps between frames.
#[derive(Default)]
pub(in crate::window) struct DaysPage {
    /// Of days away that are not added yet.
    every_year: bool,
    offers: Option<Offers>,
}

pub(in crate::window) fn days_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut DaysPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    middle_ui(ui, "days", |ui| {
        if ui.available_width() >= TWO_COLUMNS_PT {
            ui.columns_const(|[left, right]| {
                left.vertical(|ui| settings_ui(ui, scene, page, drafts, actions));
                right.vertical(|ui| {
                    // clear of the bar that scrolls
                    ui.set_max_width(ui.available_width() - 14.0);
                    bends_ui(ui, scene, &mut page.offers, actions);
                });
            });
        } else {
            settings_ui(ui, scene, page, drafts, actions);
            bends_ui(ui, scene, &mut page.offers, actions);
        }
    });
}

fn settings_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    part_title_ui(ui, said::WEEK_NUMBERS);
    weeks_ui(ui, scene, drafts, actions);
    part_title_ui(ui, said::DAYS_AWAY);
    absences_ui(ui, scene, &mut page.every_year, drafts, actions);
    part_title_ui(ui, said::WATER);
    let settings = scene.season.settings();
    let waterings = Field::new(said::WATERINGS, settings.water_every.to_string());
    actions.extend(field_ui(ui, drafts, &Owner::Season, &waterings, |text| {
        tried(scene.season, Op::SetSettings(Settings { water_every: whole(text)?, ..settings.clone() }))
    }));
    part_title_ui(ui, said::LANGUAGE);
    if let Some(potting) = choice_ui(ui, said::POTTING, settings.potting, &said::POTTINGS) {
        actions.push(Action::edit(Op::SetSettings(Settings { potting, ..settings.clone() })));
    }
}

fn weeks_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    let settings = scene.season.settings();
    let with = |weeks| Op::SetSettings(Settings { weeks, ..settings.clone() });
    let own = matches!(settings.weeks, WeekLabels::From(_));
    if let Some(own) = choice_ui(ui, said::WEEKS_ARE, own, &said::WEEKS) {
        let weeks = if own { WeekLabels::From(monday(scene.near())) } else { WeekLabels::Iso };
        actions.push(Action::edit(with(weeks)));
    }
    if let WeekLabels::From(first) = settings.weeks {
        let field = Field::date(said::FIRST_WEEK, first).hint(said::FIRST_WEEK_HINT);
        actions.extend(field_ui(ui, drafts, &Owner::Season, &field, |text| {
            tried(scene.season, with(WeekLabels::From(date::near(text, first)?)))
        }));
    }
    soft_ui(ui, words::every_label(scene.season, scene.day).as_deref().unwrap_or(said::BY_ISO));
}
