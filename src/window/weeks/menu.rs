//! What can be done about the week of the day shown.

use egui::{Response, Ui};

use crate::outlook::{Verdict, Week};
use crate::season::{Away, AwayId, Op};
use crate::units::{DateSpan, monday, shifted};
use crate::words::{self, days_away, jobs, sowings, ways_out};

use crate::window::action::{Action, Go};
use crate::window::kit::{context_item_ui, context_ui, soft_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;

pub(super) fn week_menu_ui(of: &Response, scene: &Scene<'_>, week: Option<&Week>, actions: &mut Vec<Action>) {
    context_ui(of, of.has_focus(), |ui| items_ui(ui, scene, week, actions));
}

fn items_ui(ui: &mut Ui, scene: &Scene<'_>, week: Option<&Week>, actions: &mut Vec<Action>) {
    let said = words::every_label(scene.season, scene.day).unwrap_or_else(|| words::full_day(scene.day));
    soft_ui(ui, &said);
    let mut to = |ui: &mut Ui, text: &str, page: Page| {
        if context_item_ui(ui, text) {
            actions.push(Action::Go(Go::Page(page)));
        }
    };
    to(ui, &sowings::show_on_shelves(scene.day), Page::Shelves);
    to(ui, jobs::THE_LIST, Page::Work);
    if week.is_some_and(|week| week.verdict == Verdict::Crunch) {
        to(ui, ways_out::OPEN, Page::MakeRoom);
    }
    if context_item_ui(ui, days_away::THIS_WEEK) {
        let monday = monday(scene.day);
        actions.extend(DateSpan::new(monday, shifted(monday, 7)).ok().map(|span| {
            let id = AwayId(scene.season.next_id());
            let (name, waters) = (String::new(), String::new());
            match scene.season.away_beside(Away { id, name, span, waters, every_year: false }) {
                Ok(away) => Action::edit(Op::PutAway(away)),
                Err(why) => Action::Go(Go::Complain(words::refusal(&why))),
            }
        }));
    }
}
