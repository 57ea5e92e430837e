//! Every change of a sowing that keeps the rules.

use crate::fit::{Cancel, Cancelled};
use crate::forecast::{Forecast, Prepared, Stay, What, broken, of_one};
use crate::season::{Crop, PartOfDay, Role, Season, Sowing, SowingId, TrayKey};
use crate::units::shifted;
use chrono::NaiveDate;

use super::super::what_if::puts_before;
use super::containers::Containers;
use super::dates::Dates;
use super::draft::Draft;
use super::together;
use super::tried::Standing;
use super::way::Change;

/// A change of a sowing, and the stays that it owns with it.
pub(super) struct Drafted {
    pub(super) draft: Draft,
    pub(super) stays: Vec<Stay>,
}

/// What changes of a sowing are drafted from.
#[derive(Clone, Copy)]
pub(super) struct Drafting<'a> {
    pub(super) of: &'a Standing<'a>,
    pub(super) prepared: &'a Prepared<'a>,
    pub(super) sowing: &'a Sowing,
    /// A number that nothing has.
    pub(super) fresh: u32,
    pub(super) cancel: &'a Cancel,
}

impl Drafting<'_> {
    pub(super) fn drafts(&self) -> Result<Vec<Drafted>, Cancelled> {
        let Self { of: Standing { season, library, forecast, .. }, sowing, fresh, .. } = *self;
        let mut drafts = Dates { season, library, forecast, sowing, fresh }.drafts();
        drafts.extend(Containers { season, library, forecast, sowing, fresh }.drafts());
        drafts.extend(together::drafts(self.of, sowing));
        self.that_keep_rules(drafts)
    }

    /// Those that break no rule that was kept before, and that the grower has not refused.
    pub(super) fn that_keep_rules(&self, drafts: Vec<Draft>) -> Result<Vec<Drafted>, Cancelled> {
        let Standing { season, library, forecast, .. } = *self.of;
        let now = of_one(season, library, self.sowing);
        let shares = !forecast.shared_by(self.sowing.id).is_empty();
        let mut kept = Vec::new();
        for draft in drafts.into_iter().filter(|draft| draft.is_wanted(season)) {
            self.cancel.check()?;
            let mut then = Forecast::default();
            for put in draft.sowings() {
                let Forecast { stays, courses, problems, .. } = of_one(season, library, put);
                then.stays.extend(stays);
                then.courses.extend(courses);
                then.problems.extend(problems);
            }
            let is_past = self.of.today.is_some_and(|today| puts_before(&now, &then, today));
            if is_past || broken(&now.problems, &then.problems).is_some() {
                continue;
            }
            let Some(draft) = sooner_and_safe(self.of, draft, &then) else { continue };
            let is_shared = shares || matches!(draft.changes.as_slice(), [Change::Shared { .. }]);
            let stays = if is_shared { self.owned_then(&draft) } else { then.stays };
            kept.push(Drafted { draft, stays });
        }
        Ok(kept)
    }

    /// The stays that its sowings own in the season with the change: their own, the shared ones that they have now, and
    /// those that it makes of others'.
    fn owned_then(&self, draft: &Draft) -> Vec<Stay> {
        let now = self.of.forecast;
        let puts: Vec<&Sowing> = draft.sowings().collect();
        let is_put = |sowing: SowingId| puts.iter().any(|put| put.id == sowing);
        let is_owned = |put: &Sowing, stay: &Stay| match stay.sowing {
            Some(sowing) => sowing == put.id,
            None if matches!(stay.tray(), Some(TrayKey::Guest { .. })) => false,
            None => match now.stays.iter().find(|before| *before == stay) {
                Some(before) => owner(now, before).is_some_and(is_put),
                None => true,
            },
        };
        let redone = |put: &&Sowing| {
            let stays = self.prepared.with(put).stays.into_iter();
            stays.filter(|stay| is_owned(put, stay)).collect::<Vec<Stay>>()
        };
        let mut stays: Vec<Stay> = puts.iter().flat_map(redone).collect();
        // what two of them make of one tray is the same tray
        stays.sort_by(|one, other| (one.span, &one.trays).cmp(&(other.span, &other.trays)));
        stays.dedup_by(|one, other| (one.span, &one.trays) == (other.span, &other.trays));
        stays
    }
}

/// Who a stay is counted with: of a tray that several share, the first of them.
pub(super) fn owner(forecast: &Forecast, stay: &Stay) -> Option<SowingId> {
    stay.sowing.or_else(|| forecast.sowings_in(stay).into_iter().min())
}

/// A change that hardens off for longer with its days as they come to be, if it does, on nights that are safe; others
/// as they are.
fn sooner_and_safe(of: &Standing<'_>, draft: Draft, then: &Forecast) -> Option<Draft> {
    let [Change::Hardened { sowing, from, .. }] = *draft.changes.as_slice() else { return Some(draft) };
    let course = then.courses_of(sowing).next()?;
    let (to, nights) = course.date(What::Hardening).zip(course.date(What::FirstNightOut))?;
    let crop = of.season.crop(of.library, &of.season.sowing(sowing)?.crop)?;
    let hardened = Change::Hardened { sowing, from, to, nights };
    (to < from && is_safe(of.season, crop, nights)).then(|| Draft::new(hardened, draft.ops, draft.price))
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
