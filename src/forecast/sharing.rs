//! Lots whose last trays are not full and want the same: they stand in one tray, by whole rows.
//!
//! Worked out from the season each time, never stored. What counts is what was known on the day on which
//! a tray is filled: nothing that is seen later moves plants from row to row. The tray has the key of
//! the lot that stands first in it, so that its spot stays with it whoever comes or goes behind.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::season::{ContainerKey, Crop, LotId, Season, SeedLight, Sowing, SowingId, Step, StepId, TrayKey};
use crate::trade;
use crate::units::{Length, shifted};

use super::dates::{self, Dates};
use super::hardening::Hardens;
use super::holding::Holding;
use super::problem::{Problem, Unlike};
use super::scenario::Scenario;
use super::shared;
use super::shared_tray::{FewerTrays, SharedPart, SharedTray, Sharing};
use super::sown::{Sown, SownLot, Timed};
use super::stay::{Inside, Shape};
use super::stays::{self, Premises};

/// An open flat is sown in so many rows across. Our choice, no source.
const ROWS_OF_A_FLAT: u32 = 10;
/// Plants of one tray that differ by less in height have the same light: our choice, no source.
const SAME_HEIGHT: Length = Length::from_mm(50);

/// Only what is alike in all of it shares a tray.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Wants<'a> {
    container: &'a ContainerKey,
    carried_in: Option<&'a ContainerKey>,
    per_tray: u32,
    /// Heat and light while it comes up; nothing once it is moved on.
    sown: Option<(bool, SeedLight)>,
}

/// A lot in one of its steps that may share.
pub(super) struct Candidate<'s, 'a> {
    sown: &'s Sown<'a>,
    pub(super) lot: &'s SownLot,
    index: usize,
    step: StepId,
    per_tray: u32,
    rows: u32,
}

/// The first day outside, and the first night, of what hardens off in a tray: a tray is out or in as a whole.
pub(super) type Outside = Option<(NaiveDate, NaiveDate)>;

/// What of a candidate does not fill a tray, and when it stands there.
#[derive(Clone)]
pub(super) struct Rest {
    pub(super) sowing: SowingId,
    pub(super) lot: LotId,
    pub(super) step: StepId,
    /// Full trays before it.
    full: u32,
    places: u32,
    taken: trade::Remainder<Outside>,
}

