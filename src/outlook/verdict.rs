//! From a layout and its proofs to verdicts by day, crunches and problems.

use std::collections::{BTreeMap, BTreeSet};
use std::num::NonZero;
use std::rc::Rc;

use chrono::NaiveDate;

use crate::fit::{self, Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Problem, Stay};
use crate::season::{CropKey, GuestId, Season, SowingId, TrayKey};
use crate::trade::Bears;
use crate::units::DateSpan;

use super::answer::{Crunch, Effort, Keep, Outlook, PoolKind, ProblemHash, Proven, ShortOn, Verdict, Week};
use super::light::{OverLit, beyond_lamps};
use super::question::{Joined, Question, ask, date_of, day_number};
use super::room::{NoGround, Room};
use super::run::Run;
use super::shortage::{OfPool, Shortage};
use super::stay_put::pin_what_stands;
use super::view::View;
use super::weeks::Lamps;

/// Holds the season's needs against its shelves.
///
/// What `memory` holds of questions asked before makes the answer come sooner, and leaves trays where they stood in the
/// layout; what of the verdicts may hang on it is said there.
///
/// Judges what could stand where, not where things stand now: [`super::layout_problems`] does that.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn look_ahead(
    season: &Season,
    forecast: &Forecast,
    keep: Keep,
    effort: Effort,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Outlook, Cancelled> {
    let room = Room::of(season);
    let found = match keep {
        Keep::Spots => tidy(season, forecast, &room, effort, memory, progress, cancel)?,
        Keep::Pinned => solved(season, forecast, &room, (keep, effort), memory, progress, cancel)?,
    };
    let Solved { problem, question, answer } = found;
    let view = View::new(season, forecast, &room, &question, &answer);
    let (mut runs, mut lamps) = (Vec::new(), Lamps::default());
    for run in &answer.days {
        cancel.check()?;
        for days in view.cuts(run.days) {
            view.judge(run, days, &mut lamps, &mut runs);
        }
    }
    let weeks = view.weeks(&runs, cancel)?;
    let crunches = view.crunches(&runs);
    let verdict = runs.iter().map(|run| run.verdict).max().unwrap_or(Verdict::Fits);
    Ok(Outlook {
        problem,
        verdict,
        weeks,
        crunches,
        problems: view.problems(&runs),
        layout: question.spots(season, forecast, &answer.layout),
        moves: answer.layout.moves() + view.moved_between_items(),
        no_spot: view.no_spot(),
    })
}

/// What [`look_ahead`] counts on one day: of each place in which something stands or should, a week of that day
/// alone.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn look_at_day(
    season: &Season,
    forecast: &Forecast,
    day: NaiveDate,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Vec<Week>, Cancelled> {
    let (room, how) = (Room::of(season), (Keep::Pinned, Effort::default()));
    let Solved { question, answer, .. } = solved(season, forecast, &room, how, memory, progress, cancel)?;
    let view = View::new(season, forecast, &room, &question, &answer);
    let (mut runs, mut lamps) = (Vec::new(), Lamps::default());
    let number = day_number(day);
    for run in answer.days.iter().filter(|run| run.days.contains(number)) {
        for days in view.cuts(run.days).into_iter().filter(|days| days.contains(number)) {
            view.judge(run, days, &mut lamps, &mut runs);
        }
    }
    Ok(runs.iter().filter_map(|run| view.day(run, day)).collect())
}

/// What is short of room on a day, or may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct DayShort {
    pub(super) pools: Vec<PoolKind>,
    pub(super) needed: u32,
    /// The fewest that must leave, proven; 0 where it is not settled whether any must.
    pub(super) short: u32,
    /// With so many away, a layout was found.
    pub(super) at_most: u32,
}

