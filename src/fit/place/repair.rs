//! Room for whoever is left: takes some jobs away and puts them back another way.

use super::board::{Board, Prefer, Rule};
use super::ejection::along;
use super::placement::{Attempt, Best, Placement, left_out};
use crate::fit::problem::Spot;
use crate::fit::random::Random;
use crate::fit::work::Cancelled;

/// Rounds without gain before repair goes back to the best layout; picked by trial on the bench of
/// seasons, where it also keeps moves few.
const LONGEST_WALK: u64 = 300;

/// The best layout on the way from spots that fit together, changing no more than it comes to.
pub(in crate::fit) fn improve(attempt: Attempt<'_>, start: &[Option<Spot>]) -> Result<Placement, Cancelled> {
    let Attempt { jobs, enough, budget, cancel, .. } = attempt;
    let mut board = attempt.board(start);
    let (cost, area) = left_out(&board);
    let best = Best { cost, area, spots: start.to_vec() };
    let mut now = (best.cost, best.area);
    let mut best = Some(best);
    let mut random = Random::new(0x0F1A_7531);
    let mut round: u64 = 0;
    let mut stale = 0;
    while now.0 > enough && board.work < budget {
        round += 1;
        stale += 1;
        if stale > LONGEST_WALK
            && let Some(best) = &best
        {
            // The same work goes on from the best layout.
            let work = board.work + best.spots.len() as u64;
            board = attempt.board(&best.spots);
            board.work = work;
            now = (best.cost, best.area);
            stale = 0;
        }
        if round.is_multiple_of(16) {
            cancel.check()?;
        }
        // So that a round without any work ends some time.
        board.work += 200 + jobs.list.len() as u64 / 8;
        let waiting: Vec<usize> = (0..jobs.list.len()).filter(|&n| board.spot(n).is_none()).collect();
        let Some(wanted) = random.pick(&waiting) else {
            break;
        };
        let Some(removed) = ruin(&mut board, wanted, &mut random) else {
            continue;
        };
        recreate(&mut board, wanted, &waiting, &removed, &mut random);
        let next = left_out(&board);
        // A little more surface left out is a way around a dead end.
        let slack = now.1 / 4;
        if next.0 < now.0 || (next.0 == now.0 && next.1 <= now.1 + slack) {
            if next.0 < now.0 {
                stale = 0;
            }
            now = next;
            Best::keep(&mut best, &board);
        } else {
            undo(&mut board, &waiting, &removed);
        }
    }
    let spots = best.map_or_else(Vec::new, |best| best.spots);
    Ok(Placement { spots, work: board.work })
}

fn undo(board: &mut Board<'_>, waiting: &[usize], removed: &[(usize, Spot)]) {
    for &(number, _) in removed {
        board.remove(number);
    }
    for &number in waiting {
        board.remove(number);
    }
    for &(number, spot) in removed {
        board.place(number, spot);
    }
}

/// Makes room for a job: either at one spot, or among its would-be neighbours.
fn ruin(board: &mut Board<'_>, wanted: usize, random: &mut Random) -> Option<Vec<(usize, Spot)>> {
    let job = board.jobs().get(wanted)?;
    if let Some(pinned) = job.pinned {
        return take_out_at(board, wanted, pinned, random);
    }
    let region = random.pick(&job.regions)?;
    let neighbours = board.neighbours(wanted, region.shelf);
    if random.below(4) < 3 {
        let turned = random.below(2) == 1;
        let phase = job.phases.iter().max_by_key(|phase| i128::from(phase.w) * i128::from(phase.d))?;
        let rect = Spot { shelf: region.shelf, x: 0, y: 0, turned }.rect(phase);
        let (last_x, last_y) = (region.rect.right() - rect.w, region.rect.back() - rect.d);
        if last_x < region.rect.x || last_y < region.rect.y {
            return None;
        }
        let x = along(random, &neighbours, (region.rect.x, last_x, rect.w), |r| (r.x, r.right()));
        let y = along(random, &neighbours, (region.rect.y, last_y, rect.d), |r| (r.y, r.back()));
        let spot = Spot { shelf: region.shelf, x, y, turned };
        return take_out_at(board, wanted, spot, random);
    }
    let centre = random.pick(&neighbours).map_or(region.rect, |(_, rect)| rect);
    let mut near: Vec<(i64, usize)> = neighbours
        .iter()
        .map(|(number, rect)| ((rect.x - centre.x).abs().saturating_add((rect.y - centre.y).abs()), *number))
        .collect();
    near.sort_unstable();
    let mut out: Vec<usize> = Vec::new();
    out.extend(near.iter().take(2 + random.below(8)).map(|(_, number)| *number));
    out.sort_unstable();
    out.dedup();
    take_out(board, &out)
}