/// Puts lots together, whatever luck has in store for them.
pub(super) fn share(season: &Season, ground: &Premises, all: &[&Sown<'_>]) -> Sharing {
    let mut alike: BTreeMap<Wants<'_>, Vec<Candidate<'_, '_>>> = BTreeMap::new();
    for sown in all {
        for (wants, candidate) in candidates(ground, sown) {
            alike.entry(wants).or_default().push(candidate);
        }
    }
    let mut times: BTreeMap<LotId, Option<Timed>> = BTreeMap::new();
    let mut sharing = Sharing::default();
    for (wants, candidates) in alike.iter().filter(|(_, candidates)| candidates.len() > 1) {
        let rests: Vec<_> = candidates
            .iter()
            .filter_map(|one| {
                let time = || Some(one.sown.time(one.lot, &Scenario::none(), &mut Vec::new())?.0);
                let timed = times.entry(one.lot.lot.id).or_insert_with(time);
                Some((one, one.rest(season, ground, timed.as_ref()?)?))
            })
            .collect();
        sharing.fewer.extend(fewer(season, &rests));
        let rests: Vec<&Rest> = rests.iter().map(|(_, rest)| rest).collect();
        put_together(wants, &rests, &mut sharing);
    }
    sharing
}

/// Gives each its rows of a tray, in that order.
pub(super) fn put_together(wants: &Wants<'_>, rests: &[&Rest], sharing: &mut Sharing) {
    let remainders: Vec<_> = rests.iter().map(|rest| rest.taken.clone()).collect();
    let mut trays: BTreeMap<usize, (TrayKey, SharedTray)> = BTreeMap::new();
    for (rest, rows) in rests.iter().zip(trade::share_rows(&remainders)) {
        let empty = || SharedTray { rows: rest.taken.of_rows, places: wants.per_tray, parts: Vec::new() };
        let (_, tray) = trays.entry(rows.with).or_insert_with(|| (rest.key(), empty()));
        tray.parts.push(rest.part(rows.first));
    }
    trays.into_values().filter(|(_, tray)| tray.parts.len() > 1).for_each(|(key, tray)| sharing.put(key, tray));
}

/// Of a sowing that stands alone there are none.
pub(super) fn candidates<'s, 'a>(ground: &Premises, sown: &'s Sown<'a>) -> Vec<(Wants<'a>, Candidate<'s, 'a>)> {
    let mut found = Vec::new();
    let (crop, sowing) = (sown.crop, sown.sowing);
    if sowing.alone {
        return found;
    }
    for (index, step) in sowing.steps.iter().enumerate() {
        // piled trays stand with their own kind
        let Some(holding) = sown.keeps_its_pitch(index).filter(|_| index > 0 || sowing.stack.is_none()) else {
            continue;
        };
        let Some(rows) = rows_of(holding) else { continue };
        let wants = Wants {
            container: &step.container,
            carried_in: step.carried_in.as_ref(),
            per_tray: holding.per_tray,
            sown: (index == 0).then(|| (ground.heats(crop, sowing), crop.light_to_germinate)),
        };
        let (step, per_tray) = (step.id, holding.per_tray);
        let of_lot = |lot| (wants.clone(), Candidate { sown, lot, index, step, per_tray, rows });
        found.extend(sown.lots.iter().map(of_lot));
    }
    found
}

/// Rows of a tray; nothing where it can't be divided.
fn rows_of(holding: &Holding) -> Option<u32> {
    let Shape::Tray { inside, .. } = &holding.shape else { return None };
    if holding.loose.is_some() {
        return None;
    }
    let rows = match inside {
        Inside::Cells { columns, rows } => u32::from(*columns.max(rows)),
        Inside::Pots { .. } => holding.per_tray,
        Inside::Open => ROWS_OF_A_FLAT.min(holding.per_tray),
    };
    (1 < rows && rows <= holding.per_tray).then_some(rows)
}

/// Whole rows for so many places.
fn rows_for(places: u32, rows: u32, per_tray: u32) -> u32 {
    let wanted = (u64::from(places) * u64::from(rows)).div_ceil(u64::from(per_tray.max(1)));
    u32::try_from(wanted).unwrap_or(u32::MAX)
}

impl Candidate<'_, '_> {
    /// Cells that are as sure with so many seeds in each, or with more where more are sown.
    fn cells_with(&self, season: &Season, seeds: u8) -> u32 {
        let sowing = self.sown.sowing;
        let with = Sowing { seeds_per_cell: sowing.seeds_per_cell.max(seeds), ..sowing.clone() };
        dates::sow_count(season, &with, self.lot.sow.germination, self.lot.plants).sure
    }

    /// What does not fill a tray on the day on which the lot comes into it, and the days that were known
    /// of it then.
    pub(super) fn rest(&self, season: &Season, ground: &Premises, timed: &Timed) -> Option<Rest> {
        let (sowing, lot) = (self.sown.sowing, self.lot.lot.id);
        let start = *timed.dates.starts.get(self.index)?;
        let all = self.lot.places_at_start(self.index, timed)?;
        let (full, places) = (all / self.per_tray, all % self.per_tray);
        let of_rows = self.rows;
        let rows = rows_for(places, of_rows, self.per_tray);
        if rows == 0 || rows >= of_rows || shared::has_rows(season, lot, self.step) {
            return None;
        }
        let known = self.sown.dates_known_on(self.lot, start)?;
        let until = stays::leaves(&known, (self.index, sowing.steps.len()), full * self.per_tray, all);
        let up = if self.index == 0 { known.up } else { start };
        let taken = trade::Remainder { alike: self.outside(ground, &known, until), rows, of_rows, start, up, until };
        Some(Rest { sowing: sowing.id, lot, step: self.step, full, places, taken })
    }

    fn outside(&self, ground: &Premises, known: &Dates, out: NaiveDate) -> Outside {
        let (crop, sowing) = (self.sown.crop, self.sown.sowing);
        let last_start = known.starts.last().copied().filter(|_| self.index + 1 == sowing.steps.len())?;
        let rule = trade::hardening_days(crop, sowing);
        let (nights_from, seen) = (known.nights_from, known.outside.before(out));
        let found = Hardens { crop, rule, last_start, out, nights_from, seen }.in_places(&ground.hardening)?;
        Some((found.from, found.first_night))
    }
}

impl Rest {
    const fn key(&self) -> TrayKey {
        TrayKey::Own { lot: self.lot, step: self.step, n: self.full + 1 }
    }

    fn part(&self, first: u32) -> SharedPart {
        let Self { sowing, lot, step, places, ref taken, .. } = *self;
        let rows = first..first + taken.rows;
        SharedPart { sowing, lot, step, rows, cells: None, places, from: taken.start, until: taken.until }
    }
}

type Shares<'s, 'a> = (&'s Candidate<'s, 'a>, Rest);

/// More than so many seeds to a cell are not sown to save a tray. Common practice: two or three, thinned
/// to one; no source.
const MOST_SEEDS: u8 = 3;

/// Where more seeds to a cell, so that fewer cells are as sure, would stand in fewer trays: of lots that
/// are sown within a few days, none of them yet.
fn fewer(season: &Season, all: &[Shares<'_, '_>]) -> Vec<FewerTrays> {
    let mut sown: Vec<_> = all.iter().filter(|(one, _)| one.index == 0).collect();
    sown.sort_by_key(|(_, rest)| rest.taken.start);
    let near = |a: &&Shares<'_, '_>, b: &&Shares<'_, '_>| {
        (b.1.taken.start - a.1.taken.start).num_days() <= trade::SHARED_START_DAYS
    };
    let open = |(one, _): &&Shares<'_, '_>| one.sown.sowing.begun.is_none() && one.sown.sowing.seen.is_empty();
    let together = sown.chunk_by(|a, b| near(a, b)).filter(|here| here.len() > 1 && here.iter().all(open));
    together.filter_map(|here| fewer_of(season, here)).collect()
}

fn fewer_of(season: &Season, here: &[&Shares<'_, '_>]) -> Option<FewerTrays> {
    let trays = |remainders: &[trade::Remainder<Outside>]| {
        let taken: BTreeSet<usize> = trade::share_rows(remainders).into_iter().map(|rows| rows.with).collect();
        u32::try_from(taken.len()).unwrap_or(u32::MAX)
    };
    let now: Vec<_> = here.iter().map(|(_, rest)| rest.taken.clone()).collect();
    let full: u32 = here.iter().map(|(_, rest)| rest.full).sum();
    let before = full + trays(&now);
    let (lot, step) = here.first().map(|(_, rest)| (rest.lot, rest.step))?;
    (2..=MOST_SEEDS).find_map(|seeds| {
        let (mut full, mut remainders) = (0, Vec::new());
        for (one, rest) in here {
            let cells = one.cells_with(season, seeds);
            let rows = rows_for(cells % one.per_tray, one.rows, one.per_tray);
            full += cells / one.per_tray + u32::from(rows >= one.rows);
            if (1..one.rows).contains(&rows) {
                remainders.push(trade::Remainder { rows, ..rest.taken.clone() });
            }
        }
        let after = full + trays(&remainders);
        (after < before).then_some(FewerTrays { lot, step, seeds, before, after })
    })
}

/// A lot in a shared tray, as it turned out.
pub(super) struct Beside<'a> {
    pub(super) tray: TrayKey,
    pub(super) sowing: SowingId,
    pub(super) part: (LotId, StepId),
    pub(super) crop: &'a Crop,
    pub(super) heat: bool,
    /// Growth counts from here.
    pub(super) sown: NaiveDate,
    /// In the tray that it was sown in.
    pub(super) up: Option<NaiveDate>,
    pub(super) until: NaiveDate,
}

/// How the lot fares in each tray that it shares.
pub(super) fn beside<'a>(
    sharing: &Sharing,
    ground: &Premises,
    sown: &Sown<'a>,
    lot: &SownLot,
    timed: &Timed,
) -> Vec<Beside<'a>> {
    let (crop, sowing, dates) = (sown.crop, sown.sowing, &timed.dates);
    let steps = sowing.steps.iter().enumerate();
    let of_step = |(index, step): (usize, &Step)| {
        let all = lot.places_at_start(index, timed)?;
        let (tray, places) = sharing.part(lot.lot.id, step.id, all)?;
        let until = stays::leaves(dates, (index, sowing.steps.len()), all - places, all);
        let until = lot.died().map_or(until, |died| died.min(until));
        let up = (index == 0).then_some(dates.up).filter(|up| *up < until);
        let heat = ground.heats(crop, sowing);
        let part = (lot.lot.id, step.id);
        Some(Beside { tray, sowing: sowing.id, part, crop, heat, sown: dates.sown, up, until })
    };
    steps.filter_map(of_step).collect()
}

