//! The answer to a part of which most was asked before: whoever stood stays where it was.
//!
//! What is new is put beside those that stand, or in their place where they find another; days on which the same
//! items want a spot as before keep what is known of them. A day that was settled is settled again, or the answer is
//! none: then all is to be solved anew.

use super::moves::{STANDS, Walk};
use super::one_part::verdict_of;
use super::pairs::Pairs;
use crate::fit::answer::{Answer, DayVerdict, Layout, Verdict};
use crate::fit::check::faults;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::ejection::{STIRRED, eject};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::Attempt;
use crate::fit::place::press::press;
use crate::fit::problem::{Days, Item, Phase, Problem, Spot};
use crate::fit::proof::prover::Prover;
use crate::fit::work::{Cancel, Cancelled, Progress};

/// One of so many parts of all work goes to putting others out, with spots drawn and with spots weighed, and to moves.
const DRAWN: u64 = 64;
const WEIGHED: u64 = 16;
const MOVED: u64 = 8;
/// Moves are looked for on no more days than this.
const MOST_WALKED: usize = 48;

/// A question and its answer.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) problem: &'a Problem,
    pub(super) answer: &'a Answer,
}

/// `None` where a day of a season that was settled would not be, or one that did not change would be worse.
pub(super) fn solve_edited(
    before: Asked<'_>,
    pairs: &Pairs,
    problem: &Problem,
    budget: u64,
    prover: &mut Prover,
    cancel: &Cancel,
) -> Result<Option<Answer>, Cancelled> {
    let changed = Changed::of(before.problem, problem, pairs);
    let stays = Stays::of(before.answer, pairs, problem);
    cancel.check()?;
    let mut lattices = Lattices::new(cancel);
    let jobs = stays.jobs(&mut lattices);
    cancel.check()?;
    let attempt = Attempt { jobs: &jobs, shelves: &problem.shelves, enough: 0, budget, cancel };
    let days = Known::days(before, &stays, &changed);
    let mut edit = Edit { stays: &stays, changed: &changed, days: &days, prover, work: 0 };
    let beside = edit.beside(attempt)?;
    if jobs.list.iter().zip(&beside).any(|(job, spot)| spot.is_none() && stays.goes_on(job.item)) {
        return Ok(None);
    }
    let settled = before.answer.days.iter().all(|run| run.verdict != Verdict::Unsettled);
    let layout = edit.make_room(attempt, beside, &mut lattices)?;
    cancel.check()?;
    let mut known = Vec::new();
    for (day, waiting) in days.iter().zip(edit.waiting(&layout)) {
        cancel.check()?;
        let Some(verdict) = day.verdict(&stays, waiting, edit.prover, settled) else { return Ok(None) };
        known.push(verdict);
    }
    let work = edit.work;
    let layout = stays.joined(problem, &layout);
    let found = faults(problem, &layout, cancel)?;
    debug_assert!(found.is_empty(), "an edit made a faulty layout: {found:?}");
    cancel.check()?;
    Ok(found.is_empty().then_some(Answer { layout, days: known, work }))
}

/// What an edit is known to change, while a layout is made for it.
struct Edit<'a> {
    stays: &'a Stays,
    changed: &'a Changed,
    days: &'a [Known<'a>],
    prover: &'a mut Prover,
    work: u64,
}

