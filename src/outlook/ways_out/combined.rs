//! The cheapest changes together that make everything fit.
//!
//! Counts by the day propose, exactly as far as counts go; the placement solver tries. What it finds short of room
//! becomes a row of the next proposal.

use crate::fit::{Cancel, Cancelled, LevelProblem, Progress, closest, level};
use crate::outlook::{Crunch, Verdict};
use crate::season::{Op, Place, PlaceChange, Unwanted};

use super::draft::Draft;
use super::model::Model;
use super::tried::{Known, Standing, Tried, tried};
use super::way::{Price, WayOut};

/// Proposals that are tried, at most.
const MOST_TRIED: usize = 16;
/// Work for each proposal.
const LEVEL_BUDGET: u64 = 20_000_000;

/// What came of looking for changes that make everything fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Combined {
    /// The cheapest that was found; where none makes everything fit, the one that comes closest, if any helps.
    pub way: Option<WayOut>,
    /// Proven by counts: no choice of those that were looked at makes everything fit.
    pub none_fits: bool,
    /// Proven by counts: none of those that were looked at is cheaper.
    pub cheapest: bool,
}

/// The cheapest changes together with which everything fits, each of them needed.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub(super) fn make_room(of: &Standing<'_>, known: &mut Known<'_, '_>, cancel: &Cancel) -> Result<Combined, Cancelled> {
    let Some((_, crunch)) = of.outlook.worst() else {
        return Ok(Combined { way: None, none_fits: false, cheapest: true });
    };
    let (found, nearest) = proposals(of, known, crunch, cancel)?;
    let matters = of.season.settings().matters;
    let rank = |way: &WayOut| (way.effect.verdict != Verdict::Fits, way.price.points(&matters));
    let buys = found.way.as_ref().is_some_and(|way| way.price.shelves > 0 || way.price.lamps > 0);
    if found.cheapest || (found.way.as_ref().is_some_and(|way| !rank(way).0) && !buys) {
        return Ok(found);
    }
    // among many small changes the search may have gone astray before it knew that they are enough
    let (spared, nearest) = if buys { without_buying(of, crunch, known, cancel)? } else { (None, nearest) };
    let fits = |way: &Option<WayOut>| way.as_ref().is_some_and(|way| !rank(way).0);
    let more = match nearest {
        Some((near, _)) if !fits(&spared) => further(of, near, crunch, known, cancel)?,
        _ => None,
    };
    let all = found.way.iter().chain(&spared).chain(&more).cloned();
    let best = all.min_by_key(rank).filter(|way| Some(way) != found.way.as_ref());
    Ok(match best {
        Some(way) if !rank(&way).0 => Combined { way: Some(way), none_fits: false, cheapest: false },
        _ => found,
    })
}

/// Where nothing is bought.
fn without_buying(
    of: &Standing<'_>,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<(Option<WayOut>, Nearest), Cancelled> {
    let mut season = of.season.clone();
    let mut settings = season.settings().clone();
    let of_place = |place: &Place| [PlaceChange::Shelves, PlaceChange::Lamps].map(|of| Unwanted::OfPlace(place.id, of));
    settings.unwanted.extend(season.places().flat_map(of_place));
    if season.apply(&Op::SetSettings(settings).into()).is_err() {
        return Ok((None, None));
    }
    let spared = Standing { season: &season, ..*of };
    let mut known = Known::of(&spared, known.whole, cancel)?;
    let (found, nearest) = proposals(&spared, &mut known, crunch, cancel)?;
    Ok((found.way, nearest))
}

