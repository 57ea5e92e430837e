//! One more record: what was seen, on which day, how many.

use chrono::NaiveDate;
use egui::{Button, Ui, vec2};

use crate::season::{EditLabel, Grown, Loss, Observation, Observed, Op, Potting, RecordId, Sight, Sowing, StepId};
use crate::words::records as said;

use super::observed::with_number;
use super::put::put;
use crate::window::action::Action;
use crate::window::kit::{Drafts, Field, Form, Owner, Reader, date, drop_down_ui, row_ui};
use crate::window::scene::Scene;

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

/// What is chosen and not written down yet.
#[derive(Debug, Default)]
pub(super) struct Writing {
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
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let sight = sight_ui(ui, scene.season.settings().potting, sowing, writing);
    let what = what_ui(ui, scene, sowing, writing, sight);
    let into = match what {
        Some(Observed::MovedOn(step)) => Some(step),
        _ => None,
    };
    let due = scene.forecast.due(sowing, sight, into).unwrap_or(scene.day);
    let form = form(sowing, sight, due);
    let label = |what| EditLabel::AddRecord(scene.words().record_of(sowing, what));
    let put = |record: &Observation| put(scene.season, label(record.what), Op::PutRecord(sowing.id, *record));
    let typed = form.typed(drafts, |reader| read(reader, scene, (sight, due), what), |record| put(record).map(drop));
    form.ui(ui, drafts, &typed.faults());
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(typed.read.is_ok(), |ui| {
            let button = ui.add(Button::new(said::WRITE_IT).min_size(vec2(110.0, 28.0)));
            // the second of two quick clicks would write down what comes next
            if button.clicked()
                && !button.double_clicked()
                && let Ok(record) = &typed.read
            {
                actions.extend(put(record).ok());
                form.forget(drafts);
                *writing = Writing::default();
            }
        });
    });
}

fn sight_ui(ui: &mut Ui, word: Potting, sowing: &Sowing, writing: &mut Writing) -> Sight {
    let sights: Vec<(Sight, &str)> = sowing.sights().map(|sight| (sight, said::sight(sight, word))).collect();
    let now = writing.sight.unwrap_or_else(|| sowing.next_sight());
    let chosen = row_ui(ui, said::WHAT, |ui, _| drop_down_ui(ui, said::WHAT_WAS_SEEN, 180.0, now, &sights));
    writing.sight = chosen.or(writing.sight);
    chosen.unwrap_or(now)
}

/// What was seen, its number aside; nothing where it is not known into which step.
fn what_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, writing: &mut Writing, sight: Sight) -> Option<Observed> {
    let words = scene.words();
    let container =
        |id: &StepId| sowing.steps.iter().find(|step| step.id == *id).map(|step| words.container(&step.container));
    let steps: Vec<(StepId, String)> =
        sowing.steps_ahead().into_iter().filter_map(|id| Some((id, container(&id)?))).collect();
    let step = writing.step.or_else(|| steps.first().map(|(id, _)| *id));
    let grown = writing.grown.unwrap_or(Grown::Right);
    match sight {
        Sight::MovedOn => row_ui(ui, said::INTO, |ui, _| {
            let all: Vec<(StepId, &str)> = steps.iter().map(|(id, name)| (*id, name.as_str())).collect();
            let now = step.unwrap_or(StepId(0));
            writing.step = drop_down_ui(ui, said::MOVED_ON_INTO, 220.0, now, &all).or(writing.step);
        }),
        Sight::Lost => row_ui(ui, said::WHY, |ui, _| {
            let all = LOSSES.map(|why| (why, said::loss_name(why)));
            writing.why = drop_down_ui(ui, said::WHY_LOST, 180.0, writing.why, &all).unwrap_or(writing.why);
        }),
        Sight::Grown => row_ui(ui, said::FOR_THEIR_AGE, |ui, _| {
            writing.grown = drop_down_ui(ui, said::GROWN, 120.0, grown, &said::VERDICTS).or(writing.grown);
        }),
        _ => {}
    }
    sight.observed(step, writing.why, grown)
}

fn form(sowing: &Sowing, sight: Sight, due: NaiveDate) -> Form<'static> {
    let hint = if matches!(sight, Sight::Sown | Sight::Up) { said::NOT_COUNTED } else { "" };
    let number = said::sight_number(sight).map(|name| Field::new(name, "").hint(hint).still_to_come());
    Form::new(Owner::NewRecord(sowing.id), [Field::date(said::DAY, due)].into_iter().chain(number))
}

/// The day is the one that is due where no other is written.
fn read(
    reader: &mut Reader<'_>,
    scene: &Scene<'_>,
    (sight, due): (Sight, NaiveDate),
    what: Option<Observed>,
) -> Option<Observation> {
    let date = reader.read(said::DAY, |text| date::near(text, due));
    let what = match said::sight_number(sight) {
        Some(name) => reader.read(name, |text| what.map(|what| with_number(what, text)).transpose()).flatten(),
        None => what,
    };
    Some(Observation { id: RecordId(scene.season.next_id()), date: date?, what: what? })
}
