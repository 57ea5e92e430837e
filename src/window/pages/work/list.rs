//! The list: what was never written down in one line, then day by day from today on. One Tab stop, with arrows inside; the space bar ticks.

use chrono::NaiveDate;
use egui::{
    Align, Button, CornerRadius, EventFilter, Id, Key, Label, Modifiers, RichText, Role, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, vec2,
};

use crate::forecast::Problem;
use crate::forecast::jobs::{Job, out_by_day};
use crate::outlook::is_same;
use crate::season::SowingId;
use crate::units::{monday, shifted};
use crate::words::{fields, jobs as said};

use crate::window::action::{Action, Go};
use crate::window::kit::{Named, State, button, button_ui, reason_ui, soft_ui, state_ui, stop_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::line::{PressedAt, TEXT_AT_PT, line_ui};
use super::tick::{all_as_planned, ticked};

/// What was never written down before today is shown by no more than so many, the last first.
const MOST_BEFORE: usize = 60;

/// The week that is shown.
pub(super) struct Week<'a> {
    pub(super) monday: NaiveDate,
    /// Due before today and never written down, the last first.
    pub(super) before: Vec<&'a Job>,
    /// They are shown: of the week of today alone.
    pub(super) shows_before: bool,
    pub(super) jobs: &'a [Job],
    /// The day of what comes after the week.
    pub(super) next: Option<NaiveDate>,
    pub(super) today: NaiveDate,
}

impl<'a> Week<'a> {
    pub(super) fn is_this(&self) -> bool {
        monday(self.today) == self.monday
    }

    /// Of this week today comes first, and what is over last.
    fn days(&self) -> impl Iterator<Item = NaiveDate> {
        let from = if self.is_this() { (self.today - self.monday).num_days() } else { 0 };
        let monday = self.monday;
        (from..7).chain(0..from).map(move |days| shifted(monday, days))
    }

    /// What was never written down before today stands with all of that.
    fn on(&self, day: NaiveDate) -> impl Iterator<Item = &'a Job> + use<'a> {
        let is_over = self.is_this() && day < self.today;
        let first = self.jobs.partition_point(|job| job.day < day);
        let here = self.jobs.iter().skip(first).take_while(move |job| job.day == day);
        here.filter(move |job| !(is_over && job.is_open()))
    }

    fn before_shown(&self) -> impl Iterator<Item = &'a Job> {
        let number = if self.shows_before && self.is_this() { MOST_BEFORE } else { 0 };
        self.before.iter().take(number).copied()
    }

    /// As they stand there, from the top.
    fn in_order(&self) -> impl Iterator<Item = &'a Job> {
        self.before_shown().chain(self.days().flat_map(|day| self.on(day)))
    }

    /// The first that is still to be done, or the first.
    pub(super) fn first(&self) -> Option<&'a Job> {
        self.in_order().find(|job| job.is_open()).or_else(|| self.in_order().next())
    }

    /// The work that falls on a day when nobody is there.
    pub(super) fn job_of(&self, problem: &Problem) -> Option<&'a Job> {
        let &Problem::NobodyThere { sowing, date, .. } = problem else { return None };
        self.in_order().find(|job| (job.sowing, job.day) == (sowing, date) && job.nobody_there.is_some())
    }

    /// Of what is due in the week and can be written down: how much is, and how much there is.
    pub(super) fn written(&self) -> (usize, usize) {
        let done = self.jobs.iter().filter(|job| job.done().is_some()).count();
        (done, done + self.jobs.iter().filter(|job| job.is_open()).count())
    }
}

/// What is looked at in the list.
#[derive(Clone, Copy)]
pub(super) struct Look<'a, 'p> {
    pub(super) shown: Option<&'a Job>,
    /// What somebody has to see to, in place of it.
    pub(super) marked: Option<&'p Problem>,
    /// It is brought into view.
    pub(super) bring: bool,
}

/// What was pressed in the list.
#[derive(Default)]
pub(super) struct Pressed {
    /// Chosen now.
    pub(super) job: Option<Job>,
    /// Is to be written down otherwise, by the keys.
    pub(super) otherwise: bool,
    /// What was never written down is to be shown, or no more.
    pub(super) shows_before: Option<bool>,
}

pub(super) fn list_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    week: &Week<'_>,
    Look { shown, marked, bring }: Look<'_, '_>,
    actions: &mut Vec<Action>,
) -> Pressed {
    let area = ui.available_rect_before_wrap();
    let all = ui.interact(area, Id::unique("work_of_the_week"), Sense::focusable_noninteractive());
    let mut pressed = Pressed::default();
    let mut chosen = None;
    if all.has_focus() {
        chosen = stepped(ui, all.id, week, shown);
        if let Some(job) = shown.filter(|_| ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Space))) {
            tick(scene, job, actions);
            pressed.job = Some(job.clone());
        }
        pressed.otherwise = shown.is_some() && ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Enter));
    }
    let here = shown.map_or_else(String::new, |job| said::on_day(&scene.words().job(job), job.day));
    all.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, fields::with_aside(said::THE_LIST, &here)));
    ui.spacing_mut().item_spacing.y = 2.0;
    let bring = bring || chosen.is_some();
    let mut lines = Lines { scene, shown: chosen.or(shown), marked, bring, pressed: None, actions };
    if week.is_this() && !week.before.is_empty() {
        pressed.shows_before = before_ui(ui, week, &mut lines);
    }
    for day in week.days() {
        day_ui(ui, week, day, &mut lines);
    }
    pressed.job = lines.pressed.or(chosen).cloned().or(pressed.job);
    foot_ui(ui, week, actions);
    if all.has_focus() {
        let stroke = Stroke::new(2.0, Palette::of(ui).selected);
        let drawn = area.with_max_y(ui.min_rect().bottom().max(area.top() + 30.0));
        ui.painter().rect_stroke(drawn.expand(2.0), CornerRadius::same(3), stroke, StrokeKind::Outside);
    }
    pressed
}

