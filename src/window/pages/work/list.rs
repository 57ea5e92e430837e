//! The list: what is overdue, then day by day. One Tab stop, with arrows inside; the space bar ticks.

use chrono::NaiveDate;
use egui::{
    CornerRadius, EventFilter, Id, Key, Label, Modifiers, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
};

use crate::forecast::Problem;
use crate::forecast::jobs::{Job, out_by_day};
use crate::season::SowingId;
use crate::units::shifted;
use crate::words::{fields, jobs as said};

use crate::window::action::{Action, Go};
use crate::window::kit::{State, button_ui, reason_ui, soft_ui, state_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::line::{Pressed, TEXT_AT_PT, line_ui};
use super::tick::ticked;

/// What is overdue is a list of a few, or nobody keeps records.
const MOST_OVERDUE: usize = 12;

/// The week that is shown.
pub(super) struct Week<'a> {
    pub(super) monday: NaiveDate,
    /// Due before, and not written down; of the week of today alone.
    pub(super) late: &'a [&'a Job],
    /// So many of those where another week is shown.
    pub(super) elsewhere: usize,
    pub(super) jobs: &'a [Job],
    /// The day of what comes after the week.
    pub(super) next: Option<NaiveDate>,
    pub(super) today: NaiveDate,
}

impl<'a> Week<'a> {
    /// As they stand there, from the top.
    fn in_order(&self) -> impl Iterator<Item = &'a Job> {
        self.late.iter().take(MOST_OVERDUE).copied().chain(self.jobs)
    }

    /// What was chosen while it is there; else the first that is still to be done, or the first.
    pub(super) fn shown(&self, chosen: Option<&Job>) -> Option<&'a Job> {
        let same = chosen.and_then(|chosen| self.in_order().find(|job| job.is(chosen)));
        same.or_else(|| self.in_order().find(|job| job.is_open())).or_else(|| self.in_order().next())
    }

    /// Of what is due in the week and can be written down: how much is, and how much there is.
    pub(super) fn written(&self) -> (usize, usize) {
        let done = self.jobs.iter().filter(|job| job.done().is_some()).count();
        (done, done + self.jobs.iter().filter(|job| job.is_open()).count())
    }
}

/// The one that was chosen now.
pub(super) fn list_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    week: &Week<'_>,
    shown: Option<&Job>,
    actions: &mut Vec<Action>,
) -> Option<Job> {
    let area = ui.available_rect_before_wrap();
    let all = ui.interact(area, Id::unique("work_of_the_week"), Sense::focusable_noninteractive());
    let mut chosen = None;
    if all.has_focus() {
        chosen = stepped(ui, all.id, week, shown);
        if let Some(job) = shown.filter(|_| ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Space))) {
            tick(scene, job, actions);
        }
    }
    let here = shown.map_or_else(String::new, |job| said::on_day(&scene.words().job(job), job.day));
    all.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, fields::with_aside(said::THE_LIST, &here)));
    elsewhere_ui(ui, week, actions);
    ui.spacing_mut().item_spacing.y = 2.0;
    let moved = chosen.is_some();
    let mut lines = Lines { scene, shown: chosen.or(shown), bring: moved, pressed: None, actions };
    if !week.late.is_empty() {
        head_ui(ui, said::OVERDUE, None);
        for job in week.late.iter().take(MOST_OVERDUE) {
            lines.job_ui(ui, job, true);
        }
        if week.late.len() > MOST_OVERDUE {
            soft_ui(ui, &said::and_more(week.late.len() - MOST_OVERDUE));
        }
    }
    for day in (0..7).map(|days| shifted(week.monday, days)) {
        day_ui(ui, week, day, &mut lines);
    }
    let chosen = lines.pressed.or(chosen).cloned();
    foot_ui(ui, week, actions);
    if all.has_focus() {
        let stroke = Stroke::new(2.0, Palette::of(ui).selected);
        let drawn = area.with_max_y(ui.min_rect().bottom().max(area.top() + 30.0));
        ui.painter().rect_stroke(drawn.expand(2.0), CornerRadius::same(3), stroke, StrokeKind::Outside);
    }
    chosen
}

/// What there is to be said where the list says little.
fn foot_ui(ui: &mut Ui, week: &Week<'_>, actions: &mut Vec<Action>) {
    ui.add_space(8.0);
    if week.jobs.is_empty() {
        state_ui(ui, State::InOrder, &said::nothing_due(week.next));
        if let Some(next) = week.next
            && button_ui(ui, &said::go_to(next))
        {
            actions.push(Action::Go(Go::Day(next)));
        }
    } else if week.late.is_empty() && matches!(week.written(), (done, of) if done == of && of > 0) {
        state_ui(ui, State::InOrder, said::ALL_DONE);
    }
}

