//! What the grower wrote down, as far as the forecast follows it.

use chrono::NaiveDate;

use crate::season::{Crop, LotId, Observation, Observed, Rule, Season, Sowing, Wanted};
use crate::trade;

use super::problem::Problem;
use crate::units::shifted;

/// What was seen of one lot's plants.
#[derive(Clone, Debug, Default)]
pub(super) struct LotSeen {
    /// So many are alive from which day on, in order; nobody knows before the first.
    pub(super) alive: Vec<(NaiveDate, u32)>,
    /// The day on which plugs were moved together.
    pub(super) gapped_up: Option<NaiveDate>,
}

impl LotSeen {
    /// How many are alive on that day; nobody knows before they were counted.
    pub(super) fn alive_on(&self, date: NaiveDate) -> Option<u32> {
        self.alive.iter().rev().find(|(from, _)| *from <= date).map(|(_, alive)| *alive)
    }

    /// The day on which the last of them was dead, or known to have never come up.
    pub(super) fn died(&self) -> Option<NaiveDate> {
        let living = self.alive.iter().rposition(|(_, alive)| *alive > 0);
        let first = living.map_or(0, |living| living + 1);
        self.alive.get(first).map(|(date, _)| *date)
    }
}

/// A lot's part of what was seen of the whole sowing; `likely` of its plants come up while nobody has
/// counted them.
pub(super) fn of_lot(sowing: &Sowing, shares: &[u32], at: usize, likely: u32) -> LotSeen {
    let part = |plants: u32| trade::share_out(plants, shares).get(at).copied().unwrap_or(plants);
    let alive = alive(sowing, likely).into_iter().map(|(date, plants)| (date, part(plants))).collect();
    LotSeen { alive, gapped_up: sowing.seen.iter().find(|seen| seen.what == Observed::GappedUp).map(|seen| seen.date) }
}

/// Plants that came up, less those lost since, from day to day.
pub(super) fn alive(sowing: &Sowing, likely: u32) -> Vec<(NaiveDate, u32)> {
    let mut seen: Vec<_> = sowing.seen.iter().collect();
    seen.sort_by_key(|seen| (seen.date, matches!(seen.what, Observed::Lost { .. })));
    let mut days: Vec<(NaiveDate, u32)> = Vec::new();
    for seen in seen {
        let before = days.last().map_or(likely, |(_, alive)| *alive);
        let alive = match seen.what {
            Observed::Up { plants: Some(plants) } => plants,
            Observed::Lost { plants, .. } => before.saturating_sub(plants),
            _ => continue,
        };
        days.retain(|(date, _)| *date < seen.date);
        days.push((seen.date, alive));
    }
    days
}

/// The first day on which such a thing was seen.
pub(super) fn seen(sowing: &Sowing, wanted: impl Fn(&Observed) -> bool) -> Option<NaiveDate> {
    sowing.seen.iter().find(|seen| wanted(&seen.what)).map(|seen| seen.date)
}

/// Records that name a batch where none is taken: one that the sowing has not, or one of several where what was seen is
/// of all of them.
pub(super) fn of_no_batch(sowing: &Sowing) -> impl Iterator<Item = Problem> {
    sowing.seen.iter().filter_map(|seen| {
        let is_there = sowing.lots.iter().any(|known| Some(known.id) == seen.lot);
        let is_taken = is_there && (sowing.lots.len() < 2 || seen.what.is_of_a_lot());
        let of_none = seen.lot.is_some() && !is_taken;
        of_none.then_some(Problem::OfNoBatch { sowing: sowing.id, on: seen.date, what: seen.what, is_there })
    })
}

/// All days on which that was seen of a lot, in order.
pub(super) fn days_seen(sowing: &Sowing, lot: LotId, what: Observed) -> Vec<NaiveDate> {
    let own = |seen: &&Observation| sowing.lot_of(seen).is_some();
    let of_it = || sowing.seen_of(lot).filter(|seen| seen.what == what);
    let any_own = of_it().any(|seen| own(&seen));
    of_it().filter(|seen| !any_own || own(seen)).map(|seen| seen.date).collect()
}

/// Whether the start of that step, by its number, is behind what was written down: nobody can move it any more.
/// Records are of a sowing, not of its lots: of several, one may be that far and another not.
pub(super) fn is_behind(sowing: &Sowing, index: usize) -> bool {
    let number = |id| sowing.steps.iter().position(|step| step.id == id);
    let one_lot = sowing.lots.len() < 2;
    sowing.seen.iter().any(|seen| match seen.what {
        what if index == 0 => what != Observed::Prepared,
        Observed::MovedOn(into) => one_lot && number(into) > Some(index),
        Observed::PutOut(_) | Observed::Sold(_) => one_lot,
        _ => false,
    })
}

