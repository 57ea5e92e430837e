//! From a layout and its proofs to verdicts by day, week and crunch.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike as _, NaiveDate, Weekday};

use crate::fit::{self, BoundKind, Cancel, Cancelled, Progress};
use crate::forecast::{Forecast, Phase, Problem, Shape, Stay};
use crate::season::{PlaceId, RimShape, Role, Season, ShelfId, TrayKey, WeekLabels, ZoneKind};
use crate::units::{DateSpan, Length};

use super::ask::{Asked, Homeless, Joined, Room, ask, clip, date_of, day_number, footprint, is_open, whole_shelf};
use super::{Crunch, Effort, Keep, Outlook, Pool, PoolKind, ProblemHash, Reason, Verdict, Week, WeekLabel};

/// How many more trays are looked for beside those that stand, at most.
const MOST_SPARE: i64 = 10_000;
/// Days with more items than this are not packed anew to find out how many more would fit.
const MOST_REPACKED: usize = 120;
/// Work for one such packing.
const REPACK_BUDGET: u64 = 100_000;

pub(super) fn look_ahead(
    season: &Season,
    forecast: &Forecast,
    (keep, effort): (Keep, Effort),
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Outlook, Cancelled> {
    let room = Room::of(season);
    let by_day = ask(season, forecast, &room, Joined::WhereGroundIsTheSame, keep);
    let problem = hash(&by_day, effort);
    // one spot for as long as one will do; if that works out, nobody moves
    let steady = ask(season, forecast, &room, Joined::WhereOneSpotDoes, keep);
    let answer = fit::solve(&steady.problem, effort.0, progress, cancel)?;
    let (asked, answer) = if answer.is_fit() {
        (steady, answer)
    } else {
        let mut asked = by_day;
        wish_for(&steady, &answer, &mut asked);
        let answer = fit::solve(&asked.problem, effort.0, progress, cancel)?;
        (asked, answer)
    };
    let view = View::new(season, forecast, &room, &asked, &answer);
    let (mut runs, mut lamps) = (Vec::new(), BTreeMap::new());
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
        layout: asked.spots(season, forecast, &answer.layout),
        moves: answer.layout.moves() + view.turned_out(&answer.layout),
        no_spot: view.no_spot(),
    })
}

pub(super) fn problem_hash(season: &Season, forecast: &Forecast, keep: Keep) -> ProblemHash {
    let room = Room::of(season);
    hash(&ask(season, forecast, &room, Joined::WhereGroundIsTheSame, keep), Effort::default())
}

fn hash(asked: &Asked, effort: Effort) -> ProblemHash {
    ProblemHash(asked.problem.hash_stable() ^ u128::from(effort.0))
}

/// Items of the finer question wish for the spots that the coarser one found.
fn wish_for(steady: &Asked, answer: &fit::Answer, asked: &mut Asked) {
    let mut found: BTreeMap<(TrayKey, usize), Vec<(i32, fit::Spot)>> = BTreeMap::new();
    for (item, spots) in steady.items.iter().zip(&answer.layout.spots) {
        for part in &item.parts {
            found.entry((item.tray, part.stay)).or_default().extend(spots.iter().copied());
        }
    }
    for (item, asked) in asked.items.iter().zip(&mut asked.problem.items) {
        let Some(part) = item.parts.first() else { continue };
        let day = day_number(part.span.from());
        let spot = found.get(&(item.tray, part.stay)).and_then(|spots| {
            spots.iter().rev().find(|(from, _)| *from <= day).or(spots.first()).map(|(_, spot)| *spot)
        });
        asked.wish = spot.filter(|_| asked.pinned.is_none()).or(asked.wish);
    }
}

/// Days on which nothing changes, for one pool.
struct Run {
    span: DateSpan,
    pool: PoolKind,
    verdict: Verdict,
    needed: u32,
    /// Without a spot in the layout.
    out: u32,
    /// How many of the commonest kind lamps serve well, and how many want light beyond that.
    lit: Option<u32>,
    over_lit: u32,
    crunch: Option<Proof>,
}

