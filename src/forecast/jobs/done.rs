//! Which records are of which job.
//!
//! A record of what each lot may do on a day of its own names the lot where others did it on other days. All others are
//! of the sowing: where it does the same on several days, the first record is of the first of them, and plants that left
//! are counted off one day out after the other.

use std::collections::BTreeMap;
use std::mem::{Discriminant, discriminant};

use crate::season::{LotId, Observation, Observed, RecordId, Sowing, StepId};

use super::job::{Done, Job, Kind, Written};

/// Says of all jobs of the sowing what is written down of them.
pub(super) fn write_down(sowing: &Sowing, jobs: &mut [Job]) {
    jobs.sort_by_key(|job| (job.day, job.kind));
    let mut groups: Vec<(Discriminant<Kind>, Option<StepId>)> =
        jobs.iter().filter(|job| !job.kind.leaves()).map(group).collect();
    let mut known = Vec::new();
    groups.retain(|group| {
        !known.contains(group) && {
            known.push(*group);
            true
        }
    });
    for of in groups {
        let same: Vec<&mut Job> = jobs.iter_mut().filter(|job| group(job) == of).collect();
        if sowing.lots.len() > 1 && same.first().is_some_and(|job| job.kind.sight().is_of_a_lot()) {
            lot_by_lot(sowing, same);
        } else {
            one_after_the_other(sowing, same);
        }
    }
    leave(sowing, jobs);
    for job in jobs.iter_mut().filter(|job| job.written == Written::NotYet) {
        if passed(sowing, job) {
            job.written = Written::Passed;
        }
    }
}

/// Jobs that one kind of record is of.
fn group(job: &Job) -> (Discriminant<Kind>, Option<StepId>) {
    (discriminant(&job.kind), job.step.filter(|_| job.kind == Kind::MoveOn))
}

fn alike(record: Observed, wanted: Observed) -> bool {
    match (record, wanted) {
        (Observed::MovedOn(into), Observed::MovedOn(step)) => into == step,
        (record, wanted) => discriminant(&record) == discriminant(&wanted),
    }
}

/// The first record is of the first job, and so on; those that are left over are of the last.
fn one_after_the_other(sowing: &Sowing, jobs: Vec<&mut Job>) {
    let Some(wanted) = jobs.first().and_then(|job| job.as_planned()) else { return };
    let mut records = sowing.seen.iter().filter(|seen| alike(seen.what, wanted)).peekable();
    let last = jobs.len() - 1;
    for (at, job) in jobs.into_iter().enumerate() {
        let here: Vec<&Observation> =
            if at == last { records.by_ref().collect() } else { records.next().into_iter().collect() };
        job.written = here.last().map_or(Written::NotYet, |record| {
            Written::Done(Done { on: record.date, records: here.iter().map(|record| record.id).collect() })
        });
    }
}

/// Each lot's records are of its own jobs, the first of the first; a job is done when all of its lots have done it.
fn lot_by_lot(sowing: &Sowing, mut jobs: Vec<&mut Job>) {
    let Some(wanted) = jobs.first().and_then(|job| job.as_planned()) else { return };
    let mut found: Vec<BTreeMap<LotId, Vec<&Observation>>> = vec![BTreeMap::new(); jobs.len()];
    for lot in &sowing.lots {
        let of = |job: &Job| job.lots.contains(&lot.id);
        let last = jobs.iter().rposition(|job| of(job));
        let mut records = sowing.seen_of(lot.id).filter(|seen| alike(seen.what, wanted));
        for (at, (job, found)) in jobs.iter().zip(&mut found).enumerate().filter(|(_, (job, _))| of(job)) {
            let here: Vec<&Observation> =
                if Some(at) == last { records.by_ref().collect() } else { records.next().into_iter().collect() };
            if !here.is_empty() && of(job) {
                found.insert(lot.id, here);
            }
        }
    }
    for (job, found) in jobs.iter_mut().zip(found) {
        if job.lots.iter().any(|lot| !found.contains_key(lot)) {
            continue;
        }
        let of_lots = || found.values().flatten();
        let Some(on) = of_lots().map(|record| record.date).max() else { continue };
        let mut records: Vec<RecordId> = of_lots().map(|record| record.id).collect();
        records.sort_unstable();
        records.dedup();
        job.written = Written::Done(Done { on, records });
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
        (_, Observed::PutOut(_) | Observed::Sold(_)) => !job.kind.leaves(),
        (Kind::Prepare, what) => what != Observed::Prepared,
        (Kind::Sow, what) => !matches!(what, Observed::Sown { .. } | Observed::Prepared),
        (Kind::Unstack, what) => !matches!(what, Observed::Sown { .. } | Observed::Prepared | Observed::Unstacked),
        (Kind::LookIfUp(_), what) => is_after_up(what),
        (Kind::MoveOn | Kind::SpaceOut, Observed::MovedOn(into)) => index(into) > here,
        (Kind::Harden { .. }, Observed::NightOut) => true,
        _ => false,
    };
    // of several lots one may be that far, and another not
    let tells = |seen: &Observation| match sowing.lot_of(seen) {
        Some(lot) => job.lots.contains(&lot),
        None => sowing.lots.len() < 2 || seen.date >= job.day,
    };
    sowing.seen.iter().any(|seen| later(seen.what) && tells(seen))
}

const fn is_after_up(what: Observed) -> bool {
    matches!(
        what,
        Observed::TrueLeaves(_)
            | Observed::MovedOn(_)
            | Observed::GappedUp
            | Observed::SpacedOut
            | Observed::HardeningBegun
            | Observed::NightOut
    )
}
