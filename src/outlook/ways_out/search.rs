//! Which changes are tried, and which of them are offered.

use std::collections::BTreeMap;

use crate::fit::{Cancel, Cancelled, Days, Memory};
use crate::forecast::Prepared;
use crate::outlook::Crunch;
use crate::outlook::question::day_number;
use crate::season::{Sowing, SowingId, Unwanted};

use super::draft::Draft;
use super::drafts::{Drafted, Drafting};
use super::ledger::Ledger;
use super::room_made::RoomMade;
use super::rows::{Rows, Take};
use super::tried::{Known, Standing, tried};
use super::way::{Change, WayOut};

/// So many changes are tried for a crunch, and so many of those that help most are offered.
const MOST_TRIED: usize = 40;
const MOST_OFFERED: usize = 14;

/// A draft, and what it promises by counts.
struct Promise {
    draft: Draft,
    /// Trays too many, summed over the days of the crunch, and over all.
    within: i64,
    all: i64,
    points: u64,
}

/// Changes that remove or shrink a crunch, each by itself, those that remove it first, cheapest first; then those that
/// shrink it, cheapest by what they take away.
///
/// Each was made on a copy and held against the shelves: the crunch has fewer tray-days with it, or none, no other
/// day is worse by as much, and no rule is broken that was kept before.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub(super) fn ways_out(
    of: &Standing<'_>,
    crunch: &Crunch,
    known: &mut Known<'_, '_>,
    cancel: &Cancel,
) -> Result<Vec<WayOut>, Cancelled> {
    let promises = promising(of, crunch, &known.prepared, cancel)?;
    let mut ways = Vec::new();
    for Promise { draft, .. } in promises {
        ways.extend(helps(of, crunch, &draft, &mut known.soon, cancel)?.map(|way| (draft, way)));
    }
    best_first(of, &mut ways);
    let mut offered = Vec::new();
    for (draft, _) in ways {
        if offered.len() == MOST_OFFERED {
            break;
        }
        // by a search that goes to the end, whatever was asked before
        offered.extend(helps(of, crunch, &draft, known.whole, cancel)?.map(|way| (draft, way)));
    }
    best_first(of, &mut offered);
    Ok(offered.into_iter().map(|(_, way)| way).collect())
}

/// What comes of a change, if it leaves less of the crunch and no more of anything else.
fn helps(
    of: &Standing<'_>,
    crunch: &Crunch,
    draft: &Draft,
    memory: &mut Memory,
    cancel: &Cancel,
) -> Result<Option<WayOut>, Cancelled> {
    let edit = draft.edit();
    let Some(tried) = tried(of, &edit, memory, cancel)? else { return Ok(None) };
    let effect = tried.effect(of.outlook, crunch);
    let better = effect.of_crunch.tray_days < effect.crunch_before.tray_days;
    let no_worse =
        effect.after.tray_days < effect.before.tray_days && effect.after.open_days <= effect.before.open_days;
    let (changes, price) = (draft.changes.clone(), draft.price.with(&effect));
    Ok((better && no_worse).then_some(WayOut { changes, edit, price, effect }))
}

fn best_first(of: &Standing<'_>, ways: &mut [(Draft, WayOut)]) {
    let matters = of.season.settings().matters;
    ways.sort_by_key(|(_, way)| way.rank(matters));
}

/// Of each kind of change to each sowing the cheapest that promises to remove the crunch, else the one that takes
/// most of it away; those that promise most first.
fn promising(
    of: &Standing<'_>,
    crunch: &Crunch,
    prepared: &Prepared<'_>,
    cancel: &Cancel,
) -> Result<Vec<Promise>, Cancelled> {
    let matters = of.season.settings().matters;
    let mut best: BTreeMap<(Unwanted, u8), Promise> = BTreeMap::new();
    let sowings = concerned(of, crunch);
    let inside = Days::new(day_number(crunch.span.from()), day_number(crunch.span.until()));
    let mut drafts: Vec<(SowingId, Drafted)> = Vec::new();
    for sowing in sowings {
        cancel.check()?;
        let drafting = Drafting { of, prepared, sowing, fresh: of.season.next_id(), cancel };
        drafts.extend(drafting.drafts()?.into_iter().map(|drafted| (sowing.id, drafted)));
    }
    let stays = || of.forecast.stays.iter().chain(drafts.iter().flat_map(|(_, drafted)| &drafted.stays));
    let mut rows = Rows::of(of.season, stays());
    for crunch in &of.outlook.crunches {
        rows.found(crunch, of.forecast);
    }
    let days = Days::new(
        stays().map(|stay| day_number(stay.span.from())).min().unwrap_or(0),
        stays().map(|stay| day_number(stay.span.until())).max().unwrap_or(0),
    );
    let mut ledger = Ledger::of(&rows, of.forecast, days);
    let (within_now, all_now) = ledger.over(inside);
    for (sowing, Drafted { draft, stays }) in drafts {
        cancel.check()?;
        let takes: Vec<Take> = stays.iter().flat_map(|stay| rows.takes(stay)).collect();
        let (within, all) = ledger.over_with(sowing, &takes, inside);
        let Some(change) = draft.changes.first() else { continue };
        // whose trays are saved by sharing, counts of one sowing don't say
        let shares = matches!(change, Change::Shared { .. });
        if !shares && (within >= within_now || all >= all_now) {
            continue;
        }
        let points = draft.price.points(&matters);
        let promise = Promise { within, all, points, draft: draft.clone() };
        let key = (change.refused(), manner(change));
        let rank = |one: &Promise| (one.within, one.points, one.all);
        if best.get(&key).is_none_or(|known| rank(&promise) < rank(known)) {
            best.insert(key, promise);
        }
    }
    let mut all: Vec<Promise> = best.into_values().collect();
    all.sort_by_key(|one| (one.within, one.points));
    let room =
        RoomMade { season: of.season, forecast: of.forecast, crunch, fresh: of.season.next_id(), today: of.today };
    let made = room.drafts().into_iter().map(|draft| {
        let points = draft.price.points(&matters);
        Promise { draft, within: 0, all: 0, points }
    });
    let made: Vec<Promise> = made.collect();
    all.truncate(MOST_TRIED.saturating_sub(made.len()));
    all.extend(made);
    Ok(all)
}

/// Those with trays among the ones that are counted on the worst day, or in the crunch's places on another of
/// its days.
pub(super) fn concerned<'a>(of: &Standing<'a>, crunch: &Crunch) -> Vec<&'a Sowing> {
    let kinds: Vec<_> = crunch.concerned().iter().map(|pool| pool.kind).collect();
    let room = crate::outlook::room::Room::of(of.season);
    let there =
        of.forecast.stays.iter().filter(|stay| {
            stay.span.overlaps(crunch.span) && kinds.contains(&crate::outlook::view::pool_of(&room, stay))
        });
    let mut ids: Vec<SowingId> = there.flat_map(|stay| of.forecast.sowings_in(stay)).collect();
    ids.sort_unstable();
    ids.dedup();
    ids.into_iter().filter_map(|id| of.season.sowing(id)).collect()
}

/// Of changes that the grower would refuse together the best of each manner is tried.
fn manner(change: &Change) -> u8 {
    match change {
        Change::HeldHalf { .. } | Change::SownHalf { .. } | Change::OutInLots { .. } | Change::SomeInto { .. } => 1,
        Change::Sown { from, to, .. } if to < from => 2,
        _ => 0,
    }
}