/// What a proof says, in trays and pots.
#[derive(Clone)]
struct Proof {
    /// The pool that most of its trays are of.
    pool: PoolKind,
    needed: u32,
    held: u32,
    trays: Vec<TrayKey>,
    reason: Reason,
}

impl Proof {
    const fn short(&self) -> u32 {
        self.needed - self.held
    }
}

struct View<'a> {
    season: &'a Season,
    forecast: &'a Forecast,
    room: &'a Room<'a>,
    asked: &'a Asked,
    answer: &'a fit::Answer,
    /// Every first day of a stay: what it needs may change though its ground does not.
    turns: BTreeSet<i32>,
    pools: BTreeSet<PoolKind>,
}

const fn is_pots(shape: &Shape) -> bool {
    matches!(shape, Shape::Pots { .. })
}

/// Trays, stacks and loose pots count one each.
fn weight(stay: &Stay) -> u32 {
    match &stay.shape {
        Shape::Tray { .. } => 1,
        Shape::Pots { centres, .. } => u32::try_from(centres.len()).unwrap_or(u32::MAX),
    }
}

impl<'a> View<'a> {
    fn new(
        season: &'a Season,
        forecast: &'a Forecast,
        room: &'a Room<'a>,
        asked: &'a Asked,
        answer: &'a fit::Answer,
    ) -> Self {
        let parts = || asked.items.iter().flat_map(|item| &item.parts);
        let turns = parts().map(|part| day_number(part.span.from())).collect();
        let mut view = Self { season, forecast, room, asked, answer, turns, pools: BTreeSet::new() };
        let stays = parts().filter_map(|part| forecast.stays.get(part.stay));
        view.pools = stays.map(|stay| view.pool_of(stay)).collect();
        view
    }

    /// A run of days, cut where what a stay needs may change.
    fn cuts(&self, days: fit::Days) -> Vec<fit::Days> {
        let inside = self.turns.range(days.from..days.until).copied().filter(|turn| *turn > days.from);
        let starts: Vec<i32> = std::iter::once(days.from).chain(inside).collect();
        let ends = starts.iter().skip(1).copied().chain([days.until]);
        starts.iter().zip(ends).map(|(&from, until)| fit::Days::new(from, until)).collect()
    }