/// From the changes that come closest on, as whoever made them would look again. What counts can't say of them all
/// together they may say then.
fn further(
    of: &Standing<'_>,
    near: Draft,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<Option<WayOut>, Cancelled> {
    let mut season = of.season.clone();
    if season.apply(&near.edit()).is_err() {
        return Ok(None);
    }
    let Some(found) = tried(of, &near.edit(), known.whole, cancel)? else { return Ok(None) };
    let then = Standing { season: &season, forecast: &found.forecast, outlook: &found.outlook, ..*of };
    let Some((_, left)) = found.outlook.worst() else { return Ok(None) };
    let mut known_then = Known::of(&then, known.whole, cancel)?;
    let (more, _) = proposals(&then, &mut known_then, left, cancel)?;
    let Some(more) = more.way.filter(|way| way.effect.verdict == Verdict::Fits) else { return Ok(None) };
    let both = near.and(more);
    let Some(found) = tried(of, &both.edit(), known.whole, cancel)? else { return Ok(None) };
    Ok(Some(way(of, &both, &found, crunch)))
}

type Nearest = Option<(Draft, WayOut)>;

/// What counts propose, until one of them fits or nothing more is learned; with what came closest.
fn proposals(
    of: &Standing<'_>,
    known: &mut Known<'_, '_>,
    crunch: &Crunch,
    cancel: &Cancel,
) -> Result<(Combined, Nearest), Cancelled> {
    let mut model = Model::of(of, &known.prepared, cancel)?;
    let bound = proposal(&model.problem(true, cancel)?, &[], cancel)?;
    let none_fits = model.proves && bound.as_ref().is_some_and(|bound| bound.is_impossible);
    let at_least = bound.as_ref().filter(|_| model.proves).map_or(i64::MIN, |bound| bound.at_least);
    let mut start = bound.map_or_else(Vec::new, |bound| bound.chosen);
    let mut nearest: Nearest = None;
    let mut best: Option<WayOut> = None;
    let matters = of.season.settings().matters;
    for _ in 0..MOST_TRIED {
        let Some(proposed) = proposal(&model.problem(false, cancel)?, &start, cancel)? else { break };
        start = proposed.chosen;
        let Some(draft) = model.draft(&start) else { break };
        let Some(soon) = tried(of, &draft.edit(), &mut known.soon, cancel)? else { break };
        let is_short = soon.outlook.verdict == Verdict::Crunch;
        let whole = if is_short { Some(soon) } else { tried(of, &draft.edit(), known.whole, cancel)? };
        let Some(found) = whole else { break };
        let way = way(of, &draft, &found, crunch);
        if found.outlook.verdict == Verdict::Fits {
            let dark = Price { dark: way.price.dark, ..Price::default() }.points(&matters);
            let points = |way: &WayOut| way.price.points(&matters);
            if best.as_ref().is_none_or(|best| points(&way) < points(best)) {
                best = Some(needed(of, draft, way, crunch, known, cancel)?);
            }
            // what stands in poor light for it is known only now: others may be cheaper, also than one that is not the best
            if dark == 0 || !model.edges_cost(&start, dark) {
                break;
            }
            continue;
        }
        let rank = |way: &WayOut| (way.effect.after.tray_days, way.effect.after.open_days);
        if rank(&way) < (way.effect.before.tray_days, way.effect.before.open_days)
            && nearest.as_ref().is_none_or(|(_, near)| rank(&way) < rank(near))
        {
            nearest = Some((draft, way));
        }
        if !model.found(&found.outlook, &found.forecast) {
            break;
        }
    }
    if let Some(way) = best {
        let points = i64::try_from(way.price.points(&matters)).unwrap_or(i64::MAX);
        return Ok((Combined { cheapest: points <= at_least, way: Some(way), none_fits }, nearest));
    }
    let way = confirmed(of, nearest.as_ref(), crunch, known, cancel)?;
    Ok((Combined { way, none_fits, cheapest: false }, nearest))
}

/// The same as a search says that goes to the end.
fn confirmed(
    of: &Standing<'_>,
    nearest: Option<&(Draft, WayOut)>,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<Option<WayOut>, Cancelled> {
    let Some((draft, _)) = nearest else { return Ok(None) };
    let found = tried(of, &draft.edit(), known.whole, cancel)?;
    Ok(found.map(|found| way(of, draft, &found, crunch)))
}

fn way(of: &Standing<'_>, draft: &Draft, found: &Tried, crunch: &Crunch) -> WayOut {
    let effect = found.effect(of.outlook, crunch);
    WayOut { changes: draft.changes.clone(), edit: draft.edit(), price: draft.price.with(&effect), effect }
}

/// Without what isn't needed, the dearest first; of two changes of one sowing maybe only one.
fn needed(
    of: &Standing<'_>,
    mut draft: Draft,
    mut best: WayOut,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<WayOut, Cancelled> {
    let matters = of.season.settings().matters;
    let mut parts = draft.parts();
    parts.sort_by_key(|part| std::cmp::Reverse(part.price.points(&matters)));
    for part in &parts {
        let rest: Vec<Draft> = draft.parts().into_iter().filter(|one| one.changes != part.changes).collect();
        let mut instead = part.alone();
        instead.sort_by_key(|one| one.price.points(&matters));
        let with = |one: Option<&Draft>| Draft::together(rest.iter().chain(one));
        let less: Vec<Draft> = with(None).into_iter().chain(instead.iter().filter_map(|one| with(Some(one)))).collect();
        for less in less {
            let Some(found) = tried(of, &less.edit(), known.whole, cancel)? else { continue };
            let then = way(of, &less, &found, crunch);
            if found.outlook.verdict == Verdict::Fits && then.price.points(&matters) < best.price.points(&matters) {
                (best, draft) = (then, less);
                break;
            }
        }
    }
    Ok(best)
}

/// What counts propose.
struct Proposed {
    chosen: Vec<usize>,
    /// No choice costs less, proven.
    at_least: i64,
    /// Nothing fits, proven.
    is_impossible: bool,
}

/// The cheapest that fits by counts; where nothing does, what lacks least.
fn proposal(problem: &LevelProblem, start: &[usize], cancel: &Cancel) -> Result<Option<Proposed>, Cancelled> {
    let progress = Progress::default();
    let Ok(found) = level(problem, start, LEVEL_BUDGET, cancel, &progress) else { return Ok(None) };
    cancel.check()?;
    if let Some(chosen) = found.chosen {
        return Ok(Some(Proposed { chosen, at_least: found.at_least, is_impossible: false }));
    }
    let Ok(closest) = closest(problem, start, LEVEL_BUDGET, cancel, &progress) else { return Ok(None) };
    cancel.check()?;
    let is_impossible = found.is_proven || closest.at_least > 0;
    Ok(Some(Proposed { chosen: closest.chosen, at_least: found.at_least, is_impossible }))
}