fn elsewhere_ui(ui: &mut Ui, week: &Week<'_>, actions: &mut Vec<Action>) {
    if week.elsewhere > 0 && button_ui(ui, &said::overdue_elsewhere(week.elsewhere)) {
        actions.push(Action::Go(Go::Day(week.today)));
    }
}

fn day_ui<'a>(ui: &mut Ui, week: &Week<'a>, day: NaiveDate, lines: &mut Lines<'a, '_>) {
    let words = lines.scene.words();
    let first = week.jobs.partition_point(|job| job.day < day);
    let here = week.jobs.iter().skip(first).take_while(|job| job.day == day);
    let out = out_by_day(lines.scene.forecast, day);
    let away = words.away_on(day);
    let mut here = here.peekable();
    if here.peek().is_none() && out.is_empty() && away.is_none() {
        return;
    }
    head_ui(ui, &said::day_head(day), away.as_deref());
    for job in here {
        lines.job_ui(ui, job, false);
    }
    if !out.is_empty() {
        let mut sowings: Vec<SowingId> = Vec::new();
        for stay in lines.scene.forecast.on(day).filter(|stay| stay.trays.iter().any(|tray| out.contains(tray))) {
            sowings.extend(lines.scene.forecast.sowings_in(stay));
        }
        sowings.sort_unstable();
        sowings.dedup();
        ui.horizontal_wrapped(|ui| {
            ui.add_space(TEXT_AT_PT);
            let said = words.carried_out(out.len(), &sowings);
            if is_nobody_there(lines.scene, day) { reason_ui(ui, &said) } else { soft_ui(ui, &said) }
        });
    }
}

/// To carry them.
fn is_nobody_there(scene: &Scene<'_>, day: NaiveDate) -> bool {
    let on_it = |problem: &Problem| matches!(problem, Problem::NobodyCarries { span, .. } if span.contains(day));
    scene.forecast.problems.iter().any(on_it)
}

fn head_ui(ui: &mut Ui, head: &str, more: Option<&str>) {
    ui.add_space(6.0);
    let (line, _) = ui.allocate_exact_size(egui::vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().rect_filled(line, CornerRadius::ZERO, Palette::of(ui).line);
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::bold(head));
        if let Some(more) = more {
            ui.add(Label::new(RichText::new(more).color(Palette::of(ui).soft_ink)));
        }
    });
}

/// What lines of the list have in common.
struct Lines<'a, 's> {
    scene: &'s Scene<'s>,
    shown: Option<&'a Job>,
    /// The one shown is brought into view.
    bring: bool,
    pressed: Option<&'a Job>,
    actions: &'s mut Vec<Action>,
}

impl<'a> Lines<'a, '_> {
    fn job_ui(&mut self, ui: &mut Ui, job: &'a Job, dated: bool) {
        let open = self.shown.is_some_and(|shown| shown.is(job));
        match line_ui(ui, self.scene, job, (open, self.bring && open), dated) {
            Some(Pressed::Box) => {
                self.pressed = Some(job);
                tick(self.scene, job, self.actions);
            }
            Some(Pressed::Line) => self.pressed = Some(job),
            None => {}
        }
    }
}

fn tick(scene: &Scene<'_>, job: &Job, actions: &mut Vec<Action>) {
    actions.extend(ticked(scene, job).map(|done| done.unwrap_or_else(|why| Action::Go(Go::Complain(why.into_text())))));
}

/// Where the arrows lead.
fn stepped<'a>(ui: &Ui, list: Id, week: &Week<'a>, shown: Option<&Job>) -> Option<&'a Job> {
    let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(list, filter));
    let all: Vec<&Job> = week.in_order().collect();
    let last = all.len().checked_sub(1)?;
    let now = shown.and_then(|shown| all.iter().position(|job| job.is(shown)));
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let to = if pressed(Key::ArrowDown) {
        now.map_or(0, |at| at + 1).min(last)
    } else if pressed(Key::ArrowUp) {
        now.map_or(last, |at| at.saturating_sub(1))
    } else if pressed(Key::Home) {
        0
    } else if pressed(Key::End) {
        last
    } else {
        return None;
    };
    all.get(to).copied().filter(|_| Some(to) != now)
}
