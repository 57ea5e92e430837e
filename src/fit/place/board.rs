//! What stands where and when while a layout is being made.
//!
//! A job never stands on ground that another has on a common day, outside its regions, or beyond a
//! shelf's limits: [`Board::place`] is only called with spots that [`Board::admits`] or one of the
//! searches allowed. Searching is exhaustive for one job among the others; which job to place
//! first, and which to take away again, is for `greedy`, `ejection` and `repair` to say.

use std::ops::Range;

use super::jobs::{Job, JobClass, Jobs};
use super::nogoods::{Along, Nogoods};
use super::pieces::{Piece, Pieces, Squares};
use crate::fit::problem::{Days, Phase, Rect, Region, Shelf, Spot};

/// Corners that are weighed for one job in one region when the best one is wanted.
const MOST_WEIGHED: usize = 160;

/// Which of the possible spots to take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::fit) enum Rule {
    /// The first free spot of the exact packing of this size; else as `Left`.
    Lattice,
    /// Smallest x, then smallest y.
    Left,
    /// Smallest y, then smallest x.
    Front,
    /// The longest contact with neighbours and edges, weighed by common days.
    Touch,
}

/// In which order regions are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::fit) enum Prefer {
    /// As the item lists them: best first.
    Given,
    /// The least wanted by others first.
    Scarce,
    /// From a place in the list that the caller draws.
    From(usize),
}

pub(in crate::fit) struct Board<'a> {
    jobs: &'a Jobs,
    shelves: &'a [Shelf],
    on: Vec<Pieces>,
    spots: Vec<Option<Spot>>,
    nogoods: Nogoods,
    /// Looks at one obstacle, and the like; the unit of budgets.
    pub(in crate::fit) work: u64,
}

impl<'a> Board<'a> {
    pub(in crate::fit) fn new(jobs: &'a Jobs, shelves: &'a [Shelf]) -> Self {
        let one = || Squares::of(Rect { x: 0, y: 0, w: 1, d: 1 }, 1);
        let empty = |shelf: usize| Pieces::new(jobs.squares.get(&shelf).copied().unwrap_or_else(one));
        Self {
            jobs,
            shelves,
            on: (0..shelves.len()).map(empty).collect(),
            spots: vec![None; jobs.list.len()],
            nogoods: Nogoods::new(jobs.kin(), shelves.len()),
            work: 0,
        }
    }

    /// With jobs in spots that fit together.
    pub(in crate::fit) fn with(jobs: &'a Jobs, shelves: &'a [Shelf], spots: &[Option<Spot>]) -> Self {
        let mut board = Self::new(jobs, shelves);
        for (number, spot) in spots.iter().enumerate() {
            if let Some(spot) = *spot {
                board.place(number, spot);
            }
        }
        board
    }

    pub(in crate::fit) fn spot(&self, job: usize) -> Option<Spot> {
        self.spots.get(job).copied().flatten()
    }

    pub(in crate::fit) fn spots(&self) -> &[Option<Spot>] {
        &self.spots
    }

