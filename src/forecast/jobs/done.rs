//! Which records are of which job.
//!
//! Records are of a sowing, not of its batches: where it does the same on several days, the first record is of the first
//! of them, and plants that left are counted off one day out after the other.

use chrono::NaiveDate;

use crate::season::{Observation, Observed, Sowing, StepId};

use super::job::{Done, Job, Kind, Written};

/// Says of all jobs of the sowing what is written down of them.
pub(super) fn write_down(sowing: &Sowing, jobs: &mut [Job]) {
    jobs.sort_by_key(|job| (job.day, job.kind));
    let mut steps: Vec<Option<StepId>> = jobs.iter().map(|job| job.step).collect();
    steps.sort_unstable();
    steps.dedup();
    for step in steps {
        for same in [is_sown, is_looked_at, is_moved_on] {
            one_after_the_other(sowing, jobs.iter_mut().filter(|job| job.step == step && same(job.kind)).collect());
        }
    }
    leave(sowing, jobs);
    for job in jobs.iter_mut().filter(|job| matches!(job.written, Written::NotYet | Written::WithTheLast(_))) {
        if passed(sowing, job) {
            job.written = Written::Passed;
        }
    }
}

fn is_sown(kind: Kind) -> bool {
    kind == Kind::Sow
}

fn is_looked_at(kind: Kind) -> bool {
    matches!(kind, Kind::LookIfUp(_))
}

fn is_moved_on(kind: Kind) -> bool {
    kind == Kind::MoveOn
}

/// The first record is of the first job, and so on; those that are left over are of the last.
fn one_after_the_other(sowing: &Sowing, jobs: Vec<&mut Job>) {
    let Some(wanted) = jobs.first().and_then(|job| job.as_planned()) else { return };
    let alike = |seen: &&Observation| match (seen.what, wanted) {
        (Observed::MovedOn(into), Observed::MovedOn(step)) => into == step,
        (what, wanted) => std::mem::discriminant(&what) == std::mem::discriminant(&wanted),
    };
    let mut records = sowing.seen.iter().filter(alike).peekable();
    let last = jobs.len() - 1;
    let last_day = jobs.last().map(|job| job.day);
    for (at, job) in jobs.into_iter().enumerate() {
        let here: Vec<&Observation> =
            if at == last { records.by_ref().collect() } else { records.next().into_iter().collect() };
        job.written = match here.last() {
            Some(record) => {
                Written::Done(Done { on: record.date, records: here.iter().map(|record| record.id).collect() })
            }
            // one record of moving on counts for all batches
            None => match last_day.filter(|_| at < last && job.kind == Kind::MoveOn) {
                Some(day) => Written::WithTheLast(day),
                None => Written::NotYet,
            },
        };
    }
}

/// Plants that were put out or sold are counted off, day out after day out.
fn leave(sowing: &Sowing, jobs: &mut [Job]) {
    let went = |seen: &Observation| match seen.what {
        Observed::PutOut(plants) | Observed::Sold(plants) => Some((*seen, plants)),
        _ => None,
    };
    let mut records = sowing.seen.iter().filter_map(went).peekable();
    let mut in_hand: Option<(Observation, u32)> = None;
    for job in jobs.iter_mut().filter(|job| job.kind.leaves()) {
        let mut done: Option<Done> = None;
        job.left = job.number;
        while job.left > 0 {
            let Some((record, plants)) = in_hand.take().or_else(|| records.next()) else { break };
            let taken = plants.min(job.left);
            job.left -= taken;
            in_hand = (plants > taken).then_some((record, plants - taken));
            let done = done.get_or_insert_with(|| Done { on: record.date, records: Vec::new() });
            done.on = record.date;
            done.records.push(record.id);
        }
        job.written = match done {
            Some(done) if job.left == 0 => Written::Done(done),
            _ => Written::NotYet,
        };
    }
    let last = jobs.iter_mut().rev().find_map(|job| match &mut job.written {
        Written::Done(done) if job.kind.leaves() => Some(done),
        _ => None,
    });
    if let Some(last) = last {
        last.records.extend(records.map(|(record, _)| record.id));
    }
}

/// Whether something was written down that comes after it.
fn passed(sowing: &Sowing, job: &Job) -> bool {
    let index = |id: StepId| sowing.steps.iter().position(|step| step.id == id);
    let here = job.step.and_then(index);
    let later = |what: Observed| match (job.kind, what) {
        (Kind::Sow, what) => !matches!(what, Observed::Sown { .. }),
        (_, Observed::PutOut(_) | Observed::Sold(_)) => !job.kind.leaves(),
        (Kind::LookIfUp(_), what) => {
            matches!(what, Observed::TrueLeaves(_) | Observed::MovedOn(_) | Observed::GappedUp)
        }
        (Kind::MoveOn, Observed::MovedOn(into)) => index(into) > here,
        _ => false,
    };
    // of several batches one may be that far, and another not
    let tells = |on: NaiveDate| sowing.lots.len() < 2 || on >= job.day;
    sowing.seen.iter().any(|seen| later(seen.what) && tells(seen.date))
}