/// What [`look_ahead`] would call short on that day, of a forecast of that day alone: nothing where all fits.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub(super) fn short_on(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    only: DateSpan,
    cancel: &Cancel,
) -> Result<Vec<DayShort>, Cancelled> {
    let (how, progress) = ((Keep::Pinned, Effort::default()), Progress::default());
    let mut memory = Memory::default().on_threads(NonZero::<usize>::MIN);
    let Solved { question, answer, .. } = solved(season, forecast, room, how, &mut memory, &progress, cancel)?;
    let (day, date) = (day_number(only.from()), only.from());
    let Some(run) = answer.days.iter().find(|run| run.days.contains(day)) else { return Ok(Vec::new()) };
    let view = View::new(season, forecast, room, &question, &answer);
    let of_pools: Vec<OfPool> = view.pools.iter().filter_map(|&pool| view.of_pool(pool, run, day)).collect();
    let shortages = view.shortages(&of_pools, date);
    let mut found: Vec<DayShort> = shortages
        .iter()
        .map(|shortage| DayShort {
            pools: shortage.pools.clone(),
            needed: shortage.needed,
            short: shortage.short,
            at_most: view.short_at_most(shortage, date),
        })
        .collect();
    let open = of_pools
        .iter()
        .filter(|of| !of.out.is_empty() && !shortages.iter().any(|shortage| shortage.pools.contains(&of.pool)));
    found.extend(open.map(|of| DayShort {
        pools: vec![of.pool],
        needed: view.weight_of(&of.present, date),
        short: 0,
        at_most: view.weight_of(&of.out, date),
    }));
    Ok(found)
}

/// A question, the hash it goes by, and its answer.
struct Solved {
    problem: ProblemHash,
    question: Question,
    answer: fit::Answer,
}

