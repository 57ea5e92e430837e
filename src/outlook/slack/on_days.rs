//! Days of a season that is a little changed, each held against the shelves by itself.

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{Hash as _, Hasher as _};
use std::mem::discriminant;
use std::sync::{Arc, Mutex, PoisonError};

use siphasher::sip128::{Hasher128 as _, SipHasher13};

use crate::fit::{Cancel, Cancelled, Item, Problem, fits_as_wished};
use crate::forecast::{Forecast, Redone, Shape, Stay};
use crate::outlook::Keep;
use crate::outlook::question::{Joined, ask, date_of, day_number};
use crate::outlook::room::{Room, footprint};
use crate::outlook::verdict::{DayShort, short_on};
use crate::outlook::ways_out::Standing;
use crate::season::{LotId, Op, Season, TrayKey};
use crate::units::DateSpan;

/// What stays ask of the shelves on a day, by their place in the forecast.
type Asked = BTreeMap<usize, Vec<Item>>;

/// The season as it is, day by day.
pub(super) struct OnDays<'a> {
    of: Standing<'a>,
    pub(super) room: Room<'a>,
    /// With every tray where the outlook has it.
    placed: Season,
    first: i32,
    /// What stands there on each day, by its place in the forecast.
    stays: Vec<Vec<usize>>,
    /// A sum over what stands there on each day: equal sums, equal demands.
    sums: Vec<u128>,
    /// The stays of each lot's trays, and of each tray, by their place in the forecast.
    of_lot: BTreeMap<LotId, Vec<usize>>,
    of_tray: BTreeMap<TrayKey, Vec<usize>>,
    /// What each of them asks of the shelves, day by day.
    asked: Mutex<BTreeMap<i32, Arc<Asked>>>,
    /// What the solver said of a day, by its sum: it hangs on that alone, whoever asked.
    known: Mutex<BTreeMap<u128, Arc<Vec<DayShort>>>>,
}

/// Days that were looked at for a work and are no worse, by what stands there on them.
pub(super) type NoWorse = BTreeSet<(i32, u128)>;

/// A day that is worse, or may be.
pub(super) struct Worse {
    pub(super) day: i32,
    pub(super) short: DayShort,
    pub(super) before: u32,
    /// It is, whatever is moved.
    pub(super) is_proven: bool,
}

impl<'a> OnDays<'a> {
    pub(super) fn of(of: Standing<'a>) -> Self {
        let mut placed = of.season.clone();
        // what is refused leaves the season as it was: nobody stands anywhere
        placed.apply(&Op::SetLayout(of.outlook.layout.clone()).into()).ok();
        let span = of.forecast.span();
        let first = span.map_or(0, |span| day_number(span.from()));
        let number = span.and_then(|span| usize::try_from(span.days()).ok()).unwrap_or(0);
        let room = Room::of(of.season);
        let (stays, sums) = (vec![Vec::new(); number], vec![0; number]);
        let (of_lot, of_tray) = (BTreeMap::new(), BTreeMap::new());
        let (asked, known) = (Mutex::default(), Mutex::default());
        let mut days = Self { of, room, placed, first, stays, sums, of_lot, of_tray, asked, known };
        for (at, stay) in of.forecast.stays.iter().enumerate() {
            for tray in &stay.trays {
                days.of_tray.entry(*tray).or_default().push(at);
                if let TrayKey::Own { lot, .. } = tray {
                    days.of_lot.entry(*lot).or_default().push(at);
                }
            }
            for (span, mark) in days.marks(stay) {
                for day in day_number(span.from())..day_number(span.until()) {
                    let Some(number) = days.number(day) else { continue };
                    if let Some(here) = days.stays.get_mut(number) {
                        here.push(at);
                    }
                    if let Some(sum) = days.sums.get_mut(number) {
                        *sum = sum.wrapping_add(mark);
                    }
                }
            }
        }
        days
    }

    fn number(&self, day: i32) -> Option<usize> {
        usize::try_from(day.checked_sub(self.first)?).ok()
    }

    /// What of a stay counts on the shelves, as a number, for as long as it is the same.
    fn marks(&self, stay: &Stay) -> Vec<(DateSpan, u128)> {
        let mark = |span: DateSpan| {
            let mut hasher = SipHasher13::new();
            let into = &mut hasher;
            let (w, d) = footprint(self.of.season, &stay.shape);
            (w, d, stay.grams, stay.needs.light, stay.needs.heat).hash(into);
            (discriminant(&stay.needs.role), discriminant(&stay.part)).hash(into);
            if let Shape::Pots { centres, pitch, across, .. } = &stay.shape {
                (centres.len(), pitch, across).hash(into);
            }
            self.room.regions(stay, span).hash(into);
            if let Some(tray) = stay.tray().filter(|tray| self.has_its_own(*tray)) {
                into.write(format!("{tray:?}").as_bytes());
            }
            hasher.finish128().as_u128()
        };
        self.room.cuts(stay.span).into_iter().map(|span| (span, mark(span))).collect()
    }