/// Whether it is known that the plants are there.
pub(super) fn has_come_up(sowing: &Sowing) -> bool {
    let later = |what: &Observed| {
        matches!(what, Observed::Up { .. } | Observed::TrueLeaves(_) | Observed::MovedOn(_) | Observed::HardeningBegun)
    };
    sowing.begun.is_some() || seen(sowing, later).is_some()
}

/// The day on which all that was wanted has left.
pub(super) fn seen_out(sowing: &Sowing) -> Option<NaiveDate> {
    let mut left = 0_u32;
    sowing.seen.iter().find_map(|seen| {
        if let Observed::PutOut(plants) | Observed::Sold(plants) = seen.what {
            left = left.saturating_add(plants);
        }
        (left >= sowing.plants_wanted()).then_some(seen.date)
    })
}

/// What has left, then what is left of the numbers wanted, by date; what is still to go goes so many days
/// later.
pub(super) fn leaving_days(sowing: &Sowing, later: u16) -> Vec<(NaiveDate, u32)> {
    let mut days = gone(sowing);
    days.extend(still_to_go(sowing, later).into_iter().map(|wanted| (wanted.date, wanted.plants)));
    days.sort_unstable();
    days
}

/// What has left, by date.
fn gone(sowing: &Sowing) -> Vec<(NaiveDate, u32)> {
    let left = |what: Observed| match what {
        Observed::PutOut(plants) | Observed::Sold(plants) => Some(plants),
        _ => None,
    };
    sowing.seen.iter().filter_map(|seen| Some((seen.date, left(seen.what)?))).collect()
}

/// What has not left of the numbers wanted, by date, so many days later.
pub fn still_to_go(sowing: &Sowing, later: u16) -> Vec<Wanted> {
    let mut gone = gone(sowing).iter().fold(0_u32, |sum, (_, plants)| sum.saturating_add(*plants));
    let mut wanted = sowing.wanted.clone();
    wanted.sort_by_key(|wanted| wanted.date);
    let mut days = Vec::new();
    for one in wanted {
        let went = gone.min(one.plants);
        gone -= went;
        if one.plants > went {
            days.push(Wanted { date: shifted(one.date, i64::from(later)), plants: one.plants - went, ..one });
        }
    }
    days
}

/// The last day on which more could be sown, to go out with the last of them, by the crop's shortest course
/// through as many containers; what was moved on on a date of its own is moved on when due, if sown again.
pub(super) fn last_useful_day(crop: &Crop, sowing: &Sowing) -> Option<NaiveDate> {
    let when_due = sowing.steps.iter().skip(1).filter(|step| matches!(step.start, Rule::WhenDue | Rule::On(_))).count();
    let days = trade::least_days_through(crop, sowing.is_to_sell(), u16::try_from(when_due).unwrap_or(u16::MAX));
    Some(shifted(sowing.out()?, -i64::from(days)))
}

/// Whether fewer are alive, or were sown, than are wanted, and what is sown again for them does not make
/// up for it.
pub(super) fn too_few(
    season: &Season,
    crop: &Crop,
    sowing: &Sowing,
    (likely, cells_needed): (u32, u32),
) -> Option<Problem> {
    let wanted = sowing.plants_wanted();
    let begun_to_leave = sowing.seen.iter().any(|seen| matches!(seen.what, Observed::PutOut(_) | Observed::Sold(_)));
    let known = alive(sowing, likely).last().map(|(_, alive)| *alive);
    let sown = sowing.cells_sown().filter(|cells| known.is_none() && *cells < cells_needed);
    let plants = known.or(sown.map(|_| likely)).filter(|plants| *plants < wanted && !begun_to_leave)?;
    let again = || season.sowings().filter(|other| other.again_of == Some(sowing.id));
    let made_up = again().fold(0_u32, |sum, other| sum.saturating_add(other.plants_wanted()));
    let missing = (wanted - plants).checked_sub(made_up).filter(|missing| *missing > 0)?;
    let (sowing, until) = (sowing.id, last_useful_day(crop, sowing)?);
    Some(match (known, sown) {
        (None, Some(cells)) => {
            Problem::SownTooFew { sowing, cells, likely, wanted, missing, sow_again_until: until, too_late: false }
        }
        _ => Problem::TooFew { sowing, alive: plants, wanted, missing, sow_again_until: until, too_late: false },
    })
}
