//! One more record: what was seen, on which day, how many.

use chrono::{Days, NaiveDate};
use egui::{Button, Id, Ui, vec2};

use crate::season::{EditLabel, FieldId, Grown, Loss, Observation, Observed, Sight, Sowing, StepId};
use crate::words;

use super::observed::with_number;
use super::put;
use crate::window::action::Action;
use crate::window::kit::drop_down_ui;
use crate::window::kit::old_form::{Faults, Form, Lines, Reader};
use crate::window::kit::{FIELD_PT, row_ui};
use crate::window::scene::Scene;

const DAY: &str = words::field(FieldId::RecordDate(0));
const LOSSES: [Loss; 9] = [
    Loss::NotKnown,
    Loss::DampingOff,
    Loss::TooDry,
    Loss::TooWet,
    Loss::Cold,
    Loss::Heat,
    Loss::Pests,
    Loss::Handling,
    Loss::Surplus,
];
const VERDICTS: [(Grown, &str); 3] =
    [(Grown::TooSmall, "too small"), (Grown::Right, "just right"), (Grown::TooBig, "too big")];

/// What is typed and chosen and not written down yet.
#[derive(Debug, Default)]
pub(super) struct Writing {
    form: Form,
    /// What comes next where nothing is chosen.
    sight: Option<Sight>,
    step: Option<StepId>,
    why: Loss,
    grown: Option<Grown>,
}

pub(super) fn write_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    writing: &mut Writing,
    actions: &mut Vec<Action>,
) {
    let words = scene.words();
    let container =
        |id: &StepId| sowing.steps.iter().find(|step| step.id == *id).map(|step| words.container(&step.container));
    let steps: Vec<(StepId, String)> =
        sowing.steps_ahead().into_iter().filter_map(|id| Some((id, container(&id)?))).collect();
    let sights: Vec<(Sight, &str)> = sowing.sights().map(|sight| (sight, words::sight(sight))).collect();
    let mut sight = writing.sight.unwrap_or_else(|| sowing.next_sight());
    row_ui(ui, "What", |ui, _| {
        if let Some(chosen) = drop_down_ui(ui, "What was seen", 180.0, sight, &sights) {
            (sight, writing.sight) = (chosen, Some(chosen));
        }
    });
    let step = writing.step.or_else(|| steps.first().map(|(id, _)| *id));
    match sight {
        Sight::MovedOn => row_ui(ui, "Into", |ui, _| {
            let all: Vec<(StepId, &str)> = steps.iter().map(|(id, name)| (*id, name.as_str())).collect();
            let now = step.unwrap_or(StepId(0));
            writing.step = drop_down_ui(ui, "Moved on into", 220.0, now, &all).or(writing.step);
        }),
        Sight::Lost => row_ui(ui, "Why", |ui, _| {
            let all = LOSSES.map(|why| (why, words::loss_name(why)));
            writing.why = drop_down_ui(ui, "Why they were lost", 180.0, writing.why, &all).unwrap_or(writing.why);
        }),
        Sight::Grown => row_ui(ui, "For their age", |ui, _| {
            let now = writing.grown.unwrap_or(Grown::Right);
            writing.grown = drop_down_ui(ui, "For their age they were", 120.0, now, &VERDICTS).or(writing.grown);
        }),
        _ => {}
    }
    let what = sight.observed(step, writing.why, writing.grown.unwrap_or(Grown::Right));
    let read = read(scene, sowing, &writing.form, sight, what);
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    if let Some(name) = words::sight_number(sight).filter(|name| writing.form.text(name, "").trim().is_empty()) {
        // nobody is told off for what is still to come
        faults.remove(name);
    }
    let day = scene.day;
    let mut lines = Lines { form: &mut writing.form, faults: &faults, of: Id::unique(("one more record", sowing.id)) };
    lines.date_ui(ui, DAY, &shown(day), day, FIELD_PT);
    if let Some(name) = words::sight_number(sight) {
        let hint = if matches!(sight, Sight::Sown | Sight::Up) { "not counted" } else { "" };
        lines.line_ui(ui, name, "", hint, FIELD_PT);
    }
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(read.is_ok(), |ui| {
            let button = ui.add(Button::new("Write it down").min_size(vec2(110.0, 28.0)));
            // the second of two quick clicks would write down what comes next
            if button.clicked()
                && !button.double_clicked()
                && let Ok(action) = &read
            {
                actions.push(action.clone());
                *writing = Writing::default();
            }
        });
    });
}

fn read(
    scene: &Scene<'_>,
    sowing: &Sowing,
    form: &Form,
    sight: Sight,
    what: Option<Observed>,
) -> Result<Action, Faults> {
    let mut reader = Reader::new(form);
    // without a year the nearest such day is meant
    let near = scene.day.checked_sub_days(Days::new(183)).unwrap_or(scene.day);
    let date = reader.date(DAY, &shown(scene.day), near);
    let what = match (words::sight_number(sight), what) {
        (Some(name), Some(what)) => reader.read(name, "", |text| with_number(what, text)),
        (_, what) => what,
    };
    let (Some(date), Some(what)) = (date, what) else { return Err(reader.faults) };
    let record = Observation { date, what };
    let label = EditLabel::AddRecord(scene.words().record_of(sowing, record.what));
    put(scene.season, label, sowing.with_record(record)).map_err(|why| {
        reader.refused(&why);
        reader.faults
    })
}

fn shown(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}