impl Edit<'_> {
    /// Puts what has no spot on days that have changed beside what stands: first what is pinned, where whoever stood
    /// there makes way, then what is new, then who waits.
    fn beside(&self, attempt: Attempt<'_>) -> Result<Vec<Option<Spot>>, Cancelled> {
        let Attempt { jobs, shelves, cancel, .. } = attempt;
        let stays = self.stays;
        let start: Vec<Option<Spot>> = jobs.list.iter().map(|job| stays.spot(job.item)).collect();
        let mut board = Board::with(jobs, shelves, &start);
        let mut order: Vec<usize> = (0..jobs.list.len()).filter(|&number| board.spot(number).is_none()).collect();
        order.retain(|&number| jobs.list.get(number).is_some_and(|job| self.changed.touches(job.days())));
        order.sort_by_cached_key(|&number| {
            let job = jobs.list.get(number);
            job.map(|job| (!job.fixed, !stays.is_new(job.item), job.days().from, job.regions.len(), -job.area()))
        });
        let mut out = Vec::new();
        for number in order {
            cancel.check()?;
            let Some(job) = jobs.list.get(number) else { continue };
            if let Some(pinned) = job.pinned {
                out.extend(make_way(&mut board, number, pinned));
                continue;
            }
            let known = job.wish.into_iter().chain(stays.hint(job.item)).find(|&spot| board.admits(number, spot));
            if let Some(spot) = known.or_else(|| board.find(number, Rule::Lattice, Prefer::Scarce)) {
                board.place(number, spot);
            }
        }
        for number in out {
            if let Some(spot) = board.find(number, Rule::Lattice, Prefer::Scarce) {
                board.place(number, spot);
            }
        }
        Ok(board.spots().to_vec())
    }

    /// Puts others out, and then moves some, where too many wait.
    fn make_room(
        &mut self,
        attempt: Attempt<'_>,
        beside: Vec<Option<Spot>>,
        lattices: &mut Lattices,
    ) -> Result<Layout, Cancelled> {
        let Attempt { jobs, budget, cancel, .. } = attempt;
        let stays = self.stays;
        let layout = stays.layout(jobs, &beside);
        if self.too_many_wait(&layout).is_empty() {
            return Ok(layout);
        }
        let attempt = Attempt { enough: self.unavoidable(jobs, &beside), ..attempt };
        cancel.check()?;
        let found = eject(attempt.with_budget(budget / DRAWN), &beside, STIRRED)?;
        self.work += found.work;
        let found = press(attempt.with_budget(budget / WEIGHED), &found.spots, 1)?;
        self.work += found.work;
        let pressed = stays.layout(jobs, &found.spots);
        let (spots, layout) = if self.harms(&pressed) { (beside, layout) } else { (found.spots, pressed) };
        let worse = self.too_many_wait(&layout);
        let Some(&first) = worse.first().filter(|_| worse.len() <= MOST_WALKED) else { return Ok(layout) };
        cancel.check()?;
        let share = budget / MOVED;
        let walk = Walk::new(&stays.problem, stays.spots(jobs, &spots), self.prover, lattices, share, cancel);
        let days: Vec<(i32, u64)> = self.days.iter().map(|known| (known.days.from, known.may_wait())).collect();
        let days = days.get(days.partition_point(|&(day, _)| day < first)..).unwrap_or_default();
        let (moved, left) = walk.with_rests(stays.goes_on.clone()).run_on(days, true, &Progress::default())?;
        self.work += share - left;
        Ok(if self.harms(&moved) { layout } else { moved })
    }

    fn waiting(&self, layout: &Layout) -> Vec<usize> {
        let days: Vec<i32> = self.days.iter().map(|known| known.days.from).collect();
        layout.without_spot(&self.stays.problem, &days)
    }

    /// The days on which more wait than must and than did.
    fn too_many_wait(&mut self, layout: &Layout) -> Vec<i32> {
        let mut days = Vec::new();
        for (known, waiting) in self.days.iter().zip(self.waiting(layout)) {
            let waiting = waiting as u64;
            if waiting > known.may_wait() && waiting > known.short(self.stays, self.prover) {
                days.push(known.days.from);
            }
        }
        days
    }

    /// Whether more wait than did on a day that did not change.
    fn harms(&self, layout: &Layout) -> bool {
        let waiting = self.waiting(layout);
        self.days.iter().zip(waiting).any(|(known, waiting)| !known.changed && waiting as u64 > known.waited)
    }

    /// So many jobs must wait, whatever is found.
    fn unavoidable(&mut self, jobs: &Jobs, spots: &[Option<Spot>]) -> u64 {
        let waits = |(job, spot): &(&Job, &Option<Spot>)| spot.is_none() && !self.changed.touches(job.days());
        let elsewhere = jobs.list.iter().zip(spots).filter(waits).count() as u64;
        let changed = self.days.iter().filter(|known| known.changed);
        elsewhere + changed.map(|known| known.short(self.stays, self.prover)).max().unwrap_or(0)
    }
}

/// Puts something pinned at its spot; says who had to go.
fn make_way(board: &mut Board<'_>, number: usize, pinned: Spot) -> Vec<usize> {
    let out: Vec<(usize, Spot)> =
        board.conflicts(number, pinned).into_iter().filter_map(|other| Some((other, board.spot(other)?))).collect();
    if out.iter().any(|&(other, _)| board.jobs().get(other).is_none_or(|job| job.fixed)) {
        return Vec::new();
    }
    for &(other, _) in &out {
        board.remove(other);
    }
    if board.admits(number, pinned) {
        board.place(number, pinned);
        return out.into_iter().map(|(other, _)| other).collect();
    }
    for (other, spot) in out {
        board.place(other, spot);
    }
    Vec::new()
}

/// The days of all that came, went or became another.
struct Changed(Vec<Days>);

