//! Every change of a sowing that keeps the rules.

use crate::forecast::{Forecast, Scenario, Stay, What, broken, drawn, of_one};
use crate::season::{Crop, Op, PartOfDay, Role, Season, Sowing, SowingId};
use crate::units::shifted;
use chrono::NaiveDate;

use super::containers::Containers;
use super::dates::Dates;
use super::together;
use super::tried::Standing;
use super::way::{Change, Draft};

/// A change of a sowing, and the stays that it owns with it.
pub(super) struct Drafted {
    pub(super) draft: Draft,
    pub(super) stays: Vec<Stay>,
}

/// `fresh` is a number that nothing has.
pub(super) fn drafts_of(of: &Standing<'_>, sowing: &Sowing, fresh: u32) -> Vec<Drafted> {
    let Standing { season, library, forecast, .. } = *of;
    let mut drafts = Dates { season, library, forecast, sowing, fresh }.drafts();
    drafts.extend(Containers { season, library, forecast, sowing }.drafts());
    drafts.extend(together::drafts(of, sowing));
    drafts.retain(|draft| draft.is_wanted(season));
    let now = of_one(season, library, sowing);
    let shares = !forecast.shared_by(sowing.id).is_empty();
    let tried = drafts.into_iter().filter_map(|mut draft| {
        let put = draft.ops.iter().find_map(sowing_put)?.clone();
        let then = of_one(season, library, &put);
        if broken(&now.problems, &then.problems).is_some() || !sooner_and_safe(of, &mut draft, &then) {
            return None;
        }
        let is_shared = shares || matches!(draft.changes.as_slice(), [Change::Shared { .. }]);
        let stays = if is_shared { owned_then(of, &put) } else { then.stays };
        Some(Drafted { draft, stays })
    });
    tried.collect()
}

fn sowing_put(op: &Op) -> Option<&Sowing> {
    match op {
        Op::PutSowing(sowing) => Some(sowing),
        _ => None,
    }
}

/// Who a stay is counted with: of a tray that several share, the first of them.
pub(super) fn owner(forecast: &Forecast, stay: &Stay) -> Option<SowingId> {
    stay.sowing.or_else(|| forecast.sowings_in(stay).into_iter().min())
}

/// The stays that it owns in the season with the change: its own, the shared ones that it has now, and those
/// that it makes of others'.
fn owned_then(of: &Standing<'_>, put: &Sowing) -> Vec<Stay> {
    let mut season = of.season.clone();
    let then = match season.apply(&Op::PutSowing(put.clone()).into()) {
        Ok(()) => drawn(&season, of.library, &Scenario::none()),
        Err(_) => of_one(of.season, of.library, put),
    };
    let was: Vec<&Stay> = of.forecast.stays.iter().filter(|stay| is_shared(stay, of.forecast)).collect();
    let keeps = |stay: &&Stay| {
        if stay.sowing == Some(put.id) {
            return true;
        }
        if !is_shared(stay, &then) {
            return false;
        }
        match was.iter().find(|before| **before == *stay) {
            Some(before) => owner(of.forecast, before) == Some(put.id),
            None => true,
        }
    };
    then.stays.iter().filter(keeps).cloned().collect()
}

fn is_shared(stay: &Stay, forecast: &Forecast) -> bool {
    stay.sowing.is_none() && !forecast.sowings_in(stay).is_empty()
}

/// Whether a change that hardens off for longer does, on nights that are safe. Others are.
fn sooner_and_safe(of: &Standing<'_>, draft: &mut Draft, then: &Forecast) -> bool {
    let [Change::Hardened { sowing, from, to, nights }] = draft.changes.as_mut_slice() else { return true };
    let Some(course) = then.courses_of(*sowing).next() else { return false };
    let (Some(starts), Some(first_night)) = (course.date(What::Hardening), course.date(What::FirstNightOut)) else {
        return false;
    };
    let crop = of.season.sowing(*sowing).and_then(|sowing| of.season.crop(of.library, &sowing.crop));
    (*to, *nights) = (starts, first_night);
    starts < *from && crop.is_some_and(|crop| is_safe(of.season, crop, first_night))
}

/// Whether plants may stand outside at night from that day: by the temperature of the places outside, which the
/// forecast has looked at, or by the crop's own weeks about the last frost.
pub(in crate::outlook) fn is_safe(season: &Season, crop: &Crop, night: NaiveDate) -> bool {
    let mut outside = season.places().filter(|place| place.role == Role::Hardening && place.part == PartOfDay::Whole);
    if outside.all(|place| place.temperatures.night.is_some()) {
        return true;
    }
    let (Some(frost), Some(weeks)) = (&season.settings().frost, &crop.planting_out_after_frost) else { return false };
    night >= shifted(frost.even(), 7 * i64::from(weeks.value.0))
}
