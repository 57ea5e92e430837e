//! One more record: what was seen, on which day, how many.

use chrono::NaiveDate;
use egui::{Button, Ui, vec2};

use crate::forecast::jobs::Job;
use crate::season::{
    EditLabel, Grown, Loss, LotId, Observation, Observed, Op, RecordId, Sight, Sowing, SowingId, StepId,
};
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
    lot: Batches,
    why: Loss,
    grown: Option<Grown>,
    /// Its work was otherwise than planned: the day is not the one that was due.
    on_another_day: bool,
    /// The field that differs gets the keys.
    asked: bool,
}

impl Writing {
    /// What a record of that work says: of which batch, where not all of them do it then.
    pub(super) fn of(sowing: &Sowing, job: &Job) -> Self {
        let sight = job.kind.sight();
        let lots = job.lots_named(sowing);
        let is_seen =
            |lot: LotId| job.as_planned().is_some_and(|what| sowing.saw_of(lot, |seen| *seen == what).is_some());
        let first =
            lots.iter().copied().flatten().find(|lot| !is_seen(*lot)).or_else(|| lots.first().copied().flatten());
        Self {
            sight: Some(sight),
            step: job.step.filter(|_| sight == Sight::MovedOn),
            lot: first.map_or(Batches::All, Batches::One),
            on_another_day: true,
            asked: true,
            ..Self::default()
        }
    }
}

/// Which of several.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Batches {
    /// Whichever comes next.
    #[default]
    Next,
    All,
    One(LotId),
}

impl Batches {
    /// `None` is all of them.
    fn chosen(self, next: Option<LotId>) -> Option<LotId> {
        match self {
            Self::Next => next,
            Self::All => None,
            Self::One(lot) => Some(lot),
        }
    }
}

pub(super) fn write_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    (writing, last): (&mut Writing, &mut Option<Entered>),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let sight = sight_ui(ui, scene, sowing, writing, *last);
    let what = what_ui(ui, scene, sowing, writing, sight);
    let into = match what {
        Some(Observed::MovedOn(step)) => Some(step),
        _ => None,
    };
    let lot = lot_ui(ui, scene, sowing, writing, (sight, what));
    let due = scene.forecast.due(sowing, sight, (into, lot)).filter(|_| !writing.on_another_day);
    let due = due.unwrap_or(if writing.on_another_day { scene.today } else { scene.day }).min(scene.today);
    let form = form(sowing, sight, due);
    let label = |what| EditLabel::AddRecord(scene.words().record_of(sowing, what));
    let put = |record: &Observation| put(scene, label(record.what), Op::PutRecord(sowing.id, *record));
    let typed =
        form.typed(drafts, |reader| read(reader, scene, (sight, due), (what, lot)), |record| put(record).map(drop));
    form.ui(ui, drafts, &typed.faults());
    if std::mem::take(&mut writing.asked) {
        form.focus(ui, drafts, said::sight_number(sight).unwrap_or(said::DAY));
    }
    row_ui(ui, "", |ui, _| {
        let button = form.take_ui(ui, drafts, &typed, Button::new(said::WRITE_IT).min_size(vec2(110.0, 28.0)));
        // the second of two quick clicks would write down what comes next
        if button.clicked()
            && !button.double_clicked()
            && let Ok(record) = &typed.read
        {
            actions.extend(put(record).ok());
            form.forget(drafts);
            *writing = Writing::default();
            *last = Some(Entered { sowing: sowing.id, sight });
        }
    });
}

fn sight_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, writing: &mut Writing, last: Option<Entered>) -> Sight {
    let word = scene.season.settings().potting;
    let all = scene.forecast.sights(sowing);
    let next = || scene.forecast.next_sight(sowing);
    let entered = last.and_then(|last| last.goes_on(sowing)).filter(|sight| all.contains(sight));
    let now = writing.sight.or(entered).unwrap_or_else(next);
    let sights: Vec<(Sight, &str)> = all.into_iter().map(|sight| (sight, said::sight(sight, word))).collect();
    let chosen = row_ui(ui, said::WHAT, |ui, _| drop_down_ui(ui, said::WHAT_WAS_SEEN, 180.0, now, &sights));
    if chosen.is_some() {
        (writing.sight, writing.on_another_day) = (chosen, false);
    }
    chosen.unwrap_or(now)
}

/// What was written down last, of which sowing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entered {
    sowing: SowingId,
    sight: Sight,
}

impl Entered {
    /// Who goes through the sowings writes down the same of the next, where that was not seen of it yet; of the same
    /// sowing, what comes next.
    fn goes_on(self, sowing: &Sowing) -> Option<Sight> {
        let what = self.sight.observed(sowing.next_step(), Loss::NotKnown, Grown::Right)?;
        let alike = |seen: &Observation| std::mem::discriminant(&seen.what) == std::mem::discriminant(&what);
        let was = match what {
            Observed::MovedOn(_) => false,
            _ => sowing.seen.iter().any(alike),
        };
        (self.sowing != sowing.id && !was).then_some(self.sight)
    }
}

/// Which of several batches it was seen of: where they do it on days of their own, the next that has not.
fn lot_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    writing: &mut Writing,
    (sight, what): (Sight, Option<Observed>),
) -> Option<LotId> {
    let what = what.filter(|_| sowing.lots.len() > 1 && sight.is_of_a_lot())?;
    let into = if let Observed::MovedOn(step) = what { Some(step) } else { None };
    let due = |lot: LotId| scene.forecast.due(sowing, sight, (into, Some(lot)));
    let lots = || sowing.lots.iter().map(|lot| lot.id);
    let together = lots().map(due).all(|on| on == lots().next().and_then(due));
    let behind = lots().filter(|lot| sowing.saw_of(*lot, |seen| *seen == what).is_none());
    let now = writing.lot.chosen(behind.min_by_key(|lot| due(*lot)).filter(|_| !together));
    let names: Vec<(Option<LotId>, String)> =
        lots().filter_map(|lot| Some((Some(lot), said::batch_of(sowing, Some(lot))?))).collect();
    let all = [(None, said::ALL_BATCHES)].into_iter().chain(names.iter().map(|(lot, name)| (*lot, name.as_str())));
    let all: Vec<(Option<LotId>, &str)> = all.collect();
    let chosen = row_ui(ui, said::BATCH, |ui, _| drop_down_ui(ui, said::WHICH_BATCH, 180.0, now, &all));
    if let Some(lot) = chosen {
        writing.lot = lot.map_or(Batches::All, Batches::One);
    }
    chosen.unwrap_or(now)
}

/// What was seen, its number aside; nothing where it is not known into which step.
fn what_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, writing: &mut Writing, sight: Sight) -> Option<Observed> {
    let words = scene.words();
    let container =
        |id: &StepId| sowing.steps.iter().find(|step| step.id == *id).map(|step| words.container(&step.container));
    let steps: Vec<(StepId, String)> =
        sowing.steps_ahead().into_iter().filter_map(|id| Some((id, container(&id)?))).collect();
    let step = writing.step.or_else(|| sowing.next_step()).or_else(|| steps.first().map(|(id, _)| *id));
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
    (what, lot): (Option<Observed>, Option<LotId>),
) -> Option<Observation> {
    let date = reader.read(said::DAY, |text| date::near(text, due));
    let what = match said::sight_number(sight) {
        Some(name) => reader.read(name, |text| what.map(|what| with_number(what, text)).transpose()).flatten(),
        None => what,
    };
    Some(Observation { id: RecordId(scene.season.next_id()), date: date?, what: what?, lot })
}
