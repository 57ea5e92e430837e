//! What was otherwise than planned of a piece of work: its day, and how many where a record of it counts them. A day that
//! is to come is planned, not written down.

use chrono::NaiveDate;
use egui::{Ui, vec2};

use crate::forecast::jobs::{Job, Kind, event_of};
use crate::forecast::{Put, with_the_past};
use crate::season::{Edit, EditLabel, FieldId, Observation, Observed, Op, RecordId, Sowing};
use crate::words::{days_away, jobs as said, records};

use crate::window::action::{Action, Go};
use crate::window::kit::{
    Drafts, Fault, Field, Form, Owner, Reader, Typed, button, button_ui, date, narrow_row_ui, whole, whole_or_none,
};
use crate::window::scene::Scene;

use super::tick::done_as_planned;

const LABEL_PT: f32 = 92.0;
const NUMBER_PT: f32 = 56.0;
const DAY_PT: f32 = 100.0;

/// What its fields come to.
#[derive(Clone, Debug)]
struct Meant {
    edit: Edit,
    /// Nothing is written down: it is put on that day.
    planned: Option<NaiveDate>,
}

struct Otherwise<'a> {
    scene: &'a Scene<'a>,
    job: &'a Job,
    sowing: &'a Sowing,
    /// As it is written down, or would be.
    records: Vec<Observation>,
    form: Form<'static>,
    /// That is shown.
    day: NaiveDate,
    number: Option<&'static str>,
}

/// `asked`: the keys are to go to its first field. Its day now, where something was written down or planned.
pub(super) fn otherwise_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    job: &Job,
    asked: bool,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> Option<NaiveDate> {
    let Some(otherwise) = Otherwise::of(scene, job) else {
        more_ui(ui, job, actions);
        return None;
    };
    otherwise.ui(ui, asked, drafts, actions)
}

/// Every field of a record, and those that are written already.
fn more_ui(ui: &mut Ui, job: &Job, actions: &mut Vec<Action>) {
    if button_ui(ui, said::MORE) {
        let to = match job.done() {
            Some(_) => Go::Records(job.sowing),
            None => Go::WriteDown(Box::new(job.clone())),
        };
        actions.push(Action::Go(to));
    }
}

/// It was so today; work that can't be yet stands on the day it is due.
fn usual_day(scene: &Scene<'_>, job: &Job) -> NaiveDate {
    let in_season = scene.forecast.span().is_some_and(|span| span.contains(scene.today));
    let is_to_come = job.day > scene.today;
    if is_to_come && matches!(done_as_planned(scene, job), Some(Err(_))) || !is_to_come && !in_season {
        job.day
    } else {
        scene.today
    }
}

impl<'a> Otherwise<'a> {
    /// Nothing where several records count it: those are changed one by one.
    fn of(scene: &'a Scene<'a>, job: &'a Job) -> Option<Self> {
        let (sowing, what) = (scene.season.sowing(job.sowing)?, job.as_planned()?);
        let number = said::counts(job.kind);
        let records: Vec<Observation> = if let Some(done) = job.done() {
            sowing.seen.iter().filter(|seen| done.records.contains(&seen.id)).copied().collect()
        } else {
            let (ids, date) = ((scene.season.next_id()..).map(RecordId), usual_day(scene, job));
            ids.zip(job.lots_named(sowing)).map(|(id, lot)| Observation { id, date, what, lot }).collect()
        };
        let first = records.first().filter(|_| number.is_none() || records.len() == 1)?;
        let day = first.date;
        let shown = first.what.number().map_or_else(String::new, |number| number.to_string());
        let counted = number
            .map(|name| Field::new(name, shown).is(number_of(job.kind, first.id)).chosen_whole().width(NUMBER_PT));
        let fields = counted.into_iter().chain([Field::date(records::DAY, day).width(DAY_PT)]);
        let owner = Owner::Job(job.sowing, job.kind.sight(), job.day);
        let form = Form::new(owner, fields).label_pt(LABEL_PT);
        Some(Self { scene, job, sowing, records, form, day, number })
    }

