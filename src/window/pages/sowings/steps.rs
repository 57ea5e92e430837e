//! The chain of containers: what a sowing is sown in, and what it is moved on into, when.

use chrono::NaiveDate;
use egui::Ui;

use crate::forecast::{What, Why, step_shape};
use crate::season::{ContainerKey, ContainerKind, Rule, Slack, Sowing, Spaced, Spacing, Step, StepId};
use crate::trade;
use crate::units::{Length, Measure, about};
use crate::words::{fields, sowing as said};

use super::editor::{Editor, or_nothing};
use crate::window::glyphs::Glyph;
use crate::window::kit::{Field, Search, container_picture_ui, drop_down_ui, remove_at, search_ui, small_button_ui};
use crate::window::scene::Scene;
use crate::window::theme;

#[derive(Clone, Copy, PartialEq, Eq)]
enum StartKind {
    WhenDue,
    On,
    AfterSowing,
    BeforeOut,
}

impl StartKind {
    const fn of(rule: Rule) -> Self {
        match rule {
            Rule::WhenDue => Self::WhenDue,
            Rule::On(_) => Self::On,
            Rule::DaysAfterSowing(_) => Self::AfterSowing,
            Rule::DaysBeforeOut(_) => Self::BeforeOut,
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum SpacingKind {
    AsCrop,
    Tight,
    WhenLeavesMeet,
    At,
}

impl SpacingKind {
    const fn of(spacing: Option<&Spacing>) -> Self {
        match spacing {
            None => Self::AsCrop,
            Some(Spacing::Never) => Self::Tight,
            Some(Spacing::WhenLeavesMeet) => Self::WhenLeavesMeet,
            Some(Spacing::At(_)) => Self::At,
        }
    }
}

/// Until leaves that are not known to meet are spaced out (our choice, no source).
const USUAL_DAYS_TIGHT: u16 = 14;

/// The days that a step's rule may be counted from, as predicted now.
struct DaysNow {
    sown: NaiveDate,
    start: NaiveDate,
    out: NaiveDate,
}

pub(super) fn steps_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    ui.add_space(6.0);
    let steps = editor.sowing.steps.clone();
    ui.horizontal(|ui| {
        ui.label(theme::bold(said::STEPS));
        if let Some(last) = steps.last()
            && small_button_ui(ui, said::ADD_STEP, said::ADD_STEP)
        {
            let step = next_step(editor, last);
            editor.choose(|sowing| sowing.steps.push(step));
        }
    });
    for (at, step) in steps.iter().enumerate() {
        ui.horizontal_wrapped(|ui| containers_ui(ui, editor, at, step));
        ui.horizontal_wrapped(|ui| {
            ui.add_space(24.0);
            start_ui(ui, editor, at, step);
            if steps.len() > 1 && small_button_ui(ui, fields::REMOVE, &said::remove_step(at)) {
                editor.choose(|sowing| remove_at(&mut sowing.steps, at));
                editor.close_up(at, steps.len(), fields_of);
            }
        });
        if is_in_pots(editor.scene, step) {
            ui.horizontal_wrapped(|ui| {
                ui.add_space(24.0);
                spacing_ui(ui, editor, at, step);
            });
        }
        if at > 0 || editor.sowing.begun.is_none() {
            ui.horizontal_wrapped(|ui| {
                ui.add_space(24.0);
                slack_ui(ui, editor, at, step);
            });
        }
    }
}

/// The pot that the crop is usually moved on into; another of the last one without such.
fn next_step(editor: &Editor<'_, '_>, last: &Step) -> Step {
    let scene = editor.scene;
    let usual = scene.season.crop(scene.library, &editor.sowing.crop).and_then(|crop| {
        let now = scene.season.container(scene.library, &last.container)?;
        trade::next_pot(crop, now, trade::usual_days(crop, true), scene.library)
    });
    let (container, carried_in) = match usual {
        Some(usual) => (usual.container, usual.carried_in),
        None => (last.container.clone(), last.carried_in.clone()),
    };
    let id = StepId(scene.season.next_id());
    Step { id, container, carried_in, per_tray: None, start: Rule::WhenDue, slack: None, spaced: None }
}

/// What plants can be put in, by name.
struct StepFacts {
    key: ContainerKey,
    name: String,
    is_flat: bool,
    glyph: Option<Glyph>,
}

fn known_containers(scene: &Scene<'_>) -> Vec<StepFacts> {
    let all = scene.season.containers(scene.library);
    let all = all.filter(|one| !matches!(one.kind, ContainerKind::Class { .. }));
    let known = all.map(|one| StepFacts {
        key: one.key.clone(),
        name: one.name.clone(),
        is_flat: matches!(one.kind, ContainerKind::Flat(_)),
        glyph: Glyph::of_container(&one.kind),
    });
    let mut known: Vec<StepFacts> = known.collect();
    known.sort_by(|a, b| a.name.cmp(&b.name));
    known
}

fn containers_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    ui.label(said::step(at));
    let scene = editor.scene;
    let all = known_containers(scene);
    let names: Vec<(String, Option<Glyph>)> = all.iter().map(|one| (one.name.clone(), one.glyph)).collect();
    let shape = step_shape(scene.season, scene.library, &editor.sowing, step);
    container_picture_ui(ui, shape.as_ref());
    let shown = scene.words().container(&step.container);
    let chosen = search_ui(ui, &Search::container(&said::container_of(at), 180.0), &shown, &names);
    if let Some(one) = chosen.and_then(|chosen| all.get(chosen)) {
        editor.choose(|sowing| {
            if let Some(step) = sowing.steps.get_mut(at) {
                step.container = one.key.clone();
                // Said for the container before.
                step.per_tray = None;
            }
        });
    }
    let container = scene.season.container(scene.library, &step.container);
    let stands_in_a_flat = |kind: &ContainerKind| matches!(kind, ContainerKind::Pot(_) | ContainerKind::Plug(_));
    if container.is_some_and(|container| stands_in_a_flat(&container.kind)) || step.carried_in.is_some() {
        carried_in_ui(ui, editor, at, step, &all);
    }
}

fn carried_in_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step, all: &[StepFacts]) {
    ui.label(said::CARRIED_IN);
    let flats: Vec<&StepFacts> = all.iter().filter(|one| one.is_flat).collect();
    let container = editor.scene.season.container(editor.scene.library, &step.container);
    let loose = (said::LOOSE.to_owned(), container.and_then(|one| Glyph::of_container(&one.kind)));
    let flats_named = flats.iter().map(|one| (one.name.clone(), Some(Glyph::PotsInTray)));
    let names: Vec<(String, Option<Glyph>)> = std::iter::once(loose).chain(flats_named).collect();
    let words = editor.scene.words();
    let shown = step.carried_in.as_ref().map_or_else(|| said::LOOSE.to_owned(), |key| words.container(key));
    if let Some(chosen) = search_ui(ui, &Search::container(&said::is_carried_in(at), 170.0), &shown, &names) {
        let flat = chosen.checked_sub(1).and_then(|at| flats.get(at)).map(|one| one.key.clone());
        editor.choose(|sowing| {
            if let Some(step) = sowing.steps.get_mut(at) {
                step.carried_in = flat;
            }
        });
    }
}