impl Changed {
    fn of(before: &Problem, after: &Problem, pairs: &Pairs) -> Self {
        let new = after.items.iter().zip(&pairs.before).filter(|(_, before)| before.is_none()).map(|(item, _)| item);
        let gone = pairs.gone.iter().filter_map(|&number| before.items.get(number));
        let mut days: Vec<Days> = new.chain(gone).map(Item::days).filter(|days| days.from < days.until).collect();
        days.sort_unstable();
        let mut joined: Vec<Days> = Vec::new();
        for next in days {
            match joined.last_mut() {
                Some(last) if next.from <= last.until => last.until = last.until.max(next.until),
                _ => joined.push(next),
            }
        }
        Self(joined)
    }

    fn touches(&self, days: Days) -> bool {
        self.0.iter().any(|changed| changed.overlaps(days))
    }
}

/// What was known of days on which nothing changes.
struct Known<'a> {
    days: Days,
    changed: bool,
    was: Option<&'a DayVerdict>,
    /// So many had no spot.
    waited: u64,
}

impl<'a> Known<'a> {
    fn days(before: Asked<'a>, stays: &Stays, changed: &Changed) -> Vec<Self> {
        let bounds = stays.problem.change_days();
        let waited = before.answer.layout.without_spot(before.problem, &bounds);
        let mut was = before.answer.days.iter().peekable();
        let mut known = Vec::new();
        for ((&from, &until), waited) in bounds.iter().zip(bounds.iter().skip(1)).zip(waited) {
            while was.next_if(|run| run.days.until <= from).is_some() {}
            let days = Days::new(from, until);
            let was = was.peek().copied().filter(|run| run.days.contains(from));
            known.push(Self { days, changed: changed.touches(days), was, waited: waited as u64 });
        }
        known
    }

    fn was_open(&self) -> bool {
        self.was.is_some_and(|run| run.verdict == Verdict::Unsettled)
    }

    /// So many may wait, as they did before.
    fn may_wait(&self) -> u64 {
        if !self.changed || self.was_open() { self.waited } else { 0 }
    }

    /// So many must wait, as far as is soon known.
    fn short(&self, stays: &Stays, prover: &mut Prover) -> u64 {
        if !self.changed {
            return self.waited;
        }
        u64::try_from(prover.day(&stays.problem, self.days.from).short).unwrap_or(0)
    }

    /// What is known now that so many wait; `None` if less than before.
    fn verdict(&self, stays: &Stays, waiting: usize, prover: &mut Prover, settled: bool) -> Option<DayVerdict> {
        match self.was {
            Some(was) if !self.changed && waiting > 0 => {
                let most = was.short_most.min(i64::try_from(waiting).unwrap_or(i64::MAX));
                let kept = DayVerdict { days: self.days, short_most: most, ..was.clone() };
                (was.verdict != Verdict::Fits).then(|| stays.before_now(kept))
            }
            _ => {
                let found = verdict_of(&stays.problem, self.days, waiting, prover);
                (!settled || found.verdict != Verdict::Unsettled).then(|| stays.now(found))
            }
        }
    }
}

/// All items as they stood: whoever moved is one for each of its spots.
struct Stays {
    problem: Problem,
    /// The item that each is of.
    of: Vec<usize>,
    spots: Vec<Option<Spot>>,
    hints: Vec<Option<Spot>>,
    new: Vec<bool>,
    /// The rest of a stay that has begun at another spot.
    goes_on: Vec<bool>,
    /// By items of before, those of now.
    now_of: Vec<Option<usize>>,
}

impl Stays {
    fn of(before: &Answer, pairs: &Pairs, problem: &Problem) -> Self {
        let mut stays = Self {
            problem: Problem { shelves: problem.shelves.clone(), items: Vec::with_capacity(problem.items.len()) },
            of: Vec::new(),
            spots: Vec::new(),
            hints: Vec::new(),
            new: Vec::new(),
            goes_on: Vec::new(),
            now_of: vec![None; before.layout.spots.len()],
        };
        for (number, item) in problem.items.iter().enumerate() {
            let was = pairs.before.get(number).copied().flatten();
            let spots_of = |was: usize| before.layout.spots.get(was).map_or(&[][..], Vec::as_slice);
            let Some(was) = was else {
                let like = pairs.like.get(number).copied().flatten();
                let hint = like.and_then(|like| spots_of(like).first()).map(|&(_, spot)| spot);
                stays.push(number, item.clone(), None, hint, (true, false));
                continue;
            };
            if let Some(now) = stays.now_of.get_mut(was) {
                *now = Some(number);
            }
            stays.push_spots(number, item, spots_of(was));
        }
        stays
    }

