//! Weeks, each at its worst day, and what the shelves could hold beside.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike as _, NaiveDate, Weekday};

use crate::fit::{self, Cancel, Cancelled};
use crate::forecast::Stay;
use crate::season::{Lit, Role, Season, SowingId, WeekLabels, ZoneKind};
use crate::units::DateSpan;

use super::answer::{Pool, PoolKind, Stands, Verdict, Week, WeekLabel};
use super::light::{Known, OverLit, corner_of, well_lit};
use super::pots::PotKind;
use super::question::day_number;
use super::room::{clip, footprint, is_open, slack, whole_shelf};
use super::run::Run;
use super::view::{View, weight};

/// How many more trays are looked for beside those that stand, at most.
const MOST_SPARE: i64 = 3_000;
/// Shelves that hold more than this are only looked at in strips.
const MOST_SEARCHED: i64 = 400;
/// Days with more items than this are not packed anew to find out how many more would fit.
const MOST_REPACKED: usize = 120;
/// Nor where so many more would fit already.
const MOST_SPARE_ANEW: i64 = 120;
/// Work for one such packing.
const REPACK_BUDGET: u64 = 100_000;

/// A footprint, and where it may stand.
pub(super) struct Footprint {
    w: i64,
    d: i64,
    /// Of the footprint, what may lie in the air past a far edge.
    slack: i64,
    /// Of the heaviest of them.
    grams: i64,
    /// Loose pots are counted one by one.
    pot: Option<PotKind>,
    regions: fit::RegionSet,
}

/// What was counted of lamps already: how many of a kind a ground serves, and how many of each stay stand
/// well lit where it does.
#[derive(Default)]
pub(super) struct Lamps {
    pub(super) serve: Serve,
    pub(super) stand: Known,
}

pub(super) type Serve = BTreeMap<(Option<PotKind>, [i64; 4]), i64>;

impl Footprint {
    /// One more of them, for that day.
    fn item(&self, day: i32, regions: fit::RegionSet) -> fit::Item {
        let days = fit::Days::new(day, day.saturating_add(1));
        let phases = vec![fit::Phase { days, w: self.w, d: self.d, grams: self.grams }];
        fit::Item { phases, regions, pinned: None, wish: None }
    }

    /// How many trays stand on ground of that size, or pots in rows.
    fn most_on(&self, w: i64, d: i64) -> i64 {
        self.pot.map_or_else(|| fit::count(w, d, self.w, self.d).most, |pot| pot.in_rows(w, d))
    }
}

