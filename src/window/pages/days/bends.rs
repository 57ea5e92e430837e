//! What days away do: work that bends round them, work that cannot, plants that nobody waters. What is past by the
//! day that it is stays as it was, and nothing is said of it.

use chrono::NaiveDate;
use egui::{Button, CollapsingHeader, Ui, vec2};

use crate::forecast::{Problem, Put, Why, puts_work_away, trial, with_the_past};
use crate::season::{Edit, EditLabel, Op, Sowing, SowingId};
use crate::words::{self, days_away as said};

use crate::window::action::Action;
use crate::window::kit::{Named, Stop, part_title_ui, reason_ui, soft_ui, stop_ui, wrapped_ui};
use crate::window::scene::Scene;

/// Beyond this nobody reads on; the rest comes up when these are done.
const MOST_SHOWN: usize = 40;

/// Ways to do work that has no day of its own, for the season of one revision.
pub(super) struct Offers {
    revision: u64,
    all: Vec<Stuck>,
}

/// Work on a day when nobody is there, and the days on either side.
struct Stuck {
    said: String,
    ways: Vec<Way>,
}

struct Way {
    text: String,
    /// With the work in it, to be told apart.
    name: String,
    edit: Edit,
    /// Which dates move, which stay, and what is wrong then.
    follows: Vec<String>,
}

pub(super) fn bends_ui(ui: &mut Ui, scene: &Scene<'_>, offers: &mut Option<Offers>, actions: &mut Vec<Action>) {
    if offers.as_ref().is_none_or(|offers| offers.revision != scene.revision) {
        *offers = Some(Offers { revision: scene.revision, all: stuck(scene) });
    }
    let all = offers.as_ref().map_or(&[][..], |offers| &offers.all);
    part_title_ui(ui, said::STUCK);
    if all.is_empty() {
        soft_ui(ui, said::NONE);
    } else if all.iter().any(|stuck| !stuck.ways.is_empty()) {
        soft_ui(ui, said::CHOOSE_A_DAY);
    }
    stop_ui(ui, "stuck", said::STUCK, |ui, stop| {
        for one in all.iter().take(MOST_SHOWN) {
            stuck_ui(ui, stop, one, actions);
        }
    });
    more_ui(ui, all.len());
    part_title_ui(ui, said::MOVED);
    moved_ui(ui, scene);
    part_title_ui(ui, said::DRY);
    dry_ui(ui, scene);
}

fn moved_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let words = scene.words();
    let bent = scene.forecast.courses.iter().flat_map(|course| {
        course.events.iter().filter_map(move |event| match event.why {
            Why::Bent { .. } if event.date >= scene.today => Some((course.sowing, event)),
            _ => None,
        })
    });
    let mut number = 0;
    for (at, (sowing, event)) in bent.enumerate() {
        number = at + 1;
        if number <= MOST_SHOWN {
            wrapped_ui(ui, &said::of_sowing(&words.sowing(sowing), &words.event(event)));
        }
    }
    match number {
        0 => soft_ui(ui, said::NONE),
        number => more_ui(ui, number),
    }
}

fn more_ui(ui: &mut Ui, number: usize) {
    if let Some(more) = number.checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
        soft_ui(ui, &said::and_more(more));
    }
}

fn stuck_ui(ui: &mut Ui, stop: &mut Stop, stuck: &Stuck, actions: &mut Vec<Action>) {
    ui.add_space(6.0);
    reason_ui(ui, &stuck.said);
    for way in &stuck.ways {
        let button = Button::new(&way.text).min_size(vec2(180.0, 28.0));
        if stop.row_ui(ui, button, Named::new(&way.name)) {
            actions.push(Action::edit(way.edit.clone()));
        }
        ui.indent(("follows", &way.name), |ui| {
            for line in &way.follows {
                wrapped_ui(ui, line);
            }
        });
    }
}

fn dry_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let words = scene.words();
    let mut none = true;
    for (at, problem) in scene.forecast.problems.iter().enumerate() {
        let Problem::NobodyWaters { trays, span, .. } = problem else { continue };
        if span.until() <= scene.today {
            continue;
        }
        none = false;
        reason_ui(ui, &words.problem(problem));
        let marks: Vec<String> = trays.iter().map(|tray| words.tray(*tray)).collect();
        CollapsingHeader::new(said::all_trays(trays.len()))
            .id_salt(("dry", at))
            .show(ui, |ui| wrapped_ui(ui, &marks.join(", ")));
    }
    if none {
        soft_ui(ui, said::NONE_DRY);
    }
}

fn stuck(scene: &Scene<'_>) -> Vec<Stuck> {
    let words = scene.words();
    let of = |problem: &Problem| {
        if matches!(problem, Problem::NobodyCarries { .. }) && !problem.is_over(scene.today) {
            return Some(Stuck { said: words.problem(problem), ways: Vec::new() });
        }
        let Problem::NobodyThere { sowing: id, work, date, before, after } = problem else { return None };
        let sowing = scene.season.sowing(*id).filter(|_| *date >= scene.today)?;
        let what = said::of_sowing(&words.sowing(*id), &words.what_moved(*work));
        let mut days: Vec<NaiveDate> = before.iter().copied().chain([*after]).collect();
        days.dedup();
        let ways = days.into_iter().filter(|day| day != date).filter_map(|day| {
            let edit = on_day(scene, sowing, Put { work: *work, from: *date, to: day }, &what)?;
            let text = said::do_it_on(day);
            Some(Way { name: said::do_it_named(&text, &what), follows: follows(scene, *id, &edit), text, edit })
        });
        Some(Stuck { said: words.problem(problem), ways: ways.collect() })
    };
    scene.forecast.problems.iter().filter_map(of).collect()
}

/// The work on that day in place of the one it has; what is past stays, and nothing else falls on days away.
fn on_day(scene: &Scene<'_>, sowing: &Sowing, put: Put, what: &str) -> Option<Edit> {
    let of = (scene.season, scene.library);
    let next = with_the_past(of, scene.forecast, sowing, put, scene.today)?;
    if puts_work_away(of, &next, scene.today) {
        return None;
    }
    Some(Edit::new(EditLabel::ChangeDay(what.to_owned()), vec![Op::PutSowing(next)]))
}

/// What a trial of the edit moves, keeps and makes wrong, or why the season does not take it.
fn follows(scene: &Scene<'_>, id: SowingId, edit: &Edit) -> Vec<String> {
    let trial = match trial(scene.season, scene.library, id, edit, scene.today) {
        Ok(trial) => trial,
        Err(why) => return vec![words::refusal(&why)],
    };
    let words = words::Words { season: &trial.season, ..scene.words() };
    let mut lines = words.moved_and_kept(&trial.difference);
    lines.extend(trial.problems.iter().map(|problem| words.problem(problem)));
    lines
}
