//! The page of work: what is due in the week of the day shown, day by day, with a box for each piece of work; beside it
//! the one that is chosen. A tick is a record, and the forecast follows at once.

mod away;
mod chosen;
mod line;
mod list;
mod otherwise;
mod tick;

use std::sync::Arc;

use chrono::NaiveDate;
use egui::{Align, Button, Layout, RichText, Ui, vec2};

use crate::forecast::jobs::{Job, jobs, of_week, overdue};
use crate::forecast::{Forecast, Problem};
use crate::units::{self, shifted};
use crate::words::{days_away, jobs as said, sowings};

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, State, middle_ui, right_side_ui, soft_ui, state_next_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use list::{Look, Week};

/// Of the ways to other weeks; with less left beside the title they stand below it.
const WEEKS_PT: f32 = 372.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct WorkPage {
    /// The jobs of that forecast.
    known: Option<(Arc<Forecast>, Vec<Job>)>,
    chosen: Option<Chosen>,
    /// The keys go to what was otherwise of it.
    otherwise: bool,
    shows_before: bool,
    away: Asked,
    /// What somebody has to see to: its row is marked.
    marked: Option<Problem>,
    /// What is chosen is brought into view.
    bring: bool,
}

impl WorkPage {
    pub(in crate::window) fn look_at(&mut self, problem: Problem) {
        (self.marked, self.bring) = (Some(problem), true);
    }
}

/// A piece of work, as it was when it was chosen or changed, and the week that was shown then.
struct Chosen {
    job: Job,
    monday: NaiveDate,
}

impl Chosen {
    /// The same work as it is now, on whatever day, while that week is shown.
    fn now<'a>(&self, all: &'a [Job], monday: NaiveDate) -> Option<&'a Job> {
        let same = all.iter().filter(|job| self.monday == monday && job.is_same_work(&self.job));
        same.min_by_key(|job| (job.day - self.job.day).num_days().abs())
    }
}

/// Days away, between the title and the list.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
enum Asked {
    #[default]
    No,
    /// The keys go there.
    Now,
    Yes,
}

pub(in crate::window) fn work_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (page, drafts): (&mut WorkPage, &mut Drafts),
    forecast: &Arc<Forecast>,
    actions: &mut Vec<Action>,
) {
    let WorkPage { known, chosen, otherwise, shows_before, away, marked, bring } = page;
    if known.as_ref().is_none_or(|(of, _)| !Arc::ptr_eq(of, forecast)) {
        *known = Some((Arc::clone(forecast), jobs(scene.season, scene.library, forecast)));
    }
    let all = known.as_ref().map_or(&[][..], |(_, all)| all);
    let monday = units::monday(scene.day);
    let mut before: Vec<&Job> = overdue(all, scene.today).collect();
    before.reverse();
    let week = Week {
        monday,
        before,
        shows_before: *shows_before,
        jobs: of_week(all, monday),
        next: all.iter().map(|job| job.day).find(|day| *day >= shifted(monday, 7)),
        today: scene.today,
    };
    choose_marked(&week, chosen, marked, *bring);
    let shown = chosen.as_ref().and_then(|chosen| chosen.now(all, monday)).or_else(|| week.first());
    let is_sown = scene.season.sowings().next().is_some();
    if is_sown {
        let asked = std::mem::take(otherwise);
        right_side_ui(ui, "job", 372.0, 300.0..=560.0, |ui| match shown {
            Some(job) => {
                if let Some(day) = chosen::chosen_ui(ui, scene, job, (asked, drafts), actions) {
                    *chosen = Some(Chosen { job: Job { day, ..job.clone() }, monday });
                }
            }
            None => soft_ui(ui, said::CHOOSE_ONE),
        });
    }
    middle_ui(ui, "work", |ui| {
        // clear of the bar that scrolls
        ui.set_max_width(ui.available_width() - 8.0);
        let before = *away;
        head_ui(ui, scene, &week, away, actions);
        if *away != before {
            ui.request_repaint();
        } else if *away != Asked::No {
            // a frame after the click, which would take the keys away again
            let asked = std::mem::replace(away, Asked::Yes) == Asked::Now;
            if away::away_ui(ui, scene, monday, asked, drafts, actions) {
                *away = Asked::No;
            }
        }
        if !is_sown {
            if state_next_ui(ui, State::NothingSown, said::NOTHING_SOWN, sowings::WRITE_FIRST) {
                actions.push(Action::Go(Go::WriteSowing));
            }
            return;
        }
        let look = Look { shown, marked: marked.as_ref(), bring: std::mem::take(bring) };
        let pressed = list::list_ui(ui, scene, &week, look, actions);
        *marked = marked.take().filter(|_| pressed.job.is_none());
        *chosen = pressed.job.map(|job| Chosen { job, monday }).or(chosen.take());
        *otherwise = pressed.otherwise;
        *shows_before = pressed.shows_before.unwrap_or(*shows_before);
        if *otherwise {
            ui.request_repaint();
        }
    });
}

/// What somebody has to see to is a work itself.
fn choose_marked(week: &Week<'_>, chosen: &mut Option<Chosen>, marked: &mut Option<Problem>, bring: bool) {
    if let Some(job) = marked.as_ref().filter(|_| bring).and_then(|problem| week.job_of(problem)) {
        (*chosen, *marked) = (Some(Chosen { job: job.clone(), monday: week.monday }), None);
    }
}

/// Which week it is, how far it is, and the ways to others.
fn head_ui(ui: &mut Ui, scene: &Scene<'_>, week: &Week<'_>, away: &mut Asked, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        title_ui(ui, &scene.words().week_title(week.monday, week.is_this()));
        let (done, of) = week.written();
        ui.label(RichText::new(said::written_of(done, of)).color(Palette::of(ui).soft_ink));
        let has_room = ui.max_rect().right() - ui.cursor().left() >= WEEKS_PT;
        let layout = if has_room {
            Layout::right_to_left(Align::Center)
        } else {
            ui.end_row();
            Layout::left_to_right(Align::Center).with_main_wrap(true)
        };
        ui.with_layout(layout, |ui| {
            let mut ways: Vec<Way> = vec![
                // of this week it leads to today
                Way::Week(said::WEEK_BEFORE, shifted(scene.day, -7)),
                Way::Week(said::THIS_WEEK, week.today),
                Way::Week(said::WEEK_AFTER, shifted(scene.day, 7)),
                Way::Away,
            ];
            if has_room {
                ways.reverse();
            }
            for way in ways {
                way.ui(ui, away, actions);
            }
        });
    });
    ui.add_space(4.0);
}

/// A button beside the title.
enum Way {
    Week(&'static str, NaiveDate),
    Away,
}

impl Way {
    fn ui(&self, ui: &mut Ui, away: &mut Asked, actions: &mut Vec<Action>) {
        let button = |name| Button::new(name).min_size(vec2(72.0, theme::TARGET_PT + 4.0));
        match *self {
            Self::Week(name, to) => {
                if ui.add(button(name)).clicked() {
                    actions.push(Action::Go(Go::Day(to)));
                }
            }
            Self::Away => {
                let is_asked = *away != Asked::No;
                let away_button = ui.add(button(days_away::AWAY).selected(is_asked));
                if away_button.on_hover_text(days_away::WHAT_AWAY_DOES).clicked() {
                    *away = if is_asked { Asked::No } else { Asked::Now };
                }
            }
        }
    }
}
