//! What follows from the records: how much came up, what is missing and until when it can be sown
//! again, and how few trays the plugs would fill.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use egui::{Button, Label, RichText, Ui, vec2};

use crate::forecast::{self, Forecast, Problem, Rate, What, germination_of};
use crate::season::{Edit, EditLabel, Lot, LotId, Observation, Observed, Op, Rule, Sowing, StepId, TrayKey, Wanted};
use crate::words;

use super::{called, put, with_record};
use crate::window::action::Action;
use crate::window::scene::{Scene, counted};
use crate::window::theme::Palette;

pub(super) fn told_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    if let Some(said) = germination(sowing) {
        ui.add(Label::new(said).wrap());
    }
    too_few_ui(ui, scene, sowing, actions);
    together_ui(ui, scene, sowing, actions);
}

/// `Came up: 1010 of 1152 cells, 87.7 % germination`; few seeds say little.
fn germination(sowing: &Sowing) -> Option<String> {
    let (rate, sown) = germination_of(sowing)?;
    let up = sowing.seen.iter().rev().find_map(|seen| match seen.what {
        Observed::Up { plants } => plants,
        _ => None,
    })?;
    let year = sowing.seen.last().map_or(0, |seen| chrono::Datelike::year(&seen.date));
    let weak = Rate { up, sown, percent: 0, before_percent: 0, year }.is_weak();
    let weak = if weak { "; few seeds, so this says little" } else { "" };
    Some(format!("Came up: {up} of {sown} cells, {:.1} % germination{weak}", 100.0 * rate))
}

fn too_few_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let found = scene.forecast.problems.iter().find_map(|problem| match problem {
        Problem::TooFew { sowing: of, alive, wanted, .. } if *of == sowing.id => Some((problem, wanted - alive)),
        _ => None,
    });
    let Some((problem, missing)) = found else { return };
    let said = scene.words().problem(problem);
    ui.add(Label::new(RichText::new(said).color(Palette::of(ui).trouble)).wrap());
    if let Some(again) = sown_again(scene, sowing, missing) {
        let date = start(scene, again).map_or_else(String::new, |date| format!(" {}", words::day(date)));
        ui.label(format!("Sown again: {}, to be sown{date}", counted(missing as usize, "plant")));
        return;
    }
    let Some(again) = again(scene, sowing, missing) else { return };
    let one = forecast::of_one(scene.season, scene.library, &again);
    let date = one.courses.first().and_then(|course| course.date(What::Sown));
    let date = date.map_or_else(String::new, |date| format!(" on {}", words::day(date)));
    let text = format!("Sow {missing} more{date}");
    if ui.add(Button::new(text).min_size(vec2(160.0, 30.0))).clicked() {
        let label = EditLabel::AddSowing(scene.words().sowing(sowing.id));
        actions.push(Action::edit(Edit::new(label, vec![Op::PutSowing(again)])));
    }
}

/// Another sowing that makes up for what is missing of this one.
fn sown_again<'a>(scene: &Scene<'a>, sowing: &Sowing, missing: u32) -> Option<&'a Sowing> {
    scene.season.sowings().find(|other| {
        other.id > sowing.id
            && (&other.crop, &other.variety) == (&sowing.crop, &sowing.variety)
            && other.out() == sowing.out()
            && other.plants_wanted() == missing
    })
}

fn start(scene: &Scene<'_>, sowing: &Sowing) -> Option<NaiveDate> {
    scene.forecast.courses_of(sowing.id).find_map(|course| course.date(What::Sown))
}

/// The same chain for the plants that are missing, out on the same day; sown when due, on the day shown
/// where that is past.
fn again(scene: &Scene<'_>, sowing: &Sowing, missing: u32) -> Option<Sowing> {
    let last = sowing.wanted.iter().max_by_key(|wanted| wanted.date)?;
    let mut copy = Sowing {
        begun: None,
        wanted: vec![Wanted { plants: missing, ..*last }],
        lots: vec![Lot { id: LotId(0), share: 1, later: 0 }],
        ..sowing.clone()
    };
    for step in &mut copy.steps {
        if matches!(step.start, Rule::On(_)) {
            step.start = Rule::WhenDue;
        }
    }
    let mut copy = copy.renumbered(scene.season.next_id());
    let one = forecast::of_one(scene.season, scene.library, &copy);
    let due = one.courses.first().and_then(|course| course.date(What::Sown));
    if let Some(first) = copy.steps.first_mut()
        && due.is_some_and(|due| due < scene.day)
    {
        first.start = Rule::On(scene.day);
    }
    Some(copy)
}

/// Cells failed: fewer trays would hold the plugs.
fn together_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let Some(offer) = together(scene, sowing) else { return };
    ui.horizontal_wrapped(|ui| {
        ui.label(format!(
            "Moved together, the plugs would fill {} in place of {}",
            counted(offer.after, "tray"),
            offer.before
        ));
        let text = format!("Moved together on {}", words::day(offer.record.date));
        if ui.add(Button::new(text).min_size(vec2(160.0, 28.0))).clicked() {
            let label = EditLabel::AddRecord(called(scene, sowing, offer.record));
            actions.extend(put(scene.season, label, with_record(sowing, offer.record)).ok());
        }
    });
}

struct Offer {
    record: Observation,
    before: usize,
    after: usize,
}

/// On the day shown, or the nearest on which the plugs stand in their cells.
fn together(scene: &Scene<'_>, sowing: &Sowing) -> Option<Offer> {
    let counted = sowing.seen.iter().rev().find(|seen| matches!(seen.what, Observed::Up { plants: Some(_) }))?;
    let done = |what: &Observed| {
        matches!(what, Observed::GappedUp | Observed::PutOut(_) | Observed::Sold(_) | Observed::MovedOn(_))
    };
    if sowing.seen.iter().any(|seen| done(&seen.what)) {
        return None;
    }
    let first = sowing.steps.first()?.id;
    let stands = || {
        let own = |tray: &TrayKey| matches!(tray, TrayKey::Own { step, .. } if *step == first);
        scene.forecast.stays.iter().filter(move |stay| stay.sowing == Some(sowing.id) && stay.trays.iter().any(own))
    };
    let last = stands().map(|stay| stay.span.last()).max()?;
    if last < counted.date {
        return None;
    }
    let record = Observation { date: scene.day.clamp(counted.date, last), what: Observed::GappedUp };
    let trial = forecast::of_one(scene.season, scene.library, &with_record(sowing, record));
    let (before, after) = (trays_on(scene.forecast, first, record.date), trays_on(&trial, first, record.date));
    (after > 0 && after < before).then_some(Offer { record, before, after })
}

/// Trays of that step which stand on a day.
fn trays_on(forecast: &Forecast, of: StepId, day: NaiveDate) -> usize {
    let trays = forecast.on(day).flat_map(|stay| &stay.trays);
    let own = trays.filter(|tray| matches!(tray, TrayKey::Own { step, .. } if *step == of));
    own.collect::<BTreeSet<_>>().len()
}
