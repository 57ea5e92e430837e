//! For rooms that are nearly full: whoever waits weighs every spot there is, and takes a close one.
//!
//! As in `ejection`, jobs put others out, and one counts for more each time that it had to. Here no spot is drawn:
//! each shelf gets a grid of all corners that can matter, everybody who stands there adds its weight to those
//! corners at which it would be in the way, and among the lightest the job takes the one that leaves the fewest
//! gaps: its sides touch walls and neighbours, and its ground was left on the day it comes or is taken on
//! the day it goes.
//!
//! Weights that grow where a search is stuck are those of guided local search: Faroe, Pisinger and Zachariasen,
//! "Guided local search for the three-dimensional bin-packing problem", INFORMS Journal on Computing 15 (2003);
//! contact as a measure is Lodi, Martello and Vigo's touching perimeter, INFORMS Journal on Computing 11 (1999),
//! with days as a third side. Both recalled, not re-read.

use super::board::Board;
use super::grid::{Grid, Sides};
use super::jobs::{Job, Jobs};
use super::pieces::Piece;
use super::placement::{Attempt, Placement};
use crate::fit::problem::{Days, Rect, Region, Spot};
use crate::fit::random::Random;
use crate::fit::work::Cancelled;

/// Stretches of ground that are weighed for one job; of more, as many in a row from anywhere.
const MOST_PLACES: usize = 48;
/// Of the lightest spots, so many are held against each other.
const MOST_HELD: usize = 60;
/// Spots that are heavier than the lightest by no more than so many tenths are as good; by runs.
const AS_LIGHT: [i64; 4] = [3, 3, 1, 6];
/// The weight of a job of middling extent when nobody has waited yet.
const ONE: i64 = 1 << 10;
/// No job weighs more at first.
const HEAVIEST: i64 = 1 << 14;
/// Nobody puts out who is not to be taken away.
const FIXED: i64 = 1 << 52;
/// What a wait adds grows, so that those of late count for more: by one of so many parts for each job.
const SLOWLY: i64 = 24;
/// A step of 1, and the step at which all weights are brought down again.
const STEP: [i64; 2] = [1 << 24, 1 << 34];
/// Of a closeness of 1,000, so much is left to chance.
const CHANCE: usize = 300;
/// Work of a first run, for each job.
const FIRST_RUN: u64 = 250_000;
/// Jobs taken away to make a shelf lighter, at most.
const MOST_LIGHTENED: usize = 6;

/// The best layout on the way from spots that fit together to one that leaves out little enough.
///
/// Some starts lead nowhere for long, others there at once: it begins again after a while, each time later. Runs
/// have numbers, and differ; the first of them is `run`.
pub(in crate::fit) fn press(attempt: Attempt<'_>, start: &[Option<Spot>], run: u64) -> Result<Placement, Cancelled> {
    let Attempt { jobs, enough, budget, .. } = attempt;
    let mut best = Placement { spots: start.to_vec(), work: 0 };
    let mut left = jobs.left_out(start);
    let first = FIRST_RUN.saturating_mul(jobs.list.len() as u64);
    for run in run.. {
        let rest = budget.saturating_sub(best.work);
        if left <= enough || rest == 0 {
            break;
        }
        let length = first.saturating_mul(1 + run / 4).min(rest);
        // a short rest isn't worth a run of its own
        let length = if rest < 2 * length { rest } else { length };
        let found = once(attempt.with_budget(length), start, run)?;
        best.work += found.work;
        let now = jobs.left_out(&found.spots);
        if now < left {
            (left, best.spots) = (now, found.spots);
        }
    }
    Ok(best)
}

fn once(attempt: Attempt<'_>, start: &[Option<Spot>], run: u64) -> Result<Placement, Cancelled> {
    let Attempt { jobs, enough, budget, cancel, .. } = attempt;
    let mut press = Press::new(attempt, start, run);
    let weight = |number: &usize| jobs.list.get(*number).map_or(0, |job| job.weight);
    let mut left = jobs.left_out(start);
    let mut best = (left, start.to_vec());
    let mut waiting: Vec<usize> = (0..jobs.list.len()).filter(|&number| press.board.spot(number).is_none()).collect();
    press.largest_last(&mut waiting);
    // the largest of those last put out is the next, or any; neither is best everywhere
    let largest = run % 2 == 1;
    let mut begun = false;
    while best.0.min(left) > enough && press.board.work < budget {
        cancel.check()?;
        if begun && !largest && !waiting.is_empty() {
            let (any, last) = (press.random.below(waiting.len()), waiting.len() - 1);
            waiting.swap(any, last);
        }
        let Some(number) = waiting.pop() else { break };
        // So that a round without any work ends some time.
        press.board.work += 50;
        let Some((spot, out)) = press.lightest(number) else {
            waiting.insert(0, number);
            continue;
        };
        if !out.is_empty() && left < best.0 {
            best = (left, press.board.spots().to_vec());
        }
        begun |= !out.is_empty();
        let mut out = press.put(number, spot, out);
        left += out.iter().map(weight).sum::<u64>();
        if press.board.spot(number).is_some() {
            left = left.saturating_sub(weight(&number));
        } else {
            waiting.insert(0, number);
        }
        press.largest_last(&mut out);
        waiting.extend(out);
    }
    if left < best.0 {
        best = (left, press.board.spots().to_vec());
    }
    Ok(Placement { spots: best.1, work: press.board.work })
}

