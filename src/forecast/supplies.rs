//! What a season needs that must be there before it is sown: seed, trays and pots.
//!
//! Every figure is a sum of what the forecast counts already. A tray is in use from the first day of its first stay to the
//! last day of its last one; what is empty can be filled again. Trays of other plants are of no kind that is known, and
//! are not counted.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::season::{
    ContainerKey, ContainerKind, CropKey, Library, LotId, Observed, PartOfDay, Season, Sowing, Step, StepId, TrayKey,
};
use crate::trade;

use super::all::Forecast;
use super::course::{Course, What};
use super::holding::{Standing, holding};
use super::stay::Stay;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Supplies {
    /// By crop, then by variety.
    pub seed: Vec<SeedWanted>,
    /// Trays of cells, open flats and carrying trays, by kind.
    pub trays: Vec<InUse>,
    /// By kind.
    pub pots: Vec<InUse>,
}

/// Seed of one crop and variety.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeedWanted {
    pub crop: CropKey,
    pub variety: String,
    pub sowings: u32,
    /// Plants that they are to give.
    pub plants: u32,
    /// Seeds that give so many on average.
    pub on_average: u64,
    /// Seeds that give so many as surely as the season asks, each sowing by itself: what the forecast sows.
    pub sure: u64,
    /// Of those, what is not written down as sown.
    pub still: u64,
    /// The first day on which any of it is sown.
    pub first: NaiveDate,
}

/// How many of one kind are in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InUse {
    pub container: ContainerKey,
    /// At one time.
    pub most: u32,
    /// The first day on which it is so many.
    pub on: NaiveDate,
    /// If none is used again.
    pub all: u32,
    pub from: NaiveDate,
    /// The first day on which none is in use any more.
    pub until: NaiveDate,
}

pub fn supplies(season: &Season, library: &Library, forecast: &Forecast) -> Supplies {
    let filled = Filled::of(season, library, forecast);
    Supplies { seed: seed(season, forecast), trays: filled.trays.in_use(), pots: filled.pots.in_use() }
}

fn seed(season: &Season, forecast: &Forecast) -> Vec<SeedWanted> {
    let mut all: BTreeMap<(&CropKey, &str), SeedWanted> = BTreeMap::new();
    for sowing in season.sowings().filter(|sowing| sowing.begun.is_none()) {
        let mut sown: Vec<(NaiveDate, &Course)> =
            forecast.courses_of(sowing.id).filter_map(|course| Some((course.date(What::Sown)?, course))).collect();
        sown.sort_by_key(|(day, _)| *day);
        let Some((first, _)) = sown.first() else { continue };
        let wanted = all.entry((&sowing.crop, &sowing.variety)).or_insert_with(|| SeedWanted {
            crop: sowing.crop.clone(),
            variety: sowing.variety.clone(),
            sowings: 0,
            plants: 0,
            on_average: 0,
            sure: 0,
            still: 0,
            first: *first,
        });
        wanted.first = wanted.first.min(*first);
        wanted.sowings += 1;
        wanted.plants = wanted.plants.saturating_add(sowing.plants_wanted());
        let done = days_sown(sowing);
        let mut days: Vec<NaiveDate> = sown.iter().map(|(day, _)| *day).collect();
        days.dedup();
        for (day, course) in sown {
            let seeds = |cells: u32| u64::from(cells) * u64::from(sowing.seeds_per_cell);
            wanted.on_average = wanted.on_average.saturating_add(seeds(course.sow.on_average));
            wanted.sure = wanted.sure.saturating_add(seeds(course.sow.sure));
            if days.iter().position(|known| *known == day).is_some_and(|at| at >= done) {
                wanted.still = wanted.still.saturating_add(seeds(course.sow.sure));
            }
        }
    }
    all.into_values().collect()
}

/// On how many days of its own it was sown already, by what is written down.
fn days_sown(sowing: &Sowing) -> usize {
    let sown = sowing.seen.iter().filter(|seen| matches!(seen.what, Observed::Sown { .. }));
    let days: BTreeSet<NaiveDate> = sown.map(|seen| seen.date).collect();
    days.len()
}

/// What is filled from when to when.
#[derive(Default)]
struct Filled {
    trays: Count,
    pots: Count,
}

/// Of each kind: what changes on which day, and how many there are if none is used again.
#[derive(Default)]
struct Count(BTreeMap<ContainerKey, Kind>);

#[derive(Default)]
struct Kind {
    /// More or fewer from that day on.
    changes: BTreeMap<NaiveDate, i64>,
    all: u32,
}

impl Count {
    fn add(&mut self, kind: &ContainerKey, (from, until): (NaiveDate, NaiveDate), number: u32) {
        let kind = self.0.entry(kind.clone()).or_default();
        *kind.changes.entry(from).or_default() += i64::from(number);
        *kind.changes.entry(until).or_default() -= i64::from(number);
    }

    fn add_all(&mut self, kind: &ContainerKey, number: u32) {
        let kind = self.0.entry(kind.clone()).or_default();
        kind.all = kind.all.saturating_add(number);
    }

    fn in_use(self) -> Vec<InUse> {
        self.0.into_iter().filter_map(|(container, kind)| kind.in_use(container)).collect()
    }
}

