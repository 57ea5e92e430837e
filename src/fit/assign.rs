//! One spot for each job, for all its days: several greedy passes, then repair.
//!
//! Keeps the best answer seen, by the weight of the jobs left out. Draws only from its own seeded
//! generator and counts its work in looks at obstacles, so an answer never depends on a clock. It
//! may miss a layout that exists; it proves nothing.

use super::board::{Board, Prefer, Rule};
use super::jobs::{Job, Jobs};
use super::problem::{Shelf, Spot};
use super::work::{Cancel, Cancelled};

/// Jobs in a pass's order are taken one by one.
#[derive(Clone, Copy, Debug)]
enum Order {
    /// By first day; the choosier and larger first among those of a day.
    Start,
    /// Whoever may stand in the fewest regions first, then by first day.
    Choosy,
    /// Large ones first, then by first day.
    Large,
    /// Long sides first, then by first day.
    Long,
}

const PASSES: [(Order, Rule, Prefer); 10] = [
    (Order::Start, Rule::Lattice, Prefer::Given),
    (Order::Start, Rule::Lattice, Prefer::Scarce),
    (Order::Start, Rule::Touch, Prefer::Scarce),
    (Order::Choosy, Rule::Lattice, Prefer::Scarce),
    (Order::Choosy, Rule::Left, Prefer::Scarce),
    (Order::Large, Rule::Lattice, Prefer::Scarce),
    (Order::Large, Rule::Touch, Prefer::Scarce),
    (Order::Long, Rule::Left, Prefer::Given),
    (Order::Large, Rule::Front, Prefer::Scarce),
    (Order::Start, Rule::Front, Prefer::Given),
];

/// A generator whose stream is written out here, so that it stays the same for good.
///
/// splitmix64 by S. Vigna, public domain; constants recalled, not re-read.
pub(super) struct Draw(u64);

impl Draw {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Less than `n`; 0 for 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % (n as u64).max(1)).unwrap_or(0)
    }

    pub(super) fn pick<T: Copy>(&mut self, from: &[T]) -> Option<T> {
        from.get(self.below(from.len())).copied()
    }
}

/// The spots of the best layout found.
pub(super) fn assign(
    jobs: &Jobs,
    shelves: &[Shelf],
    budget: u64,
    cancel: &Cancel,
) -> Result<Vec<Option<Spot>>, Cancelled> {
    let mut work = 0;
    let mut best: Option<Best> = None;
    let wishes = jobs.list.iter().any(|job| job.wish.is_some());
    for (number, &(order, rule, prefer)) in PASSES.iter().enumerate() {
        if best.as_ref().is_some_and(|best| best.cost == 0 || (work > budget / 2 && number > 0)) {
            break;
        }
        for keep_wishes in [true, false] {
            if keep_wishes && !wishes {
                continue;
            }
            let mut board = Board::new(jobs, shelves);
            pin(&mut board);
            if keep_wishes {
                grant(&mut board);
            }
            fill(&mut board, order, rule, prefer, cancel)?;
            work += board.work;
            Best::keep(&mut best, &board);
        }
    }
    let Some(best) = best else {
        return Ok(Vec::new());
    };
    if best.cost == 0 || work >= budget {
        return Ok(best.spots);
    }
    repair(jobs, shelves, best, budget - work, cancel)
}

/// Like [`assign`], from spots that fit together, changing no more than it comes to.
pub(super) fn improve(
    jobs: &Jobs,
    shelves: &[Shelf],
    start: &[Option<Spot>],
    budget: u64,
    cancel: &Cancel,
) -> Result<Vec<Option<Spot>>, Cancelled> {
    let mut board = Board::new(jobs, shelves);
    put(&mut board, start);
    fill(&mut board, Order::Start, Rule::Lattice, Prefer::Scarce, cancel)?;
    let (cost, area) = left_out(&board);
    let best = Best { cost, area, spots: board.spots().to_vec() };
    if cost == 0 {
        return Ok(best.spots);
    }
    repair(jobs, shelves, best, budget.saturating_sub(board.work), cancel)
}

struct Best {
    cost: u64,
    /// Of two layouts that leave out as much, the one that leaves out less surface is nearer.
    area: i128,
    spots: Vec<Option<Spot>>,
}

impl Best {
    fn keep(best: &mut Option<Self>, board: &Board<'_>) {
        let (cost, area) = left_out(board);
        if best.as_ref().is_none_or(|best| (cost, area) < (best.cost, best.area)) {
            *best = Some(Self { cost, area, spots: board.spots().to_vec() });
        }
    }
}

