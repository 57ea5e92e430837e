//! The page of what is wrong or odd: every crunch, and every problem of the season, each a click
//! away from where it can be changed.

use egui::{RichText, Ui};

use crate::forecast::Problem;
use crate::outlook::Verdict;
use crate::words::{self, worth_a_look as said};

use crate::window::action::{Action, Go};
use crate::window::kit::{
    State, marked_thing_ui, middle_ui, soft_ui, state_next_ui, state_ui, stop_ui, thing_ui, title_ui,
};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

pub(in crate::window) fn worth_a_look_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (problems, brought): (&[Problem], &[Problem]),
    actions: &mut Vec<Action>,
) {
    middle_ui(ui, "worth_a_look", |ui| {
        ui.set_max_width(ui.available_width().min(900.0));
        crunches_ui(ui, scene, actions);
        ui.add_space(14.0);
        title_ui(ui, said::TITLE);
        if problems.is_empty() {
            state_ui(ui, State::InOrder, said::NOTHING_ELSE);
        }
        stop_ui(ui, "worth_a_look", said::TITLE, |ui, stop| {
            for (at, problem) in problems.iter().enumerate() {
                let text = RichText::new(scene.words().problem(problem));
                let mark = if brought.contains(problem) { said::NEW } else { "" };
                if marked_thing_ui(ui, stop, (text, mark), None, said::leads_to(problem)) {
                    actions.push(Action::Go(Go::Problem(at)));
                }
            }
        });
    });
}

fn crunches_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    title_ui(ui, said::CRUNCHES);
    let Some(outlook) = scene.outlook else {
        state_ui(ui, State::Working(None), said::NOT_YET);
        return;
    };
    if !scene.outlook_is_fresh {
        soft_ui(ui, said::BEFORE);
    }
    if outlook.crunches.is_empty() {
        if !outlook.weeks.is_empty() {
            let but = words::but_too_full(scene.chance.filter(|_| outlook.verdict == Verdict::Fits));
            state_ui(ui, State::InOrder, &format!("{}{but}", words::verdict_of(outlook)));
        } else if state_next_ui(ui, State::NothingSown, said::NOTHING_SOWN, words::sowings::WRITE_FIRST) {
            actions.push(Action::Go(Go::WriteSowing));
        }
    }
    stop_ui(ui, "crunches", said::CRUNCHES, |ui, stop| {
        for (at, crunch) in outlook.crunches.iter().enumerate() {
            let (text, reason) = (scene.words().crunch(crunch), scene.words().reason(crunch));
            let title = RichText::new(text).font(theme::strong(theme::PART_PT)).color(Palette::of(ui).trouble);
            if thing_ui(ui, stop, title, Some(&reason), said::TO_WORST_DAY) {
                actions.push(Action::Go(Go::Crunch(at)));
            }
        }
    });
}
