//! The whole question: how many there may be, and what one more of each thing would add.

use std::collections::BTreeMap;

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::season::{Edit, Library, Season, Sowing};

use super::asked::{NotAsked, Of, Scaled, per_cent};
use super::one_more::{Additions, More};
use super::search::{Most, Search, Steps};

/// How many plants the room carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Carries {
    pub of: Of,
    /// Plants wanted of them in the season as it stands.
    pub planned: u32,
    /// Those of them that are sown already: they are kept as they are, and counted.
    pub standing: u32,
    /// The sowing that was taken, where the season has none of the crop that isn't sown yet.
    pub new: Option<Sowing>,
    pub most: Most,
    /// Makes the season as large as fits; `None` where nothing changes by it.
    pub edit: Option<Edit>,
    /// The best of each kind.
    pub more: Vec<More>,
}

impl Carries {
    /// So many plants in per cent of those that are planned, to the nearest whole one.
    pub fn per_cent(&self, plants: u32) -> u64 {
        per_cent(plants, self.planned)
    }
}

/// Looks for the most plants that every day of the season can hold.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted; inside, why it can't be asked.
pub fn carries(
    of: &Of,
    season: &Season,
    library: &Library,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Result<Carries, NotAsked>, Cancelled> {
    let scaled = match Scaled::of(of, season, library) {
        Ok(scaled) => scaled,
        Err(why) => return Ok(Err(why)),
    };
    let mut steps = Steps::of(progress, 4);
    let most = Search::new((season, library), &scaled, memory, &mut steps, cancel).most(scaled.as_planned)?;
    let more = more(&scaled, (season, library), &most, memory, &mut steps, cancel)?;
    let as_many = most.fits.filter(|fits| fits.number > 0 && (scaled.is_new || fits.number != scaled.as_planned));
    Ok(Ok(Carries {
        of: of.clone(),
        planned: scaled.planned(),
        standing: scaled.standing,
        new: scaled.sowings().first().filter(|_| scaled.is_new).cloned(),
        edit: as_many.map(|fits| scaled.edit(fits.number, season, library)),
        most,
        more,
    }))
}

/// What each addition comes to; of those of one kind the one by which most fit, and most stand well lit.
fn more<'a>(
    scaled: &'a Scaled,
    (season, library): (&Season, &'a Library),
    most: &Most,
    memory: &mut Memory,
    steps: &mut Steps<'a>,
    cancel: &'a Cancel,
) -> Result<Vec<More>, Cancelled> {
    let Some(limit) = &most.too_many else { return Ok(Vec::new()) };
    let fresh = scaled.fresh(season);
    let additions = Additions { season, library, scaled, forecast: &limit.forecast, crunch: &limit.crunch, fresh };
    let beyond_lamps = most.well_lit.is_some_and(|lit| most.fits.is_some_and(|fits| lit.number < fits.number));
    let all = additions.all(beyond_lamps);
    steps.reckon(1, all.len());
    let mut best: BTreeMap<u8, More> = BTreeMap::new();
    let rank = |more: &More| (more.most.plants(), more.most.well_lit.map_or(0, |lit| lit.plants));
    for (at, (what, edit)) in all.into_iter().enumerate() {
        let mut with = season.clone();
        if with.apply(&edit).is_err() {
            continue;
        }
        let near = most.fits.map_or(1, |fits| fits.number);
        let then = Search::new((&with, library), scaled, memory, steps, cancel).most(near)?;
        steps.over(at + 2);
        let kind = what.kind();
        let new = More { what, edit, most: then };
        if best.get(&kind).is_none_or(|known| rank(&new) > rank(known)) {
            best.insert(kind, new);
        }
    }
    // a lamp more is no news where it changes nothing
    let now = (most.plants(), most.well_lit.map_or(0, |lit| lit.plants));
    Ok(best.into_values().filter(|more| !more.what.is_lamp() || rank(more) > now).collect())
}