struct Press<'a> {
    board: Board<'a>,
    jobs: &'a Jobs,
    random: Random,
    /// From the first job's first day until the last one's end.
    season: Days,
    tenths: i64,
    /// The weight of each job at first, and now.
    base: Vec<i64>,
    weight: Vec<i64>,
    step: i64,
    grid: Grid,
    sides: Sides,
    pieces: Vec<Piece>,
    corners: Vec<Corner>,
}

struct Corner {
    weight: i64,
    spot: Spot,
    part: Region,
}

impl<'a> Press<'a> {
    fn new(attempt: Attempt<'a>, start: &[Option<Spot>], run: u64) -> Self {
        let jobs = attempt.jobs;
        let extents: Vec<u128> = jobs.list.iter().map(extent).collect();
        let middling = (extents.iter().sum::<u128>() / (extents.len().max(1) as u128)).max(1);
        let one = ONE.unsigned_abs();
        // large ones weigh more, but not by as much as they are larger
        let base = |extent: &u128| {
            let weight = (extent.saturating_mul(u128::from(one * one)) / middling).isqrt();
            i64::try_from(weight).unwrap_or(HEAVIEST).clamp(1, HEAVIEST)
        };
        let base: Vec<i64> = extents.iter().map(base).collect();
        let from = jobs.list.iter().map(|job| job.days().from).min().unwrap_or(0);
        let until = jobs.list.iter().map(|job| job.days().until).max().unwrap_or(0);
        Self {
            board: attempt.board(start),
            jobs,
            random: Random::new(0x0050_8E55 + run),
            season: Days::new(from, until),
            tenths: AS_LIGHT[(run % 4) as usize],
            weight: base.clone(),
            base,
            step: STEP[0],
            grid: Grid::default(),
            sides: Sides::default(),
            pieces: Vec::new(),
            corners: Vec::new(),
        }
    }

    fn largest_last(&self, numbers: &mut [usize]) {
        numbers.sort_by_cached_key(|&number| (self.jobs.list.get(number).map(extent), number));
    }

    /// A spot whose holders weigh little and that leaves few gaps, and its holders.
    fn lightest(&mut self, number: usize) -> Option<(Spot, Vec<usize>)> {
        let jobs = self.jobs;
        let job = jobs.list.get(number)?;
        if let Some(pinned) = job.pinned {
            let out = self.board.conflicts(number, pinned);
            return self.may_go(&out).then_some((pinned, out));
        }
        let class = jobs.classes.get(job.class)?;
        let places = class.stretches.len();
        let first = self.random.below(places);
        self.corners.clear();
        let mut least = FIXED - 1;
        for at in first..first + places.min(MOST_PLACES) {
            let part = class.stretches.list.get(at % places)?.part;
            least = self.weigh(number, job, part, least);
        }
        let most = as_light(least, self.tenths);
        self.corners.retain(|corner| corner.weight <= most);
        let spot = self.closest(job)?;
        let out = self.board.conflicts(number, spot);
        self.may_go(&out).then_some((spot, out))
    }

    fn may_go(&self, out: &[usize]) -> bool {
        out.iter().all(|&other| self.jobs.list.get(other).is_some_and(|job| !job.fixed))
    }

    /// Adds the corners on some ground that are about as light as the lightest so far; says how light that is now.
    fn weigh(&mut self, number: usize, job: &Job, part: Region, mut least: i64) -> i64 {
        self.look(number, job.days(), part);
        let heavy = !self.board.within_limits(number, part.shelf);
        let over = if heavy { self.base.get(number).copied().unwrap_or(ONE) } else { 0 };
        for &turned in job.turns() {
            let size = job.size(turned);
            if !self.grid.lay(part.rect, size, &self.sides) {
                continue;
            }
            for piece in &self.pieces {
                let fixed = self.jobs.list.get(piece.job).is_none_or(|other| other.fixed);
                let weight = if fixed { FIXED } else { self.weight.get(piece.job).copied().unwrap_or(ONE) };
                for phase in job.phases.iter().filter(|phase| phase.days.overlaps(piece.days)) {
                    let size = if turned { (phase.d, phase.w) } else { (phase.w, phase.d) };
                    self.grid.block(piece.rect, size, weight);
                }
            }
            let (corners, tenths) = (&mut self.corners, self.tenths);
            self.board.work += self.grid.sum(|x, y, weight| {
                let weight = weight.saturating_add(over);
                least = least.min(weight);
                if weight <= as_light(least, tenths) {
                    corners.push(Corner { weight, spot: Spot { shelf: part.shelf, x, y, turned }, part });
                }
            });
        }
        least
    }

