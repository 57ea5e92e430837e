//! What the grower wrote down, as far as the forecast follows it.

use chrono::NaiveDate;

use crate::season::{Crop, Observed, Sowing};
use crate::trade;

use super::problem::Problem;
use crate::units::shifted;

/// What was seen of one lot's plants.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct LotSeen {
    /// Cells that were really sown.
    pub(super) cells: Option<u32>,
    /// Came up, less those lost since.
    pub(super) alive: Option<u32>,
    /// The day on which plugs were moved together, and how many there were then.
    pub(super) gapped_up: Option<(NaiveDate, u32)>,
}

/// A lot's part of what was seen of the whole sowing.
pub(super) fn of_lot(sowing: &Sowing, shares: &[u32], at: usize) -> LotSeen {
    let part = |plants: u32| trade::share_out(plants, shares).get(at).copied().unwrap_or(plants);
    let gapped_up = sowing.seen.iter().find(|seen| seen.what == Observed::GappedUp).map(|seen| seen.date);
    LotSeen {
        cells: sown(sowing).map(part),
        alive: alive(sowing, None).map(part),
        gapped_up: gapped_up.and_then(|date| Some((date, part(alive(sowing, Some(date))?)))),
    }
}

fn sown(sowing: &Sowing) -> Option<u32> {
    sowing.seen.iter().find_map(|seen| match seen.what {
        Observed::Sown { cells } => cells,
        _ => None,
    })
}

/// Plants that came up, less those lost since, up to that day; nobody knows while they were not counted.
fn alive(sowing: &Sowing, until: Option<NaiveDate>) -> Option<u32> {
    let counted = sowing.seen.iter().rev().find_map(|seen| match seen.what {
        Observed::Up { plants: Some(plants) } => Some((seen.date, plants)),
        _ => None,
    });
    let (from, up) = counted?;
    let lost = sowing.seen.iter().filter(|seen| seen.date >= from && until.is_none_or(|until| seen.date <= until));
    Some(lost.fold(up, |left, seen| match seen.what {
        Observed::Lost { plants, .. } => left.saturating_sub(plants),
        _ => left,
    }))
}

/// The first day on which such a thing was seen.
pub(super) fn seen(sowing: &Sowing, wanted: impl Fn(&Observed) -> bool) -> Option<NaiveDate> {
    sowing.seen.iter().find(|seen| wanted(&seen.what)).map(|seen| seen.date)
}

/// Whether it is known that the plants are there.
pub(super) fn has_come_up(sowing: &Sowing) -> bool {
    let later = |what: &Observed| matches!(what, Observed::Up { .. } | Observed::TrueLeaves(_) | Observed::MovedOn(_));
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

/// What has left, then what is left of the numbers wanted, by date.
pub(super) fn leaving_days(sowing: &Sowing) -> Vec<(NaiveDate, u32)> {
    let mut days: Vec<(NaiveDate, u32)> = Vec::new();
    let mut gone = 0_u32;
    for seen in &sowing.seen {
        if let Observed::PutOut(plants) | Observed::Sold(plants) = seen.what {
            gone = gone.saturating_add(plants);
            days.push((seen.date, plants));
        }
    }
    let mut wanted = sowing.wanted.clone();
    wanted.sort_by_key(|wanted| wanted.date);
    for one in wanted {
        let went = gone.min(one.plants);
        gone -= went;
        if one.plants > went {
            days.push((one.date, one.plants - went));
        }
    }
    days.sort_unstable();
    days
}

/// Fewer are alive than are wanted: how many are missing, and until when sowing again would still give
/// them, by the crop's shortest course.
pub(super) fn too_few(crop: &Crop, sowing: &Sowing, problems: &mut Vec<Problem>) {
    let wanted = sowing.plants_wanted();
    let begun_to_leave = sowing.seen.iter().any(|seen| matches!(seen.what, Observed::PutOut(_) | Observed::Sold(_)));
    let Some(alive) = alive(sowing, None).filter(|alive| *alive < wanted && !begun_to_leave) else { return };
    let Some(out) = sowing.wanted.iter().map(|wanted| wanted.date).min() else { return };
    let (weeks, _) = crop.weeks_to_planting_out.value;
    let until = shifted(out, -7 * i64::from(weeks));
    problems.push(Problem::TooFew { sowing: sowing.id, alive, wanted, sow_again_until: until });
}
