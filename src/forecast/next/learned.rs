//! What a year's records teach: rates and durations, each pulled towards the crop's own figure by how
//! few observations stand behind it.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::{Datelike as _, NaiveDate};

use crate::season::{Crop, CropKey, DayRange, Library, Observed, Op, Season, Sourced, Sowing, Verdict};
use crate::trade;

use crate::forecast::clock;
use crate::forecast::starts::sown_about;

use super::change::{Change, NotLearned};
use super::rate::{FEW_SEEDS, Learned, Rate};

/// Seeds that the crop's own rate counts for: our choice, no source.
const SEEDS_OF_THE_CROP: f64 = 20.0;
/// Observations that the crop's own days count for: our choice, no source.
const DAYS_OF_THE_CROP: f64 = 2.0;

/// What came up of one sowing, as it was counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CameUp {
    pub up: u32,
    pub cells: u32,
    /// Of the seeds.
    pub rate: f64,
    /// Few seeds stand behind it.
    pub is_weak: bool,
}

/// What was counted of the sowing, if cells and plants both were.
pub fn came_up(sowing: &Sowing) -> Option<CameUp> {
    let (rate, cells) = germination_of(sowing)?;
    Some(CameUp { up: counted_up(sowing)?, cells, rate, is_weak: cells < FEW_SEEDS })
}

fn counted_up(sowing: &Sowing) -> Option<u32> {
    sowing.counted_up(NaiveDate::MAX).map(|(_, plants)| plants)
}

/// Seeds that came up, of those sown, in one sowing. Losses after that are not germination.
fn germination_of(sowing: &Sowing) -> Option<(f64, u32)> {
    came_up_of(sowing, sowing.cells_sown()?)
}

/// The rate at which its seed came up, where so many cells were sown, and how many seeds that stands for.
///
/// With several seeds to a cell, cells with a plant are what is counted: q = 1 − (1 − g)^k is solved for
/// g, and stands for as many seeds as there were cells.
pub(in crate::forecast) fn came_up_of(sowing: &Sowing, sown: u32) -> Option<(f64, u32)> {
    let up = counted_up(sowing)?;
    let cells = (f64::from(up) / f64::from(sown.max(1))).min(1.0);
    let rate = 1.0 - (1.0 - cells).powf(1.0 / f64::from(sowing.seeds_per_cell.max(1)));
    (sown > 0).then_some((rate, sown))
}

/// The rate of the sowing's crop and variety, from every sowing of it that was counted.
///
/// (up + 20 g) / (sown + 20), g the rate reckoned with before: the mean of a beta distribution that had
/// seen 20 seeds.
pub(super) fn of_variety(season: &Season, library: &Library, sowing: &Sowing) -> Option<Rate> {
    let crop = season.crop(library, &sowing.crop)?;
    let before_percent = clock::germination(season, library, crop, sowing, sown_about(crop, sowing)).percent;
    let alike = season.sowings().filter(|one| one.crop == sowing.crop && one.variety == sowing.variety);
    let (mut up, mut sown, mut year) = (0.0, 0_u32, None);
    for one in alike {
        if let Some((rate, cells)) = germination_of(one) {
            up += rate * f64::from(cells);
            sown = sown.saturating_add(cells);
            year = year.max(one.seen.last().map(|seen| chrono::Datelike::year(&seen.date)));
        }
    }
    let prior = f64::from(before_percent) / 100.0;
    let pulled = (up + SEEDS_OF_THE_CROP * prior) / (f64::from(sown) + SEEDS_OF_THE_CROP);
    let percent = (100.0 * pulled).round().clamp(1.0, 100.0) as u8;
    Some(Rate { up: up.round() as u32, sown, percent, before_percent, year: year? })
}