/// The names of all fields of a step.
fn fields_of(at: usize) -> [String; 7] {
    let [(early, _), (late, _)] = said::SLACKS;
    [
        said::of_step(said::PER_TRAY, at),
        said::date_of(at),
        said::days_of(at),
        said::of_step(early, at),
        said::of_step(late, at),
        said::of_step(said::SPACED_AFTER, at),
        said::of_step(said::PITCH, at),
    ]
}

fn start_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    let field = Field::new(said::PER_TRAY, or_nothing(step.per_tray)).named(said::of_step(said::PER_TRAY, at));
    editor.whole_or_none_ui(ui, &field.hint(said::BY_SIZE).width(76.0), |sowing, per_tray| {
        if let Some(step) = sowing.steps.get_mut(at) {
            step.per_tray = per_tray;
        }
    });
    if at == 0 && editor.sowing.begun.is_some() {
        ui.label(said::HERE_ALREADY);
        return;
    }
    ui.label(said::STARTS);
    let mut kinds = vec![(StartKind::WhenDue, said::WHEN_DUE), (StartKind::On, said::ON_A_DATE)];
    if at > 0 {
        kinds.push((StartKind::AfterSowing, said::AFTER_SOWING));
    }
    kinds.push((StartKind::BeforeOut, said::BEFORE_OUT));
    if let Some(kind) = drop_down_ui(ui, &said::start_of(at), 130.0, StartKind::of(step.start), &kinds) {
        let rule = rule_like_now(days_now(editor, at, step).as_ref(), kind);
        editor.choose(|sowing| set_rule(sowing, at, rule));
        editor.forget(&[said::date_of(at), said::days_of(at)]);
    }
    rule_ui(ui, editor, at, step.start);
}

