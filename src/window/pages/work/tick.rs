//! A tick, as a record of the season; and the tick taken away.

use crate::forecast::jobs::Job;
use crate::season::{Edit, EditLabel, Observation, Op, RecordId};

use crate::window::action::Action;
use crate::window::kit::Fault;
use crate::window::scene::Scene;

/// Written down as done on its day, one that is due later as done today; or why the season doesn't take that; `None` where there is nothing to write.
pub(super) fn done_as_planned(scene: &Scene<'_>, job: &Job) -> Option<Result<Action, Fault>> {
    let sowing = scene.season.sowing(job.sowing)?;
    let what = job.as_planned().filter(|_| job.is_open())?;
    let ids = (scene.season.next_id()..).map(RecordId);
    let records =
        ids.zip(job.lots_named(sowing)).map(|(id, lot)| Observation { id, date: job.day.min(scene.today), what, lot });
    let label = EditLabel::AddRecord(scene.words().record_of(sowing, what));
    let ops = records.map(|record| Op::PutRecord(sowing.id, record)).collect();
    Some(tried(scene, Edit::new(label, ops)))
}

/// All of them written down as done, each on its day, in one step; the first of what is done on several days first.
pub(super) fn all_as_planned(scene: &Scene<'_>, jobs: &[&Job]) -> Result<Action, Fault> {
    let mut jobs: Vec<&Job> = jobs.iter().copied().filter(|job| job.is_open()).collect();
    jobs.sort_by_key(|job| (job.day, job.kind));
    let mut ids = (scene.season.next_id()..).map(RecordId);
    let mut ops = Vec::new();
    for job in &jobs {
        let Some((sowing, what)) = scene.season.sowing(job.sowing).zip(job.as_planned()) else { continue };
        for (lot, id) in job.lots_named(sowing).into_iter().zip(&mut ids) {
            ops.push(Op::PutRecord(sowing.id, Observation { id, date: job.day.min(scene.today), what, lot }));
        }
    }
    tried(scene, Edit::new(EditLabel::AddRecords(jobs.len()), ops))
}

/// What was written down of it is taken out, all in one step.
pub(super) fn not_done(scene: &Scene<'_>, job: &Job) -> Option<Result<Action, Fault>> {
    let (sowing, done) = (scene.season.sowing(job.sowing)?, job.done()?);
    let first = sowing.seen.iter().find(|seen| done.records.contains(&seen.id))?;
    let label = EditLabel::RemoveRecord(scene.words().record_of(sowing, first.what));
    let ops = done.records.iter().map(|id| Op::RemoveRecord(sowing.id, *id)).collect();
    Some(tried(scene, Edit::new(label, ops)))
}

/// One or the other.
pub(super) fn ticked(scene: &Scene<'_>, job: &Job) -> Option<Result<Action, Fault>> {
    done_as_planned(scene, job).or_else(|| not_done(scene, job))
}

fn tried(scene: &Scene<'_>, edit: Edit) -> Result<Action, Fault> {
    scene.may(&edit)?;
    Ok(Action::edit(edit))
}