    /// Whether it is not like every other tray of its kind: pinned, or by day elsewhere than by night.
    fn has_its_own(&self, tray: TrayKey) -> bool {
        self.room.has_night_place() || self.of.season.spots_of(tray).any(|spot| spot.pinned)
    }

    /// What stands there as it is planned of all that is redone, in order.
    fn planned(&self, then: &Redone) -> Vec<&Stay> {
        let (lots, trays) = then.of();
        let of_lots = lots.filter_map(|lot| self.of_lot.get(&lot));
        let of_trays = trays.filter_map(|tray| self.of_tray.get(&tray));
        let all: BTreeSet<usize> = of_lots.chain(of_trays).flatten().copied().collect();
        all.into_iter().filter_map(|at| self.of.forecast.stays.get(at)).collect()
    }

    /// The first day that is worse with those stays, proven; else the first that may be.
    pub(super) fn worse(
        &self,
        then: &Redone,
        no_worse: &mut NoWorse,
        cancel: &Cancel,
    ) -> Result<Option<Worse>, Cancelled> {
        let (gone, new) = difference(self.planned(then), &then.stays);
        let mut changes: BTreeMap<i32, Changes<'_>> = BTreeMap::new();
        for (stay, is_new) in gone.iter().map(|stay| (*stay, false)).chain(new.iter().map(|stay| (*stay, true))) {
            for (span, mark) in self.marks(stay) {
                for day in day_number(span.from())..day_number(span.until()) {
                    let change = changes.entry(day).or_default();
                    if is_new { change.new.push((mark, stay)) } else { change.gone.push(mark) }
                }
            }
        }
        let mut open = None;
        // fewer of what stands there are never worse
        for (day, change) in changes.into_iter().filter(|(_, change)| !change.only_takes_away()) {
            cancel.check()?;
            let sum = change.sum(self.sum(day));
            if no_worse.contains(&(day, sum)) {
                continue;
            }
            let stays = self.stays_on(day, &gone).map(|(at, stay)| (Some(at), stay));
            let here: Vec<_> = stays.chain(change.new.iter().map(|(_, stay)| (None, *stay))).collect();
            let found = self.short(day, sum, &here, cancel)?;
            match self.compare(day, &found, cancel)? {
                None => {
                    no_worse.insert((day, sum));
                }
                Some(worse) if worse.is_proven => return Ok(Some(worse)),
                Some(worse) => open = open.or(Some(worse)),
            }
        }
        Ok(open)
    }

    fn sum(&self, day: i32) -> u128 {
        self.number(day).and_then(|day| self.sums.get(day)).copied().unwrap_or(0)
    }

