//! The piece of work that is chosen: from where, into what, how many, its trays, and what is done with it.

use chrono::NaiveDate;
use egui::{Button, Label, RichText, Ui, vec2};

use crate::forecast::jobs::{Job, event_of};
use crate::outlook::slack::Slack;
use crate::season::TrayKey;
use crate::units::{DateSpan, shifted};
use crate::words::jobs as said;

use crate::window::action::{Action, Do, Go};
use crate::window::kit::{Drafts, Named, reason_ui, soft_ui, stop_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};

use super::otherwise::otherwise_ui;
use super::tick::{done_as_planned, not_done};

const LABEL_PT: f32 = 84.0;
const BUTTON_PT: f32 = 32.0;
/// More than these, and one looks at the shelf.
const MOST_TRAYS: usize = 24;

/// `asked`: the keys are to go to what was otherwise. Its day now, where something was written down or planned.
pub(super) fn chosen_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    job: &Job,
    (asked, drafts): (bool, &mut Drafts),
    actions: &mut Vec<Action>,
) -> Option<NaiveDate> {
    let words = scene.words();
    let known = as_room_lets(scene, job);
    let job = known.as_ref().unwrap_or(job);
    title_ui(ui, &words.job_title(job));
    soft_ui(ui, &said::due(job));
    let aside = words.job_aside(job);
    if said::is_trouble(job) {
        reason_ui(ui, &aside);
    } else if job.done().is_some() {
        ui.label(theme::bold(&aside));
    }
    ui.add_space(6.0);
    let ticked = written_ui(ui, scene, job, actions);
    ui.add_space(4.0);
    ui.label(theme::bold(said::OTHERWISE));
    let written = otherwise_ui(ui, scene, job, asked, drafts, actions);
    ui.add_space(10.0);
    for (label, text) in words.job_details(job) {
        ui.horizontal_top(|ui| {
            let size = vec2(LABEL_PT, 20.0);
            let of = ui.allocate_ui(size, |ui| {
                ui.set_min_size(size);
                ui.label(theme::bold(label))
            });
            ui.add(Label::new(text).wrap()).labelled_by(of.inner.id);
        });
    }
    trays_ui(ui, scene, job, (said::COME_FROM, &job.from), actions);
    trays_ui(ui, scene, job, (said::TRAYS, &job.trays), actions);
    room_ui(ui, scene, job, actions);
    written.or(ticked.then_some(job.day))
}

/// Each by its mark; a click leads to it on its shelf.
fn trays_ui(ui: &mut Ui, scene: &Scene<'_>, job: &Job, (label, trays): (&str, &[TrayKey]), actions: &mut Vec<Action>) {
    if trays.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        ui.label(RichText::new(label).color(Palette::of(ui).soft_ink));
        stop_ui(ui, label, label, |ui, stop| {
            for tray in trays.iter().take(MOST_TRAYS) {
                let name = scene.words().tray(*tray);
                let button = Button::new(&name).min_size(vec2(46.0, theme::TARGET_PT + 4.0));
                if stop.row_ui(ui, button, Named { hover: said::TO_THE_TRAY, ..Named::new(&name) }) {
                    actions.extend(stands_on(scene, job, *tray).map(|day| Action::Go(Go::Day(day))));
                    actions.push(Action::Go(Go::Page(Page::Shelves)));
                    actions.push(Action::Go(Go::Select(Some(*tray))));
                }
            }
        });
        if trays.len() > MOST_TRAYS {
            soft_ui(ui, &said::and_more(trays.len() - MOST_TRAYS));
        }
    });
}

/// The day of the work where the tray is there then; else the nearest day on which it is.
fn stands_on(scene: &Scene<'_>, job: &Job, tray: TrayKey) -> Option<NaiveDate> {
    let spans = || scene.forecast.stays_of(tray).map(|stay| stay.span);
    let (first, last) = (spans().map(DateSpan::from).min()?, spans().map(DateSpan::until).max()?);
    Some(job.day.clamp(first, shifted(last, -1).max(first)))
}

/// Whether it was ticked now, or the tick taken away.
fn written_ui(ui: &mut Ui, scene: &Scene<'_>, job: &Job, actions: &mut Vec<Action>) -> bool {
    let before = actions.len();
    let palette = Palette::of(ui);
    if let Some(why) = scene.words().why_no_box(job) {
        soft_ui(ui, &why);
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        match done_as_planned(scene, job) {
            Some(Ok(done)) => {
                let text = RichText::new(said::DONE_AS_PLANNED).font(theme::strong(theme::BODY_PT));
                let button = Button::new(text.color(palette.on_selected)).fill(palette.selected);
                if ui.add(button.min_size(vec2(124.0, BUTTON_PT))).clicked() {
                    actions.push(done);
                }
            }
            Some(Err(why)) if job.day > scene.today => soft_ui(ui, &why.into_text()),
            Some(Err(why)) => reason_ui(ui, &why.into_text()),
            None => {
                if let Some(Ok(not)) = not_done(scene, job)
                    && ui.add(Button::new(said::NOT_DONE).min_size(vec2(84.0, BUTTON_PT))).clicked()
                {
                    actions.push(not);
                }
            }
        }
    });
    actions.len() > before
}

fn slack_of<'a>(scene: &Scene<'a>, job: &Job) -> Option<&'a Slack> {
    let waits = scene.waits.filter(|_| scene.outlook.is_some() && scene.outlook_is_fresh)?;
    waits.of(scene.revision, job.sowing, event_of(scene.forecast, job)?)
}

/// The work with the day until which plants, rules and the room let it wait; `None` while that of the room isn't known.
pub(super) fn as_room_lets(scene: &Scene<'_>, job: &Job) -> Option<Job> {
    let slack = slack_of(scene, job).filter(|_| job.is_open())?;
    let until = job.may_wait_until.map_or(slack.until, |until| until.min(slack.until));
    Some(Job { may_wait_until: (until > job.day).then_some(until), ..job.clone() })
}

/// How long the room lets it wait; comes when it is worked out, below all else, so that nothing moves then.
fn room_ui(ui: &mut Ui, scene: &Scene<'_>, job: &Job, actions: &mut Vec<Action>) {
    let Some(waits) = scene.waits.filter(|_| scene.outlook.is_some() && scene.outlook_is_fresh) else { return };
    if waits.is_open(scene.revision, job.sowing) {
        actions.push(Action::Do(Do::WorkOutWaits(Some(job.sowing))));
    }
    // what the plants end before is said already
    let ends_it = |slack: &&Slack| job.may_wait_until.is_none_or(|until| slack.until <= until);
    if let Some(slack) = slack_of(scene, job).filter(|_| job.is_open()).filter(ends_it) {
        ui.add_space(8.0);
        soft_ui(ui, &scene.words().last_safe_day(slack));
    }
}