fn solved(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    (keep, effort): (Keep, Effort),
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Solved, Cancelled> {
    let by_day = ask(season, forecast, room, Joined::SameGround, keep);
    let problem = hash(&by_day, effort);
    // one spot for as long as one will do; if that works out, nobody moves
    let steady = ask(season, forecast, room, Joined::OneSpot, keep);
    let answer = memory.solve(&steady.problem, effort.0, progress, cancel)?;
    if answer.is_fit() {
        return Ok(Solved { problem, question: steady, answer });
    }
    let mut question = by_day;
    wish_for(&steady, &answer, &mut question);
    let answer = memory.solve(&question.problem, effort.0, progress, cancel)?;
    Ok(Solved { problem, question, answer })
}

/// Where no more has to be moved than what is in another's way.
fn staying_put(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    effort: Effort,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Option<Solved>, Cancelled> {
    let ask_in = |room: &Room<'_>| {
        let mut question = ask(season, forecast, room, Joined::AsItStands, Keep::Spots);
        let stay = pin_what_stands(&mut question.problem);
        (stay, question)
    };
    let anywhere = ask_in(room);
    if anywhere.0 == 0 {
        return Ok(None);
    }
    // what stands over an edge has been put there
    let within = room.within_edges().map(|within| ask_in(&within)).filter(|within| within.0 == anywhere.0);
    for (_, question) in within.into_iter().chain([anywhere]) {
        let answer = memory.solve(&question.problem, effort.0, progress, cancel)?;
        if answer.is_fit() {
            let problem = problem_hash(season, forecast, Keep::Spots);
            return Ok(Some(Solved { problem, question, answer }));
        }
    }
    Ok(None)
}

/// With nothing over an edge where that costs no spot, and crops together.
fn tidy(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    effort: Effort,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Solved, Cancelled> {
    let how = (Keep::Spots, effort);
    if let Some(mut found) = staying_put(season, forecast, room, effort, memory, progress, cancel)? {
        found.answer.layout = crops_together(season, forecast, &found.question, &found.answer.layout);
        return Ok(found);
    }
    let within = match room.within_edges() {
        Some(within) => Some(solved(season, forecast, &within, how, memory, progress, cancel)?),
        None => None,
    };
    let mut found = match within.filter(|within| within.answer.is_fit()) {
        Some(within) => within,
        None => solved(season, forecast, room, how, memory, progress, cancel)?,
    };
    found.answer.layout = crops_together(season, forecast, &found.question, &found.answer.layout);
    Ok(found)
}

/// What had no spot yet sorted by crop, as far as that costs none; what had one stays there.
fn crops_together(season: &Season, forecast: &Forecast, question: &Question, layout: &fit::Layout) -> fit::Layout {
    let mut numbers: BTreeMap<(Option<&CropKey>, Option<GuestId>), u32> = BTreeMap::new();
    let placed: BTreeSet<TrayKey> = season.spots().map(|spot| spot.tray).collect();
    let mut kinds = Vec::new();
    for item in &question.items {
        let stay = item.parts.first().and_then(|part| forecast.stays.get(part.stay));
        let sowing = stay.and_then(|stay| forecast.sowings_in(stay).into_iter().min());
        let crop = sowing.and_then(|id| season.sowing(id)).map(|sowing| &sowing.crop);
        let guest = if let TrayKey::Guest { guest, .. } = item.tray { Some(guest) } else { None };
        let next = u32::try_from(numbers.len()).unwrap_or(u32::MAX);
        kinds.push(*numbers.entry((crop, guest)).or_insert(next));
    }
    let settled: Vec<bool> = question.items.iter().map(|item| placed.contains(&item.tray)).collect();
    fit::together(&question.problem, layout, &kinds, &settled)
}

/// The hash that [`look_ahead`] would answer under with the default effort, without the work.
pub fn problem_hash(season: &Season, forecast: &Forecast, keep: Keep) -> ProblemHash {
    let room = Room::of(season);
    hash(&ask(season, forecast, &room, Joined::SameGround, keep), Effort::default())
}

fn hash(question: &Question, effort: Effort) -> ProblemHash {
    ProblemHash(question.problem.hash_stable() ^ u128::from(effort.0))
}

/// Items of the finer question wish for the spots that the coarser one found.
fn wish_for(steady: &Question, answer: &fit::Answer, question: &mut Question) {
    let mut found: BTreeMap<(TrayKey, usize), Vec<(i32, fit::Spot)>> = BTreeMap::new();
    for (item, spots) in steady.items.iter().zip(&answer.layout.spots) {
        for part in &item.parts {
            found.entry((item.tray, part.stay)).or_default().extend(spots.iter().copied());
        }
    }
    for (item, question) in question.items.iter().zip(&mut question.problem.items) {
        let Some(part) = item.parts.first() else { continue };
        let day = day_number(part.span.from());
        let spot = found.get(&(item.tray, part.stay)).and_then(|spots| {
            spots.iter().rev().find(|(from, _)| *from <= day).or(spots.first()).map(|(_, spot)| *spot)
        });
        question.wish = spot.filter(|_| question.pinned.is_none()).or(question.wish);
    }
}

/// A crunch while its days are gone through.
struct Going<'a> {
    span: DateSpan,
    /// The days on which each is short, in order.
    pools: BTreeMap<PoolKind, Vec<DateSpan>>,
    worst_day: NaiveDate,
    worst: &'a Shortage,
    tray_days: u64,
}

/// Those short on all days of a span.
fn tray_days(span: DateSpan, shortage: &Shortage) -> u64 {
    u64::from(shortage.short) * u64::try_from(span.days()).unwrap_or(0)
}

impl<'a> Going<'a> {
    fn of(span: DateSpan, shortage: &'a Shortage) -> Self {
        let pools = shortage.pools.iter().map(|&pool| (pool, vec![span])).collect();
        Self { span, pools, worst_day: span.from(), worst: shortage, tray_days: tray_days(span, shortage) }
    }

    fn goes_on(&self, span: DateSpan, shortage: &Shortage) -> bool {
        let mut last = shortage.pools.iter().filter_map(|pool| self.pools.get(pool)?.last());
        last.any(|last| last.until() >= span.from())
    }

    fn go_on(&mut self, span: DateSpan, shortage: &'a Shortage) {
        self.tray_days = self.tray_days.saturating_add(tray_days(span, shortage));
        self.span = DateSpan::new(self.span.from(), span.until().max(self.span.until())).unwrap_or(self.span);
        for &pool in &shortage.pools {
            let days = self.pools.entry(pool).or_default();
            match days.last_mut().filter(|last| last.until() >= span.from()) {
                Some(last) => *last = DateSpan::new(last.from(), span.until().max(last.until())).unwrap_or(*last),
                None => days.push(span),
            }
        }
        if shortage.rank() > self.worst.rank() {
            (self.worst_day, self.worst) = (span.from(), shortage);
        }
    }
}

fn is_same(one: Option<&Rc<Shortage>>, other: Option<&Rc<Shortage>>) -> bool {
    one.zip(other).is_some_and(|(one, other)| Rc::ptr_eq(one, other))
}

impl View<'_> {
    fn judge(&self, run: &fit::DayVerdict, days: fit::Days, lamps: &mut Lamps, runs: &mut Vec<Run>) {
        let Ok(span) = DateSpan::new(date_of(days.from), date_of(days.until)) else { return };
        let (day, date) = (days.from, span.from());
        let of_pools: Vec<OfPool> = self.pools.iter().filter_map(|&pool| self.of_pool(pool, run, day)).collect();
        let shortages: Vec<Rc<Shortage>> = self.shortages(&of_pools, date).into_iter().map(Rc::new).collect();
        for OfPool { pool, present, out, .. } in &of_pools {
            let shortage = shortages.iter().find(|shortage| shortage.pools.contains(pool)).cloned();
            let verdict = match (&shortage, out.is_empty()) {
                (Some(_), _) => Verdict::Crunch,
                (None, true) => Verdict::Fits,
                (None, false) => Verdict::Unsettled,
            };
            let (lit, over_lit) = self.light_on(*pool, present, date, lamps);
            let (needed, out) = (self.weight_of(present, date), self.weight_of(out, date));
            runs.push(Run { span, pool: *pool, verdict, needed, out, lit, over_lit, shortage });
        }
    }

    /// `None` where nothing of the pool is there.
    fn of_pool(&self, pool: PoolKind, run: &fit::DayVerdict, day: i32) -> Option<OfPool> {
        let present = self.present(pool, day);
        if present.is_empty() {
            return None;
        }
        let homeless = |item: &usize| self.answer.layout.spot_on(*item, day).is_none();
        let out: Vec<usize> = present.iter().copied().filter(homeless).collect();
        let proof = if out.is_empty() { None } else { self.prove(pool, &present, run, day) };
        Some(OfPool { pool, present, out, proof })
    }

    /// Days that follow one another are one crunch while any pool is short on both.
    fn crunches(&self, runs: &[Run]) -> Vec<Crunch> {
        let mut crunches: Vec<Going<'_>> = Vec::new();
        let mut sorted: Vec<&Run> = runs.iter().filter(|run| run.shortage.is_some()).collect();
        sorted.sort_by_key(|run| (run.span, run.pool));
        // what several pools are short of together is one shortage
        sorted.dedup_by(|next, one| next.span == one.span && is_same(next.shortage.as_ref(), one.shortage.as_ref()));
        for run in sorted {
            let Some(shortage) = run.shortage.as_deref() else { continue };
            let goes_on = |going: &&mut Going<'_>| going.goes_on(run.span, shortage);
            match crunches.iter_mut().find(goes_on) {
                Some(going) => going.go_on(run.span, shortage),
                None => crunches.push(Going::of(run.span, shortage)),
            }
        }
        let mut crunches: Vec<Crunch> = crunches.into_iter().map(|going| self.crunch(going)).collect();
        crunches.sort_by_key(|crunch| (crunch.span, crunch.pools.first().map(|pool| pool.kind)));
        crunches
    }

    fn crunch(&self, going: Going<'_>) -> Crunch {
        let Going { span, pools, worst_day, worst, tray_days } = going;
        let days = pools.into_iter().flat_map(|(kind, spans)| {
            let pool = self.pool(kind);
            spans.into_iter().map(move |span| ShortOn { pool: pool.clone(), span })
        });
        Crunch {
            span,
            worst_day,
            pools: worst.pools.iter().map(|&kind| self.pool(kind)).collect(),
            days: days.collect(),
            needed: worst.needed,
            held: worst.needed.saturating_sub(worst.short),
            short: worst.short,
            short_at_most: self.short_at_most(worst, worst_day),
            tray_days,
            counted: worst
                .items
                .iter()
                .filter_map(|&item| self.question.items.get(item))
                .map(|item| item.tray)
                .collect(),
            proof: worst.proof.trays.clone(),
            proven: Proven { needed: worst.proof.needed, held: worst.proof.held },
            reason: worst.proof.reason.clone(),
        }
    }

    fn no_spot(&self) -> Vec<(TrayKey, DateSpan)> {
        let mut without = Vec::new();
        for (number, (item, question)) in self.question.items.iter().zip(&self.question.problem.items).enumerate() {
            let days = question.days();
            let found = self.answer.layout.spots.get(number).and_then(|spots| spots.first());
            let until = found.map_or(days.until, |(from, _)| *from);
            without.extend(DateSpan::new(date_of(days.from), date_of(until)).ok().map(|span| (item.tray, span)));
        }
        without.sort_by_key(|(tray, span)| (span.from(), *tray));
        without
    }

    /// What the grower should look at beside the crunches.
    fn problems(&self, runs: &[Run]) -> Vec<Problem> {
        let mut problems = Vec::new();
        let mut nowhere = Nowhere::default();
        let mut told: BTreeSet<TrayKey> = BTreeSet::new();
        for item in &self.question.items {
            for part in &item.parts {
                let Some(stay) = self.forecast.stays.get(part.stay) else { continue };
                let Some(why) = self.room.no_ground(stay, part.span) else { continue };
                let day = part.span.from();
                if nowhere.add(item.tray, stay, part.span, why) || !told.insert(item.tray) {
                    continue;
                }
                problems.push(match why {
                    NoGround::Harmed { .. } | NoGround::Dark => continue,
                    NoGround::NoPlace => Problem::NoPlaceFor { role: stay.needs.role, span: part.span },
                    NoGround::TooLow { tallest, .. } => {
                        Problem::TooTall { tray: item.tray, day, needs: stay.height_on(day), tallest }
                    }
                    NoGround::TooHeavy { rated } => Problem::TooHeavy { tray: item.tray, grams: stay.grams, rated },
                    NoGround::TooLarge => {
                        Problem::TooLarge { tray: item.tray, width: stay.shape.width(), depth: stay.shape.depth() }
                    }
                });
            }
        }
        problems.dedup();
        problems.extend(nowhere.problems());
        // only one pool has any
        let over: Vec<(DateSpan, OverLit)> =
            runs.iter().filter(|run| run.over_lit.all > 0).map(|run| (run.span, run.over_lit)).collect();
        problems.extend(beyond_lamps(&over));
        problems
    }
}

