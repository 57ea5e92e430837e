//! The page of what is wrong or odd: every crunch, and every problem of the season, each a click
//! away from where it can be changed.

use egui::{Button, Frame, Label, Margin, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::forecast::{About, Problem};
use crate::words;

use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

pub(in crate::window) fn worth_a_look_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    problems: &[Problem],
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            ui.set_max_width(ui.available_width().min(900.0));
            crunches_ui(ui, scene, palette, actions);
            ui.add_space(14.0);
            ui.label(RichText::new("Worth a look").font(theme::strong(theme::TITLE_PT)));
            if problems.is_empty() {
                ui.label(
                    RichText::new("Nothing else: dates, heights, loads and spots are in order").color(palette.soft_ink),
                );
            }
            for (at, problem) in problems.iter().enumerate() {
                let text = scene.words().problem(problem);
                if row_ui(ui, RichText::new(text), None, leads_to(problem)) {
                    actions.push(Action::Go(Go::Problem(at)));
                }
            }
        });
    });
}

fn crunches_ui(ui: &mut Ui, scene: &Scene<'_>, palette: &Palette, actions: &mut Vec<Action>) {
    ui.label(RichText::new("Crunches").font(theme::strong(theme::TITLE_PT)));
    let Some(outlook) = scene.outlook else {
        ui.label(RichText::new("Not worked out yet").color(palette.soft_ink));
        return;
    };
    if !scene.outlook_is_fresh {
        ui.label(RichText::new("Before the last change:").color(palette.soft_ink));
    }
    if outlook.crunches.is_empty() {
        let said = if outlook.weeks.is_empty() { "Nothing is sown yet".to_owned() } else { words::verdict_of(outlook) };
        ui.label(said);
    }
    for (at, crunch) in outlook.crunches.iter().enumerate() {
        let (said, reason) = (scene.words().crunch(crunch), scene.words().reason(crunch));
        let title = RichText::new(said).font(theme::strong(14.0)).color(palette.trouble);
        if row_ui(ui, title, Some(&reason), "to the worst day; marks the trays that prove it") {
            actions.push(Action::Go(Go::Crunch(at)));
        }
    }
}

/// One thing to go to: what it is, more about it, where the click leads.
fn row_ui(ui: &mut Ui, title: RichText, more: Option<&str>, leads: &str) -> bool {
    ui.add_space(4.0);
    let said = title.text().to_owned();
    let width = ui.available_width();
    let row = ui.add(Button::new(title).wrap().right_text("").min_size(vec2(width, 32.0))).on_hover_text(leads);
    row.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &said));
    if let Some(more) = more {
        ui.indent(("more", &said), |ui| ui.add(Label::new(more).wrap()));
    }
    row.clicked()
}

const fn leads_to(problem: &Problem) -> &'static str {
    match problem.about() {
        _ if matches!(problem, Problem::NobodyThere { .. } | Problem::NobodyWaters { .. }) => "to the days away",
        _ if matches!(problem, Problem::TooFew { .. }) => "to what was seen of the sowing",
        About::Season => "to the start page",
        About::Sowing(_) => "to the sowing",
        About::Tray(..) => "to the tray, on that day",
        About::Shelf(_, Some(_)) | About::Lamps(_) | About::Away(..) => "to the shelves, on that day",
        About::Shelf(_, None) => "to the shelf",
        About::Place(..) => "to the places",
    }
}