    fn push_spots(&mut self, number: usize, item: &Item, spots: &[(i32, Spot)]) {
        let days = item.days();
        let Some(&(first, spot)) = spots.first() else {
            self.push(number, item.clone(), None, None, (false, false));
            return;
        };
        if let [_] = spots
            && first == days.from
        {
            self.push(number, item.clone(), Some(spot), None, (false, false));
            return;
        }
        if days.from < first {
            self.push(number, within(item, Days::new(days.from, first)), None, Some(spot), (false, false));
        }
        for (at, &(from, spot)) in spots.iter().enumerate() {
            let until = spots.get(at + 1).map_or(days.until, |next| next.0);
            self.push(number, within(item, Days::new(from, until)), Some(spot), None, (false, days.from < from));
        }
    }

    fn push(
        &mut self,
        number: usize,
        item: Item,
        spot: Option<Spot>,
        hint: Option<Spot>,
        (new, goes_on): (bool, bool),
    ) {
        self.problem.items.push(item);
        self.of.push(number);
        self.spots.push(spot);
        self.hints.push(hint);
        self.new.push(new);
        self.goes_on.push(goes_on);
    }

    fn jobs(&self, lattices: &mut Lattices) -> Jobs {
        let ever = Days::new(i32::MIN, i32::MAX);
        let mut list: Vec<Job> =
            self.problem.items.iter().enumerate().filter_map(|(at, item)| Job::new(at, item, ever)).collect();
        for job in &mut list {
            if self.goes_on(job.item) {
                job.weight = STANDS;
            }
        }
        Jobs::new(list, lattices)
    }

    fn spot(&self, stay: usize) -> Option<Spot> {
        self.spots.get(stay).copied().flatten()
    }

    fn hint(&self, stay: usize) -> Option<Spot> {
        self.hints.get(stay).copied().flatten()
    }

    fn goes_on(&self, stay: usize) -> bool {
        self.goes_on.get(stay) == Some(&true)
    }

    fn is_new(&self, stay: usize) -> bool {
        self.new.get(stay) == Some(&true)
    }

    /// Spots of jobs by stay.
    fn spots(&self, jobs: &Jobs, of_jobs: &[Option<Spot>]) -> Vec<Option<Spot>> {
        let mut spots = vec![None; self.of.len()];
        for (job, &spot) in jobs.list.iter().zip(of_jobs) {
            if let Some(slot) = spots.get_mut(job.item) {
                *slot = spot;
            }
        }
        spots
    }

    fn layout(&self, jobs: &Jobs, of_jobs: &[Option<Spot>]) -> Layout {
        let spots = self.spots(jobs, of_jobs);
        let first =
            |(item, spot): (&Item, Option<Spot>)| spot.map(|spot| (item.days().from, spot)).into_iter().collect();
        Layout { spots: self.problem.items.iter().zip(spots).map(first).collect() }
    }

    /// The layout of the items, each with the spots of all its stays.
    fn joined(&self, problem: &Problem, layout: &Layout) -> Layout {
        let mut joined = Layout { spots: vec![Vec::new(); problem.items.len()] };
        for (&item, spots) in self.of.iter().zip(&layout.spots) {
            let Some(all) = joined.spots.get_mut(item) else { continue };
            for &(from, spot) in spots {
                if all.last().is_none_or(|&(_, last)| last != spot) {
                    all.push((from, spot));
                }
            }
        }
        joined
    }

    /// A verdict on stays, about their items.
    fn now(&self, found: DayVerdict) -> DayVerdict {
        with_items(found, |stay| self.of.get(stay).copied())
    }

    /// A verdict on items of before, about those that they are now.
    fn before_now(&self, found: DayVerdict) -> DayVerdict {
        with_items(found, |item| self.now_of.get(item).copied().flatten())
    }
}

fn with_items(mut found: DayVerdict, of: impl Fn(usize) -> Option<usize>) -> DayVerdict {
    if let Verdict::Crunch(bound) = &mut found.verdict {
        bound.items = bound.items.iter().filter_map(|&item| of(item)).collect();
        bound.items.sort_unstable();
    }
    found
}

/// An item on some of its days alone.
fn within(item: &Item, days: Days) -> Item {
    let cut = |phase: &Phase| {
        let days = Days::new(phase.days.from.max(days.from), phase.days.until.min(days.until));
        (days.from < days.until).then_some(Phase { days, ..*phase })
    };
    Item { phases: item.phases.iter().filter_map(cut).collect(), ..item.clone() }
}