/// The date or the number of days of the rule.
fn rule_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, rule: Rule) {
    let days_field = |days: u16| Field::new("", days.to_string()).named(said::days_of(at)).width(60.0);
    match rule {
        Rule::WhenDue => {}
        Rule::On(date) => {
            let field = Field::date("", date).named(said::date_of(at)).width(100.0);
            editor.date_ui(ui, &field, date, |sowing, date| set_rule(sowing, at, Rule::On(date)));
        }
        Rule::DaysAfterSowing(days) => editor.whole_ui(ui, &days_field(days), |sowing, days| {
            set_rule(sowing, at, Rule::DaysAfterSowing(days));
        }),
        Rule::DaysBeforeOut(days) => editor.whole_ui(ui, &days_field(days), |sowing, days| {
            set_rule(sowing, at, Rule::DaysBeforeOut(days));
        }),
    }
}

fn is_in_pots(scene: &Scene<'_>, step: &Step) -> bool {
    let container = scene.season.container(scene.library, &step.container);
    container.is_some_and(|container| matches!(container.kind, ContainerKind::Pot(_)))
}

/// Whether its pots are spaced out, when and how far.
fn spacing_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    let scene = editor.scene;
    ui.label(said::SPACING);
    let crop = scene.season.crop(scene.library, &editor.sowing.crop);
    let kinds = [
        (SpacingKind::AsCrop, said::as_crop(crop.is_some_and(|crop| crop.spaced))),
        (SpacingKind::Tight, said::TIGHT),
        (SpacingKind::WhenLeavesMeet, said::WHEN_LEAVES_MEET),
        (SpacingKind::At, said::SPACED_AT),
    ];
    let now = SpacingKind::of(step.spaced.as_ref());
    if let Some(kind) = drop_down_ui(ui, &said::spacing_of(at), 220.0, now, &kinds) {
        let spacing = spacing_like_now(editor, at, step, kind);
        editor.choose(|sowing| set_spacing(sowing, at, spacing));
        editor.forget(&[said::of_step(said::SPACED_AFTER, at), said::of_step(said::PITCH, at)]);
    }
    let Some(Spacing::At(spaced)) = &step.spaced else { return };
    let days = Field::new("", spaced.after_days.to_string()).named(said::of_step(said::SPACED_AFTER, at)).width(60.0);
    editor.whole_ui(ui, &days, |sowing, after_days| {
        set_spacing(sowing, at, Some(Spacing::At(Spaced { after_days, ..spaced.clone() })));
    });
    ui.label(said::SPACED_AFTER);
    let pitch = Field::new(said::PITCH, spaced.pitch.typed()).named(said::of_step(said::PITCH, at)).width(76.0);
    editor.field_ui(ui, &pitch, |sowing, text| {
        let pitch = Measure::parse_length(text, Some(scene.unit))?;
        set_spacing(sowing, at, Some(Spacing::At(Spaced { pitch, ..spaced.clone() })));
        Ok(())
    });
}