    fn stay_on(&self, item: usize, date: NaiveDate) -> Option<&'a Stay> {
        let part = self.asked.items.get(item)?.parts.iter().find(|part| part.span.contains(date))?;
        self.forecast.stays.get(part.stay)
    }

    /// An item may change its pool: up, and it no longer germinates.
    fn pool_on(&self, item: usize, date: NaiveDate) -> Option<PoolKind> {
        self.stay_on(item, date).map(|stay| self.pool_of(stay))
    }

    fn pool_of(&self, stay: &Stay) -> PoolKind {
        match (stay.needs.role, stay.needs.heat) {
            (Role::Germinating, true) if self.room.any_heat() => PoolKind::BottomHeat,
            (role, _) => PoolKind::Of(role),
        }
    }

    /// Places whose shelves count for the pool.
    fn places(&self, kind: PoolKind) -> Vec<PlaceId> {
        let mut places: BTreeSet<PlaceId> = BTreeSet::new();
        for (_, shelf, place) in self.room.shelves() {
            let counts = match kind {
                PoolKind::BottomHeat => place.role == Role::Germinating || shelf.has(ZoneKind::Heat),
                PoolKind::Of(role) => place.role == role,
            };
            if counts {
                places.insert(place.id);
            }
        }
        places.into_iter().collect()
    }

    fn pool(&self, kind: PoolKind) -> Pool {
        Pool { kind, places: self.places(kind) }
    }

    /// Items of a pool that are there on that day.
    fn present(&self, pool: PoolKind, day: i32) -> Vec<usize> {
        let date = date_of(day);
        (0..self.asked.items.len()).filter(|&item| self.pool_on(item, date) == Some(pool)).collect()
    }

    fn weight_of(&self, items: &[usize], date: NaiveDate) -> u32 {
        items.iter().filter_map(|&item| self.stay_on(item, date)).map(weight).sum()
    }

    fn judge(&self, run: &fit::DayVerdict, days: fit::Days, lamps: &mut BTreeMap<[i64; 4], i64>, runs: &mut Vec<Run>) {
        let Ok(span) = DateSpan::new(date_of(days.from), date_of(days.until)) else { return };
        let day = days.from;
        for &pool in &self.pools {
            let present = self.present(pool, day);
            if present.is_empty() {
                continue;
            }
            let out: Vec<usize> =
                present.iter().copied().filter(|&item| self.answer.layout.spot_on(item, day).is_none()).collect();
            let crunch = if out.is_empty() { None } else { self.prove(pool, &present, run, day) };
            let verdict = match (&crunch, out.is_empty()) {
                (_, true) => Verdict::Fits,
                (Some(_), false) => Verdict::Crunch,
                (None, false) => Verdict::Unsettled,
            };
            let needed = self.weight_of(&present, span.from());
            let out = self.weight_of(&out, span.from());
            let size = self.commonest(&present, span.from());
            let lit = size.and_then(|(w, d, _)| self.lit(pool, (w, d), span.from(), lamps));
            let over_lit = lit.map_or(0, |lit| self.wants_light(&present, span.from()).saturating_sub(lit));
            runs.push(Run { span, pool, verdict, needed, out, lit, over_lit, crunch });
        }
    }

    /// A proof about the pool alone, which is the plainest, else the one about everything.
    fn prove(&self, pool: PoolKind, present: &[usize], run: &fit::DayVerdict, day: i32) -> Option<Proof> {
        let (alone, items) = self.singly(present, day);
        let bound = fit::prove_day(&alone, day).map(|bound| {
            let items = bound.items.iter().filter_map(|&item| items.get(item).copied()).collect();
            self.proof(&fit::Bound { items, ..bound }, day)
        });
        let pots = self.prove_pots(present, day);
        let proofs = [pots, bound].into_iter().flatten();
        let strongest = proofs.reduce(|one, other| if other.short() > one.short() { other } else { one });
        if strongest.is_some() {
            return strongest;
        }
        match &run.verdict {
            fit::Verdict::Crunch(bound) => {
                let date = date_of(day);
                let concerns = bound.items.iter().any(|&item| self.pool_on(item, date) == Some(pool));
                let in_blocks = |&item: &usize| self.stay_on(item, date).is_some_and(|stay| is_pots(&stay.shape));
                (concerns && !bound.items.iter().any(in_blocks)).then(|| self.proof(bound, day))
            }
            _ => None,
        }
    }

    /// Those items on that day, and which each is: how pots are cut into blocks is our choice, so a
    /// proof takes square ones singly and leaves round ones out.
    fn singly(&self, present: &[usize], day: i32) -> (fit::Problem, Vec<usize>) {
        let mut alone = fit::Problem { shelves: self.asked.problem.shelves.clone(), items: Vec::new() };
        let mut of = Vec::new();
        for &item in present {
            let (Some(stay), Some(asked)) = (self.stay_on(item, date_of(day)), self.asked.problem.items.get(item))
            else {
                continue;
            };
            let (one, number) = match &stay.shape {
                Shape::Tray { .. } => (asked.clone(), 1),
                Shape::Pots { rim: RimShape::Round, .. } => continue,
                Shape::Pots { rim: RimShape::Square, width, centres, .. } => {
                    let days = fit::Days::new(day, day.saturating_add(1));
                    let side = width.units();
                    let grams = i64::from(stay.grams) / i64::try_from(centres.len()).unwrap_or(i64::MAX).max(1);
                    let phases = vec![fit::Phase { days, w: side, d: side, grams }];
                    (fit::Item { phases, pinned: None, wish: None, ..asked.clone() }, centres.len())
                }
            };
            alone.items.extend(std::iter::repeat_n(one, number));
            of.extend(std::iter::repeat_n(item, number));
        }
        (alone, of)
    }

    /// Loose pots of one size, counted singly: exact where rows of them are.
    fn prove_pots(&self, present: &[usize], day: i32) -> Option<Proof> {
        let date = date_of(day);
        let stays: Vec<&Stay> = present.iter().filter_map(|&item| self.stay_on(item, date)).collect();
        let (rim, across) = stays.iter().find_map(|stay| match &stay.shape {
            Shape::Pots { rim, across, .. } => Some((*rim, *across)),
            Shape::Tray { .. } => None,
        })?;
        let alike =
            |stay: &&Stay| matches!(&stay.shape, Shape::Pots { rim: r, across: a, .. } if (*r, *a) == (rim, across));
        if !stays.iter().all(alike) {
            return None;
        }
        let regions: BTreeSet<_> = present
            .iter()
            .filter_map(|&item| self.asked.problem.items.get(item))
            .flat_map(|item| item.regions.iter().copied())
            .collect();
        let shelves: BTreeSet<usize> = regions.iter().map(|region| region.shelf).collect();
        let fits = |shelf: usize| {
            let (w, d) = regions.iter().filter(|region| region.shelf == shelf).fold((0, 0), |(w, d), region| {
                (w.max(region.rect.x + region.rect.w), d.max(region.rect.y + region.rect.d))
            });
            let a = across.units();
            let most = match rim {
                RimShape::Square => fit::count(w, d, a, a).at_most,
                RimShape::Round => fit::oler_bound(w, d, a),
            };
            // the grower's packing allowance, by the square around each pot
            let cover = self.asked.problem.shelves.get(shelf).and_then(|shelf| shelf.cover);
            let by_cover = cover
                .filter(|_| rim == RimShape::Square)
                .map_or(i64::MAX, |cover| i64::try_from(cover / (i128::from(a) * i128::from(a))).unwrap_or(i64::MAX));
            most.min(by_cover)
        };
        let held: i64 = shelves.iter().map(|&shelf| fits(shelf)).sum();
        let needed: u32 = stays.iter().map(|stay| weight(stay)).sum();
        let held = u32::try_from(held).ok().filter(|held| *held < needed)?;
        Some(Proof {
            pool: present.first().and_then(|&item| self.pool_on(item, date))?,
            needed,
            held,
            trays: present.iter().filter_map(|&item| self.asked.items.get(item)).map(|item| item.tray).collect(),
            reason: Reason::Pots { across, shelves: self.shelf_ids(&shelves) },
        })
    }

    fn shelf_ids(&self, shelves: &BTreeSet<usize>) -> Vec<ShelfId> {
        shelves.iter().filter_map(|&shelf| self.asked.shelves.get(shelf).copied()).collect()
    }

    /// A bound in the grower's terms; an item that is a block of pots stands there once for each.
    fn proof(&self, bound: &fit::Bound, day: i32) -> Proof {
        let date = date_of(day);
        let count = |number: i64| u32::try_from(number).unwrap_or(u32::MAX);
        let needed = u32::try_from(bound.items.len()).unwrap_or(u32::MAX);
        let items: BTreeSet<usize> = bound.items.iter().copied().collect();
        let pots = || items.iter().all(|&item| self.stay_on(item, date).is_some_and(|stay| is_pots(&stay.shape)));
        let shelves: BTreeSet<usize> = items
            .iter()
            .filter_map(|&item| self.asked.problem.items.get(item))
            .flat_map(|item| item.regions.iter().map(|region| region.shelf))
            .collect();
        let shelves = self.shelf_ids(&shelves);
        let reason = match bound.kind {
            BoundKind::NoRegion => self.homeless_reason(&bound.items, day),
            BoundKind::PinClash => Reason::Pins,
            BoundKind::Count { w, d } if w == d && pots() => Reason::Pots { across: Length::from_units(w), shelves },
            BoundKind::Count { .. } => {
                let (width, depth) = self.least_sides(&bound.items, date);
                Reason::Count { width, depth, shelves }
            }
            BoundKind::Area => Reason::Ground { shelves },
            BoundKind::Load => Reason::Weight { shelves },
            BoundKind::Cover => Reason::Allowance { shelves },
        };
        let mut votes: BTreeMap<PoolKind, usize> = BTreeMap::new();
        for pool in bound.items.iter().filter_map(|&item| self.pool_on(item, date)) {
            *votes.entry(pool).or_default() += 1;
        }
        let most = votes.into_iter().max_by_key(|(_, number)| *number);
        Proof {
            pool: most.map_or(PoolKind::Of(Role::Growing), |(pool, _)| pool),
            needed,
            held: needed - count(bound.short()).min(needed),
            trays: items.iter().filter_map(|&item| self.asked.items.get(item)).map(|item| item.tray).collect(),
            reason,
        }
    }

    /// The longer and the shorter side that each of the items has at least, no gap included.
    fn least_sides(&self, items: &[usize], date: NaiveDate) -> (Length, Length) {
        let sides = |side: fn(Length, Length) -> Length| {
            let stays = items.iter().filter_map(|&item| self.stay_on(item, date));
            stays
                .map(|stay| match &stay.shape {
                    Shape::Tray { width, depth, .. } => side(*width, *depth),
                    Shape::Pots { across, .. } => *across,
                })
                .min()
                .unwrap_or(Length::ZERO)
        };
        (sides(Ord::max), sides(Ord::min))
    }

    fn homeless_reason(&self, items: &[usize], day: i32) -> Reason {
        let Some(span) = DateSpan::day(date_of(day)) else { return Reason::NoShelf };
        let why = items.iter().filter_map(|&item| {
            let stay = self.stay_on(item, span.from())?;
            self.room.homeless(stay, span)
        });
        let mut missing = Length::ZERO;
        for why in why {
            let Homeless::TooLow { missing: more, .. } = why else { return Reason::NoShelf };
            missing = missing.max(more);
        }
        Reason::Height { missing }
    }

    /// The commonest footprint of a pool on a day, with its ground.
    fn commonest(&self, items: &[usize], date: NaiveDate) -> Option<(i64, i64, fit::RegionSet)> {
        let mut alike: BTreeMap<(i64, i64), (u32, usize)> = BTreeMap::new();
        for &item in items {
            let Some(stay) = self.stay_on(item, date) else { continue };
            let (w, d) = footprint(self.season, &stay.shape);
            alike.entry((w.units(), d.units())).or_insert((0, item)).0 += 1;
        }
        let (&(w, d), &(_, item)) =
            alike.iter().max_by_key(|(size, (number, _))| (*number, std::cmp::Reverse(**size)))?;
        let regions = self.asked.problem.items.get(item)?.regions.clone();
        Some((w, d, regions))
    }

    /// How many of a footprint lamps serve well on that day; `None` where no lamp is drawn.
    fn lit(
        &self,
        pool: PoolKind,
        (w, d): (i64, i64),
        date: NaiveDate,
        known: &mut BTreeMap<[i64; 4], i64>,
    ) -> Option<u32> {
        if pool != PoolKind::Of(Role::Growing) {
            return None;
        }
        let day = DateSpan::day(date)?;
        let mut any = false;
        let mut lit = 0;
        for (_, shelf, place) in self.room.shelves().filter(|(_, _, place)| place.role == Role::Growing) {
            for zone in shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Lamp) {
                any = true;
                let Some(rect) = clip(zone, whole_shelf(shelf)).filter(|_| is_open(place, shelf, day)) else {
                    continue;
                };
                lit += *known.entry([rect.w, rect.d, w, d]).or_insert_with(|| fit::count(rect.w, rect.d, w, d).most);
            }
        }
        any.then(|| u32::try_from(lit).unwrap_or(u32::MAX))
    }

    fn wants_light(&self, items: &[usize], date: NaiveDate) -> u32 {
        items.iter().filter_map(|&item| self.stay_on(item, date)).filter(|stay| stay.needs.light).map(weight).sum()
    }

    fn weeks(&self, runs: &[Run], cancel: &Cancel) -> Result<Vec<Week>, Cancelled> {
        let mut weeks = Vec::new();
        let kinds: BTreeSet<PoolKind> = runs.iter().map(|run| run.pool).collect();
        for kind in kinds {
            let pool = self.pool(kind);
            let runs: Vec<&Run> = runs.iter().filter(|run| run.pool == kind).collect();
            let (Some(first), Some(last)) = (runs.first(), runs.last()) else { continue };
            let mut monday = monday_of(first.span.from());
            while monday < last.span.until() {
                cancel.check()?;
                let next = monday + chrono::TimeDelta::days(7);
                let week = DateSpan::new(monday, next).ok();
                let inside = |run: &&&Run| week.is_some_and(|week| run.span.overlaps(week));
                let worst = week.and_then(|week| {
                    let rank = |run: &&Run| {
                        let short = run.crunch.as_ref().map_or(run.out, Proof::short);
                        (run.verdict, short, run.needed, std::cmp::Reverse(run.span.from()))
                    };
                    runs.iter().filter(inside).max_by_key(|run| rank(run)).map(|run| (week, *run))
                });
                let mut row = Week {
                    from: monday,
                    label: label(self.season, monday),
                    pool: pool.clone(),
                    verdict: Verdict::Fits,
                    worst_day: monday,
                    needed: 0,
                    held: 0,
                    spare: 0,
                    lit: None,
                    over_lit: 0,
                    plugs: 0,
                    trays: 0,
                    plants: 0,
                };
                match worst {
                    Some((week, run)) => {
                        self.fill(&mut row, week, run);
                        // the lamps have their own worst day
                        let darkest = runs.iter().filter(inside).max_by_key(|run| run.over_lit);
                        let darkest = darkest.filter(|dark| dark.over_lit > run.over_lit).map_or(run, |dark| *dark);
                        (row.lit, row.over_lit) = (darkest.lit, darkest.over_lit);
                    }
                    None => self.fill_empty(&mut row, kind),
                }
                weeks.push(row);
                monday = next;
            }
        }
        Ok(weeks)
    }

    fn fill(&self, row: &mut Week, week: DateSpan, run: &Run) {
        let date = run.span.from().max(week.from());
        let day = day_number(date);
        let present = self.present(run.pool, day);
        row.verdict = run.verdict;
        row.worst_day = date;
        row.needed = run.needed;
        let stays = || present.iter().filter_map(|&item| self.stay_on(item, date));
        row.plugs = stays().filter(|stay| matches!(stay.phase, Phase::Germinating | Phase::Plugs)).map(weight).sum();
        row.trays = stays().map(|stay| u32::try_from(stay.trays.len()).unwrap_or(u32::MAX)).sum();
        row.plants = stays().map(|stay| stay.plants).sum();
        let Some((w, d, regions)) = self.commonest(&present, date) else { return };
        match &run.crunch {
            // a proof about several pools says how many must leave, not from which of them
            Some(proof) => row.held = run.needed - proof.short().min(run.out),
            None if run.out > 0 => row.held = run.needed - run.out,
            None => {
                let spare = self.spare(present.len(), day, (w, d), &regions);
                let each = stays().find(|stay| {
                    let (sw, sd) = footprint(self.season, &stay.shape);
                    (sw.units(), sd.units()) == (w, d)
                });
                let each = each.map_or(1, weight);
                row.spare = u32::try_from(spare).unwrap_or(u32::MAX).saturating_mul(each);
                row.held = row.needed + row.spare;
            }
        }
    }

    /// A week in which nothing stands there: what it could hold of the pool's commonest kind.
    fn fill_empty(&self, row: &mut Week, pool: PoolKind) {
        let mut parts = self.asked.items.iter().flat_map(|item| &item.parts);
        let stay = parts.find_map(|part| {
            let stay = self.forecast.stays.get(part.stay)?;
            (self.pool_of(stay) == pool).then_some(stay)
        });
        let (Some(stay), Some(span)) = (stay, DateSpan::day(row.from)) else { return };
        let (w, d) = footprint(self.season, &stay.shape);
        let mut kinds = BTreeMap::new();
        let held: i64 = self
            .room
            .regions(stay, span)
            .iter()
            .map(|region| (region.shelf, region.rect))
            .collect::<BTreeMap<_, _>>()
            .into_values()
            .map(|rect| *kinds.entry(rect).or_insert_with(|| fit::count(rect.w, rect.d, w.units(), d.units()).most))
            .sum();
        row.spare = u32::try_from(held).unwrap_or(u32::MAX).saturating_mul(weight(stay));
        row.held = row.spare;
    }

    /// How many more of a kind have room: beside what stands there, or with that day packed anew
    /// where that is quick and finds more.
    fn spare(&self, present: usize, day: i32, (w, d): (i64, i64), regions: &fit::RegionSet) -> i64 {
        let problem = &self.asked.problem;
        let beside = fit::place_more(problem, &self.answer.layout, day, w, d, regions, MOST_SPARE);
        if present > MOST_REPACKED {
            return beside;
        }
        let days = fit::Days::new(day, day.saturating_add(1));
        let more = fit::Item {
            phases: vec![fit::Phase { days, w, d, grams: 0 }],
            regions: regions.clone(),
            pinned: None,
            wish: None,
        };
        let stands = |item: &usize| self.answer.layout.spot_on(*item, day).is_some();
        let numbers = (0..problem.items.len()).filter(stands);
        let items = numbers.filter_map(|item| problem.items.get(item)).filter(|item| item.days().contains(day));
        let items = items.cloned().collect();
        let mut packed = fit::Problem { shelves: problem.shelves.clone(), items };
        let mut spare = 0;
        loop {
            let next = spare.max(beside) + 1;
            let there = usize::try_from(next - spare).unwrap_or(0);
            packed.items.extend(std::iter::repeat_n(more.clone(), there));
            spare = next;
            if fit::pack_day(&packed, day, REPACK_BUDGET).is_none() {
                return spare - 1;
            }
        }
    }

    fn crunches(&self, runs: &[Run]) -> Vec<Crunch> {
        let mut crunches: Vec<(Crunch, Vec<&Run>)> = Vec::new();
        let mut sorted: Vec<&Run> = runs.iter().filter(|run| run.crunch.is_some()).collect();
        sorted.sort_by_key(|run| (run.crunch.as_ref().map(|proof| proof.pool), run.span, run.pool));
        for run in sorted {
            let Some(proof) = &run.crunch else { continue };
            let follows = crunches
                .last_mut()
                .filter(|(crunch, _)| crunch.pool.kind == proof.pool && crunch.span.until() >= run.span.from());
            if let Some((crunch, runs)) = follows {
                crunch.span = DateSpan::new(crunch.span.from(), run.span.until()).unwrap_or(crunch.span);
                if proof.short() > crunch.short {
                    set_worst(crunch, run, proof);
                }
                runs.push(run);
            } else {
                let mut crunch = Crunch {
                    span: run.span,
                    worst_day: run.span.from(),
                    pool: self.pool(proof.pool),
                    needed: 0,
                    held: 0,
                    short: 0,
                    short_at_most: 0,
                    proof: Vec::new(),
                    reason: Reason::NoShelf,
                };
                set_worst(&mut crunch, run, proof);
                crunches.push((crunch, vec![run]));
            }
        }
        let mut crunches: Vec<Crunch> = crunches
            .into_iter()
            .map(|(mut crunch, runs)| {
                let out = runs.iter().filter(|run| run.span.from() == crunch.worst_day).map(|run| run.out).sum();
                crunch.short_at_most = self.fewest_out(&crunch.proof, crunch.worst_day, out).max(crunch.short);
                crunch
            })
            .collect();
        crunches.sort_by_key(|crunch| (crunch.span, crunch.pool.kind));
        crunches
    }

    /// So many of the proof's trays at most must leave that day: what the layout leaves out, or a
    /// packing of the day alone does.
    fn fewest_out(&self, proof: &[TrayKey], date: NaiveDate, out: u32) -> u32 {
        let day = day_number(date);
        let placed: BTreeSet<usize> =
            fit::pack_most(&self.asked.problem, day, 200_000).into_iter().map(|(item, _)| item).collect();
        let concerned = |item: &usize| {
            self.asked.items.get(*item).is_some_and(|item| proof.contains(&item.tray))
                && self.asked.problem.items.get(*item).is_some_and(|item| item.days().contains(day))
        };
        let left: Vec<usize> =
            (0..self.asked.items.len()).filter(concerned).filter(|item| !placed.contains(item)).collect();
        self.weight_of(&left, date).min(out)
    }

    fn no_spot(&self) -> Vec<(TrayKey, DateSpan)> {
        let mut without = Vec::new();
        for (number, (item, asked)) in self.asked.items.iter().zip(&self.asked.problem.items).enumerate() {
            let days = asked.days();
            let found = self.answer.layout.spots.get(number).and_then(|spots| spots.first());
            let until = found.map_or(days.until, |(from, _)| *from);
            without.extend(DateSpan::new(date_of(days.from), date_of(until)).ok().map(|span| (item.tray, span)));
        }
        without.sort_by_key(|(tray, span)| (span.from(), *tray));
        without
    }

    /// Trays that change their spot where one would have done.
    fn turned_out(&self, layout: &fit::Layout) -> usize {
        let mut last: BTreeMap<TrayKey, (DateSpan, fit::Spot)> = BTreeMap::new();
        let mut moves = 0;
        for (number, item) in self.asked.items.iter().enumerate() {
            let (Some(first), Some(end)) = (item.parts.first(), item.parts.last()) else { continue };
            let spots = layout.spots.get(number);
            let Some(&(_, opening)) = spots.and_then(|spots| spots.first()) else { continue };
            let Some(&(_, closing)) = spots.and_then(|spots| spots.last()) else { continue };
            if let Some((before, spot)) = last.get(&item.tray) {
                let still = asked_regions(self.asked, number).iter().any(|region| {
                    region.shelf == spot.shelf
                        && self
                            .asked
                            .problem
                            .items
                            .get(number)
                            .is_some_and(|item| item.phases.iter().all(|phase| region.rect.holds(spot.rect(phase))))
                });
                if before.until() == first.span.from() && *spot != opening && still {
                    moves += 1;
                }
            }
            last.insert(item.tray, (end.span, closing));
        }
        moves
    }

    /// What the grower should look at beside the crunches.
    fn problems(&self, runs: &[Run]) -> Vec<Problem> {
        let mut problems = Vec::new();
        let mut told: BTreeSet<TrayKey> = BTreeSet::new();
        for item in &self.asked.items {
            for part in &item.parts {
                let Some(stay) = self.forecast.stays.get(part.stay) else { continue };
                let Some(why) = self.room.homeless(stay, part.span) else { continue };
                let day = part.span.from();
                if !told.insert(item.tray) {
                    continue;
                }
                problems.push(match why {
                    Homeless::NoPlace => Problem::NoPlaceFor { role: stay.needs.role, span: part.span },
                    Homeless::TooLow { tallest, .. } => {
                        Problem::TooTall { tray: item.tray, day, needs: stay.height, tallest }
                    }
                    Homeless::TooLarge => {
                        Problem::TooLarge { tray: item.tray, width: stay.shape.width(), depth: stay.shape.depth() }
                    }
                });
            }
        }
        problems.dedup();
        problems.extend(beyond_lamps(runs));
        problems
    }
}