/// Makes room at one spot, and for the weight, and puts the job there.
fn take_out_at(board: &mut Board<'_>, wanted: usize, spot: Spot, random: &mut Random) -> Option<Vec<(usize, Spot)>> {
    let out = board.conflicts(wanted, spot);
    if out.len() > 12 {
        return None;
    }
    let mut removed = take_out(board, &out)?;
    // A heavy tray may need lighter company.
    for _ in 0..4 {
        if board.within_limits(wanted, spot.shelf) {
            break;
        }
        let other = random.pick(&board.neighbours(wanted, spot.shelf));
        match other.and_then(|(other, _)| take_out(board, &[other])) {
            Some(more) => removed.extend(more),
            None => break,
        }
    }
    if board.admits(wanted, spot) {
        board.place(wanted, spot);
    }
    Some(removed)
}

/// Removes jobs, all or none: fixed ones stay.
fn take_out(board: &mut Board<'_>, out: &[usize]) -> Option<Vec<(usize, Spot)>> {
    let held = |&number: &usize| {
        let job = board.jobs().get(number)?;
        board.spot(number).filter(|_| !job.fixed).map(|spot| (number, spot))
    };
    let removed: Vec<(usize, Spot)> = out.iter().map(held).collect::<Option<_>>()?;
    for &(number, _) in &removed {
        board.remove(number);
    }
    Some(removed)
}

fn recreate(board: &mut Board<'_>, wanted: usize, waiting: &[usize], removed: &[(usize, Spot)], random: &mut Random) {
    let jobs = board.jobs();
    let mut back: Vec<usize> = removed.iter().map(|(number, _)| *number).collect();
    match random.below(3) {
        0 => back.sort_by_key(|&n| jobs.get(n).map(|job| (-job.area(), n))),
        1 => back.sort_by_key(|&n| jobs.get(n).map(|job| (job.regions.len(), job.days().from, n))),
        _ => {
            for at in (1..back.len()).rev() {
                back.swap(at, random.below(at + 1));
            }
        }
    }
    let mut order = Vec::with_capacity(back.len() + 8);
    order.push(wanted);
    order.extend(back);
    // The others that wait may find a gap too; all of them would cost too much each round.
    let skip = random.below(waiting.len());
    order.extend(waiting.iter().cycle().skip(skip).take(waiting.len().min(6)).copied());
    for number in order {
        if board.spot(number).is_some() {
            continue;
        }
        let rule = random.pick(&[Rule::Lattice, Rule::Left, Rule::Front, Rule::Touch]).unwrap_or(Rule::Left);
        let prefer = if random.below(3) == 0 { Prefer::Scarce } else { Prefer::From(random.below(64)) };
        if let Some(spot) = board.find(number, rule, prefer) {
            board.place(number, spot);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::place::jobs::{Job, Jobs, Lattices};
    use crate::fit::problem::Days;
    use crate::fit::samples::{shelves, tray, whole};
    use crate::fit::work::Cancel;

    /// A wide shelf and a narrow one; the wide tray comes last and only fits the wide shelf.
    fn jobs() -> Jobs {
        let regions = whole(&[(4, 1), (2, 1)]);
        let only = Days::new(0, 9);
        let items = [(2, 0), (2, 0), (2, 0)].map(|(w, from)| tray(from, 9, w, 1, &regions));
        let list = items.iter().enumerate().filter_map(|(n, item)| Job::new(n, item, only)).collect();
        Jobs::new(list, &mut Lattices::default())
    }

    fn improved(jobs: &Jobs, start: &[Option<Spot>], enough: u64) -> Placement {
        let (shelves, cancel) = (shelves(2), Cancel::default());
        let attempt = Attempt { jobs, shelves: &shelves, enough, budget: 100_000, cancel: &cancel };
        improve(attempt, start).expect("not cancelled")
    }

    #[test]
    fn repair_frees_the_ground_between_two_trays() {
        let jobs = jobs();
        let at = |shelf, x| Some(Spot { shelf, x, y: 0, turned: false });
        // The first stands in the middle of the wide shelf, and nothing fits on either side.
        let found = improved(&jobs, &[at(0, 1), at(1, 0), None], 0);
        assert!(found.spots.iter().all(Option::is_some), "{found:?}");
    }

    #[test]
    fn what_is_enough_ends_the_work() {
        let jobs = jobs();
        let none = [None, None, None];
        let found = improved(&jobs, &none, 3);
        assert_eq!((found.spots, found.work), (none.to_vec(), 0));
    }
}
