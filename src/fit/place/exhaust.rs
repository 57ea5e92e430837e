//! Everything tried, for a handful of jobs: over one day or over all of theirs.
//!
//! Jobs are dealt to shelves one after the other; [`beside`](super::beside) says of each shelf whether those dealt to it
//! can have one spot each for all their days. What it said is kept, as one shelf doesn't care about another.

use std::collections::BTreeMap;

pub(in crate::fit) use super::beside::Spent;
use super::beside::{Body, Stance, beside, stances};
use super::jobs::{Job, Jobs, Lattices};
use super::placement::Attempt;
use crate::fit::problem::{Days, Problem, Rect, Shelf, Spot};
use crate::fit::work::Cancel;

/// Up to so many jobs, everything is tried if all else fails.
pub(in crate::fit) const MOST_EXHAUSTED: usize = 8;
/// More pieces of jobs aren't begun with, nor more shelves.
const MOST_PIECES: usize = 64;
const MOST_SHELVES: usize = 16;

/// What came of trying everything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::fit) enum Exhausted {
    /// A spot for each job.
    Fits(Vec<Spot>),
    Never,
    /// Too many jobs or shelves, or too much work.
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

/// One spot for each job, for all its days, if there is a layout with all of them; where it stands now, if that can be.
pub(in crate::fit) fn exhaust(attempt: Attempt<'_>) -> Exhausted {
    if attempt.jobs.list.len() > MOST_EXHAUSTED {
        return Exhausted::Open;
    }
    let Attempt { shelves, budget: mut left, cancel, .. } = attempt;
    let mut jobs = attempt.jobs.list.clone();
    let mut found = exhaust_pieces(&jobs, shelves, &mut left, cancel);
    for number in 0..jobs.len() {
        let Exhausted::Fits(spots) = &found else { break };
        if jobs[number].pinned.is_some() || jobs[number].wish.is_none() {
            continue;
        }
        jobs[number].pinned = jobs[number].wish;
        if jobs[number].wish == spots.get(number).copied() {
            continue;
        }
        match exhaust_pieces(&jobs, shelves, &mut left, cancel) {
            Exhausted::Fits(spots) => found = Exhausted::Fits(spots),
            Exhausted::Never | Exhausted::Open => jobs[number].pinned = None,
        }
    }
    found
}

/// As [`exhaust`], for pieces of a handful of jobs, of which few share a day; says what is `left` of the budget.
pub(in crate::fit) fn exhaust_pieces(jobs: &[Job], shelves: &[Shelf], left: &mut u64, cancel: &Cancel) -> Exhausted {
    if jobs.len() > MOST_PIECES {
        return Exhausted::Open;
    }
    let Some(grounds) = grounds(jobs, shelves) else { return Exhausted::Open };
    let mut kinds: Vec<usize> = (0..jobs.len()).collect();
    for number in 0..jobs.len() {
        let twin = (0..number).find(|&other| are_twins(&jobs[number], &jobs[other]));
        kinds[number] = twin.map_or(number, |twin| kinds[twin]);
    }
    let mut order: Vec<usize> = (0..jobs.len()).collect();
    order.sort_by_key(|&number| (jobs[number].days().from, -jobs[number].area(), number));
    let dealt = vec![0; grounds.len()];
    let mut dealing = Dealing { jobs, kinds, grounds, order, dealt, known: BTreeMap::new(), left, cancel };
    match dealing.from(0) {
        Ok(true) => dealing.spots().map_or(Exhausted::Open, Exhausted::Fits),
        Ok(false) => Exhausted::Never,
        Err(Spent) => Exhausted::Open,
    }
}

/// A shelf that somebody may stand on.
struct Ground<'a> {
    shelf: usize,
    limits: &'a Shelf,
    /// By job.
    stances: Vec<Vec<Stance>>,
    area: i128,
}

fn grounds<'a>(jobs: &[Job], shelves: &'a [Shelf]) -> Option<Vec<Ground<'a>>> {
    let mut numbers: Vec<usize> = jobs.iter().flat_map(|job| job.regions.iter()).map(|region| region.shelf).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut found = Vec::new();
    for shelf in numbers {
        let Some(limits) = shelves.get(shelf) else { continue };
        let stances: Vec<Vec<Stance>> = jobs.iter().map(|job| stances(job, shelf)).collect::<Option<_>>()?;
        let used = jobs.iter().flat_map(|job| job.regions.iter()).filter(|region| region.shelf == shelf);
        let area = used.map(|region| region.rect).reduce(Rect::around).map_or(0, Rect::area);
        if stances.iter().any(|stances| !stances.is_empty()) {
            found.push(Ground { shelf, limits, stances, area });
        }
    }
    (found.len() <= MOST_SHELVES).then_some(found)
}

