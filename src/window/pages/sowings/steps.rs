//! The chain of containers: what a sowing is sown in, and what it is moved on into, when.

use chrono::NaiveDate;
use egui::Ui;

use crate::forecast::What;
use crate::season::{ContainerKey, ContainerKind, Rule, Slack, Step, StepId};
use crate::trade;

use super::editor::Editor;
use crate::window::kit::old_typed::{Look, whole, whole_or_none};
use crate::window::kit::{Search, drop_down_ui, remove_at, search_ui, small_button_ui};
use crate::window::theme;

const LOOSE: &str = "loose on the shelf";

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    WhenDue,
    On,
    AfterSowing,
    BeforeOut,
}

impl Kind {
    const fn of(rule: Rule) -> Self {
        match rule {
            Rule::WhenDue => Self::WhenDue,
            Rule::On(_) => Self::On,
            Rule::DaysAfterSowing(_) => Self::AfterSowing,
            Rule::DaysBeforeOut(_) => Self::BeforeOut,
        }
    }
}

/// The days that a step's rule may be counted from, as predicted now.
struct Known {
    sown: NaiveDate,
    start: NaiveDate,
    out: NaiveDate,
}

pub(super) fn steps_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    ui.add_space(6.0);
    ui.label(theme::bold("Containers, one after the other"));
    let steps = editor.sowing.steps.clone();
    for (at, step) in steps.iter().enumerate() {
        ui.horizontal_wrapped(|ui| containers_ui(ui, editor, at, step));
        ui.horizontal_wrapped(|ui| {
            ui.add_space(24.0);
            start_ui(ui, editor, at, step);
            if steps.len() > 1 && small_button_ui(ui, "Remove", &format!("Remove step {}", at + 1)) {
                editor.choose(|sowing| remove_at(&mut sowing.steps, at));
                editor.forget();
            }
        });
        if at > 0 || editor.sowing.begun.is_none() {
            ui.horizontal_wrapped(|ui| {
                ui.add_space(24.0);
                slack_ui(ui, editor, at, step);
            });
        }
    }
    if let Some(last) = steps.last()
        && small_button_ui(ui, "Add a step", "Add a step")
    {
        let step = next_step(editor, last);
        editor.choose(|sowing| sowing.steps.push(step));
    }
}

/// The pot that the crop is usually moved on into; another of the last one without such.
fn next_step(editor: &Editor<'_, '_>, last: &Step) -> Step {
    let scene = editor.scene;
    let usual = scene.season.crop(scene.library, &editor.sowing.crop).and_then(|crop| {
        let used = |key: &ContainerKey| editor.sowing.steps.iter().any(|step| step.container == *key);
        trade::chain_for(crop, scene.library).into_iter().skip(1).find(|usual| !used(&usual.container))
    });
    let (container, carried_in) = match usual {
        Some(usual) => (usual.container, usual.carried_in),
        None => (last.container.clone(), last.carried_in.clone()),
    };
    let id = StepId(scene.season.next_id());
    Step { id, container, carried_in, per_tray: None, start: Rule::WhenDue, slack: None, spaced: None }
}

fn containers_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    let number = at + 1;
    ui.label(format!("Step {number}"));
    let scene = editor.scene;
    let words = scene.words();
    let mut all: Vec<(ContainerKey, String, bool)> = scene
        .season
        .own_containers()
        .chain(
            scene.library.containers.values().filter(|one| scene.season.own_containers().all(|own| own.key != one.key)),
        )
        .filter(|one| !matches!(one.kind, ContainerKind::Class { .. }))
        .map(|one| (one.key.clone(), one.name.clone(), matches!(one.kind, ContainerKind::Flat(_))))
        .collect();
    all.sort_by(|a, b| a.1.cmp(&b.1));
    let names: Vec<String> = all.iter().map(|(_, name, _)| name.clone()).collect();
    let shown = words.container(&step.container);
    if let Some((key, ..)) =
        search_ui(ui, &Search::container(&format!("Container of step {number}"), 200.0), &shown, &names)
            .and_then(|chosen| all.get(chosen))
    {
        editor.choose(|sowing| {
            if let Some(step) = sowing.steps.get_mut(at) {
                step.container = key.clone();
                // Said for the container before.
                step.per_tray = None;
            }
        });
    }
    let is_pot = scene
        .season
        .container(scene.library, &step.container)
        .is_some_and(|container| matches!(container.kind, ContainerKind::Pot(_)));
    if !is_pot && step.carried_in.is_none() {
        return;
    }
    ui.label("carried in");
    let flats: Vec<&(ContainerKey, String, bool)> = all.iter().filter(|(.., flat)| *flat).collect();
    let names: Vec<String> =
        std::iter::once(LOOSE.to_owned()).chain(flats.iter().map(|(_, name, _)| name.clone())).collect();
    let shown = step.carried_in.as_ref().map_or_else(|| LOOSE.to_owned(), |key| words.container(key));
    if let Some(chosen) =
        search_ui(ui, &Search::container(&format!("Step {number} is carried in"), 180.0), &shown, &names)
    {
        let flat = chosen.checked_sub(1).and_then(|at| flats.get(at)).map(|(key, ..)| key.clone());
        editor.choose(|sowing| {
            if let Some(step) = sowing.steps.get_mut(at) {
                step.carried_in = flat;
            }
        });
    }
}