    /// Of the season as it is, but those that are gone; with their place in the forecast.
    fn stays_on<'s>(&'s self, day: i32, gone: &'s [&Stay]) -> impl Iterator<Item = (usize, &'s Stay)> {
        let here = self.number(day).and_then(|day| self.stays.get(day));
        let stays = here.into_iter().flatten().filter_map(|at| Some((*at, self.of.forecast.stays.get(*at)?)));
        stays.filter(|(_, stay)| !gone.iter().any(|gone| std::ptr::eq(*gone, *stay)))
    }

    /// What is short on a day of those stays.
    fn short(
        &self,
        day: i32,
        sum: u128,
        stays: &[(Option<usize>, &Stay)],
        cancel: &Cancel,
    ) -> Result<Arc<Vec<DayShort>>, Cancelled> {
        let Some(only) = DateSpan::day(date_of(day)) else { return Ok(Arc::default()) };
        // beside what stands there, which is soon done; what that says of a day is not kept: it hangs on who stands where
        let planned = self.items_on(day);
        let mut problem = Problem { shelves: self.room.limits(), items: Vec::new() };
        for &(at, stay) in stays {
            match at.and_then(|at| planned.get(&at)) {
                Some(items) => problem.items.extend(items.iter().cloned()),
                None => problem.items.extend(self.items(only, stay)),
            }
        }
        if fits_as_wished(&problem, day) {
            return Ok(Arc::default());
        }
        if let Some(known) = self.known.lock().unwrap_or_else(PoisonError::into_inner).get(&sum) {
            return Ok(Arc::clone(known));
        }
        let mut alone = alone(stays.iter().map(|(_, stay)| *stay), only);
        alone.stays.sort_by_cached_key(|stay| self.marks(stay).into_iter().map(|(_, mark)| mark).next());
        let found = Arc::new(short_on(self.of.season, &alone, &self.room, only, cancel)?);
        self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(sum, Arc::clone(&found));
        Ok(found)
    }

    /// What a stay asks of the shelves on a day, where it stands in the layout.
    fn items(&self, only: DateSpan, stay: &Stay) -> Vec<Item> {
        let alone = alone(std::iter::once(stay), only);
        ask(&self.placed, &alone, &self.room, Joined::SameGround, Keep::Spots).problem.items
    }

    /// The same of all that stands there as it is planned, by its place in the forecast.
    fn items_on(&self, day: i32) -> Arc<Asked> {
        if let Some(known) = self.asked.lock().unwrap_or_else(PoisonError::into_inner).get(&day) {
            return Arc::clone(known);
        }
        let only = DateSpan::day(date_of(day));
        let items = self.stays_on(day, &[]).filter_map(|(at, stay)| Some((at, self.items(only?, stay))));
        let items = Arc::new(items.collect());
        self.asked.lock().unwrap_or_else(PoisonError::into_inner).insert(day, Arc::clone(&items));
        items
    }

    /// The first that more are short of than as it is planned, or may be.
    fn compare(&self, day: i32, found: &[DayShort], cancel: &Cancel) -> Result<Option<Worse>, Cancelled> {
        if found.is_empty() {
            return Ok(None);
        }
        let date = date_of(day);
        let base = if self.of.outlook.no_spot.iter().any(|(_, span)| span.contains(date)) {
            let planned: Vec<_> = self.stays_on(day, &[]).map(|(at, stay)| (Some(at), stay)).collect();
            self.short(day, self.sum(day), &planned, cancel)?
        } else {
            Arc::default()
        };
        let mut open = None;
        for short in found {
            let same = || base.iter().filter(|was| was.pools.iter().any(|pool| short.pools.contains(pool)));
            let before = same().fold(0_u32, |sum, was| sum.saturating_add(was.at_most));
            let at_least = same().fold(0_u32, |sum, was| sum.saturating_add(was.short));
            let inside = same().all(|was| was.pools.iter().all(|pool| short.pools.contains(pool)));
            let worse = |is_proven| Worse { day, short: short.clone(), before, is_proven };
            if short.short > before {
                return Ok(Some(worse(true)));
            }
            if !(inside && short.at_most <= at_least) {
                open = open.or(Some(worse(false)));
            }
        }
        Ok(open)
    }
}

/// What is other than planned on a day.
#[derive(Default)]
struct Changes<'s> {
    gone: Vec<u128>,
    new: Vec<(u128, &'s Stay)>,
}

impl Changes<'_> {
    fn sum(&self, planned: u128) -> u128 {
        let left = self.gone.iter().fold(planned, |sum, mark| sum.wrapping_sub(*mark));
        self.new.iter().fold(left, |sum, (mark, _)| sum.wrapping_add(*mark))
    }

    /// Whether all that is new is like something that is gone.
    fn only_takes_away(&self) -> bool {
        let mut gone = self.gone.clone();
        self.new.iter().all(|(mark, _)| {
            let alike = gone.iter().position(|gone| gone == mark);
            alike.map(|at| gone.swap_remove(at)).is_some()
        })
    }
}

/// A forecast of those stays on that day alone.
fn alone<'s>(stays: impl Iterator<Item = &'s Stay>, only: DateSpan) -> Forecast {
    Forecast { stays: stays.map(|stay| Stay { span: only, ..stay.clone() }).collect(), ..Forecast::default() }
}

/// Stays of the one that the other has not, and the other way round; both are in order.
fn difference<'s>(before: Vec<&'s Stay>, after: &'s [Stay]) -> (Vec<&'s Stay>, Vec<&'s Stay>) {
    let (mut gone, mut new) = (Vec::new(), Vec::new());
    let (mut left, mut right) = (before.into_iter().peekable(), after.iter().peekable());
    loop {
        match (left.peek(), right.peek()) {
            (Some(&one), Some(&other)) => match (one.span, &one.trays).cmp(&(other.span, &other.trays)) {
                std::cmp::Ordering::Less => gone.extend(left.next()),
                std::cmp::Ordering::Greater => new.extend(right.next()),
                std::cmp::Ordering::Equal => {
                    let same = one == other;
                    let (one, other) = (left.next(), right.next());
                    if !same {
                        gone.extend(one);
                        new.extend(other);
                    }
                }
            },
            (Some(_), None) => gone.extend(left.next()),
            (None, Some(_)) => new.extend(right.next()),
            (None, None) => return (gone, new),
        }
    }
}