/// Crops whose days were seen, with what the days taught.
pub(super) fn crops(
    season: &Season,
    library: &Library,
    own_records: &impl Fn(u32) -> Arc<str>,
    changes: &mut Vec<Change>,
) -> Vec<Op> {
    let mut days: BTreeMap<CropKey, (Vec<i64>, Vec<i64>)> = BTreeMap::new();
    for sowing in season.sowings() {
        let Some(crop) = season.crop(library, &sowing.crop) else { continue };
        let (up, moved) = days.entry(sowing.crop.clone()).or_default();
        up.extend(days_until(sowing, |what| matches!(what, Observed::Up { .. })));
        let leaves = crop.moving_on.value.true_leaves;
        moved.extend(days_until(sowing, |what| match (what, leaves) {
            (Observed::TrueLeaves(grown), Some(leaves)) => *grown >= leaves,
            (Observed::MovedOn(step), None) => sowing.steps.get(1).is_some_and(|first| first.id == *step),
            _ => false,
        }));
    }
    let mut ops = Vec::new();
    for (key, (up, moved)) in days {
        let Some(crop) = season.crop(library, &key) else { continue };
        let mut next: Crop = crop.clone();
        let number = |days: &[i64]| u32::try_from(days.len()).unwrap_or(u32::MAX);
        if let Some(to) = pulled(crop.emergence.value, &up) {
            let (from, observations) = (crop.emergence.value, number(&up));
            changes.push(Change::Learned(Learned::Emergence { crop: key.clone(), from, to, observations }));
            next.emergence = Sourced { source: own_records(observations), ..Sourced::own(to) };
            // the grower's own days count before any table
            (next.emergence_warmth, next.emergence_row) = (None, None);
        }
        let usual = crop.moving_on.value;
        if let Some(to) = pulled(usual.days, &moved) {
            let observations = number(&moved);
            changes.push(Change::Learned(Learned::MovingOn { crop: key.clone(), from: usual.days, to, observations }));
            let moving_on = crate::season::MovingOn { days: to, ..usual };
            next.moving_on = Sourced { source: own_records(observations), ..Sourced::own(moving_on) };
        }
        if next != *crop {
            ops.push(Op::PutCrop(Box::new(next)));
        }
    }
    ops
}

fn days_until(sowing: &Sowing, wanted: impl Fn(&Observed) -> bool) -> Option<i64> {
    let sown = sowing.seen.iter().find(|seen| matches!(seen.what, Observed::Sown { .. }))?.date;
    let then = sowing.seen.iter().find(|seen| wanted(&seen.what))?.date;
    Some((then - sown).num_days()).filter(|days| *days > 0)
}

/// The crop's range moved to the pulled mean, and widened to what was seen; `None` where nothing was, or
/// nothing else.
fn pulled(usual: DayRange, seen: &[i64]) -> Option<DayRange> {
    if seen.is_empty() {
        return None;
    }
    let sum: f64 = seen.iter().map(|days| *days as f64).sum();
    let mean = (sum + DAYS_OF_THE_CROP * f64::from(usual.likely)) / (seen.len() as f64 + DAYS_OF_THE_CROP);
    let range = trade::scaled(usual, mean);
    let days = |days: Option<&i64>| days.and_then(|days| u16::try_from(*days).ok());
    let to = DayRange {
        early: days(seen.iter().min()).map_or(range.early, |least| range.early.min(least)).min(range.likely),
        likely: range.likely,
        late: days(seen.iter().max()).map_or(range.late, |most| range.late.max(most)).max(range.likely),
    };
    (to != usual).then_some(to)
}

/// Why what was written down of a sowing teaches no germination rate; nothing where it does, or where
/// nothing was.
pub(super) fn not_learned(sowing: &Sowing) -> Option<NotLearned> {
    match (counted_up(sowing), sowing.cells_sown()) {
        (Some(up), _) if sowing.begun.is_some() => Some(NotLearned::StoodHere { up }),
        (Some(up), None) => Some(NotLearned::SownNotCounted { up }),
        (None, Some(cells)) => Some(NotLearned::UpNotCounted { cells }),
        _ => None,
    }
}

/// Verdicts of the grower, of the years before and of this one, each with the plants' age; counted from the
/// day it was to be sown where none was written down.
pub(super) fn verdicts(sowing: &Sowing, planned: Option<NaiveDate>) -> Vec<Verdict> {
    let sown = sowing.seen.iter().find(|seen| matches!(seen.what, Observed::Sown { .. })).map(|seen| seen.date);
    let now = sowing.seen.iter().filter_map(|seen| match seen.what {
        Observed::Grown(grown) => {
            let days = u16::try_from((seen.date - sown.or(planned)?).num_days()).unwrap_or(0);
            Some(Verdict { grown, days, year: seen.date.year() })
        }
        _ => None,
    });
    sowing.verdicts.iter().copied().chain(now).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_observations_pull_little() {
        let usual = DayRange { early: 6, likely: 8, late: 12 };
        // (14 + 2 · 8) / 3 = 10
        assert_eq!(pulled(usual, &[14]), Some(DayRange { early: 8, likely: 10, late: 15 }));
        // (8 · 14 + 2 · 8) / 10 = 12.8
        assert_eq!(pulled(usual, &[14; 8]).map(|days| days.likely), Some(13));
        assert_eq!(pulled(usual, &[]), None);
        assert_eq!(pulled(usual, &[8]), None);
        assert_eq!(pulled(usual, &[4, 12]).map(|days| (days.early, days.late)), Some((4, 12)));
    }
}
