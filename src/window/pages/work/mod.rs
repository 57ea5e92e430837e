//! The page of work: what is due in the week of the day shown, day by day, with a box for each piece of work; beside it
//! the one that is chosen. A tick is a record, and the forecast follows at once.

mod chosen;
mod line;
mod list;
mod tick;

use std::sync::Arc;

use egui::{Align, Button, Layout, RichText, Ui, vec2};

use crate::forecast::Forecast;
use crate::forecast::jobs::{Job, jobs, of_week, overdue};
use crate::units::{self, shifted};
use crate::words::{jobs as said, sowings};

use crate::window::action::{Action, Go};
use crate::window::kit::{State, middle_ui, right_side_ui, soft_ui, state_next_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use list::Week;

/// Of the ways to other weeks; with less left beside the title they stand below it.
const WEEKS_PT: f32 = 290.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct WorkPage {
    /// The jobs of that forecast.
    known: Option<(Arc<Forecast>, Vec<Job>)>,
    chosen: Option<Job>,
}

pub(in crate::window) fn work_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut WorkPage,
    forecast: &Arc<Forecast>,
    actions: &mut Vec<Action>,
) {
    let WorkPage { known, chosen } = page;
    if known.as_ref().is_none_or(|(of, _)| !Arc::ptr_eq(of, forecast)) {
        *known = Some((Arc::clone(forecast), jobs(scene.season, scene.library, forecast)));
    }
    let all = known.as_ref().map_or(&[][..], |(_, all)| all);
    let (monday, this) = (units::monday(scene.day), units::monday(scene.today));
    let late: Vec<&Job> = overdue(all, this).collect();
    let week = Week {
        monday,
        late: if monday == this { &late } else { &[] },
        elsewhere: if monday == this { 0 } else { late.len() },
        jobs: of_week(all, monday),
        next: all.iter().map(|job| job.day).find(|day| *day >= shifted(monday, 7)),
        today: scene.today,
    };
    let shown = week.shown(chosen.as_ref());
    let is_sown = scene.season.sowings().next().is_some();
    if is_sown {
        right_side_ui(ui, "job", 372.0, 300.0..=560.0, |ui| match shown {
            Some(job) => chosen::chosen_ui(ui, scene, job, actions),
            None => soft_ui(ui, said::CHOOSE_ONE),
        });
    }
    middle_ui(ui, "work", |ui| {
        // clear of the bar that scrolls
        ui.set_max_width(ui.available_width() - 8.0);
        head_ui(ui, scene, &week, actions);
        if !is_sown {
            if state_next_ui(ui, State::NothingSown, said::NOTHING_SOWN, sowings::WRITE_FIRST) {
                actions.push(Action::Go(Go::WriteSowing));
            }
            return;
        }
        if let Some(job) = list::list_ui(ui, scene, &week, shown, actions) {
            *chosen = Some(job);
        }
    });
}

/// Which week it is, how far it is, and the ways to others.
fn head_ui(ui: &mut Ui, scene: &Scene<'_>, week: &Week<'_>, actions: &mut Vec<Action>) {
    let is_this = week.monday == units::monday(week.today);
    ui.horizontal_wrapped(|ui| {
        title_ui(ui, &scene.words().week_title(week.monday, is_this));
        let (done, of) = week.written();
        ui.label(RichText::new(said::written_of(done, of)).color(Palette::of(ui).soft_ink));
        // of this week it leads to today
        let mut weeks = [
            (said::WEEK_BEFORE, shifted(scene.day, -7)),
            (said::THIS_WEEK, week.today),
            (said::WEEK_AFTER, shifted(scene.day, 7)),
        ];
        let has_room = ui.max_rect().right() - ui.cursor().left() >= WEEKS_PT;
        let layout = if has_room {
            weeks.reverse();
            Layout::right_to_left(Align::Center)
        } else {
            Layout::left_to_right(Align::Center).with_main_wrap(true)
        };
        if !has_room {
            ui.end_row();
        }
        ui.with_layout(layout, |ui| {
            for (name, to) in weeks {
                let button = Button::new(name).min_size(vec2(72.0, theme::TARGET_PT + 4.0));
                if ui.add(button).clicked() {
                    actions.push(Action::Go(Go::Day(to)));
                }
            }
        });
    });
    ui.add_space(4.0);
}