    pub(in crate::fit) fn jobs(&self) -> &'a [Job] {
        &self.jobs.list
    }

    pub(in crate::fit) fn place(&mut self, number: usize, spot: Spot) {
        let (Some(job), Some(on)) = (self.jobs.list.get(number), self.on.get_mut(spot.shelf)) else {
            return;
        };
        for phase in &job.phases {
            on.push(Piece { job: number, days: phase.days, rect: spot.rect(phase), grams: phase.grams });
        }
        if let Some(held) = self.spots.get_mut(number) {
            *held = Some(spot);
        }
    }

    pub(in crate::fit) fn remove(&mut self, number: usize) {
        let Some(spot) = self.spots.get_mut(number).and_then(Option::take) else {
            return;
        };
        if let (Some(job), Some(on)) = (self.jobs.list.get(number), self.on.get_mut(spot.shelf)) {
            for phase in &job.phases {
                on.remove(number, spot.rect(phase));
            }
        }
        self.nogoods.forget(spot.shelf);
    }

    /// Whether a job may stand at a spot, beside all that stands now.
    pub(in crate::fit) fn admits(&mut self, number: usize, spot: Spot) -> bool {
        let jobs = self.jobs;
        let Some((job, class)) = jobs.list.get(number).and_then(|job| Some((job, jobs.classes.get(job.class)?))) else {
            return false;
        };
        let holds = |rect: Rect| class.stretches.on(spot.shelf).any(|region| region.rect.holds(rect));
        let inside = !jobs.cancel.is_cancelled() && job.phases.iter().all(|phase| holds(spot.rect(phase)));
        if !inside || job.pinned.is_some_and(|pinned| pinned != spot) {
            return false;
        }
        self.conflicts(number, spot).is_empty() && self.within_limits(number, spot.shelf)
    }

    /// The jobs on whose ground one would stand at a spot.
    pub(in crate::fit) fn conflicts(&mut self, number: usize, spot: Spot) -> Vec<usize> {
        let (Some(job), Some(on)) = (self.jobs.list.get(number), self.on.get(spot.shelf)) else {
            return Vec::new();
        };
        let (w, d) = job.size(spot.turned);
        let ground = Rect { x: spot.x, y: spot.y, w, d };
        self.work += on.looks(ground);
        let clash = |piece: &&Piece| {
            let meets = |phase: &Phase| phase.days.overlaps(piece.days) && spot.rect(phase).overlaps(piece.rect);
            piece.job != number && job.phases.iter().any(meets)
        };
        let mut found: Vec<usize> = on.near(ground).filter(clash).map(|piece| piece.job).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// All that may stand on some ground, on any day.
    pub(super) fn pieces(&self, region: Region) -> impl Iterator<Item = Piece> {
        self.on.get(region.shelf).into_iter().flat_map(move |on| on.near(region.rect)).copied()
    }

    /// The jobs that share a shelf and a day with one.
    pub(in crate::fit) fn neighbours(&mut self, number: usize, place: usize) -> Vec<(usize, Rect)> {
        let (Some(job), Some(on)) = (self.jobs.list.get(number), self.on.get(place)) else {
            return Vec::new();
        };
        self.work += on.len() as u64;
        let days = job.days();
        let mut found: Vec<(usize, Rect)> = on
            .all()
            .filter(|piece| piece.job != number && piece.days.overlaps(days))
            .map(|piece| (piece.job, piece.rect))
            .collect();
        found.dedup_by_key(|(job, _)| *job);
        found
    }

    /// Load and cover on every day of a job, with it.
    pub(in crate::fit) fn within_limits(&mut self, number: usize, place: usize) -> bool {
        let job = self.jobs.list.get(number).filter(|_| place < self.on.len());
        job.is_some_and(|job| self.over_limits(number, job, place).is_none())
    }

    /// A day on which the shelf can't bear a job beside all that stands.
    fn over_limits(&mut self, number: usize, job: &Job, place: usize) -> Option<i32> {
        let (limits, on) = (self.shelves.get(place)?, self.on.get(place)?);
        if limits.load.is_none() && limits.cover.is_none() {
            return None;
        }
        let load = limits.load.map_or(i128::MAX, i128::from);
        let cover = limits.cover.unwrap_or(i128::MAX);
        let mut changes: Vec<(i32, i128, i128)> = Vec::new();
        self.work += 2 * on.len() as u64;
        for phase in &job.phases {
            let here = || on.all().filter(|p| p.job != number && p.days.overlaps(phase.days));
            let (mut grams, mut area) = (i128::from(phase.grams), i128::from(phase.w) * i128::from(phase.d));
            if grams > load || area > cover {
                return Some(phase.days.from);
            }
            let (mut most, mut widest) = (grams, area);
            here().for_each(|piece| {
                most += i128::from(piece.grams.max(0));
                widest += piece.rect.area();
            });
            if most <= load && widest <= cover {
                // not even if all were there at once
                continue;
            }
            changes.clear();
            here().for_each(|piece| {
                let (grams, area) = (i128::from(piece.grams), piece.rect.area());
                changes.push((piece.days.from.max(phase.days.from), grams, area));
                changes.push((piece.days.until, -grams, -area));
            });
            // Who leaves on a day does so before others come: their (negative) change sorts first.
            changes.sort_unstable();
            let mut at = 0;
            while let Some(&(day, ..)) = changes.get(at) {
                while let Some(&(_, more, wider)) = changes.get(at).filter(|change| change.0 == day) {
                    grams += more;
                    area += wider;
                    at += 1;
                }
                if day < phase.days.until && (grams > load || area > cover) {
                    return Some(day);
                }
            }
        }
        None
    }

    /// A spot for a job beside all that stands, or `None` if none of its regions has one, or nobody
    /// wants to know any more.
    pub(in crate::fit) fn find(&mut self, number: usize, rule: Rule, prefer: Prefer) -> Option<Spot> {
        let jobs = self.jobs;
        let job = jobs.list.get(number)?;
        if let Some(pinned) = job.pinned {
            return self.admits(number, pinned).then_some(pinned);
        }
        let class = jobs.classes.get(job.class)?;
        let all = class.stretches.len();
        match prefer {
            Prefer::Given => self.find_among(number, class, Along::Given, 0..all, rule),
            Prefer::Scarce => self.find_among(number, class, Along::Scarce, 0..all, rule),
            Prefer::From(start) => {
                let start = start.checked_rem(all)?;
                self.find_among(number, class, Along::Given, start..all, rule)
                    .or_else(|| self.find_among(number, class, Along::Given, 0..start, rule))
            }
        }
    }

    /// A spot on one shelf.
    pub(in crate::fit) fn find_on(&mut self, number: usize, shelf: usize, rule: Rule) -> Option<Spot> {
        let jobs = self.jobs;
        let job = jobs.list.get(number)?;
        if let Some(pinned) = job.pinned {
            return (pinned.shelf == shelf && self.admits(number, pinned)).then_some(pinned);
        }
        let class = jobs.classes.get(job.class)?;
        for stretch in class.stretches.on_shelf(shelf) {
            if self.nogoods.next(class.kin, Along::Given, stretch..stretch + 1, job.days()).is_none() {
                continue;
            }
            match self.find_in(number, class, stretch, rule) {
                Ok(spot) => return Some(spot),
                Err(days) => self.note_full(job, class, stretch, days),
            }
        }
        None
    }

    /// A spot on the same ground as one that it could have.
    pub(in crate::fit) fn find_beside(&mut self, number: usize, old: Spot, rule: Rule) -> Option<Spot> {
        let jobs = self.jobs;
        let job = jobs.list.get(number)?;
        let class = jobs.classes.get(job.class)?;
        let here =
            |part: Region| part.shelf == old.shelf && job.phases.iter().all(|phase| part.rect.holds(old.rect(phase)));
        let stretch = class.stretches.list.iter().position(|stretch| here(stretch.part))?;
        self.find_in(number, class, stretch, rule).ok()
    }

    fn find_among(
        &mut self,
        number: usize,
        class: &JobClass,
        along: Along,
        mut places: Range<usize>,
        rule: Rule,
    ) -> Option<Spot> {
        let job = self.jobs.list.get(number)?;
        self.work += 1;
        while let Some(place) = self.nogoods.next(class.kin, along, places.clone(), job.days()) {
            if self.jobs.cancel.is_cancelled() {
                return None;
            }
            let stretch = class.stretches.at(along, place)?;
            match self.find_in(number, class, stretch, rule) {
                Ok(spot) => return Some(spot),
                Err(days) => self.note_full(job, class, stretch, days),
            }
            places.start = place + 1;
        }
        None
    }

    /// Notes that a job found nothing there, if that holds for all its kin.
    fn note_full(&mut self, job: &Job, class: &JobClass, stretch: usize, mut days: Days) {
        let Some(part) = class.stretches.list.get(stretch).map(|stretch| stretch.part) else {
            return;
        };
        if !class.is_least {
            let least = class.least.job(job);
            if let Some(day) = self.over_limits(usize::MAX, &least, part.shelf) {
                days = Days::new(day, day.saturating_add(1));
            } else {
                let around = self.obstacles(&least, part);
                if self.at_corner(&least, part, Rule::Left, &around).is_some() {
                    return;
                }
                days = met_by_all(least.days(), &around);
            }
        }
        self.nogoods.full(part.shelf, class.kin, class.stretches.len(), class.stretches.places(stretch), days);
    }

    /// A spot in one of a job's regions, or some of its days during which there is none: whoever is
    /// like it and stays for those finds none either.
    fn find_in(&mut self, number: usize, class: &JobClass, stretch: usize, rule: Rule) -> Result<Spot, Days> {
        let (Some(job), Some(place)) = (self.jobs.list.get(number), class.stretches.list.get(stretch)) else {
            return Err(Days::new(0, 0));
        };
        if place.part.shelf >= self.on.len() {
            return Err(job.days());
        }
        if let Some(day) = self.over_limits(number, job, place.part.shelf) {
            return Err(Days::new(day, day.saturating_add(1)));
        }
        let around = self.obstacles(job, place.part);
        if rule == Rule::Lattice
            && let Some(cells) = class.lattices.get(stretch)
            && let Some(region) = class.stretches.regions.get(place.region)
            && let Some(spot) = self.on_lattice(job, *region, cells, &around)
        {
            return Ok(spot);
        }
        self.at_corner(job, place.part, rule, &around).ok_or_else(|| met_by_all(job.days(), &around))
    }

    fn obstacles(&mut self, job: &Job, region: Region) -> Vec<(Rect, Days)> {
        let days = job.days();
        let Some(on) = self.on.get(region.shelf) else {
            return Vec::new();
        };
        self.work += on.looks(region.rect);
        on.near(region.rect)
            .filter(|piece| piece.days.overlaps(days) && piece.rect.overlaps(region.rect))
            .map(|piece| (piece.rect, piece.days))
            .collect()
    }

    fn on_lattice(&mut self, job: &Job, region: Region, cells: &[Rect], around: &[(Rect, Days)]) -> Option<Spot> {
        for cell in cells {
            let turned = cell.w != job.w;
            let spot = Spot { shelf: region.shelf, x: region.rect.x + cell.x, y: region.rect.y + cell.y, turned };
            self.work += 1 + around.len() as u64 / 4;
            let clash = |phase: &Phase| {
                let rect = spot.rect(phase);
                around.iter().any(|(other, days)| rect.overlaps(*other) && days.overlaps(phase.days))
            };
            if !job.phases.iter().any(clash) {
                return Some(spot);
            }
        }
        None
    }

    fn at_corner(&mut self, job: &Job, region: Region, rule: Rule, around: &[(Rect, Days)]) -> Option<Spot> {
        let swap = rule == Rule::Front;
        let mut best: Option<(i128, Spot)> = None;
        let mut weighed = 0;
        for &turned in job.turns() {
            let (w, d) = job.size(turned);
            let mut take = |x: i64, y: i64| {
                let (x, y) = if swap { (y, x) } else { (x, y) };
                let spot = Spot { shelf: region.shelf, x, y, turned };
                let score = match rule {
                    Rule::Left | Rule::Lattice => -(i128::from(x) << 64) - i128::from(y),
                    Rule::Front => -(i128::from(y) << 64) - i128::from(x),
                    Rule::Touch => {
                        weighed += 1;
                        contact(Rect { x, y, w, d }, job.days(), region.rect, around)
                    }
                };
                if best.is_none_or(|(most, _)| score > most) {
                    best = Some((score, spot));
                }
                rule != Rule::Touch || weighed >= MOST_WEIGHED
            };
            self.work += corners(job, turned, region.rect, around, swap, &mut take);
        }
        self.work += (weighed * around.len()) as u64;
        best.map(|(_, spot)| spot)
    }
}

