//! The cheapest changes together that make everything fit.
//!
//! Counts by the day propose, exactly as far as counts go; the placement solver tries. What it finds short of room
//! becomes a row of the next proposal.

use crate::fit::{Cancel, Cancelled, LevelProblem, Progress, closest, level};
use crate::outlook::{Crunch, Verdict};

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
    let mut model = Model::of(of, &known.prepared, cancel)?;
    let bound = proposal(&model.problem(true, cancel)?, &[], cancel)?;
    let none_fits = model.proves && bound.as_ref().is_some_and(|bound| bound.is_impossible);
    let at_least = bound.as_ref().filter(|_| model.proves).map_or(i64::MIN, |bound| bound.at_least);
    let mut start = bound.map_or_else(Vec::new, |bound| bound.chosen);
    let mut nearest: Option<(Draft, WayOut)> = None;
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
        // what stands in poor light for it is known only now: others may be cheaper, also than one that is not the best
        let dark = Price { dark: way.price.dark, ..Price::default() }.points(&matters);
        let is_dearer = dark > 0 && model.edges_cost(&start, dark);
        if found.outlook.verdict == Verdict::Fits {
            let points = |way: &WayOut| way.price.points(&matters);
            if best.as_ref().is_none_or(|best| points(&way) < points(best)) {
                best = Some(needed(of, draft, way, crunch, known, cancel)?);
            }
            if !is_dearer {
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
        if !model.found(&found.outlook, &found.forecast) && !is_dearer {
            break;
        }
    }
    if let Some(way) = best {
        let points = i64::try_from(way.price.points(&matters)).unwrap_or(i64::MAX);
        return Ok(Combined { cheapest: points <= at_least, way: Some(way), none_fits });
    }
    Ok(Combined { way: confirmed(of, nearest, crunch, known, cancel)?, none_fits, cheapest: false })
}

/// The same as a search says that goes to the end.
fn confirmed(
    of: &Standing<'_>,
    nearest: Option<(Draft, WayOut)>,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<Option<WayOut>, Cancelled> {
    let Some((draft, _)) = nearest else { return Ok(None) };
    let found = tried(of, &draft.edit(), known.whole, cancel)?;
    Ok(found.map(|found| way(of, &draft, &found, crunch)))
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
