//! All jobs of a season, and those of one week.

use chrono::NaiveDate;

use crate::forecast::all::Forecast;
use crate::forecast::course::{Course, Event, What};
use crate::forecast::late::Late;
use crate::forecast::problem::Problem;
use crate::season::{Crop, Library, Role, Rule, Season, Sowing, StepId, TrayKey, Wanted};
use crate::trade;
use crate::units::{monday, shifted};

use super::done::write_down;
use super::job::{Job, Kind, UpThen, Written};
use super::stand::Stands;

/// By day, then in the order of work, then by sowing.
pub fn jobs(season: &Season, library: &Library, forecast: &Forecast) -> Vec<Job> {
    let stands = Stands::of(forecast);
    let mut all = Vec::new();
    for sowing in season.sowings() {
        let Some(crop) = season.crop(library, &sowing.crop) else { continue };
        let mut own: Vec<Job> = Vec::new();
        for course in forecast.courses_of(sowing.id) {
            let of = OfCourse { crop, sowing, course, stands: &stands };
            of.jobs().into_iter().for_each(|job| add(&mut own, job));
        }
        for job in &mut own {
            job.nobody_there = nobody_there(forecast, job);
        }
        write_down(sowing, &mut own);
        all.append(&mut own);
    }
    all.sort_by_key(|job| (job.day, job.kind, job.sowing));
    all
}

/// Those that are due in the week of that day.
pub fn of_week(jobs: &[Job], day: NaiveDate) -> &[Job] {
    let (first_day, next) = (monday(day), shifted(monday(day), 7));
    let first = jobs.partition_point(|job| job.day < first_day);
    let end = jobs.partition_point(|job| job.day < next);
    jobs.get(first..end).unwrap_or_default()
}

/// Those due before that day that could be written down and are not.
pub fn overdue(jobs: &[Job], before: NaiveDate) -> impl Iterator<Item = &Job> {
    jobs.iter().take_while(move |job| job.day < before).filter(|job| job.is_open())
}

/// The trays that are outside by day and come in for that night.
pub fn out_by_day(forecast: &Forecast, day: NaiveDate) -> Vec<TrayKey> {
    let outside = forecast.on(day).filter(|stay| stay.is_carried_in());
    let mut trays: Vec<TrayKey> = outside.flat_map(|stay| stay.trays.clone()).collect();
    trays.sort_unstable();
    trays.dedup();
    trays
}

/// What the forecast says of it, with its reason.
pub fn event_of<'a>(forecast: &'a Forecast, job: &Job) -> Option<&'a Event> {
    let is_of = |event: &&Event| match event.what {
        What::Prepared(_) => job.kind == Kind::Prepare,
        What::Sown => job.kind == Kind::Sow,
        What::Unstacked => job.kind == Kind::Unstack,
        What::Up => matches!(job.kind, Kind::LookIfUp(_)),
        What::MovedOn(step) => job.kind == Kind::MoveOn && job.step == Some(step),
        What::Spaced => job.kind == Kind::SpaceOut,
        What::Hardening => matches!(job.kind, Kind::Harden { .. }),
        What::FirstNightOut => job.kind == Kind::FirstNightOut,
        What::Out { .. } => job.kind.leaves(),
        _ => false,
    };
    let course = forecast.courses_of(job.sowing).find(|course| job.lots.contains(&course.lot))?;
    course.events.iter().filter(is_of).find(|event| event.date == job.day)
}

/// What happens to its first batch next.
pub fn next_event<'a>(forecast: &'a Forecast, job: &Job) -> Option<&'a Event> {
    let course = forecast.courses_of(job.sowing).find(|course| job.lots.contains(&course.lot))?;
    course.events.iter().find(|event| event.date > job.day && !matches!(event.what, What::Latest(_)))
}

/// Batches that do the same on one day do it together.
fn add(own: &mut Vec<Job>, job: Job) {
    let alike = |known: &&mut Job| (known.kind, known.step, known.day) == (job.kind, job.step, job.day);
    let Some(known) = own.iter_mut().find(alike) else {
        own.push(job);
        return;
    };
    known.number = known.number.saturating_add(job.number);
    known.left = known.left.saturating_add(job.left);
    known.may_wait_until = [known.may_wait_until, job.may_wait_until].into_iter().flatten().min();
    for (to, from) in
        [(&mut known.trays, job.trays), (&mut known.from, job.from)] as [(&mut Vec<TrayKey>, Vec<TrayKey>); 2]
    {
        to.extend(from);
        to.sort_unstable();
        to.dedup();
    }
    known.lots.extend(job.lots.into_iter().filter(|lot| !known.lots.contains(lot)).collect::<Vec<_>>());
}