impl Kind {
    fn in_use(self, container: ContainerKey) -> Option<InUse> {
        let (mut now, mut most, mut last) = (0_i64, None, None);
        for (day, change) in &self.changes {
            let before = now;
            now += change;
            if now > 0 && most.is_none_or(|(_, number)| now > number) {
                most = Some((*day, now));
            }
            if before > 0 && now == 0 {
                last = Some(*day);
            }
        }
        let (on, most) = most?;
        let from = self.changes.iter().find(|(_, change)| **change > 0).map(|(day, _)| *day)?;
        let most = u32::try_from(most).unwrap_or(u32::MAX);
        Some(InUse { container, most, on, all: self.all.max(most), from, until: last? })
    }
}

/// A step that trays stand in.
struct InStep<'a> {
    step: &'a Step,
    container: &'a ContainerKind,
    /// Trays that stand in one carrying tray, and the plants in a full one.
    inserts: Option<(u32, u32)>,
}

impl Filled {
    fn of(season: &Season, library: &Library, forecast: &Forecast) -> Self {
        let mut filled = Self::default();
        let mut by_tray: BTreeMap<TrayKey, Vec<&Stay>> = BTreeMap::new();
        // those that come in for the night are counted where they stand then
        for stay in forecast.stays.iter().filter(|stay| stay.part != PartOfDay::Days) {
            for tray in &stay.trays {
                by_tray.entry(*tray).or_default().push(stay);
            }
        }
        let mut steps: BTreeMap<StepId, Option<InStep<'_>>> = BTreeMap::new();
        let mut pots: BTreeMap<(LotId, StepId), Vec<&Stay>> = BTreeMap::new();
        for (tray, stays) in &by_tray {
            let Some((lot, step)) = first_in(forecast, *tray) else { continue };
            let known = steps.entry(step).or_insert_with(|| in_step(season, library, step));
            let Some(known) = known else { continue };
            filled.tray(known, stays);
            if matches!(known.container, ContainerKind::Pot(_)) {
                // a stack is one stay of several trays
                pots.entry((lot, step)).or_default().extend(stays.iter().filter(|stay| stay.tray() == Some(*tray)));
            }
        }
        for ((_, step), stays) in &pots {
            if let Some(Some(known)) = steps.get(step) {
                filled.pots(&known.step.container, stays);
            }
        }
        filled
    }

    /// The tray itself, and what stands in it.
    fn tray(&mut self, known: &InStep<'_>, stays: &[&Stay]) {
        let (Some(from), Some(until)) =
            (stays.iter().map(|stay| stay.span.from()).min(), stays.iter().map(|stay| stay.span.until()).max())
        else {
            return;
        };
        let mut put = |kind: &ContainerKey, number| {
            self.trays.add(kind, (from, until), number);
            self.trays.add_all(kind, number);
        };
        if let Some(carried) = &known.step.carried_in {
            put(carried, 1);
        }
        if !matches!(known.container, ContainerKind::Pot(_)) {
            let plants = stays.iter().filter(|stay| stay.trays.len() == 1).map(|stay| stay.plants).max();
            let number = match (known.inserts, plants) {
                (Some((number, full)), Some(plants)) => {
                    let each = (full / number.max(1)).max(1);
                    plants.div_ceil(each).clamp(1, number)
                }
                (Some((number, _)), None) => number,
                (None, _) => 1,
            };
            put(&known.step.container, number);
        }
    }

    /// All pots of a batch in a step: spaced out, they are as many in more trays.
    fn pots(&mut self, kind: &ContainerKey, stays: &[&Stay]) {
        let mut changes: BTreeMap<NaiveDate, i64> = BTreeMap::new();
        for stay in stays {
            self.pots.add(kind, (stay.span.from(), stay.span.until()), stay.plants);
            *changes.entry(stay.span.from()).or_default() += i64::from(stay.plants);
            *changes.entry(stay.span.until()).or_default() -= i64::from(stay.plants);
        }
        let (mut now, mut most) = (0, 0);
        for change in changes.values() {
            now += change;
            most = now.max(most);
        }
        self.pots.add_all(kind, u32::try_from(most).unwrap_or(u32::MAX));
    }
}

/// Whose it is, and in which step: of a shared tray, the first of those in it.
fn first_in(forecast: &Forecast, tray: TrayKey) -> Option<(LotId, StepId)> {
    match (tray, forecast.shared.get(&tray)) {
        (TrayKey::Own { lot, step, .. }, _) => Some((lot, step)),
        (_, Some(shared)) => shared.parts.first().map(|part| (part.lot, part.step)),
        (TrayKey::Shared(_) | TrayKey::Guest { .. }, None) => None,
    }
}

fn in_step<'a>(season: &'a Season, library: &'a Library, id: StepId) -> Option<InStep<'a>> {
    let sowing = season.sowing_with(id)?;
    let step = sowing.steps.iter().find(|step| step.id == id)?;
    let container = season.container(library, &step.container)?;
    let carried = step.carried_in.as_ref().and_then(|key| season.container(library, key)).map(|carried| &carried.kind);
    let inserts = match (container.tray_outer(), carried) {
        (Some(outer), Some(ContainerKind::Flat(flat))) => {
            let crop = season.crop(library, &sowing.crop)?;
            let full = holding(season, library, crop, sowing, step, Standing::Tight, &mut Vec::new())?.per_tray;
            Some((trade::trays_in_flat(outer, flat).number, full))
        }
        _ => None,
    };
    Some(InStep { step, container: &container.kind, inserts })
}