fn are_twins(one: &Job, other: &Job) -> bool {
    one.phases == other.phases && one.regions == other.regions && one.pinned == other.pinned
}

struct Dealing<'a> {
    jobs: &'a [Job],
    /// Equal for twins.
    kinds: Vec<usize>,
    grounds: Vec<Ground<'a>>,
    order: Vec<usize>,
    /// By ground, a bit for each job dealt to it.
    dealt: Vec<u64>,
    /// Spots by ground and jobs, or that there are none.
    known: BTreeMap<(usize, u64), Option<Vec<Spot>>>,
    left: &'a mut u64,
    cancel: &'a Cancel,
}

impl Dealing<'_> {
    /// Whether all jobs from a place in the order on can be dealt out.
    fn from(&mut self, at: usize) -> Result<bool, Spent> {
        let Some(&number) = self.order.get(at) else { return Ok(true) };
        for ground in 0..self.grounds.len() {
            *self.left = self.left.checked_sub(1 + at as u64).filter(|_| !self.cancel.is_cancelled()).ok_or(Spent)?;
            if !self.wants(number, ground) || !self.bears(number, ground) {
                continue;
            }
            self.dealt[ground] |= 1 << number;
            if self.stand(number, ground)? && self.from(at + 1)? {
                return Ok(true);
            }
            self.dealt[ground] &= !(1 << number);
        }
        Ok(false)
    }

    /// Whether that ground is worth trying: of grounds that are alike the first, of twins the first on the first.
    fn wants(&self, number: usize, ground: usize) -> bool {
        let here = &self.grounds[ground];
        let alike = |other: usize| {
            let there = &self.grounds[other];
            self.dealt[other] == 0
                && there.limits == here.limits
                && there.area == here.area
                && there.stances == here.stances
        };
        let twins = (0..self.jobs.len()).filter(|&other| other < number && self.kinds[other] == self.kinds[number]);
        let farther =
            twins.into_iter().any(|twin| (ground + 1..self.grounds.len()).any(|g| self.dealt[g] >> twin & 1 == 1));
        let first = self.dealt[ground] != 0 || !(0..ground).any(alike);
        first && !here.stances[number].is_empty() && !farther
    }

    fn on(&self, ground: usize) -> impl Iterator<Item = usize> + '_ {
        let dealt = self.dealt[ground];
        (0..self.jobs.len()).filter(move |number| dealt >> number & 1 == 1)
    }

    /// Whether a shelf bears and has the surface for one more beside those dealt to it, on each of its days.
    fn bears(&self, number: usize, ground: usize) -> bool {
        let Ground { limits, area, .. } = &self.grounds[ground];
        let here: Vec<&Job> = self.on(ground).chain([number]).map(|number| &self.jobs[number]).collect();
        let days = self.jobs[number].days();
        let phases = || here.iter().flat_map(|job| &job.phases);
        let changes = phases().map(|phase| phase.days.from).filter(|&day| days.contains(day));
        changes.chain([days.from]).all(|day| {
            let today = || phases().filter(|phase| phase.days.contains(day));
            let grams: i128 = today().map(|phase| i128::from(phase.grams)).sum();
            let cover: i128 = today().map(|phase| i128::from(phase.w) * i128::from(phase.d)).sum();
            let bears = limits.load.is_none_or(|most| grams <= i128::from(most));
            bears && limits.cover.is_none_or(|most| cover <= most) && cover <= *area
        })
    }

    /// Those on the same ground that one shares days with, through others or not.
    fn company(&self, number: usize, ground: usize) -> u64 {
        let (mut company, mut found) = (0, 1_u64 << number);
        while found != company {
            company = found;
            for other in self.on(ground) {
                let days = self.jobs[other].days();
                let beside = |one: usize| company >> one & 1 == 1 && self.jobs[one].days().overlaps(days);
                if (0..self.jobs.len()).any(beside) {
                    found |= 1 << other;
                }
            }
        }
        company
    }

    /// Whether those dealt to a ground can stand there with one that was dealt to it last.
    fn stand(&mut self, number: usize, ground: usize) -> Result<bool, Spent> {
        let company = self.company(number, ground);
        if let Some(known) = self.known.get(&(ground, company)) {
            return Ok(known.is_some());
        }
        let here = &self.grounds[ground];
        let numbers = (0..self.jobs.len()).filter(|number| company >> number & 1 == 1);
        let body =
            |number: usize| Body { job: &self.jobs[number], stances: &here.stances[number], kind: self.kinds[number] };
        let bodies: Vec<Body<'_>> = numbers.map(body).collect();
        let found = beside(&bodies, here.shelf, self.left, self.cancel)?;
        let stand = found.is_some();
        self.known.insert((ground, company), found);
        Ok(stand)
    }

    /// By job, once all are dealt out.
    fn spots(&self) -> Option<Vec<Spot>> {
        let spot = |number: usize| {
            let ground = (0..self.grounds.len()).find(|&ground| self.dealt[ground] >> number & 1 == 1)?;
            let company = self.company(number, ground);
            let before = (company & ((1 << number) - 1)).count_ones() as usize;
            self.known.get(&(ground, company))?.as_ref()?.get(before).copied()
        };
        (0..self.jobs.len()).map(spot).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::samples::{shelves, tray, whole};

    fn tried(items: &[crate::fit::Item], limits: &[Shelf]) -> Exhausted {
        let ever = Days::new(i32::MIN, i32::MAX);
        let list = items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, ever)).collect();
        let jobs = Jobs::new(list, &mut Lattices::default());
        exhaust(Attempt { jobs: &jobs, shelves: limits, enough: 0, budget: 1_000_000, cancel: &Cancel::default() })
    }

    #[test]
    fn lengths_may_be_as_fine_as_they_like() {
        // A pinwheel of four around a fifth, and with no slack one unit too long.
        let shelf = whole(&[(1_000_003, 1_000_003)]);
        let side = |long, short| tray(0, 1, long, short, &shelf);
        let mut items = vec![side(600_001, 400_002), side(600_001, 400_002), side(600_001, 400_002)];
        items.extend([side(600_001, 400_002), side(199_999, 199_999)]);
        assert!(matches!(tried(&items, &shelves(1)), Exhausted::Fits(_)));
        items[4] = side(200_000, 199_999);
        assert_eq!(tried(&items, &shelves(1)), Exhausted::Never);
    }

    #[test]
    fn what_is_pinned_stays_as_turned_as_it_is() {
        let shelf = whole(&[(4, 4)]);
        let mut items = vec![tray(0, 1, 2, 2, &shelf), tray(0, 1, 2, 4, &shelf)];
        let spot = Spot { shelf: 0, x: 1, y: 0, turned: true };
        items[0].pinned = Some(spot);
        items[1].phases[0].w = 1;
        let Exhausted::Fits(spots) = tried(&items, &shelves(1)) else { panic!("beside it") };
        assert_eq!(spots[0], spot);
    }

    #[test]
    fn whoever_can_keeps_its_spot() {
        let shelf = whole(&[(4, 4)]);
        let mut items = vec![tray(0, 1, 2, 2, &shelf), tray(0, 1, 2, 2, &shelf)];
        let wish = Spot { shelf: 0, x: 2, y: 1, turned: false };
        items[1].wish = Some(wish);
        let Exhausted::Fits(spots) = tried(&items, &shelves(1)) else { panic!("side by side") };
        assert_eq!(spots[1], wish);
    }

    #[test]
    fn weights_are_shared_out_so_that_every_shelf_bears_its_own() {
        let both = whole(&[(9, 9), (9, 9)]);
        let mut items = vec![tray(0, 1, 1, 1, &both); 4];
        for (item, grams) in items.iter_mut().zip([5, 4, 3, 2]) {
            item.phases[0].grams = grams;
        }
        let limits = |load| vec![Shelf { load: Some(load), cover: None }; 2];
        assert!(matches!(tried(&items, &limits(7)), Exhausted::Fits(_)));
        assert_eq!(tried(&items, &limits(6)), Exhausted::Never);
    }
}