impl View<'_> {
    /// The commonest footprint of a pool on a day, with its ground.
    pub(super) fn commonest(&self, items: &[usize], date: NaiveDate) -> Option<Footprint> {
        let mut alike: BTreeMap<(i64, i64), (u32, usize)> = BTreeMap::new();
        for &item in items {
            let Some(stay) = self.stay_on(item, date) else { continue };
            let (w, d) = footprint(self.season, &stay.shape);
            alike.entry((w.units(), d.units())).or_insert((0, item)).0 += 1;
        }
        let (&(w, d), &(_, item)) =
            alike.iter().max_by_key(|(size, (number, _))| (*number, std::cmp::Reverse(**size)))?;
        let stay = self.stay_on(item, date)?;
        // of that day: a place may have opened since it came
        let regions = self.room.regions(stay, DateSpan::day(date)?).into();
        let slack = slack(self.season, &stay.shape).units();
        let heavy = items.iter().filter_map(|&item| self.stay_on(item, date)).filter(|stay| {
            let (own_w, own_d) = footprint(self.season, &stay.shape);
            (own_w.units(), own_d.units()) == (w, d)
        });
        let grams = i64::from(heavy.map(|stay| stay.grams).max().unwrap_or(0));
        Some(Footprint { w, d, slack, grams, pot: PotKind::of(&stay.shape), regions })
    }

    /// How many of the commonest kind would stand well lit, and how many stand beyond the lamps.
    pub(super) fn light_on(
        &self,
        pool: PoolKind,
        items: &[usize],
        date: NaiveDate,
        lamps: &mut Lamps,
    ) -> (Option<u32>, OverLit) {
        let (well_lit, mut over) = self.stand_lit(pool, items, date, &mut lamps.stand);
        let Some(kind) = self.commonest(items, date) else { return (None, over) };
        let lit = self.lit(pool, &kind, date, &mut lamps.serve);
        let alike = |&item: &usize| {
            self.stay_on(item, date).is_some_and(|stay| stay.needs.light && PotKind::of(&stay.shape) == kind.pot)
        };
        if let (Some(lit), true) = (lit, kind.pot.is_some() && items.iter().all(alike)) {
            // how pots are cut into blocks is our choice: in rows more of them stand under the lamps
            let beyond = self.weight_of(items, date).saturating_sub(lit).min(over.all);
            over = OverLit { all: beyond, pots: beyond, plants: beyond };
        }
        (lit.map(|lit| lit.max(well_lit)), over)
    }

    /// How many of a footprint would stand well lit on that day; `None` where light has no bounds.
    fn lit(&self, pool: PoolKind, kind: &Footprint, date: NaiveDate, known: &mut Serve) -> Option<u32> {
        if pool != PoolKind::Of(Role::Growing) {
            return None;
        }
        let day = DateSpan::day(date)?;
        let mut any = false;
        let mut lit = 0_i64;
        for (number, shelf, place) in self.room.shelves().filter(|(_, _, place)| place.role == Role::Growing) {
            let all = whole_shelf(shelf);
            let grounds: Vec<fit::Rect> = match self.room.lit(number) {
                Some(Lit::Whole) => vec![all],
                Some(Lit::UnderLamps) => {
                    any = true;
                    let lamps = shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Lamp);
                    lamps.filter_map(|zone| clip(zone, all)).collect()
                }
                Some(Lit::Beside | Lit::Dark) | None => Vec::new(),
            };
            for rect in grounds.into_iter().filter(|_| is_open(place, shelf, day)) {
                let ground = [rect.w + kind.slack, rect.d + kind.slack, kind.w, kind.d];
                lit += *known.entry((kind.pot, ground)).or_insert_with(|| kind.most_on(ground[0], ground[1]));
            }
        }
        any.then(|| u32::try_from(lit).unwrap_or(u32::MAX))
    }

    /// Of those that want light, how many stand well lit in the layout, and how many beyond the lamps.
    fn stand_lit(&self, pool: PoolKind, items: &[usize], date: NaiveDate, known: &mut Known) -> (u32, OverLit) {
        let (mut lit, mut over) = (0_u32, OverLit::default());
        if pool != PoolKind::Of(Role::Growing) {
            return (lit, over);
        }
        for &item in items {
            let Some((number, stay)) = self.part_on(item, date).filter(|(_, stay)| stay.needs.light) else { continue };
            let Some(spot) = self.answer.layout.spot_on(item, day_number(date)) else { continue };
            let corner = corner_of(spot);
            let well_lit = *known.entry((number, spot.shelf, corner)).or_insert_with(|| {
                let shelf = self.room.ids.get(spot.shelf).and_then(|id| self.season.shelf(*id));
                let on = self.room.lit(spot.shelf).zip(shelf);
                on.map_or(0, |(lit, shelf)| well_lit(lit, shelf, stay, corner))
            });
            lit = lit.saturating_add(well_lit);
            over.add(stay, well_lit);
        }
        (lit, over)
    }

    pub(super) fn weeks(&self, runs: &[Run], cancel: &Cancel) -> Result<Vec<Week>, Cancelled> {
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
                        let worst = run.shortage.as_ref().map_or((run.out, run.needed), |shortage| shortage.rank());
                        (run.verdict, worst, std::cmp::Reverse(run.span.from()))
                    };
                    runs.iter().filter(inside).max_by_key(|run| rank(run)).map(|run| (week, *run))
                });
                let mut row = self.blank(&pool, monday);
                match worst {
                    Some((week, run)) => {
                        self.fill(&mut row, week, run);
                        // the lamps have their own worst day
                        let darkest = runs.iter().filter(inside).max_by_key(|run| run.over_lit.all);
                        let darkest =
                            darkest.filter(|dark| dark.over_lit.all > run.over_lit.all).map_or(run, |dark| *dark);
                        (row.lit, row.over_lit) = (darkest.lit, darkest.over_lit.all);
                    }
                    None => self.fill_empty(&mut row, kind),
                }
                weeks.push(row);
                monday = next;
            }
        }
        Ok(weeks)
    }

    /// A row of the day alone.
    pub(super) fn day(&self, run: &Run, day: NaiveDate) -> Option<Week> {
        let mut row = self.blank(&self.pool(run.pool), day);
        self.fill(&mut row, DateSpan::day(day)?, run);
        (row.lit, row.over_lit) = (run.lit, run.over_lit.all);
        Some(row)
    }

    fn blank(&self, pool: &Pool, from: NaiveDate) -> Week {
        Week {
            from,
            label: week_label(self.season, from),
            pool: pool.clone(),
            verdict: Verdict::Fits,
            worst_day: from,
            together: vec![pool.clone()],
            needed: 0,
            held: 0,
            short: 0,
            short_at_most: 0,
            spare: 0,
            lit: None,
            over_lit: 0,
            trays: 0,
            plants: 0,
            who: Vec::new(),
        }
    }

    pub(super) fn fill(&self, row: &mut Week, week: DateSpan, run: &Run) {
        let date = run.span.from().max(week.from());
        let day = day_number(date);
        let shortage = run.shortage.as_deref();
        let present = shortage.map_or_else(|| self.present(run.pool, day), |shortage| shortage.items.clone());
        row.verdict = run.verdict;
        row.worst_day = date;
        row.needed = shortage.map_or(run.needed, |shortage| shortage.needed);
        let stays = || present.iter().filter_map(|&item| self.stay_on(item, date));
        row.trays = stays().map(|stay| u32::try_from(stay.trays.len()).unwrap_or(u32::MAX)).sum();
        row.plants = stays().fold(0, |sum, stay| sum.saturating_add(stay.plants));
        row.who = self.who(stays());
        row.held = row.needed;
        match shortage {
            Some(shortage) => {
                row.together = shortage.pools.iter().map(|&kind| self.pool(kind)).collect();
                row.short = shortage.short;
                row.short_at_most = self.short_at_most(shortage, run.span.from());
                row.held = row.needed.saturating_sub(row.short);
            }
            None if run.out > 0 => row.short_at_most = run.out,
            None => {
                let Some(kind) = self.commonest(&present, date) else { return };
                let spare = self.spare(present.len(), day, &kind);
                let each = stays().find(|stay| {
                    let (sw, sd) = footprint(self.season, &stay.shape);
                    (sw.units(), sd.units()) == (kind.w, kind.d)
                });
                let each = each.map_or(1, weight);
                let spare = u32::try_from(spare).unwrap_or(u32::MAX).saturating_mul(each);
                // blocks are our choice: all of them cut anew may be more
                let anew = self.of_pots(&present, day).map_or(0, |pots| pots.at_least.saturating_sub(row.needed));
                row.spare = spare.max(anew);
                row.held = row.needed + row.spare;
            }
        }
    }

    fn who<'s>(&self, stays: impl Iterator<Item = &'s Stay>) -> Vec<Stands> {
        let mut numbers: BTreeMap<Vec<SowingId>, u32> = BTreeMap::new();
        for stay in stays {
            let mut sowings = self.forecast.sowings_in(stay);
            sowings.sort_unstable();
            let number = numbers.entry(sowings).or_insert(0);
            *number = number.saturating_add(weight(stay));
        }
        let mut who: Vec<Stands> = numbers.into_iter().map(|(sowings, number)| Stands { sowings, number }).collect();
        who.sort_by_key(|stands| std::cmp::Reverse(stands.number));
        who
    }

    /// A week in which nothing stands there: what it could hold of the pool's commonest kind.
    pub(super) fn fill_empty(&self, row: &mut Week, pool: PoolKind) {
        let mut parts = self.question.items.iter().flat_map(|item| &item.parts);
        let stay = parts.find_map(|part| {
            let stay = self.forecast.stays.get(part.stay)?;
            (self.pool_of(stay) == pool).then_some(stay)
        });
        let (Some(stay), Some(span)) = (stay, DateSpan::day(row.from)) else { return };
        let (w, d) = footprint(self.season, &stay.shape);
        let pot = PotKind::of(&stay.shape);
        let (w, d) = pot.map_or((w, d), |pot| (pot.apart, pot.apart));
        let grams = i64::from(stay.grams.div_ceil(weight(stay).max(1)));
        let kind = Footprint { w: w.units(), d: d.units(), slack: 0, grams, pot, regions: Vec::new().into() };
        // the whole shelf comes after its zones
        let grounds: BTreeMap<usize, fit::Rect> =
            self.room.regions(stay, span).iter().map(|region| (region.shelf, region.rect)).collect();
        let mut counts: BTreeMap<(i64, i64), i64> = BTreeMap::new();
        let held: i64 = grounds
            .into_iter()
            .map(|(shelf, ground)| {
                let size = (ground.w, ground.d);
                let most = || pot.map_or_else(|| kind.most_on(size.0, size.1), |pot| pot.of_one_sowing(size.0, size.1));
                let most = *counts.entry(size).or_insert_with(most);
                let limits = self.question.problem.shelves.get(shelf);
                let square = i128::from(kind.w) * i128::from(kind.d);
                let by_cover = limits.and_then(|limits| limits.cover?.checked_div(square));
                let by_load = limits.and_then(|limits| limits.load?.checked_div(kind.grams));
                let by_cover = by_cover.and_then(|most| i64::try_from(most).ok());
                [by_cover, by_load].into_iter().flatten().fold(most, i64::min)
            })
            .sum();
        row.spare = u32::try_from(held).unwrap_or(u32::MAX);
        row.held = row.spare;
    }

    /// How many more of a kind have room, at least: on shelves that are empty that day, beside what
    /// stands on the others, or with the day packed anew where that is quick and finds more.
    fn spare(&self, present: usize, day: i32, kind: &Footprint) -> i64 {
        let problem = &self.question.problem;
        let mut whole: BTreeMap<usize, fit::Rect> = BTreeMap::new();
        for region in kind.regions.iter() {
            let ground = whole.entry(region.shelf).or_insert(region.rect);
            if region.rect.area() > ground.area() {
                *ground = region.rect;
            }
        }
        let mut standing: BTreeMap<usize, Vec<fit::Rect>> = BTreeMap::new();
        for (number, item) in problem.items.iter().enumerate() {
            if let (Some(phase), Some(spot)) = (item.phase_on(day), self.answer.layout.spot_on(number, day)) {
                standing.entry(spot.shelf).or_default().push(spot.rect(phase));
            }
        }
        let mut counts: BTreeMap<(i64, i64), i64> = BTreeMap::new();
        let mut count = |w: i64, d: i64| *counts.entry((w, d)).or_insert_with(|| fit::count(w, d, kind.w, kind.d).most);
        let (mut beside, mut small) = (0_i64, Vec::new());
        for (&shelf, &ground) in &whole {
            let full = count(ground.w, ground.d);
            let limits = problem.shelves.get(shelf);
            let taken = standing.get(&shelf);
            if full <= MOST_SEARCHED || limits.is_some_and(|shelf| shelf.load.is_some() || shelf.cover.is_some()) {
                small.extend(kind.regions.iter().filter(|region| region.shelf == shelf).copied());
            } else {
                // a large floor: only its clear strips, to the right and to the front of all that stands
                let right = taken.into_iter().flatten().map(|rect| rect.right()).max().unwrap_or(ground.x);
                let front = taken.into_iter().flatten().map(|rect| rect.back()).max().unwrap_or(ground.y);
                let right = right.clamp(ground.x, ground.right());
                let front = front.clamp(ground.y, ground.back());
                beside += count(ground.right() - right, ground.d) + count(right - ground.x, ground.back() - front);
            }
        }
        let more = kind.item(day, small.into());
        beside += fit::place_more(problem, &self.answer.layout, day, &more, MOST_SPARE);
        if present > MOST_REPACKED || beside > MOST_SPARE_ANEW {
            return beside;
        }
        self.spare_anew(day, kind, beside)
    }

    fn spare_anew(&self, day: i32, kind: &Footprint, beside: i64) -> i64 {
        let problem = &self.question.problem;
        let more = kind.item(day, kind.regions.clone());
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
}

fn monday_of(date: NaiveDate) -> NaiveDate {
    date.week(Weekday::Mon).first_day()
}

/// What the week of that day is called.
pub fn week_label(season: &Season, date: NaiveDate) -> WeekLabel {
    label(season, monday_of(date))
}

pub(super) fn label(season: &Season, monday: NaiveDate) -> WeekLabel {
    match season.settings().weeks {
        WeekLabels::Iso => WeekLabel::Iso { year: monday.iso_week().year(), week: monday.iso_week().week() },
        WeekLabels::From(first) => {
            let weeks = (monday - monday_of(first)).num_days().div_euclid(7);
            WeekLabel::Own(if weeks >= 0 { weeks + 1 } else { weeks })
        }
    }
}
