//! One more record: what was seen, on which day, how many.

use chrono::{Days, NaiveDate};
use egui::{Button, Id, Ui, vec2};

use crate::season::{EditLabel, FieldId, Grown, Loss, Observation, Observed, Sowing, StepId};
use crate::words;

use super::observed::with_number;
use super::{called, put, with_record};
use crate::window::action::Action;
use crate::window::kit::fields::{FIELD_PT, row_ui};
use crate::window::kit::form::{Faults, Form, Lines, Reader};
use crate::window::pages::sowings::choice_ui;
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

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Sown,
    Up,
    TrueLeaves,
    MovedOn,
    Lost,
    GappedUp,
    PutOut,
    Sold,
    Grown,
}

const KINDS: [(Kind, &str); 9] = [
    (Kind::Sown, "sown"),
    (Kind::Up, "up"),
    (Kind::TrueLeaves, "true leaves"),
    (Kind::MovedOn, "moved on"),
    (Kind::Lost, "plants lost"),
    (Kind::GappedUp, "plugs moved together"),
    (Kind::PutOut, "put out"),
    (Kind::Sold, "sold"),
    (Kind::Grown, "how they turned out"),
];

impl Kind {
    /// What its number counts.
    const fn number(self) -> Option<&'static str> {
        match self {
            Self::Sown => Some(words::field(FieldId::RecordSown(0))),
            Self::Up => Some(words::field(FieldId::RecordUp(0))),
            Self::TrueLeaves => Some(words::field(FieldId::RecordLeaves(0))),
            Self::Lost | Self::PutOut | Self::Sold => Some(words::field(FieldId::RecordPlants(0))),
            Self::MovedOn | Self::GappedUp | Self::Grown => None,
        }
    }
}

/// What is typed and chosen and not written down yet.
#[derive(Debug, Default)]
pub(super) struct Writing {
    form: Form,
    /// What comes next where nothing is chosen.
    kind: Option<Kind>,
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
    let steps = steps_ahead(scene, sowing);
    let kinds: Vec<(Kind, &str)> = KINDS
        .into_iter()
        .filter(|(kind, _)| match kind {
            Kind::Sown => sowing.begun.is_none(),
            Kind::MovedOn => sowing.steps.len() > 1,
            _ => true,
        })
        .collect();
    let mut kind = writing.kind.unwrap_or_else(|| next_kind(sowing, &steps));
    row_ui(ui, "What", |ui, _| {
        if let Some(chosen) = choice_ui(ui, "What was seen", 180.0, kind, &kinds) {
            (kind, writing.kind) = (chosen, Some(chosen));
        }
    });
    let step = writing.step.or_else(|| steps.first().map(|(id, _)| *id));
    match kind {
        Kind::MovedOn => row_ui(ui, "Into", |ui, _| {
            let all: Vec<(StepId, &str)> = steps.iter().map(|(id, name)| (*id, name.as_str())).collect();
            let now = step.unwrap_or(StepId(0));
            writing.step = choice_ui(ui, "Moved on into", 220.0, now, &all).or(writing.step);
        }),
        Kind::Lost => row_ui(ui, "Why", |ui, _| {
            let all = LOSSES.map(|why| (why, words::loss_name(why)));
            writing.why = choice_ui(ui, "Why they were lost", 180.0, writing.why, &all).unwrap_or(writing.why);
        }),
        Kind::Grown => row_ui(ui, "For their age", |ui, _| {
            let now = writing.grown.unwrap_or(Grown::Right);
            writing.grown = choice_ui(ui, "For their age they were", 120.0, now, &VERDICTS).or(writing.grown);
        }),
        _ => {}
    }
    let what = match kind {
        Kind::Sown => Some(Observed::Sown { cells: None }),
        Kind::Up => Some(Observed::Up { plants: None }),
        Kind::TrueLeaves => Some(Observed::TrueLeaves(0)),
        Kind::MovedOn => step.map(Observed::MovedOn),
        Kind::Lost => Some(Observed::Lost { plants: 0, why: writing.why }),
        Kind::GappedUp => Some(Observed::GappedUp),
        Kind::PutOut => Some(Observed::PutOut(0)),
        Kind::Sold => Some(Observed::Sold(0)),
        Kind::Grown => Some(Observed::Grown(writing.grown.unwrap_or(Grown::Right))),
    };
    let read = read(scene, sowing, &writing.form, kind, what);
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    if let Some(name) = kind.number().filter(|name| writing.form.text(name, "").trim().is_empty()) {
        // nobody is told off for what is still to come
        faults.remove(name);
    }
    let day = scene.day;
    let mut lines = Lines { form: &mut writing.form, faults: &faults, of: Id::unique(("one more record", sowing.id)) };
    lines.date_ui(ui, DAY, &shown(day), day, FIELD_PT);
    if let Some(name) = kind.number() {
        let hint = if matches!(kind, Kind::Sown | Kind::Up) { "not counted" } else { "" };
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

fn read(scene: &Scene<'_>, sowing: &Sowing, form: &Form, kind: Kind, what: Option<Observed>) -> Result<Action, Faults> {
    let mut reader = Reader::new(form);
    // without a year the nearest such day is meant
    let near = scene.day.checked_sub_days(Days::new(183)).unwrap_or(scene.day);
    let date = reader.date(DAY, &shown(scene.day), near);
    let what = match (kind.number(), what) {
        (Some(name), Some(what)) => reader.read(name, "", |text| with_number(what, text)),
        (_, what) => what,
    };
    let (Some(date), Some(what)) = (date, what) else { return Err(reader.faults) };
    let record = Observation { date, what };
    let label = EditLabel::AddRecord(called(scene, sowing, record));
    put(scene.season, label, with_record(sowing, record)).map_err(|why| {
        reader.refused(&why);
        reader.faults
    })
}

fn shown(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}

/// Containers they were not moved on into yet; all of them once they were.
fn steps_ahead(scene: &Scene<'_>, sowing: &Sowing) -> Vec<(StepId, String)> {
    let words = scene.words();
    let steps = || sowing.steps.iter().skip(1);
    let done = |step: StepId| sowing.seen.iter().any(|seen| seen.what == Observed::MovedOn(step));
    let named = |step: &crate::season::Step| (step.id, words.container(&step.container));
    let ahead: Vec<_> = steps().filter(|step| !done(step.id)).map(named).collect();
    if ahead.is_empty() { steps().map(named).collect() } else { ahead }
}

/// What is seen next in the usual order.
fn next_kind(sowing: &Sowing, ahead: &[(StepId, String)]) -> Kind {
    let any = |wanted: fn(&Observed) -> bool| sowing.seen.iter().any(|seen| wanted(&seen.what));
    let moved = |step: StepId| sowing.seen.iter().any(|seen| seen.what == Observed::MovedOn(step));
    if sowing.begun.is_none() && !any(|what| matches!(what, Observed::Sown { .. })) {
        Kind::Sown
    } else if sowing.begun.is_none() && !any(|what| matches!(what, Observed::Up { .. })) {
        Kind::Up
    } else if ahead.first().is_some_and(|(step, _)| !moved(*step)) {
        Kind::MovedOn
    } else if !any(|what| matches!(what, Observed::PutOut(_) | Observed::Sold(_))) {
        Kind::PutOut
    } else {
        Kind::Grown
    }
}