    fn ui(&self, ui: &mut Ui, asked: bool, drafts: &mut Drafts, actions: &mut Vec<Action>) -> Option<NaiveDate> {
        let entered = self.form.is_entered(ui);
        let faults = self.typed(drafts).faults();
        if let Some(name) = self.number {
            let of = self.scene.words().how_many_could(self.job);
            self.form.line_ui(ui, drafts, &faults, name, |ui| {
                ui.label(of);
            });
        }
        self.form.line_ui(ui, drafts, &faults, records::DAY, |_| ());
        self.form.foot_ui(ui, &faults);
        if asked {
            self.form.focus(ui, drafts, self.number.unwrap_or(records::DAY));
        }
        let typed = self.typed(drafts);
        let planned = typed.read.as_ref().ok().and_then(|meant| meant.planned);
        let name = planned.map_or_else(|| records::WRITE_IT.to_owned(), said::plan_for);
        let pressed = narrow_row_ui(ui, LABEL_PT, "", |ui, _| {
            let take = self.form.take_ui(ui, drafts, &typed, button(&name).min_size(vec2(110.0, 28.0)));
            more_ui(ui, self.job, actions);
            // the second of two quick clicks would write down what comes next
            take.clicked() && !take.double_clicked()
        });
        let meant = typed.read.ok().filter(|_| pressed || entered)?;
        if entered && let Some(number) = self.number.filter(|name| self.form.text(drafts, name).is_empty()) {
            self.form.focus(ui, drafts, number);
            return None;
        }
        actions.push(Action::edit(meant.edit));
        self.form.forget(drafts);
        Some(meant.planned.unwrap_or(self.job.day))
    }

    fn typed(&self, drafts: &Drafts) -> Typed<Meant> {
        let may = |meant: &Meant| self.scene.may(&meant.edit);
        self.form.typed(drafts, |reader| self.read(reader), may)
    }

    fn read(&self, reader: &mut Reader<'_>) -> Option<Meant> {
        let day = reader.read(records::DAY, |text| date::near(text, self.day));
        let what = self.records.first()?.what;
        let (what, counted) = match self.number {
            Some(name) => (reader.read(name, |text| counting(what, text)), reader.is_typed(name)),
            None => (Some(what), false),
        };
        let (day, what) = (day?, what?);
        if self.job.is_open() && day > self.scene.today && day == self.job.day && !counted {
            return None;
        }
        if self.job.is_open()
            && day > self.scene.today
            && !counted
            && let Some(edit) = self.on_another_day(day)
        {
            return Some(Meant { edit, planned: Some(day) });
        }
        let put = |record: &Observation| Op::PutRecord(self.sowing.id, Observation { date: day, what, ..*record });
        let name = self.scene.words().record_of(self.sowing, what);
        let label = if self.job.done().is_some() { EditLabel::ChangeRecord(name) } else { EditLabel::AddRecord(name) };
        Some(Meant { edit: Edit::new(label, self.records.iter().map(put).collect()), planned: None })
    }

    fn on_another_day(&self, day: NaiveDate) -> Option<Edit> {
        let (scene, event) = (self.scene, event_of(self.scene.forecast, self.job)?);
        let put = Put { work: event.what, from: self.job.day, to: day };
        let next = with_the_past((scene.season, scene.library), scene.forecast, self.sowing, put, scene.today)?;
        let words = scene.words();
        let what = days_away::of_sowing(&words.sowing(self.sowing.id), &words.what_moved(event.what));
        Some(Edit::new(EditLabel::ChangeDay(what), vec![Op::PutSowing(next)]))
    }
}

/// What a refusal calls it.
const fn number_of(kind: Kind, record: RecordId) -> FieldId {
    match kind {
        Kind::Sow => FieldId::RecordSown(record),
        Kind::LookIfUp(_) => FieldId::RecordUp(record),
        _ => FieldId::RecordPlants(record),
    }
}

/// The same with the number that is typed.
fn counting(what: Observed, text: &str) -> Result<Observed, Fault> {
    Ok(match what {
        Observed::Sown { .. } => Observed::Sown { cells: whole_or_none(text)? },
        Observed::Up { .. } => Observed::Up { plants: whole_or_none(text)? },
        Observed::PutOut(_) => Observed::PutOut(whole(text)?),
        Observed::Sold(_) => Observed::Sold(whole(text)?),
        what => what,
    })
}
