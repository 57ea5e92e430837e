//! Everything tried, for a handful of jobs: over one day or over all of theirs.
//!
//! Any layout without a move can be pushed to the left and to the front, each job within its regions, until each
//! rests on another that shares a day with it, or on a region's edge. So a corner lies at such an edge, or at that
//! of something pinned, plus the sides of some of the others ("normal patterns": Herz, "Recursive computational
//! procedure for two-dimensional stock cutting", IBM Journal of Research and Development 16 (1972); recalled). All those
//! spots are tried, the job with the fewest left first.

use std::collections::BTreeSet;

use super::jobs::{Job, Jobs, Lattices};
use super::placement::Attempt;
use crate::fit::problem::{Days, Phase, Problem, Rect, Region, Shelf, Spot};
use crate::fit::work::Cancel;

/// Up to so many jobs, everything is tried if all else fails.
pub(in crate::fit) const MOST_EXHAUSTED: usize = 8;
/// Coordinates along one side of a shelf, and spots of one job; with more it isn't begun.
const MOST_LINES: usize = 200;
const MOST_SPOTS: usize = 6_000;

/// What came of trying everything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::fit) enum Exhausted {
    /// A spot for each job.
    Fits(Vec<Spot>),
    Never,
    /// Too many jobs or spots, or too much work.
    Open,
}

/// Whether some items can't stand on a day, known by trying everything; `None` if there are too many
/// of them, or the budget ran out.
pub(in crate::fit) fn can_never_stand(
    problem: &Problem,
    day: i32,
    items: &[usize],
    budget: u64,
    cancel: &Cancel,
) -> Option<bool> {
    if items.len() > MOST_EXHAUSTED {
        return None;
    }
    let only = Days::new(day, day.saturating_add(1));
    let list = items.iter().filter_map(|&number| Job::new(number, problem.items.get(number)?, only)).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    if jobs.list.len() < items.len() {
        return None;
    }
    match exhaust(Attempt { jobs: &jobs, shelves: &problem.shelves, enough: 0, budget, cancel }) {
        Exhausted::Fits(_) => Some(false),
        Exhausted::Never => Some(true),
        Exhausted::Open => None,
    }
}

/// One spot for each job, for all its days, if there is a layout with all of them.
pub(in crate::fit) fn exhaust(attempt: Attempt<'_>) -> Exhausted {
    let Attempt { jobs, shelves, budget, cancel, .. } = attempt;
    if jobs.list.len() > MOST_EXHAUSTED {
        return Exhausted::Open;
    }
    let mut open = Vec::new();
    for (number, job) in jobs.list.iter().enumerate() {
        let Some(spots) = spots(&jobs.list, number, job) else { return Exhausted::Open };
        open.push((number, spots));
    }
    let mut search = Search { jobs: &jobs.list, shelves, cancel, left: budget, stands: Vec::new() };
    match search.all(&open) {
        Some(true) => {
            search.stands.sort_unstable();
            Exhausted::Fits(search.stands.into_iter().map(|(_, spot)| spot).collect())
        }
        Some(false) => Exhausted::Never,
        None => Exhausted::Open,
    }
}

struct Search<'a> {
    jobs: &'a [Job],
    shelves: &'a [Shelf],
    cancel: &'a Cancel,
    left: u64,
    stands: Vec<(usize, Spot)>,
}