/// Weight and surface of the jobs without a spot.
fn left_out(board: &Board<'_>) -> (u64, i128) {
    let without = board.jobs().iter().zip(board.spots()).filter(|(_, spot)| spot.is_none());
    without.fold((0, 0), |(cost, area), (job, _)| (cost + job.weight, area + job.area()))
}

fn put(board: &mut Board<'_>, spots: &[Option<Spot>]) {
    for (number, spot) in spots.iter().enumerate() {
        if let Some(spot) = *spot {
            board.place(number, spot);
        }
    }
}

/// Pinned jobs first: nothing else may take their ground.
fn pin(board: &mut Board<'_>) {
    for (number, job) in board.jobs().iter().enumerate() {
        if let Some(spot) = job.pinned
            && board.admits(number, spot)
        {
            board.place(number, spot);
        }
    }
}

fn grant(board: &mut Board<'_>) {
    for (number, job) in board.jobs().iter().enumerate() {
        if let (None, Some(wish)) = (board.spot(number), job.wish)
            && board.admits(number, wish)
        {
            board.place(number, wish);
        }
    }
}

fn fill(board: &mut Board<'_>, order: Order, rule: Rule, prefer: Prefer, cancel: &Cancel) -> Result<(), Cancelled> {
    let mut numbers: Vec<usize> = (0..board.jobs().len()).filter(|&n| board.spot(n).is_none()).collect();
    let jobs = board.jobs();
    numbers.sort_by_cached_key(|&number| {
        let job: Option<&Job> = jobs.get(number);
        job.map(|job| {
            let (from, choices, area) = (i128::from(job.days().from), job.regions.len() as i128, job.area());
            let long = i128::from(job.longest_side());
            let length = -(i128::from(job.days().until) - from);
            match order {
                Order::Start => [from, choices, -area, length],
                Order::Choosy => [choices, from, -area, length],
                Order::Large => [-area, choices, from, length],
                Order::Long => [-long, -area, from, length],
            }
        })
    });
    for (done, number) in numbers.into_iter().enumerate() {
        if done % 64 == 0 {
            cancel.check()?;
        }
        if let Some(spot) = board.find(number, rule, prefer) {
            board.place(number, spot);
        }
    }
    Ok(())
}

/// Takes some jobs away and puts them back another way, as long as the budget lasts.
fn repair(
    jobs: &Jobs,
    shelves: &[Shelf],
    best: Best,
    budget: u64,
    cancel: &Cancel,
) -> Result<Vec<Option<Spot>>, Cancelled> {
    let mut board = Board::new(jobs, shelves);
    put(&mut board, &best.spots);
    let mut now = (best.cost, best.area);
    let mut best = Some(best);
    let mut draw = Draw::new(0x0F1A_7531);
    let mut round: u64 = 0;
    while board.work < budget {
        round += 1;
        if round.is_multiple_of(16) {
            cancel.check()?;
        }
        // So that a round without any work ends some time.
        board.work += 20;
        let waiting: Vec<usize> = (0..jobs.list.len()).filter(|&n| board.spot(n).is_none()).collect();
        let movable: Vec<usize> =
            waiting.iter().copied().filter(|&n| jobs.list.get(n).is_some_and(|job| job.pinned.is_none())).collect();
        let Some(wanted) = draw.pick(&movable) else {
            break;
        };
        let Some(removed) = ruin(&mut board, wanted, &mut draw) else {
            continue;
        };
        recreate(&mut board, wanted, &waiting, &removed, &mut draw);
        let next = left_out(&board);
        // A little more surface left out is a way around a dead end.
        let slack = now.1 / 4;
        if next.0 < now.0 || (next.0 == now.0 && next.1 <= now.1 + slack) {
            now = next;
            Best::keep(&mut best, &board);
            if now.0 == 0 {
                break;
            }
        } else {
            for &(number, _) in &removed {
                board.remove(number);
            }
            for &number in &waiting {
                board.remove(number);
            }
            for &(number, spot) in &removed {
                board.place(number, spot);
            }
        }
    }
    Ok(best.map_or_else(Vec::new, |best| best.spots))
}