fn start_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    let number = at + 1;
    ui.label("plants per tray");
    let shown = step.per_tray.map_or_else(String::new, |per_tray| per_tray.to_string());
    let name = format!("Plants per tray, step {number}");
    editor.field_ui(ui, &Look { hint: "by size", ..Look::bare(&name, 76.0) }, &shown, |sowing, text| {
        let per_tray = whole_or_none(text)?;
        if let Some(step) = sowing.steps.get_mut(at) {
            step.per_tray = per_tray;
        }
        Ok(())
    });
    if at == 0 && editor.sowing.begun.is_some() {
        ui.label("stand there already");
        return;
    }
    ui.label("starts");
    let mut kinds = vec![(Kind::WhenDue, "when due"), (Kind::On, "on a date")];
    if at > 0 {
        kinds.push((Kind::AfterSowing, "days after sowing"));
    }
    kinds.push((Kind::BeforeOut, "days before out"));
    let name = format!("Start of step {number}");
    if let Some(kind) = drop_down_ui(ui, &name, 130.0, Kind::of(step.start), &kinds) {
        let rule = rule_like_now(known(editor, at, step).as_ref(), kind);
        set_rule(editor, at, rule);
        editor.forget();
    }
    let set = move |sowing: &mut crate::season::Sowing, rule| {
        if let Some(step) = sowing.steps.get_mut(at) {
            step.start = rule;
        }
    };
    match step.start {
        Rule::WhenDue => {}
        Rule::On(date) => {
            let name = format!("Date of step {number}");
            editor.date_field_ui(ui, &Look::bare(&name, 100.0), date, |sowing, date| set(sowing, Rule::On(date)));
        }
        Rule::DaysAfterSowing(days) | Rule::DaysBeforeOut(days) => {
            let after = matches!(step.start, Rule::DaysAfterSowing(_));
            let name = format!("Days of step {number}");
            editor.field_ui(ui, &Look::bare(&name, 60.0), &days.to_string(), |sowing, text| {
                let days = whole(text)?;
                set(sowing, if after { Rule::DaysAfterSowing(days) } else { Rule::DaysBeforeOut(days) });
                Ok(())
            });
        }
    }
}

/// How far the start gives way to days on which nobody is there.
fn slack_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, step: &Step) {
    let number = at + 1;
    ui.label("round days away it may be");
    for early in [true, false] {
        let of = |slack: Slack| if early { slack.early } else { slack.late };
        let shown = step.slack.map_or_else(String::new, |slack| of(slack).to_string());
        let side = if early { "early" } else { "late" };
        let name = format!("Days {side}, step {number}");
        editor.field_ui(ui, &Look { hint: "usual", ..Look::bare(&name, 60.0) }, &shown, |sowing, text| {
            let days = whole_or_none(text)?;
            if let Some(step) = sowing.steps.get_mut(at) {
                // the other side was usual as well: none, now that the grower says how far
                let slack = step.slack.unwrap_or(Slack { early: 0, late: 0 });
                step.slack =
                    days.map(|days| if early { Slack { early: days, ..slack } } else { Slack { late: days, ..slack } });
            }
            Ok(())
        });
        ui.label(if early { "days early," } else { "days late" });
    }
}

fn set_rule(editor: &mut Editor<'_, '_>, at: usize, rule: Rule) {
    editor.choose(|sowing| {
        if let Some(step) = sowing.steps.get_mut(at) {
            step.start = rule;
        }
    });
}

fn known(editor: &Editor<'_, '_>, at: usize, step: &Step) -> Option<Known> {
    let out = editor.sowing.out()?;
    let course = editor.scene.forecast.courses_of(editor.sowing.id).next();
    let date = |what| course.and_then(|course| course.date(what));
    let sown = course.and_then(crate::forecast::Course::sown).unwrap_or(out);
    let start = if at == 0 { sown } else { date(What::MovedOn(step.id)).unwrap_or(sown) };
    Some(Known { sown, start, out })
}

/// The rule of that kind which leaves the date where it is.
fn rule_like_now(known: Option<&Known>, kind: Kind) -> Rule {
    let Some(known) = known else { return Rule::WhenDue };
    let days = |from: NaiveDate, to: NaiveDate| u16::try_from((to - from).num_days()).unwrap_or(0);
    match kind {
        Kind::WhenDue => Rule::WhenDue,
        Kind::On => Rule::On(known.start),
        Kind::AfterSowing => Rule::DaysAfterSowing(days(known.sown, known.start)),
        Kind::BeforeOut => Rule::DaysBeforeOut(days(known.start, known.out)),
    }
}
