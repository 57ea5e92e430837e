//! The answer to a part of which most was asked before: whoever stood stays where it was.
//!
//! What takes no more than what it replaces goes where that went. What else is new is put beside those that stand, or,
//! in a [`nook`](super::nook) of a few shelves, in their place where they
//! find another. Days on which the same items want a spot as before keep what is known of them. A day that changed is
//! proven anew, unless nothing can be: nothing could before, and no more is on it.
//! Of a few items, a day that was settled is settled again, or the answer is none: then all is to be solved anew.

use std::collections::BTreeSet;

use super::moves::STANDS;
use super::nook::{Moved, Nook, Standing, within};
use super::one_part::verdict_of;
use super::pairs::Pairs;
use crate::fit::answer::{Answer, DayVerdict, Layout, Verdict};
use crate::fit::check::faults;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::Attempt;
use crate::fit::problem::{Days, Item, Phase, Problem, Spot};
use crate::fit::proof::prover::Prover;
use crate::fit::work::{Cancel, Cancelled};

/// One of so many parts of what may be spent goes to making room, and no more than that of what solving all took.
const MOST_ROOM: u64 = 32;
const ROOM: u64 = 20;
/// Room is made for no more at a time.
const MOST_WAITING: usize = 48;
/// A season that was settled is solved anew before a day of it is left open, if there are no more items than this.
const MOST_ANEW: usize = 400;

/// A question and its answer.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) problem: &'a Problem,
    pub(super) answer: &'a Answer,
    /// The work that it took to solve all of it, before any edit.
    pub(super) whole: u64,
}

