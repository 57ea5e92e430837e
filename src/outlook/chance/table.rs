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

/// So many are worked out before their kinds are numbered: more would only take room.
const AT_A_TIME: usize = 256;

/// What stands when.
pub(super) struct Courses {
    all: Vec<Vec<KindRun>>,
    /// By draw, the course of each bunch; the likely season's last.
    draws: Vec<Vec<u32>>,
    /// What never varies.
    guests: u32,
}

impl Courses {
    /// What stands when in a draw.
    pub(super) fn runs(&self, draw: usize) -> impl Iterator<Item = &KindRun> {
        let courses = self.draws.get(draw).map_or(&[][..], Vec::as_slice);
        courses.iter().chain([&self.guests]).flat_map(|course| self.all.get(*course as usize).into_iter().flatten())
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
    let known: Mutex<CoursesKnown> = Mutex::default();
    let mut of_draws = side_by_side(draws.number as usize, draws.threads, cancel, |draw| {
        let number = u32::try_from(draw).unwrap_or(u32::MAX);
        let drawn = all(Scenario::draw(draws.first.saturating_add(number)).in_spring(season.settings().frost.as_ref()));
        known.lock().unwrap_or_else(PoisonError::into_inner).numbers_of(drawn)
    })?;
    let mut known = known.into_inner().unwrap_or_else(PoisonError::into_inner);
    of_draws.push(known.numbers_of(all(Scenario::none())));
    let wanted = known.in_order(&mut of_draws);
    let varies = wanted.len() > chances.len();
    let mut numbered = Numbered::default();
    for first in (0..=wanted.len()).step_by(AT_A_TIME) {
        let made = side_by_side(AT_A_TIME.min(wanted.len() + 1 - first), draws.threads, cancel, |course| {
            let stays: Vec<Stay> = match wanted.get(first + course) {
                Some((bunch, drawn)) => chances.stays(*bunch, drawn),
                None => chances.guests(),
            };
            kinds(season, &room, stays)
        })?;
        numbered.take(made);
    }
    let guests = u32::try_from(wanted.len()).unwrap_or(u32::MAX);
    drop(wanted);
    let Numbered { kinds, courses: all, .. } = numbered;
    let courses = Courses { all, draws: of_draws, guests };
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
        varies,
        pools: POOLS.iter().map(|&kind| pool(&room, kind)).collect(),
    })
}

/// Courses that have occurred, by the number of their bunch, each with a number of its own.
#[derive(Default)]
struct CoursesKnown(BTreeMap<(usize, Bunch), u32>);

impl CoursesKnown {
    fn numbers_of(&mut self, bunches: Vec<Bunch>) -> Vec<u32> {
        let number = |key| {
            let next = u32::try_from(self.0.len()).unwrap_or(u32::MAX);
            *self.0.entry(key).or_insert(next)
        };
        bunches.into_iter().enumerate().map(number).collect()
    }

    /// The courses in an order that doesn't hang on the draws, and their numbers in `draws` by it.
    fn in_order(self, draws: &mut [Vec<u32>]) -> Vec<(usize, Bunch)> {
        let mut places = vec![0; self.0.len()];
        let mut courses = Vec::with_capacity(places.len());
        for ((course, number), place) in self.0.into_iter().zip(0..) {
            if let Some(slot) = places.get_mut(number as usize) {
                *slot = place;
            }
            courses.push(course);
        }
        for number in draws.iter_mut().flatten() {
            *number = places.get(*number as usize).copied().unwrap_or(*number);
        }
        courses
    }
}

/// The kinds of all courses numbered together, in the order in which they come.
#[derive(Default)]
struct Numbered {
    known: BTreeMap<(DemandKind, u32), usize>,
    kinds: Vec<(DemandKind, u32)>,
    courses: Vec<Vec<KindRun>>,
}

impl Numbered {
    fn take(&mut self, made: Vec<Kinds>) {
        for Kinds { kinds, mut runs } in made {
            let numbers: Vec<usize> = kinds.into_iter().map(|kind| self.number_of(kind)).collect();
            for run in &mut runs {
                run.kind = numbers.get(run.kind).copied().unwrap_or(0);
            }
            self.courses.push(runs);
        }
    }

    fn number_of(&mut self, kind: (DemandKind, u32)) -> usize {
        *self.known.entry(kind).or_insert_with_key(|kind| {
            self.kinds.push(kind.clone());
            self.kinds.len() - 1
        })
    }
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
pub(in crate::outlook) fn side_by_side<T: Send>(
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