    /// Fetches what stands on some ground on a job's days, or up to its first or from its last.
    fn look(&mut self, number: usize, days: Days, part: Region) {
        let near = |piece: &Piece| {
            piece.job != number
                && piece.days.from <= days.until
                && days.from <= piece.days.until
                && piece.rect.overlaps(part.rect)
        };
        self.pieces.clear();
        self.board.pieces(part).filter(near).for_each(|piece| self.pieces.push(piece));
        self.sides.set(self.pieces.iter().map(|piece| piece.rect));
        self.board.work += self.pieces.len() as u64;
    }

    /// Of the corners at hand, the one that leaves the fewest gaps, or nearly.
    fn closest(&mut self, job: &Job) -> Option<Spot> {
        let number = self.corners.len();
        let mut best: Option<(i128, Spot)> = None;
        for at in 0..number.min(MOST_HELD) {
            let at = if number <= MOST_HELD { at } else { self.random.below(number) };
            let corner = self.corners.get(at)?;
            let chance = 1_000 - CHANCE + self.random.below(CHANCE);
            let close = self.closeness(job, corner) * (chance as i128);
            self.board.work += 4;
            if best.is_none_or(|(most, _)| close > most) {
                best = Some((close, corner.spot));
            }
        }
        best.map(|(_, spot)| spot)
    }

    /// How much of a job's six faces touches something: two pairs in length times days, one in surface.
    fn closeness(&self, job: &Job, corner: &Corner) -> i128 {
        let (w, d) = job.size(corner.spot.turned);
        let rect = Rect { x: corner.spot.x, y: corner.spot.y, w, d };
        let (days, part) = (job.days(), corner.part.rect);
        let own = common(days, days).max(1);
        let wall = |touches: bool, length: i64| if touches { i128::from(length) * own } else { 0 };
        let mut sides = wall(rect.x == part.x, d)
            + wall(rect.right() == part.right(), d)
            + wall(rect.y == part.y, w)
            + wall(rect.back() == part.back(), w);
        let ends = i128::from(days.from == self.season.from) + i128::from(days.until == self.season.until);
        let mut over = ends * rect.area();
        self.board.pieces(corner.part).for_each(|piece| {
            let other = piece.rect;
            let wide = rect.right().min(other.right()) - rect.x.max(other.x);
            let deep = rect.back().min(other.back()) - rect.y.max(other.y);
            if wide < 0 || deep < 0 {
                return;
            }
            if wide > 0 && deep > 0 {
                if piece.days.until == days.from || piece.days.from == days.until {
                    over += i128::from(wide) * i128::from(deep);
                }
            } else {
                sides += i128::from(wide.max(deep)) * common(days, piece.days);
            }
        });
        (sides << 20) / (2 * i128::from(w + d) * own) + (over << 20) / (2 * rect.area())
    }

    /// Puts a job at a spot, whatever stands there; says who had to go.
    fn put(&mut self, number: usize, spot: Spot, mut out: Vec<usize>) -> Vec<usize> {
        for &other in &out {
            self.board.remove(other);
        }
        for _ in 0..MOST_LIGHTENED {
            if self.board.within_limits(number, spot.shelf) {
                break;
            }
            let other = self.random.pick(&self.board.neighbours(number, spot.shelf)).map(|(other, _)| other);
            if let Some(other) = other.filter(|&other| self.may_go(&[other])) {
                self.board.remove(other);
                out.push(other);
            }
        }
        if self.board.admits(number, spot) {
            self.board.place(number, spot);
        }
        if !out.is_empty() {
            self.count(number);
        }
        out
    }

    /// A job could not stand without putting somebody out: it counts for more from now on.
    fn count(&mut self, number: usize) {
        if let (Some(weight), Some(base)) = (self.weight.get_mut(number), self.base.get(number)) {
            *weight += (base.max(&(ONE / 5)) * (self.step >> 12)) >> 12;
        }
        self.step += (self.step / (SLOWLY * i64::try_from(self.jobs.list.len()).unwrap_or(i64::MAX >> 8))).max(1);
        if self.step > STEP[1] {
            self.step >>= 10;
            for weight in &mut self.weight {
                *weight = (*weight >> 10).max(1);
            }
        }
    }
}

const fn as_light(weight: i64, tenths: i64) -> i64 {
    weight.saturating_add(weight / 10 * tenths)
}

fn common(a: Days, b: Days) -> i128 {
    i128::from((i64::from(a.until.min(b.until)) - i64::from(a.from.max(b.from))).max(0))
}

/// Surface times days.
fn extent(job: &Job) -> u128 {
    job.area().unsigned_abs().saturating_mul(common(job.days(), job.days()).unsigned_abs())
}