/// The shortest part of some days that still has each obstacle on one of them.
fn met_by_all(days: Days, around: &[(Rect, Days)]) -> Days {
    let first_to_leave = around.iter().map(|(_, theirs)| theirs.until.saturating_sub(1)).min();
    let last_to_come = around.iter().map(|(_, theirs)| theirs.from).max();
    let (Some(leaves), Some(comes)) = (first_to_leave, last_to_come) else {
        return days;
    };
    let comes = comes.max(days.from);
    let from = leaves.min(comes).max(days.from);
    Days::new(from, comes.saturating_add(1).min(days.until))
}

/// How much of a rectangle's edge touches something, in length times days.
fn contact(rect: Rect, days: Days, region: Rect, around: &[(Rect, Days)]) -> i128 {
    let common =
        |a: Days, b: Days| i128::from((i64::from(a.until.min(b.until)) - i64::from(a.from.max(b.from))).max(0));
    let own = common(days, days);
    let wall = |touches: bool, length: i64| if touches { i128::from(length) * own } else { 0 };
    let mut sum = wall(rect.x == region.x, rect.d)
        + wall(rect.right() == region.right(), rect.d)
        + wall(rect.y == region.y, rect.w)
        + wall(rect.back() == region.back(), rect.w);
    for &(other, theirs) in around {
        let beside = if rect.x == other.right() || rect.right() == other.x {
            rect.back().min(other.back()) - rect.y.max(other.y)
        } else if rect.y == other.back() || rect.back() == other.y {
            rect.right().min(other.right()) - rect.x.max(other.x)
        } else {
            0
        };
        sum += i128::from(beside.max(0)) * common(days, theirs);
    }
    sum
}