fn nobody_there(forecast: &Forecast, job: &Job) -> Option<(Option<NaiveDate>, NaiveDate)> {
    forecast.problems.iter().find_map(|problem| match problem {
        Problem::NobodyThere { sowing, work, date, before, after } => {
            let is_of = match work {
                What::Sown => job.kind == Kind::Sow,
                What::MovedOn(step) => job.kind == Kind::MoveOn && job.step == Some(*step),
                What::Hardening => matches!(job.kind, Kind::Harden { .. }),
                What::FirstNightOut => job.kind == Kind::FirstNightOut,
                _ => job.kind.leaves(),
            };
            (is_of && (*sowing, *date) == (job.sowing, job.day)).then_some((*before, *after))
        }
        _ => None,
    })
}

/// A batch, and what happens to it.
struct OfCourse<'a> {
    crop: &'a Crop,
    sowing: &'a Sowing,
    course: &'a Course,
    stands: &'a Stands<'a>,
}

impl OfCourse<'_> {
    fn jobs(&self) -> Vec<Job> {
        let mut outs = self.outs().into_iter();
        let of = |event: &Event| {
            if !matches!(event.what, What::Out { .. }) {
                return self.job(event);
            }
            let (wanted, plants) = outs.next()?;
            let kind = if wanted.to_sell { Kind::Sell } else { Kind::PlantOut };
            (plants > 0).then(|| self.leaves(event, kind, plants))
        };
        self.course.events.iter().filter_map(of).collect()
    }

    /// The days out in order, with those of this batch that go then: its events have them so.
    fn outs(&self) -> Vec<(Wanted, u32)> {
        let mut wanted = self.sowing.wanted.clone();
        wanted.sort_by_key(|wanted| wanted.date);
        let shares: Vec<u32> = wanted.iter().map(|wanted| wanted.plants).collect();
        let plants = trade::share_out(self.course.go_out, &shares);
        wanted.into_iter().zip(plants).collect()
    }

    fn job(&self, event: &Event) -> Option<Job> {
        let first = || self.sowing.steps.first().map(|step| step.id);
        let last = || self.sowing.steps.last().map(|step| step.id);
        let in_step = |kind, step: StepId| {
            let trays = self.stands.trays(self.course.lot, step);
            Job { trays, ..self.plain(event, kind, step, self.course.places_in(step)) }
        };
        Some(match event.what {
            What::Prepared(step) => in_step(Kind::Prepare, step),
            What::Sown => Job { may_wait_until: self.sowing_may_wait(event), ..in_step(Kind::Sow, first()?) },
            What::Unstacked => in_step(Kind::Unstack, first()?),
            What::Up => in_step(Kind::LookIfUp(self.up_then(first()?)), first()?),
            What::MovedOn(step) => {
                let before = self.before(step)?;
                let from = self.stands.trays(self.course.lot, before);
                let may_wait_until = self.moving_on_may_wait(event, before, step);
                Job { may_wait_until, from, ..in_step(Kind::MoveOn, step) }
            }
            What::Spaced => {
                let step = self.step_on(event.date)?;
                let trays = self.stands.trays_on(self.course.lot, step, event.date);
                Job { trays, ..in_step(Kind::SpaceOut, step) }
            }
            What::Hardening => {
                let night = |later: &&Event| later.what == What::FirstNightOut && later.date >= event.date;
                let out = |later: &&Event| matches!(later.what, What::Out { .. }) && later.date >= event.date;
                let events = || self.course.events.iter();
                let until = events().find(night).or_else(|| events().find(out))?.date;
                self.goes_out(event, Kind::Harden { until }, last()?, false)
            }
            What::FirstNightOut => self.goes_out(event, Kind::FirstNightOut, last()?, true),
            // nothing that hands are needed for, or told with what is
            What::Begun
            | What::Due
            | What::Latest(_)
            | What::LeavesMeet(_)
            | What::GappedUp
            | What::InFlower
            | What::Out { .. } => return None,
        })
    }

    fn plain(&self, event: &Event, kind: Kind, step: StepId, number: u32) -> Job {
        Job {
            kind,
            sowing: self.sowing.id,
            lots: vec![self.course.lot],
            step: Some(step),
            day: event.date,
            why: event.why,
            range: event.range,
            may_wait_until: None,
            nobody_there: None,
            number,
            left: number,
            trays: Vec::new(),
            from: Vec::new(),
            written: Written::NotYet,
        }
    }

    /// Part of the batch may go first: then its trays do.
    fn goes_out(&self, event: &Event, kind: Kind, step: StepId, nights: bool) -> Job {
        let (trays, plants) = self.stands.out_from(self.course.lot, step, event.date, nights);
        if trays.is_empty() {
            let trays = self.stands.trays_on(self.course.lot, step, event.date);
            return Job { trays, ..self.plain(event, kind, step, self.course.go_out) };
        }
        Job { trays, ..self.plain(event, kind, step, plants.min(self.course.go_out)) }
    }

    fn leaves(&self, event: &Event, kind: Kind, plants: u32) -> Job {
        let Some(step) = self.sowing.steps.last().map(|step| step.id) else {
            return self.plain(event, kind, StepId(0), plants);
        };
        let empty = self.stands.empty_from(self.course.lot, step, event.date);
        let trays = if empty.is_empty() { self.stands.trays(self.course.lot, step) } else { empty };
        Job { trays, ..self.plain(event, kind, step, plants) }
    }

    fn before(&self, step: StepId) -> Option<StepId> {
        let at = self.sowing.steps.iter().position(|known| known.id == step)?;
        self.sowing.steps.get(at.checked_sub(1)?).map(|step| step.id)
    }

    /// The step that the batch is in on that day.
    fn step_on(&self, day: NaiveDate) -> Option<StepId> {
        let started = |step: &StepId| self.course.date(What::MovedOn(*step)).is_none_or(|start| start <= day);
        self.sowing.steps.iter().map(|step| step.id).rfind(started)
    }

    fn up_then(&self, step: StepId) -> UpThen {
        match self.stands.germinating(self.course.lot, step).map(|stay| stay.needs) {
            Some(needs) if needs.heat => UpThen::OffTheHeat,
            Some(needs) if needs.role == Role::Germinating => UpThen::ToTheLight,
            _ => UpThen::StayThere,
        }
    }

    /// As long as its plants are still old enough on the day they go out, by the crop's shortest course; as far
    /// as the grower said where that was said.
    fn sowing_may_wait(&self, event: &Event) -> Option<NaiveDate> {
        let step = self.sowing.steps.first()?;
        if let Some(slack) = step.slack {
            return after(event.date, shifted(event.date, i64::from(slack.late)));
        }
        let out = self.sowing.wanted.iter().map(|wanted| wanted.date).min()?;
        let late = self.sowing.lots.iter().find(|lot| lot.id == self.course.lot);
        let out = shifted(out, late.map_or(0, |lot| i64::from(Late::of(self.sowing, lot).out)));
        let later = || self.sowing.steps.iter().skip(1);
        let moves = later().filter(|step| step.start == Rule::WhenDue).count();
        let moves = u16::try_from(moves).unwrap_or(u16::MAX);
        let young = shifted(out, -i64::from(trade::least_days_through(self.crop, self.sowing.is_to_sell(), moves)));
        // moved on on a day of its own, it must be large enough by then
        let fixed = later().find(|step| matches!(step.start, Rule::On(_) | Rule::DaysBeforeOut(_)));
        let fixed = fixed.and_then(|step| self.course.date(What::MovedOn(step.id)));
        let early = i64::from(self.crop.moving_on.value.days.early);
        let until = fixed.map_or(young, |date| young.min(shifted(date, -early)));
        after(event.date, until)
    }

    /// Until the container it is in holds it back, and, the last time, until what it goes into is rooted through by the
    /// day it goes out; as far as the grower said where that was said.
    fn moving_on_may_wait(&self, event: &Event, before: StepId, step: StepId) -> Option<NaiveDate> {
        let into = self.sowing.steps.iter().find(|known| known.id == step)?;
        if let Some(slack) = into.slack {
            return after(event.date, shifted(event.date, i64::from(slack.late)));
        }
        let latest = self.course.date(What::Latest(before));
        let is_last = self.sowing.steps.last().is_some_and(|last| last.id == step);
        let out = || self.course.events.iter().find(|event| matches!(event.what, What::Out { .. }));
        let rooted = || Some(shifted(out()?.date, -i64::from(trade::rooting_days(self.crop))));
        let rooted = if is_last { rooted() } else { None };
        let until = [latest, rooted].into_iter().flatten().min()?;
        after(event.date, until)
    }
}

/// A later day.
fn after(day: NaiveDate, until: NaiveDate) -> Option<NaiveDate> {
    (until > day).then_some(until)
}