impl Search<'_> {
    /// Whether all jobs that have no spot yet can have one of those left to them; `None` if that wasn't found out.
    fn all(&mut self, open: &[(usize, Vec<Spot>)]) -> Option<bool> {
        let Some(next) = open.iter().min_by_key(|(_, spots)| spots.len()) else { return Some(true) };
        let (number, job) = (next.0, self.jobs.get(next.0)?);
        let mut others: Vec<(usize, Vec<Spot>)> = open.iter().filter(|(other, _)| *other != number).cloned().collect();
        for &spot in &next.1 {
            let looks = others.iter().map(|(_, spots)| spots.len() as u64).sum::<u64>();
            self.left = self.left.checked_sub(1 + looks).filter(|_| !self.cancel.is_cancelled())?;
            if !self.bears(job, spot.shelf) {
                continue;
            }
            let beside = |&(other, ref spots): &(usize, Vec<Spot>)| {
                let theirs = self.jobs.get(other)?;
                let free = spots.iter().copied().filter(|&there| !meet(job, spot, theirs, there)).collect::<Vec<_>>();
                (!free.is_empty()).then_some((other, free))
            };
            if let Some(beside) = others.iter().map(beside).collect::<Option<Vec<_>>>() {
                self.stands.push((number, spot));
                if self.all(&beside)? {
                    return Some(true);
                }
                self.stands.pop();
            }
            // whoever is just like it can't stand there either
            for (_, spots) in others.iter_mut().filter(|(other, _)| self.are_twins(number, *other)) {
                spots.retain(|there| *there != spot);
            }
        }
        Some(false)
    }

    fn are_twins(&self, one: usize, other: usize) -> bool {
        let (Some(one), Some(other)) = (self.jobs.get(one), self.jobs.get(other)) else { return false };
        one.phases == other.phases && one.regions == other.regions && one.pinned == other.pinned
    }

    /// Whether a shelf bears one more beside those that stand there, on each of its days.
    fn bears(&self, job: &Job, shelf: usize) -> bool {
        let Some(limits) = self.shelves.get(shelf) else { return false };
        let here: Vec<&Job> = self
            .stands
            .iter()
            .filter(|(_, spot)| spot.shelf == shelf)
            .filter_map(|(number, _)| self.jobs.get(*number))
            .chain([job])
            .collect();
        let phases = || here.iter().flat_map(|job| &job.phases);
        let changes = phases().map(|phase| phase.days.from).filter(|&day| job.days().contains(day));
        changes.chain([job.days().from]).all(|day| {
            let today = || phases().filter(|phase| phase.days.contains(day));
            let grams: i128 = today().map(|phase| i128::from(phase.grams)).sum();
            let cover: i128 = today().map(|phase| i128::from(phase.w) * i128::from(phase.d)).sum();
            limits.load.is_none_or(|most| grams <= i128::from(most)) && limits.cover.is_none_or(|most| cover <= most)
        })
    }
}

fn meet(one: &Job, spot: Spot, other: &Job, there: Spot) -> bool {
    let clash = |a: &Phase, b: &Phase| a.days.overlaps(b.days) && spot.rect(a).overlaps(there.rect(b));
    spot.shelf == there.shelf && one.phases.iter().any(|a| other.phases.iter().any(|b| clash(a, b)))
}

/// All spots of a job that matter; `None` if they are too many.
fn spots(jobs: &[Job], number: usize, job: &Job) -> Option<Vec<Spot>> {
    let mut shelves: Vec<usize> = job.regions.iter().map(|region| region.shelf).collect();
    shelves.sort_unstable();
    shelves.dedup();
    let mut found = Vec::new();
    for shelf in shelves {
        let here = |region: &&Region| region.shelf == shelf;
        let holds = |rect: Rect| job.regions.iter().filter(here).any(|region| region.rect.holds(rect));
        let mut add = |spot: Spot| {
            if job.phases.iter().all(|phase| holds(spot.rect(phase))) {
                found.push(spot);
            }
        };
        if let Some(pinned) = job.pinned {
            if pinned.shelf == shelf {
                add(pinned);
            }
            continue;
        }
        // first where it stands now
        job.wish.into_iter().filter(|wish| wish.shelf == shelf).for_each(&mut add);
        let xs = lines(jobs, number, shelf, |rect| [rect.x, rect.right()], |spot| spot.x)?;
        let ys = lines(jobs, number, shelf, |rect| [rect.y, rect.back()], |spot| spot.y)?;
        for &turned in job.turns() {
            for &x in &xs {
                for &y in &ys {
                    add(Spot { shelf, x, y, turned });
                }
            }
        }
    }
    (found.len() <= MOST_SPOTS).then_some(found)
}

/// Every edge from which something may be pushed against, plus the sides of some other jobs.
fn lines(
    jobs: &[Job],
    number: usize,
    shelf: usize,
    span: fn(Rect) -> [i64; 2],
    at: fn(Spot) -> i64,
) -> Option<Vec<i64>> {
    let regions = || jobs.iter().flat_map(|job| job.regions.iter()).filter(|region| region.shelf == shelf);
    let last = regions().map(|region| span(region.rect)[1]).max()?;
    let pins = jobs.iter().filter_map(|job| job.pinned).filter(|spot| spot.shelf == shelf).map(at);
    let mut lines: BTreeSet<i64> = regions().map(|region| span(region.rect)[0]).chain(pins).collect();
    let others = jobs.iter().enumerate().filter(|(other, _)| *other != number).map(|(_, job)| job);
    for other in others {
        let sides: BTreeSet<i64> = other.phases.iter().flat_map(|phase| [phase.w, phase.d]).collect();
        let farther = |&from: &i64| sides.iter().map(move |side| from.saturating_add(*side));
        let more: Vec<i64> = lines.iter().flat_map(farther).filter(|&line| line < last).collect();
        lines.extend(more);
        if lines.len() > MOST_LINES {
            return None;
        }
    }
    Some(lines.into_iter().collect())
}
