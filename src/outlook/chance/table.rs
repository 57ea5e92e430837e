//! Every draw as a list of ready-made courses: worked out once for each course that occurs.

use std::collections::BTreeMap;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

use crate::fit::{Cancel, Cancelled, DemandKind, ManyDays};
use crate::forecast::{Bunch, Chances, Scenario, Stay};
use crate::season::{Library, Season};

use super::super::answer::Pool;
use super::super::room::Room;
use super::super::view::pool;
use super::drawn::Draws;
use super::kinds::{KindRun, Kinds, POOLS, kinds};

pub(super) struct Table {
    pub(super) days: ManyDays,
    /// By kind: the number of its pool and what one weighs there.
    pub(super) weights: Vec<(u8, u32)>,
    pub(super) courses: Courses,
    /// The first day of all, and the first one after all.
    pub(super) span: (i32, i32),
    pub(super) varies: bool,
    pub(super) pools: Vec<Pool>,
}

/// What stands when.
pub(super) struct Courses {
    all: Vec<Vec<KindRun>>,
    /// By draw, the course of each bunch; the likely season's last.
    draws: Vec<Vec<usize>>,
    /// What never varies.
    guests: usize,
}

impl Courses {
    /// What stands when in a draw.
    pub(super) fn runs(&self, draw: usize) -> impl Iterator<Item = &KindRun> {
        let courses = self.draws.get(draw).map_or(&[][..], Vec::as_slice);
        courses.iter().chain([&self.guests]).flat_map(|course| self.all.get(*course).into_iter().flatten())
    }

    pub(super) fn likely_runs(&self) -> impl Iterator<Item = &KindRun> {
        self.runs(self.draws.len().saturating_sub(1))
    }

    fn span(&self) -> (i32, i32) {
        let days = || self.all.iter().flatten().map(|run| run.days);
        (days().map(|days| days.from).min().unwrap_or(0), days().map(|days| days.until).max().unwrap_or(0))
    }
}

pub(super) fn table(season: &Season, library: &Library, draws: Draws, cancel: &Cancel) -> Result<Table, Cancelled> {
    let chances = Chances::of(season, library);
    let room = Room::of(season);
    let all =
        |scenario: Scenario| -> Vec<Bunch> { (0..chances.len()).map(|bunch| chances.draw(bunch, &scenario)).collect() };
    let number = usize::try_from(draws.number).unwrap_or(usize::MAX);
    let drawn = side_by_side(number, draws.threads, cancel, |draw| {
        let number = u32::try_from(draw).unwrap_or(u32::MAX);
        all(Scenario::draw(draws.first.saturating_add(number)).in_spring(season.settings().frost.as_ref()))
    })?;
    let likely = all(Scenario::none());
    let mut numbers: BTreeMap<(usize, &Bunch), usize> = BTreeMap::new();
    for bunches in drawn.iter().chain([&likely]) {
        numbers.extend(bunches.iter().enumerate().map(|key| (key, 0)));
    }
    for (number, slot) in numbers.values_mut().enumerate() {
        *slot = number;
    }
    let wanted: Vec<(usize, &Bunch)> = numbers.keys().copied().collect();
    let mut made = side_by_side(wanted.len() + 1, draws.threads, cancel, |course| {
        let stays: Vec<Stay> = match wanted.get(course) {
            Some((bunch, drawn)) => chances.stays(*bunch, drawn),
            None => chances.guests(),
        };
        kinds(season, &room, stays)
    })?;
    let numbers_of = |bunches: &[Bunch]| -> Vec<usize> {
        bunches.iter().enumerate().filter_map(|key| numbers.get(&key).copied()).collect()
    };
    let (kinds, all) = numbered(&mut made);
    let draws = drawn.iter().chain([&likely]).map(|bunches| numbers_of(bunches)).collect();
    let courses = Courses { all, draws, guests: wanted.len() };
    let most = most(&courses, kinds.len());
    let weights = kinds.iter().map(|(kind, weight)| (kind.set, *weight)).collect();
    let kinds = kinds.into_iter().map(|(kind, _)| kind).collect();
    let days = ManyDays::new(room.limits(), kinds, most, cancel);
    cancel.check()?;
    Ok(Table {
        days,
        weights,
        span: courses.span(),
        courses,
        varies: numbers.len() > chances.len(),
        pools: POOLS.iter().map(|&kind| pool(&room, kind)).collect(),
    })
}

/// Numbers the kinds of all courses together, in the order in which they come.
fn numbered(made: &mut [Kinds]) -> (Vec<(DemandKind, u32)>, Vec<Vec<KindRun>>) {
    let mut known: BTreeMap<(DemandKind, u32), usize> = BTreeMap::new();
    let mut all = Vec::new();
    let mut courses = Vec::new();
    for of in made {
        let numbers: Vec<usize> = std::mem::take(&mut of.kinds)
            .into_iter()
            .map(|kind| {
                *known.entry(kind).or_insert_with_key(|kind| {
                    all.push(kind.clone());
                    all.len() - 1
                })
            })
            .collect();
        for run in &mut of.runs {
            run.kind = numbers.get(run.kind).copied().unwrap_or(0);
        }
        courses.push(std::mem::take(&mut of.runs));
    }
    (all, courses)
}

/// So many of each kind on any day of any draw.
fn most(courses: &Courses, kinds: usize) -> Vec<u32> {
    let mut most = vec![0_i64; kinds];
    let mut changes: Vec<(usize, i32, i64)> = Vec::new();
    for draw in 0..courses.draws.len() {
        changes.clear();
        for run in courses.runs(draw) {
            changes.push((run.kind, run.days.from, i64::from(run.number)));
            changes.push((run.kind, run.days.until, -i64::from(run.number)));
        }
        changes.sort_unstable();
        for of in changes.chunk_by(|a, b| a.0 == b.0) {
            let mut sum = 0;
            for (kind, _, change) in of {
                sum += change;
                if let Some(most) = most.get_mut(*kind) {
                    *most = sum.max(*most);
                }
            }
        }
    }
    most.into_iter().map(|most| u32::try_from(most).unwrap_or(u32::MAX)).collect()
}

/// Does `work` for every number, on several threads; in order.
pub(super) fn side_by_side<T: Send>(
    number: usize,
    threads: Option<NonZero<usize>>,
    cancel: &Cancel,
    work: impl Fn(usize) -> T + Sync,
) -> Result<Vec<T>, Cancelled> {
    const AT_ONCE: usize = 16;
    let next = AtomicUsize::new(0);
    let found: Mutex<BTreeMap<usize, Vec<T>>> = Mutex::default();
    let run = || {
        loop {
            let first = next.fetch_add(AT_ONCE, Ordering::Relaxed);
            if first >= number || cancel.is_cancelled() {
                break;
            }
            let some = (first..number.min(first + AT_ONCE)).map(&work).collect();
            found.lock().unwrap_or_else(PoisonError::into_inner).insert(first, some);
        }
    };
    let threads = threads.or_else(|| thread::available_parallelism().ok()).map_or(1, NonZero::get);
    thread::scope(|scope| {
        let start = |at: usize| thread::Builder::new().name(format!("draws {at}")).spawn_scoped(scope, run).ok();
        let others: Vec<_> = (1..threads.min(number.div_ceil(AT_ONCE))).filter_map(start).collect();
        run();
        for other in others {
            if let Err(panic) = other.join() {
                resume_unwind(panic);
            }
        }
    });
    cancel.check()?;
    Ok(found.into_inner().unwrap_or_else(PoisonError::into_inner).into_values().flatten().collect())
}
