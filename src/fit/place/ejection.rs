//! Puts the last jobs in by putting others out, until all have a spot.
//!
//! Whoever waits takes the spot whose holders are the easiest to place elsewhere: each time a job
//! is left waiting, it counts for more. The idea is the ejection pool of Nagata and Bräysy,
//! "A powerful route minimization heuristic for the vehicle routing problem with time windows",
//! Operations Research Letters 37 (2009); recalled, not re-read.

use std::ops::Range;

use super::board::{Board, Prefer, Rule};
use super::greedy::greedy;
use super::placement::{Attempt, Placement};
use crate::fit::problem::{Rect, Region, Spot};
use crate::fit::random::Random;
use crate::fit::work::Cancelled;

/// Spots that are weighed for one job: few at times, as the best one over and over leads in circles.
const WEIGHED: Range<usize> = 20..220;
/// More holders of a spot than this aren't put out for one job.
const MOST_OUT: usize = 5;

/// Jobs that are put somewhere else at random, as room has to be found, while nothing stands yet.
pub(in crate::fit) const STIRRED: usize = 3;

/// [`greedy`], and then room for whoever is left.
pub(in crate::fit) fn place_all(attempt: Attempt<'_>) -> Result<Placement, Cancelled> {
    let first = greedy(attempt)?;
    let left = attempt.budget.saturating_sub(first.work);
    let found = eject(attempt.with_budget(left), &first.spots, STIRRED)?;
    Ok(Placement { work: first.work + found.work, ..found })
}

/// The best layout on the way from spots that fit together to one that leaves out little enough; so
/// many jobs are `stirred` each time.
pub(in crate::fit) fn eject(
    attempt: Attempt<'_>,
    start: &[Option<Spot>],
    stirred: usize,
) -> Result<Placement, Cancelled> {
    let Attempt { jobs, enough, budget, cancel, .. } = attempt;
    let mut board = attempt.board(start);
    let mut random = Random::new(0x00E1_EC70);
    let mut counts: Vec<u64> = vec![1; jobs.list.len()];
    let mut waiting: Vec<usize> = (0..jobs.list.len()).filter(|&number| board.spot(number).is_none()).collect();
    let mut best = (jobs.left_out(start), start.to_vec());
    let mut round: u64 = 0;
    while best.0 > enough && board.work < budget {
        let Some(number) = waiting.pop() else { break };
        round += 1;
        if round.is_multiple_of(16) {
            cancel.check()?;
        }
        // So that a round without any work ends some time.
        board.work += 200;
        if let Some(spot) = board.find(number, rule(&mut random), Prefer::From(random.below(64))) {
            board.place(number, spot);
            let left = waiting.iter().map(|&number| jobs.list[number].weight).sum();
            if left < best.0 {
                best = (left, board.spots().to_vec());
            }
            continue;
        }
        counts[number] += 1;
        let Some((spot, out)) = cheapest(&mut board, number, &counts, &mut random) else {
            // Back to the bottom of the pile.
            waiting.insert(0, number);
            continue;
        };
        for &other in &out {
            board.remove(other);
        }
        if board.admits(number, spot) {
            board.place(number, spot);
        } else {
            waiting.insert(0, number);
        }
        waiting.extend(out);
        stir(&mut board, spot.shelf, stirred, &mut random);
    }
    Ok(Placement { spots: best.1, work: board.work })
}

/// Where there is a spot of the even packing of its size on its shelf, a job takes it, else the one
/// nearest to the corner: shelves that a person would fill so.
pub(in crate::fit) fn tidy(attempt: Attempt<'_>, spots: &[Option<Spot>]) -> Result<Vec<Option<Spot>>, Cancelled> {
    let Attempt { jobs, cancel, .. } = attempt;
    let mut board = attempt.board(spots);
    let mut order: Vec<usize> = (0..jobs.list.len()).collect();
    order.sort_by_key(|&number| jobs.list.get(number).map(|job| (job.days().from, job.days().until)));
    for number in order {
        cancel.check()?;
        let (Some(old), Some(job)) = (board.spot(number), jobs.list.get(number)) else { continue };
        if job.fixed || job.wish == Some(old) {
            continue;
        }
        board.remove(number);
        let spot = board.find_beside(number, old, Rule::Lattice).unwrap_or(old);
        board.place(number, spot);
    }
    cancel.check()?;
    Ok(board.spots().to_vec())
}

fn rule(random: &mut Random) -> Rule {
    random.pick(&[Rule::Lattice, Rule::Left, Rule::Front, Rule::Touch]).unwrap_or(Rule::Left)
}

/// The spot whose holders weigh the least, and the holders.
fn cheapest(board: &mut Board<'_>, number: usize, counts: &[u64], random: &mut Random) -> Option<(Spot, Vec<usize>)> {
    let mut best: Option<(u64, Spot, Vec<usize>)> = None;
    for _ in 0..random.from(WEIGHED) {
        let Some(spot) = somewhere(board, number, random) else { continue };
        let out = board.conflicts(number, spot);
        if out.len() > MOST_OUT || out.iter().any(|&other| board.jobs()[other].fixed) {
            continue;
        }
        let weight = out.iter().map(|&other| counts[other]).sum();
        if best.as_ref().is_none_or(|(least, ..)| weight < *least) {
            best = Some((weight, spot, out));
        }
    }
    best.map(|(_, spot, out)| (spot, out))
}

/// A spot at the edges of its region or of what stands there.
fn somewhere(board: &mut Board<'_>, number: usize, random: &mut Random) -> Option<Spot> {
    let job = board.jobs().get(number)?;
    let region: Region = random.pick(&job.regions)?;
    let turned = random.below(2) == 1;
    let (w, d) = job.size(turned);
    let (last_x, last_y) = (region.rect.right() - w, region.rect.back() - d);
    if last_x < region.rect.x || last_y < region.rect.y {
        return None;
    }
    let neighbours = board.neighbours(number, region.shelf);
    let x = along(random, &neighbours, (region.rect.x, last_x, w), |rect| (rect.x, rect.right()));
    let y = along(random, &neighbours, (region.rect.y, last_y, d), |rect| (rect.y, rect.back()));
    Some(Spot { shelf: region.shelf, x, y, turned })
}

/// A coordinate at an edge of the region, or of a neighbour.
pub(in crate::fit) fn along(
    random: &mut Random,
    neighbours: &[(usize, Rect)],
    (first, last, size): (i64, i64, i64),
    sides: fn(&Rect) -> (i64, i64),
) -> i64 {
    let at = match random.pick(neighbours).map(|(_, rect)| sides(&rect)) {
        Some((low, high)) => match random.below(6) {
            0 => first,
            1 => last,
            2 => low,
            3 => high - size,
            4 => low - size,
            _ => high,
        },
        None => first,
    };
    at.clamp(first, last)
}

/// Takes a few jobs of a shelf elsewhere, if there is room.
fn stir(board: &mut Board<'_>, shelf: usize, number: usize, random: &mut Random) {
    let standing: Vec<usize> =
        (0..board.jobs().len()).filter(|&n| board.spot(n).is_some_and(|spot| spot.shelf == shelf)).collect();
    for _ in 0..number {
        let Some(number) = random.pick(&standing) else { break };
        let Some(old) = board.spot(number) else { continue };
        if board.jobs()[number].fixed {
            continue;
        }
        board.remove(number);
        let spot = board.find(number, rule(random), Prefer::From(random.below(64))).unwrap_or(old);
        board.place(number, spot);
    }
}