/// Calls `take` with corners at which a job has room, each pushed against something to the left
/// and below, or below the obstacle above; until it answers that it has enough. If there is room
/// at all, some corner is offered. Returns the work done.
fn corners(
    job: &Job,
    turned: bool,
    region: Rect,
    around: &[(Rect, Days)],
    swap: bool,
    take: &mut impl FnMut(i64, i64) -> bool,
) -> u64 {
    let flip = |r: Rect| {
        if swap { Rect { x: r.y, y: r.x, w: r.d, d: r.w } } else { r }
    };
    let region = flip(region);
    let (w, d) = job.size(turned != swap);
    let (last_x, last_y) = (region.right() - w, region.back() - d);
    if last_x < region.x || last_y < region.y {
        return 1;
    }
    let around: Vec<(Rect, Days)> = around.iter().map(|&(rect, days)| (flip(rect), days)).collect();
    let mut xs: Vec<i64> = around.iter().map(|(rect, _)| rect.right()).collect();
    xs.retain(|&x| region.x < x && x <= last_x);
    xs.push(region.x);
    xs.sort_unstable();
    xs.dedup();
    let mut work = 1;
    let mut blocked: Vec<(i64, i64)> = Vec::new();
    for x in xs {
        blocked.clear();
        for (rect, days) in &around {
            if rect.right() <= x || x + w <= rect.x {
                continue;
            }
            for phase in job.phases.iter().filter(|phase| phase.days.overlaps(*days)) {
                let (w, d) = if turned == swap { (phase.w, phase.d) } else { (phase.d, phase.w) };
                if rect.x < x + w {
                    blocked.push((rect.y - d, rect.back()));
                }
            }
        }
        work += around.len() as u64 + 4 * blocked.len() as u64;
        blocked.sort_unstable();
        let mut y = region.y;
        for &(before, after) in &blocked {
            let end = before.min(last_y);
            if y <= end && (take(x, y) || (end > y && take(x, end))) {
                return work;
            }
            y = y.max(after);
            if y > last_y {
                break;
            }
        }
        if y <= last_y && (take(x, y) || (last_y > y && take(x, last_y))) {
            return work;
        }
    }
    work
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::place::jobs::Lattices;
    use crate::fit::samples::{shelves, tray, whole};
    use crate::fit::{Item, Phase as Shape};

    fn jobs(items: &[Item]) -> Jobs {
        let all = Days::new(i32::MIN, i32::MAX);
        let list = items.iter().enumerate().filter_map(|(n, item)| Job::new(n, item, all)).collect();
        Jobs::new(list, &mut Lattices::default())
    }

    const fn at(x: i64, y: i64, turned: bool) -> Spot {
        Spot { shelf: 0, x, y, turned }
    }

    #[test]
    fn the_only_gap_is_found_by_every_rule() {
        let shelf = whole(&[(5, 4)]);
        let items = [tray(0, 9, 3, 4, &shelf), tray(0, 9, 2, 1, &shelf), tray(0, 9, 3, 2, &shelf)];
        let jobs = jobs(&items);
        for rule in [Rule::Lattice, Rule::Left, Rule::Front, Rule::Touch] {
            let mut board = Board::new(&jobs, &[const { Shelf { load: None, cover: None } }]);
            board.place(0, at(0, 0, false));
            board.place(1, at(3, 0, false));
            assert_eq!(board.find(2, rule, Prefer::Given), Some(at(3, 1, true)), "{rule:?}");
        }
    }

    #[test]
    fn ground_is_free_again_once_a_tray_is_taken_away() {
        let shelf = whole(&[(2, 2)]);
        let jobs = jobs(&[tray(0, 9, 2, 2, &shelf), tray(3, 5, 2, 2, &shelf), tray(9, 12, 2, 2, &shelf)]);
        let shelves = shelves(1);
        let mut board = Board::new(&jobs, &shelves);
        board.place(0, at(0, 0, false));
        assert_eq!(board.find(1, Rule::Left, Prefer::Given), None);
        assert_eq!(board.find(2, Rule::Left, Prefer::Given), Some(at(0, 0, false)));
        board.remove(0);
        assert_eq!(board.find(1, Rule::Left, Prefer::Given), Some(at(0, 0, false)));
    }

    #[test]
    fn a_tray_that_will_be_spaced_out_needs_the_room_only_then() {
        let shelf = whole(&[(4, 1)]);
        let mut grows = tray(0, 5, 2, 1, &shelf);
        grows.phases.push(Shape { days: Days::new(5, 9), w: 4, d: 1, grams: 1 });
        let jobs = jobs(&[grows, tray(0, 5, 2, 1, &shelf), tray(0, 6, 2, 1, &shelf)]);
        let shelves = shelves(1);
        let mut board = Board::new(&jobs, &shelves);
        let spot = board.find(0, Rule::Left, Prefer::Given);
        assert_eq!(spot, Some(at(0, 0, false)));
        board.place(0, at(0, 0, false));
        assert_eq!(board.find(1, Rule::Left, Prefer::Given), Some(at(2, 0, false)));
        assert_eq!(board.find(2, Rule::Left, Prefer::Given), None);
    }

    #[test]
    fn load_is_counted_on_each_day_and_who_leaves_makes_room_that_day() {
        let shelf = whole(&[(9, 9)]);
        let jobs = jobs(&[
            tray(0, 3, 1, 1, &shelf),
            tray(3, 6, 1, 1, &shelf),
            tray(0, 6, 1, 1, &shelf),
            tray(2, 4, 1, 1, &shelf),
        ]);
        let shelves = [Shelf { load: Some(2), cover: None }];
        let mut board = Board::new(&jobs, &shelves);
        board.place(0, at(0, 0, false));
        board.place(1, at(0, 0, false));
        assert!(board.within_limits(2, 0));
        board.place(2, at(1, 1, false));
        assert!(!board.within_limits(3, 0));
    }
}