/// The trays as they turned out, and those whose rows the grower gave.
pub(super) fn trays(
    sharing: &Sharing,
    given: BTreeMap<TrayKey, SharedTray>,
    all: &[Beside<'_>],
) -> BTreeMap<TrayKey, SharedTray> {
    let mut trays = sharing.trays.clone();
    for one in all {
        let parts = trays.get_mut(&one.tray).into_iter().flat_map(|tray| &mut tray.parts);
        for part in parts.filter(|part| (part.lot, part.step) == one.part) {
            part.until = one.until;
        }
    }
    trays.extend(given);
    trays
}

/// Which lots are the worse for standing with the others of their tray.
pub(super) fn unlike(all: &[Beside<'_>]) -> Vec<Problem> {
    let mut trays: BTreeMap<TrayKey, Vec<&Beside<'_>>> = BTreeMap::new();
    for one in all {
        trays.entry(one.tray).or_default().push(one);
    }
    let mut found = Vec::new();
    for (tray, here) in trays.into_iter().filter(|(_, here)| here.len() > 1) {
        let mut say = |sowing, how| found.push(Problem::SharesUnlike { sowing, tray, how });
        let first_up = here.iter().filter_map(|one| one.up).min();
        for one in &here {
            if let (Some(first), Some(up)) = (first_up, one.up)
                && (up - first).num_days() > trade::SHARED_UP_DAYS
            {
                say(one.sowing, Unlike::UpLater { first, up, heat: one.heat });
            }
        }
        let Some(last) = here.iter().max_by_key(|one| one.until) else { continue };
        let others = here.iter().filter(|one| one.sowing != last.sowing).map(|one| one.until).max();
        if let Some(others) = others.filter(|day| (last.until - *day).num_days() > trade::SHARED_LEAVE_DAYS) {
            say(last.sowing, Unlike::StandsOn { others, until: last.until });
        }
        let Some(day) = here.iter().map(|one| shifted(one.until, -1)).min() else { continue };
        let height = |one: &Beside<'_>| {
            let mm = trade::grown_mm(&one.crop.heights.value, (day - one.sown).num_days());
            Length::try_from_mm(mm).unwrap_or(Length::ZERO)
        };
        let Some(tallest) = here.iter().max_by_key(|one| height(one)) else { continue };
        for one in &here {
            let by = height(tallest) - height(one);
            if by >= SAME_HEIGHT {
                say(one.sowing, Unlike::Shorter { than: tallest.sowing, by, day });
            }
        }
    }
    found
}