fn set_spacing(sowing: &mut Sowing, at: usize, spacing: Option<Spacing>) {
    if let Some(step) = sowing.steps.get_mut(at) {
        step.spaced = spacing;
    }
}

/// A day of the grower's own begins as the day on which leaves meet, as far apart as they will be wide.
fn spacing_like_now(editor: &Editor<'_, '_>, at: usize, step: &Step, kind: SpacingKind) -> Option<Spacing> {
    let unit = editor.scene.unit;
    match kind {
        SpacingKind::AsCrop => None,
        SpacingKind::Tight => Some(Spacing::Never),
        SpacingKind::WhenLeavesMeet => Some(Spacing::WhenLeavesMeet),
        SpacingKind::At => {
            let mut courses = editor.scene.forecast.courses_of(editor.sowing.id);
            let met = courses.find_map(|course| {
                let is_of_it = |what| matches!(what, What::LeavesMeet(id) if id == step.id) || what == What::Spaced;
                course.events.iter().find(|event| is_of_it(event.what))
            });
            let start = days_now(editor, at, step).map(|days| days.start);
            let after = start.zip(met).map(|(start, met)| (met.date - start).num_days());
            let after_days = after.and_then(|days| u16::try_from(days).ok()).unwrap_or(USUAL_DAYS_TIGHT);
            let wide = met.and_then(|met| if let Why::Wider { wide, .. } = met.why { Some(wide) } else { None });
            let pitch = wide.unwrap_or(Length::from_mm(150));
            Some(Spacing::At(Spaced { after_days, pitch: Measure::of(about(pitch, unit), unit) }))
        }
    }
}

/// How far the start gives way to days on which nobody is there.
fn slack_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    ui.label(said::SLACK);
    for (early, (name, behind)) in [true, false].into_iter().zip(said::SLACKS) {
        let shown = or_nothing(step.slack.map(|slack| if early { slack.early } else { slack.late }));
        let field = Field::new("", shown).named(said::of_step(name, at)).hint(said::USUAL).width(60.0);
        editor.whole_or_none_ui(ui, &field, |sowing, days| {
            if let Some(step) = sowing.steps.get_mut(at) {
                // the other side was usual as well: none, now that the grower says how far
                let slack = step.slack.unwrap_or(Slack { early: 0, late: 0 });
                step.slack =
                    days.map(|days| if early { Slack { early: days, ..slack } } else { Slack { late: days, ..slack } });
            }
        });
        ui.label(behind);
    }
}

fn set_rule(sowing: &mut Sowing, at: usize, rule: Rule) {
    if let Some(step) = sowing.steps.get_mut(at) {
        step.start = rule;
    }
}

fn days_now(editor: &Editor<'_, '_>, at: usize, step: &Step) -> Option<DaysNow> {
    let out = editor.sowing.out()?;
    let course = editor.scene.forecast.courses_of(editor.sowing.id).next();
    let date = |what| course.and_then(|course| course.date(what));
    let sown = course.and_then(crate::forecast::Course::sown).unwrap_or(out);
    let start = if at == 0 { sown } else { date(What::MovedOn(step.id)).unwrap_or(sown) };
    Some(DaysNow { sown, start, out })
}

/// The rule of that kind which leaves the date where it is.
fn rule_like_now(known: Option<&DaysNow>, kind: StartKind) -> Rule {
    let Some(known) = known else { return Rule::WhenDue };
    let days = |from: NaiveDate, to: NaiveDate| u16::try_from((to - from).num_days()).unwrap_or(0);
    match kind {
        StartKind::WhenDue => Rule::WhenDue,
        StartKind::On => Rule::On(known.start),
        StartKind::AfterSowing => Rule::DaysAfterSowing(days(known.sown, known.start)),
        StartKind::BeforeOut => Rule::DaysBeforeOut(days(known.start, known.out)),
    }
}
