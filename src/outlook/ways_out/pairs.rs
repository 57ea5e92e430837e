//! Two changes of one sowing at once: neither alone may be enough.

use crate::fit::Cancelled;
use crate::forecast::{Forecast, of_one};
use crate::season::Sowing;

use super::containers::Containers;
use super::dates::Dates;
use super::draft::Draft;
use super::drafts::{Drafted, Drafting};
use super::tried::Standing;
use super::way::Change;

/// So many pairs of a season are looked at, about: the more sowings, the further apart the days.
const MOST_PAIRS: usize = 6_000;
/// Of one sowing on every day.
const OF_ONE: usize = 600;
/// Whole trays fewer beside another change.
const FEWER: usize = 4;

/// How many days apart those are that are looked at for so many sowings.
pub(super) fn days_apart(sowings: usize) -> i64 {
    i64::try_from((sowings * OF_ONE).div_ceil(MOST_PAIRS)).unwrap_or(i64::MAX).max(1)
}

/// The whole course on other days; other containers, or fewer plants, on other days; fewer in other containers.
pub(super) fn pairs_of(drafting: &Drafting<'_>, every: i64) -> Result<Vec<Drafted>, Cancelled> {
    let Drafting { of: Standing { season, library, forecast, .. }, sowing, fresh, cancel, .. } = *drafting;
    let on_days = |sowing: &Sowing, forecast: &Forecast| -> Vec<(Draft, i64)> {
        let all = Dates { season, library, forecast, sowing, fresh }.drafts();
        let far = all.into_iter().filter_map(|draft| days_of(&draft).map(|days| (draft, days)));
        far.filter(|(_, days)| days % every == 0).collect()
    };
    let containers = Containers { season, library, forecast, sowing, fresh }.drafts();
    let dates = Dates { season, library, forecast, sowing, fresh }.drafts();
    let alone: Vec<Draft> = containers.iter().chain(&dates).cloned().collect();
    let (fewer, other): (Vec<Draft>, Vec<Draft>) =
        containers.into_iter().partition(|draft| matches!(draft.changes.as_slice(), [Change::Fewer { .. }]));
    let mut pairs = Vec::new();
    let mut pair = |one: &Draft, second: Draft| pairs.push(second.after(one, &alone));
    let other = other.iter().filter(|draft| !matches!(draft.changes.as_slice(), [Change::SomeInto { .. }]));
    for one in other.chain(fewer.iter().take(FEWER)) {
        cancel.check()?;
        let Some(changed) = one.sowings().next() else { continue };
        let then = of_one(season, library, changed);
        for (second, _) in on_days(changed, &then) {
            pair(one, second);
        }
        if !matches!(one.changes.as_slice(), [Change::Fewer { .. }]) {
            let fewer = Containers { season, library, forecast: &then, sowing: changed, fresh }.fewer();
            for second in fewer.into_iter().take(FEWER) {
                pair(one, second);
            }
        }
    }
    for (one, days) in on_days(sowing, forecast) {
        cancel.check()?;
        let ([Change::Sown { .. }], Some(changed)) = (one.changes.as_slice(), one.sowings().next()) else { continue };
        let then = of_one(season, library, changed);
        let out = on_days(changed, &then)
            .into_iter()
            .find(|(second, by)| *by == days && matches!(second.changes.as_slice(), [Change::Out { .. }]));
        if let Some((second, _)) = out {
            pair(&one, second);
        }
    }
    drafting.that_keep_rules(pairs)
}

/// By how many days all of a sowing is done otherwise.
fn days_of(draft: &Draft) -> Option<i64> {
    match draft.changes.as_slice() {
        [Change::Held { from, to, .. } | Change::Sown { from, to, .. } | Change::Out { from, to, .. }] => {
            Some((*to - *from).num_days())
        }
        _ => None,
    }
}