/// Makes room for a job: either at one spot, or among its would-be neighbours.
fn ruin(board: &mut Board<'_>, wanted: usize, draw: &mut Draw) -> Option<Vec<(usize, Spot)>> {
    let job = board.jobs().get(wanted)?;
    let region = draw.pick(&job.regions)?;
    let neighbours = board.neighbours(wanted, region.shelf);
    let mut out: Vec<usize> = Vec::new();
    let forced = draw.below(4) < 3;
    if forced {
        let turned = draw.below(2) == 1;
        let phase = job.phases.iter().max_by_key(|phase| i128::from(phase.w) * i128::from(phase.d))?;
        let rect = Spot { shelf: region.shelf, x: 0, y: 0, turned }.rect(phase);
        let (last_x, last_y) = (region.rect.right() - rect.w, region.rect.back() - rect.d);
        if last_x < region.rect.x || last_y < region.rect.y {
            return None;
        }
        let along = |draw: &mut Draw, first: i64, last: i64, size: i64, low: fn(&super::Rect) -> (i64, i64)| {
            let at = match draw.pick(&neighbours).map(|(_, rect)| low(&rect)) {
                Some((from, to)) => match draw.below(6) {
                    0 => first,
                    1 => last,
                    2 => from,
                    3 => to - size,
                    4 => from - size,
                    _ => to,
                },
                None => first,
            };
            at.clamp(first, last)
        };
        let x = along(draw, region.rect.x, last_x, rect.w, |r| (r.x, r.right()));
        let y = along(draw, region.rect.y, last_y, rect.d, |r| (r.y, r.back()));
        let spot = Spot { shelf: region.shelf, x, y, turned };
        out = board.conflicts(wanted, spot);
        if out.len() > 12 {
            return None;
        }
        let mut removed = take_out(board, &out)?;
        // A heavy tray may need lighter company.
        for _ in 0..4 {
            if board.within_limits(wanted, region.shelf) {
                break;
            }
            let other = draw.pick(&board.neighbours(wanted, region.shelf));
            match other.and_then(|(other, _)| take_out(board, &[other])) {
                Some(more) => removed.extend(more),
                None => break,
            }
        }
        if board.admits(wanted, spot) {
            board.place(wanted, spot);
        }
        return Some(removed);
    }
    let centre = draw.pick(&neighbours).map_or(region.rect, |(_, rect)| rect);
    let mut near: Vec<(i64, usize)> = neighbours
        .iter()
        .map(|(number, rect)| ((rect.x - centre.x).abs().saturating_add((rect.y - centre.y).abs()), *number))
        .collect();
    near.sort_unstable();
    out.extend(near.iter().take(2 + draw.below(8)).map(|(_, number)| *number));
    out.sort_unstable();
    out.dedup();
    take_out(board, &out)
}

/// Removes jobs, all or none: pinned ones stay.
fn take_out(board: &mut Board<'_>, out: &[usize]) -> Option<Vec<(usize, Spot)>> {
    let held = |&number: &usize| {
        let job = board.jobs().get(number)?;
        board.spot(number).filter(|_| job.pinned.is_none()).map(|spot| (number, spot))
    };
    let removed: Vec<(usize, Spot)> = out.iter().map(held).collect::<Option<_>>()?;
    for &(number, _) in &removed {
        board.remove(number);
    }
    Some(removed)
}

fn recreate(board: &mut Board<'_>, wanted: usize, waiting: &[usize], removed: &[(usize, Spot)], draw: &mut Draw) {
    let jobs = board.jobs();
    let mut back: Vec<usize> = removed.iter().map(|(number, _)| *number).collect();
    match draw.below(3) {
        0 => back.sort_by_key(|&n| jobs.get(n).map(|job| (-job.area(), n))),
        1 => back.sort_by_key(|&n| jobs.get(n).map(|job| (job.regions.len(), job.days().from, n))),
        _ => {
            for at in (1..back.len()).rev() {
                back.swap(at, draw.below(at + 1));
            }
        }
    }
    let mut order = Vec::with_capacity(back.len() + 8);
    order.push(wanted);
    order.extend(back);
    // The others that wait may find a gap too; all of them would cost too much each round.
    let skip = draw.below(waiting.len());
    order.extend(waiting.iter().cycle().skip(skip).take(waiting.len().min(6)).copied());
    for number in order {
        if board.spot(number).is_some() {
            continue;
        }
        let rule = draw.pick(&[Rule::Lattice, Rule::Left, Rule::Front, Rule::Touch]).unwrap_or(Rule::Left);
        let prefer = if draw.below(3) == 0 { Prefer::Scarce } else { Prefer::From(draw.below(64)) };
        if let Some(spot) = board.find(number, rule, prefer) {
            board.place(number, spot);
        }
    }
}