/// One line for all that was never written down, and a button that does; whether it is to be shown, where that was
/// pressed.
fn before_ui<'a>(ui: &mut Ui, week: &Week<'a>, lines: &mut Lines<'a, '_>) -> Option<bool> {
    let said = said::never_written(week.before.len());
    let mut shows = None;
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::bold(&said));
        let name = if week.shows_before { said::HIDE } else { said::SHOW };
        let fold = ui.add(button(name));
        fold.widget_info(|| WidgetInfo::labeled(Role::Button, true, fields::with_aside(name, &said)));
        if fold.clicked() {
            shows = Some(!week.shows_before);
        }
        if button_ui(ui, said::ALL_AS_PLANNED) {
            let done = all_as_planned(lines.scene, &week.before);
            lines.actions.push(done.unwrap_or_else(|why| Action::Go(Go::Complain(why.into_text()))));
        }
    });
    for job in week.before_shown() {
        lines.job_ui(ui, job, true);
    }
    let more = week.before.len().saturating_sub(MOST_BEFORE);
    if week.shows_before && more > 0 {
        soft_ui(ui, &said::and_more_before(more));
    }
    shows
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
    } else if week.before.is_empty() && matches!(week.written(), (done, of) if done == of && of > 0) {
        state_ui(ui, State::InOrder, said::ALL_DONE);
    }
    if !week.is_this() && !week.before.is_empty() && button_ui(ui, &said::never_written(week.before.len())) {
        actions.push(Action::Go(Go::Day(week.today)));
    }
}

fn day_ui<'a>(ui: &mut Ui, week: &Week<'a>, day: NaiveDate, lines: &mut Lines<'a, '_>) {
    let words = lines.scene.words();
    let here = week.on(day);
    let to_see_to = to_see_to(lines.scene, day);
    let out = out_by_day(lines.scene.forecast, day);
    let away = words.away_on(day);
    let mut here = here.peekable();
    if here.peek().is_none() && out.is_empty() && away.is_none() && to_see_to.is_empty() {
        return;
    }
    head_ui(ui, &said::day_head(day), away.as_deref());
    for job in here {
        lines.job_ui(ui, job, false);
    }
    to_see_to_ui(ui, day, &to_see_to, lines);
    if !out.is_empty() {
        let mut sowings: Vec<SowingId> = Vec::new();
        for stay in lines.scene.forecast.on(day).filter(|stay| stay.trays.iter().any(|tray| out.contains(tray))) {
            sowings.extend(lines.scene.forecast.sowings_on(stay, day));
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

/// What else somebody has to see to by that day: each by its place among all problems.
fn to_see_to(scene: &Scene<'_>, day: NaiveDate) -> Vec<usize> {
    let all = scene.problems.iter().enumerate();
    all.filter(|(_, problem)| problem.see_to_by(scene.today) == Some(day)).map(|(at, _)| at).collect()
}

/// Each leads to where it is settled.
fn to_see_to_ui(ui: &mut Ui, day: NaiveDate, here: &[usize], lines: &mut Lines<'_, '_>) {
    let words = lines.scene.words();
    stop_ui(ui, ("to_see_to", day), said::TO_SEE_TO, |ui, stop| {
        for at in here {
            let Some(problem) = lines.scene.problems.get(*at) else { continue };
            let text = words.problem(problem);
            let chosen = lines.marked.filter(|marked| is_same(marked, problem)).map(|_| true);
            let line = ui.horizontal(|ui| {
                ui.add_space(TEXT_AT_PT);
                let room = vec2(ui.available_width(), theme::TARGET_PT);
                let shown = RichText::new(&text).color(Palette::of(ui).trouble);
                let row = Button::new(shown).wrap().right_text("").min_size(room).selected(chosen.is_some());
                if stop.row_ui(ui, row, Named { chosen, ..Named::new(&text) }) {
                    lines.actions.push(Action::Go(Go::Problem(*at)));
                }
            });
            if chosen.is_some() && lines.bring {
                line.response.scroll_to_me(Some(Align::Center));
            }
        }
    });
}

/// To carry them.
fn is_nobody_there(scene: &Scene<'_>, day: NaiveDate) -> bool {
    let on_it = |problem: &Problem| matches!(problem, Problem::NobodyCarries { span, .. } if span.contains(day));
    scene.forecast.problems.iter().any(on_it)
}

fn head_ui(ui: &mut Ui, head: &str, more: Option<&str>) {
    ui.add_space(6.0);
    let (line, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
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
    marked: Option<&'s Problem>,
    /// The one shown is brought into view.
    bring: bool,
    pressed: Option<&'a Job>,
    actions: &'s mut Vec<Action>,
}

impl<'a> Lines<'a, '_> {
    fn job_ui(&mut self, ui: &mut Ui, job: &'a Job, dated: bool) {
        let open = self.marked.is_none() && self.shown.is_some_and(|shown| shown.is(job));
        match line_ui(ui, self.scene, job, (open, self.bring && open), dated) {
            Some(PressedAt::Box) => {
                self.pressed = Some(job);
                tick(self.scene, job, self.actions);
            }
            Some(PressedAt::Line) => self.pressed = Some(job),
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