fn beyond_lamps(runs: &[Run]) -> Option<Problem> {
    let dark = || runs.iter().filter(|run| run.over_lit > 0);
    let (first, last) = (dark().next()?, dark().next_back()?);
    Some(Problem::BeyondLamps {
        span: DateSpan::new(first.span.from(), last.span.until()).ok()?,
        most: dark().map(|run| run.over_lit).max()?,
        days: u32::try_from(dark().map(|run| run.span.days()).sum::<i64>()).unwrap_or(u32::MAX),
    })
}

fn asked_regions(asked: &Asked, item: usize) -> &[fit::Region] {
    asked.problem.items.get(item).map_or(&[], |item| &item.regions)
}

fn set_worst(crunch: &mut Crunch, run: &Run, proof: &Proof) {
    crunch.worst_day = run.span.from();
    crunch.needed = proof.needed;
    crunch.held = proof.held;
    crunch.short = proof.short();
    crunch.proof.clone_from(&proof.trays);
    crunch.reason = proof.reason.clone();
}

fn monday_of(date: NaiveDate) -> NaiveDate {
    date.week(Weekday::Mon).first_day()
}

fn label(season: &Season, monday: NaiveDate) -> WeekLabel {
    match season.settings().weeks {
        WeekLabels::Iso => WeekLabel::Iso { year: monday.iso_week().year(), week: monday.iso_week().week() },
        WeekLabels::From(first) => {
            let weeks = (monday - monday_of(first)).num_days().div_euclid(7);
            WeekLabel::Own(if weeks >= 0 { weeks + 1 } else { weeks })
        }
    }
}
