//! What becomes of one sowing, and why then.

use egui::{Button, CollapsingHeader, Label, Ui, WidgetInfo, vec2};

use crate::forecast::{Course, Event, Problem};
use crate::season::Sowing;
use crate::words::{self, sowing as sowing_words, sowings as said};

use crate::window::action::{Action, Go};
use crate::window::kit::{reason_ui, soft_ui};
use crate::window::scene::Scene;
use crate::window::sowing::{can_wait_ui, show_tray};
use crate::window::state::Page;
use crate::window::theme;

pub(super) fn dates_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.label(theme::bold(said::DATES));
    for course in scene.forecast.courses_of(sowing.id) {
        course_ui(ui, scene, sowing, course, actions);
    }
    for (tray, text) in words.shares(sowing.id) {
        if ui.add(Button::new(text).wrap().min_size(vec2(0.0, theme::TARGET_PT))).clicked() {
            show_tray(scene, tray, actions);
        }
    }
    if let Some(light) = scene.season.grows_without_lamps() {
        soft_ui(ui, sowing_words::grows_by(light));
    }
    if let Some(frost) = &scene.season.settings().frost {
        soft_ui(ui, &words::last_frost_line(frost, scene.unit));
    }
    let own = |problem: &&Problem| problem.is_of_sowing(sowing.id);
    for problem in scene.forecast.problems.iter().filter(own) {
        reason_ui(ui, &words.problem(problem));
    }
    can_wait_ui(ui, scene, sowing, actions);
}

fn course_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, course: &Course, actions: &mut Vec<Action>) {
    let words = scene.words();
    if sowing.lots.len() > 1 {
        let at = sowing.lots.iter().position(|lot| lot.id == course.lot).unwrap_or(0);
        ui.label(theme::bold(said::lot_of(at, course.go_out, sowing.plants_wanted())));
    }
    ui.label(said::to_sow(course, sowing));
    for line in words.of_the_seed(sowing, course) {
        ui.label(line);
    }
    ui.label(words.trays_of(sowing, course));
    for event in &course.events {
        ui.horizontal(|ui| event_ui(ui, scene, event, actions));
    }
    CollapsingHeader::new(said::SOURCES).id_salt(("sources", course.lot)).show(ui, |ui| {
        for event in &course.events {
            if let Some(source) = words.event_source(sowing.id, event) {
                soft_ui(ui, &said::with_source(&words.event(event), &source));
            }
        }
    });
    ui.add_space(6.0);
}

fn event_ui(ui: &mut Ui, scene: &Scene<'_>, event: &Event, actions: &mut Vec<Action>) {
    let go = ui.add(Button::new(words::day(event.date)).min_size(vec2(72.0, theme::TARGET_PT)));
    let name = said::show_on_shelves(event.date);
    go.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
    if go.on_hover_text(&name).clicked() {
        actions.push(Action::Go(Go::Day(event.date)));
        actions.push(Action::Go(Go::Page(Page::Shelves)));
    }
    ui.add(Label::new(scene.words().event(event)).wrap());
}