/// `None` where a day of a small season that was settled would not be, or one that did not change would be worse.
pub(super) fn solve_edited(
    before: Asked<'_>,
    pairs: &Pairs,
    problem: &Problem,
    budget: u64,
    prover: &mut Prover,
    cancel: &Cancel,
) -> Result<Option<Answer>, Cancelled> {
    let changed = Changed::of(before.problem, problem, pairs);
    let stays = Stays::of(before, pairs, problem);
    cancel.check()?;
    let mut lattices = Lattices::new(cancel);
    let jobs = stays.jobs(&mut lattices);
    cancel.check()?;
    let attempt = Attempt { jobs: &jobs, shelves: &problem.shelves, enough: 0, budget, cancel };
    let days = Known::days(before, &stays, &changed);
    let whole = before.whole;
    let mut edit = Edit { stays: &stays, changed: &changed, days: &days, prover, work: 0, whole };
    let beside = edit.beside(attempt)?;
    if jobs.list.iter().zip(&beside).any(|(job, spot)| spot.is_none() && stays.goes_on(job.item)) {
        return Ok(None);
    }
    let layout = edit.make_room(attempt, &beside, &mut lattices)?;
    cancel.check()?;
    let to_settle =
        problem.items.len() <= MOST_ANEW && before.answer.days.iter().all(|run| run.verdict != Verdict::Unsettled);
    let mut known = Vec::new();
    for (day, waiting) in days.iter().zip(edit.waiting(&layout)) {
        cancel.check()?;
        let Some(found) = edit.verdict(day, waiting).filter(|found| !to_settle || found.verdict != Verdict::Unsettled)
        else {
            return Ok(None);
        };
        known.push(found);
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
    changed: &'a Changed<'a>,
    days: &'a [Known<'a>],
    prover: &'a mut Prover,
    /// What it took, and what solving all of it took.
    work: u64,
    whole: u64,
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
        let mut left = stays.left.clone();
        let mut out = Vec::new();
        for number in order {
            cancel.check()?;
            let Some(job) = jobs.list.get(number) else { continue };
            if let Some(pinned) = job.pinned {
                left.insert(pinned.shelf);
                out.extend(make_way(&mut board, number, pinned));
                continue;
            }
            let known = job.wish.into_iter().chain(stays.hint(job.item)).find(|&spot| board.admits(number, spot));
            let spot = known.or_else(|| {
                if stays.is_new(job.item) {
                    return board.find(number, Rule::Lattice, Prefer::Scarce);
                }
                // whoever waited before finds room where somebody went
                left.iter().find_map(|&shelf| board.find_on(number, shelf, Rule::Lattice))
            });
            if let Some(spot) = spot {
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

    /// On a few shelves, puts others out and moves some, where too many wait.
    fn make_room(
        &mut self,
        attempt: Attempt<'_>,
        beside: &[Option<Spot>],
        lattices: &mut Lattices,
    ) -> Result<Layout, Cancelled> {
        let stays = self.stays;
        let mut layout = stays.layout(attempt.jobs, beside);
        let wait = self.waiting(&layout);
        let worse = self.too_many_wait(&wait);
        let known = |at: &usize| self.days.get(*at);
        let (Some(first), Some(last)) = (worse.first().and_then(known), worse.last().and_then(known)) else {
            return Ok(layout);
        };
        let days = Days::new(first.days.from, last.days.until);
        let spots = stays.spots(attempt.jobs, beside);
        let waits = |&stay: &usize| {
            let days = stays.problem.items.get(stay).map_or(Days::new(0, 0), Item::days);
            let worse = || worse.iter().filter_map(known).any(|known| known.days.overlaps(days));
            spots.get(stay) == Some(&None) && worse()
        };
        let mut waiting: Vec<usize> = (0..spots.len()).filter(waits).collect();
        // those that waited before would be in the way of those that the edit has brought
        if waiting.iter().any(|&stay| stays.is_new(stay) || stays.spot(stay).is_some()) {
            waiting.retain(|&stay| stays.is_new(stay) || stays.spot(stay).is_some());
        }
        waiting.truncate(MOST_WAITING);
        let nook = Nook::of(stays.standing(&spots), &waiting, days);
        let may_wait = |day: i32, in_nook: usize| {
            let at = self.days.partition_point(|known| known.days.until <= day);
            let (Some(known), Some(&all)) = (self.days.get(at), wait.get(at)) else { return in_nook as u64 };
            let most = if worse.binary_search(&at).is_ok() { known.may_wait() } else { all as u64 };
            (most + in_nook as u64).saturating_sub(all as u64)
        };
        let share = (attempt.budget / MOST_ROOM).min(self.whole / ROOM);
        let (found, work) = nook.make_room(may_wait, lattices, share, attempt.cancel)?;
        self.work += work;
        let before = put(&mut layout, found);
        let other = self.waiting(&layout);
        if self.harms(&other) || self.open(&other) >= self.open(&wait) {
            put(&mut layout, before);
        }
        Ok(layout)
    }

    /// The runs of days on which too many wait, and how many wait on all that changed.
    fn open(&self, waiting: &[usize]) -> (usize, usize) {
        let changed = self.days.iter().zip(waiting).filter(|(known, _)| known.changed);
        changed.fold((0, 0), |(runs, sum), (known, &waiting)| {
            (runs + usize::from(waiting as u64 > known.may_wait()), sum + waiting)
        })
    }

    /// What is known of a run of days now that so many wait; `None` if less than before.
    fn verdict(&mut self, known: &Known<'_>, waiting: usize) -> Option<DayVerdict> {
        let (stays, days) = (self.stays, known.days);
        let most = i64::try_from(waiting).unwrap_or(i64::MAX);
        if let Some(was) = known.was.filter(|_| !known.changed && waiting > 0) {
            let kept = DayVerdict { days, short_most: was.short_most.min(most), ..was.clone() };
            return (was.verdict != Verdict::Fits).then(|| stays.before_now(kept));
        }
        if waiting > 0 && known.bears_no_proof(self.changed) {
            return Some(DayVerdict { days, verdict: Verdict::Unsettled, short_least: 0, short_most: most });
        }
        Some(stays.now(verdict_of(&stays.problem, days, known.most_out(waiting, self.changed), self.prover)))
    }

    fn waiting(&self, layout: &Layout) -> Vec<usize> {
        let days: Vec<i32> = self.days.iter().map(|known| known.days.from).collect();
        layout.without_spot(&self.stays.problem, &days)
    }

    /// The runs of days on which more wait than must and than did, by number.
    fn too_many_wait(&mut self, waiting: &[usize]) -> Vec<usize> {
        let mut runs = Vec::new();
        for (at, (known, &waiting)) in self.days.iter().zip(waiting).enumerate() {
            let waiting = waiting as u64;
            if waiting > known.may_wait() && waiting > known.short(self.changed, self.stays, self.prover) {
                runs.push(at);
            }
        }
        runs
    }

    /// Whether more wait than did on a day that did not change.
    fn harms(&self, waiting: &[usize]) -> bool {
        self.days.iter().zip(waiting).any(|(known, &waiting)| !known.changed && waiting as u64 > known.waited)
    }
}

/// Gives some other spots; says which they had.
fn put(layout: &mut Layout, moved: Moved) -> Moved {
    let put = |(stay, spots): (usize, Vec<(i32, Spot)>)| {
        let slot = layout.spots.get_mut(stay)?;
        Some((stay, std::mem::replace(slot, spots)))
    };
    moved.into_iter().filter_map(put).collect()
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

/// All that came, went or became another, and their days.
struct Changed<'a> {
    days: Vec<Days>,
    new: Vec<&'a Item>,
    gone: Vec<&'a Item>,
}

impl<'a> Changed<'a> {
    fn of(before: &'a Problem, after: &'a Problem, pairs: &Pairs) -> Self {
        let new = after.items.iter().zip(&pairs.before).filter(|(_, before)| before.is_none()).map(|(item, _)| item);
        let new: Vec<&Item> = new.collect();
        let gone: Vec<&Item> = pairs.gone.iter().filter_map(|&number| before.items.get(number)).collect();
        let mut days: Vec<Days> =
            new.iter().chain(&gone).map(|item| item.days()).filter(|days| days.from < days.until).collect();
        days.sort_unstable();
        let mut joined: Vec<Days> = Vec::new();
        for next in days {
            match joined.last_mut() {
                Some(last) if next.from <= last.until => last.until = last.until.max(next.until),
                _ => joined.push(next),
            }
        }
        Self { days: joined, new, gone }
    }

    /// So many came on a day other than in the place of something as large or larger that went. If none did, what can be
    /// proven of the day could have been before.
    fn more(&self, day: i32) -> usize {
        let on_day = |item: &&'a Item| Some((*item.phase_on(day)?, *item));
        let mut gone: Vec<(Phase, &Item)> = self.gone.iter().filter_map(on_day).collect();
        let more = self.new.iter().filter_map(on_day).filter(|(phase, item)| {
            let in_place = |(was, gone): &(Phase, &Item)| {
                let larger = phase.w <= was.w && phase.d <= was.d && phase.grams <= was.grams;
                larger && item.pinned == gone.pinned && item.regions == gone.regions
            };
            gone.iter().position(in_place).map(|at| gone.swap_remove(at)).is_none()
        });
        more.count()
    }

    fn touches(&self, days: Days) -> bool {
        self.days.iter().any(|changed| changed.overlaps(days))
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
    fn days(before: Asked<'a>, stays: &Stays, changed: &Changed<'_>) -> Vec<Self> {
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

    /// Nothing could be proven of it, and nothing has come that takes more than what went: nothing can be now.
    fn bears_no_proof(&self, changed: &Changed<'_>) -> bool {
        let open = self.was.is_some_and(|run| !matches!(run.verdict, Verdict::Crunch(_)));
        open && changed.more(self.days.from) == 0
    }

    /// No more need be left out than before, and whoever came.
    fn most_out(&self, waiting: usize, changed: &Changed<'_>) -> usize {
        let before = self.was.and_then(|run| usize::try_from(run.short_most).ok());
        before.map_or(waiting, |before| waiting.min(before + changed.more(self.days.from)))
    }

    /// So many must wait, as far as is soon known.
    fn short(&self, changed: &Changed<'_>, stays: &Stays, prover: &mut Prover) -> u64 {
        if !self.changed {
            return self.waited;
        }
        if self.bears_no_proof(changed) {
            return 0;
        }
        u64::try_from(prover.day(&stays.problem, self.days.from).short).unwrap_or(0)
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
    /// Shelves on which something stood that is gone.
    left: BTreeSet<usize>,
}

impl Stays {
    fn of(Asked { problem: asked, answer: before, .. }: Asked<'_>, pairs: &Pairs, problem: &Problem) -> Self {
        let mut stays = Self {
            problem: Problem { shelves: problem.shelves.clone(), items: Vec::with_capacity(problem.items.len()) },
            of: Vec::new(),
            spots: Vec::new(),
            hints: Vec::new(),
            new: Vec::new(),
            goes_on: Vec::new(),
            now_of: vec![None; before.layout.spots.len()],
            left: BTreeSet::new(),
        };
        let gone = pairs.gone.iter().filter_map(|&number| before.layout.spots.get(number)).flatten();
        stays.left.extend(gone.map(|(_, spot)| spot.shelf));
        for (number, item) in problem.items.iter().enumerate() {
            let was = pairs.before.get(number).copied().flatten();
            let spots_of = |was: usize| before.layout.spots.get(was).map_or(&[][..], Vec::as_slice);
            let Some(was) = was else {
                let like = pairs.like.get(number).copied().flatten();
                let stands_for = |&like: &usize| asked.items.get(like).is_some_and(|gone| is_less(item, gone));
                let spots = like.filter(stands_for).map(|gone| on_days(item.days(), spots_of(gone)));
                if let Some(spots) =
                    spots.filter(|spots| spots.first().is_some_and(|first| first.0 == item.days().from))
                {
                    stays.push_spots(number, item, &spots);
                    continue;
                }
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

    fn standing<'a>(&'a self, spots: &'a [Option<Spot>]) -> Standing<'a> {
        Standing { problem: &self.problem, spots, goes_on: &self.goes_on }
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

/// Whether an item finds room wherever another stood, and on no other days.
fn is_less(item: &Item, gone: &Item) -> bool {
    let within = |phase: &Phase| {
        let meets = |was: &&Phase| was.days.overlaps(phase.days);
        gone.phases.iter().filter(meets).all(|was| phase.w <= was.w && phase.d <= was.d && phase.grams <= was.grams)
    };
    let (own, theirs) = (item.days(), gone.days());
    let ever = Days::new(i32::MIN, i32::MAX);
    (item.pinned, item.wish) == (gone.pinned, gone.wish)
        && theirs.from <= own.from
        && own.until <= theirs.until
        && item.phases.iter().all(within)
        && Job::new(0, item, ever).is_some()
        && item.regions == gone.regions
}

/// The spots that matter on some days, the first of them from no earlier than those.
fn on_days(days: Days, spots: &[(i32, Spot)]) -> Vec<(i32, Spot)> {
    let until = |at: usize| spots.get(at + 1).map_or(i32::MAX, |next| next.0);
    let here = spots.iter().enumerate().filter(|&(at, &(from, _))| from < days.until && days.from < until(at));
    here.map(|(_, &(from, spot))| (from.max(days.from), spot)).collect()
}

fn with_items(mut found: DayVerdict, of: impl Fn(usize) -> Option<usize>) -> DayVerdict {
    if let Verdict::Crunch(bound) = &mut found.verdict {
        bound.items = bound.items.iter().filter_map(|&item| of(item)).collect();
        bound.items.sort_unstable();
    }
    found
}