/// What has no place that bears it, or none with light: each sowing once, from its first day on.
#[derive(Default)]
struct Nowhere(BTreeMap<(Option<SowingId>, Option<TrayKey>, bool), Homeless>);

struct Homeless {
    trays: BTreeSet<TrayKey>,
    span: DateSpan,
    why: NoGround,
    bears: Bears,
}

impl Nowhere {
    /// Whether it is such a one.
    fn add(&mut self, tray: TrayKey, stay: &Stay, span: DateSpan, why: NoGround) -> bool {
        if !matches!(why, NoGround::Harmed { .. } | NoGround::Dark) {
            return false;
        }
        let key = (stay.sowing, stay.sowing.is_none().then_some(tray), why == NoGround::Dark);
        let new = Homeless { trays: BTreeSet::new(), span, why, bears: stay.needs.bears };
        let told = self.0.entry(key).or_insert(new);
        told.trays.insert(tray);
        let whole = DateSpan::new(told.span.from().min(span.from()), told.span.until().max(span.until()));
        told.span = whole.unwrap_or(told.span);
        true
    }

    fn problems(self) -> impl Iterator<Item = Problem> {
        self.0.into_values().filter_map(|Homeless { trays, span, why, bears }| {
            let (tray, trays) = (*trays.first()?, u32::try_from(trays.len()).unwrap_or(u32::MAX));
            Some(match why {
                NoGround::Harmed { place } => Problem::NoPlaceBears { tray, trays, span, place, bears },
                _ => Problem::NoLight { tray, trays, span },
            })
        })
    }
}
