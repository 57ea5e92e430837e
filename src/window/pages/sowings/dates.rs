//! What becomes of one sowing, and why then.

use egui::{RichText, Ui};

use crate::season::Sowing;
use crate::words;

use crate::window::action::{Action, Go};
use crate::window::scene::{Scene, counted};
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::words::found;

pub(super) fn dates_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.label(theme::bold("Dates, and why then"));
    for course in scene.forecast.courses_of(sowing.id) {
        if sowing.lots.len() > 1 {
            let at = sowing.lots.iter().position(|lot| lot.id == course.lot).map_or(0, |at| at + 1);
            ui.label(theme::bold(format!("Lot {at}: {}", counted(course.plants as usize, "plant"))));
        }
        let to_sow = format!(
            "{} to sow on average, {} to be sure {} times in 100",
            course.sow.on_average, course.sow.sure, course.sow.sure_percent,
        );
        ui.label(match sowing.begun {
            Some(begun) => format!("{} here already: {}", counted(course.sow.sure as usize, "plant"), found(begun)),
            None => to_sow,
        });
        let trays = course.trays.iter().filter_map(|(id, trays)| {
            let step = sowing.steps.iter().find(|step| step.id == *id)?;
            Some(format!("{} of {}", counted(*trays as usize, "tray"), words.container(&step.container)))
        });
        ui.label(trays.collect::<Vec<_>>().join(", then "));
        for event in &course.events {
            ui.horizontal(|ui| {
                let go = ui.add(egui::Button::new(words::day(event.date)).min_size(egui::vec2(72.0, theme::TARGET_PT)));
                let name = format!("Show {} on the shelves", words::full_day(event.date));
                go.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
                if go.on_hover_text(name.clone()).clicked() {
                    actions.push(Action::Go(Go::Day(event.date)));
                    actions.push(Action::Go(Go::Page(Page::Shelves)));
                }
                ui.add(egui::Label::new(words.event(event)).wrap());
            });
        }
        let sources = egui::CollapsingHeader::new("Where these dates come from").id_salt(("sources", course.lot));
        sources.show(ui, |ui| {
            for event in &course.events {
                if let Some(source) = words.event_source(sowing.id, event) {
                    let line = format!("{}: {source}", words.event(event));
                    ui.add(egui::Label::new(RichText::new(line).color(Palette::of(ui).soft_ink)).wrap());
                }
            }
        });
        ui.add_space(6.0);
    }
    if let Some(frost) = &scene.season.settings().frost {
        let said = format!("Last frost {}", words::last_frost(frost));
        ui.add(egui::Label::new(RichText::new(said).color(Palette::of(ui).soft_ink)).wrap());
    }
    let own = |problem: &&crate::forecast::Problem| words::problem_about(&words, problem) == words.sowing(sowing.id);
    for problem in scene.forecast.problems.iter().filter(own) {
        ui.label(RichText::new(words.problem(problem)).color(Palette::of(ui).trouble));
    }
}
