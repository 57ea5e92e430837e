//! Trays that stay where they are: only what is in another's way, or has no spot, is moved or found one.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit::{self, Fault};
use crate::forecast::{Forecast, Stay};
use crate::season::Season;

use super::layout::{Spots, spots_during};

/// What another layout of the same trays does to them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settled {
    /// Trays that had no spot on some day, and have one.
    pub found: usize,
    /// Others that stand elsewhere on some day.
    pub moved: usize,
}

impl Settled {
    pub fn between(before: &Season, after: &Season, forecast: &Forecast) -> Self {
        let (was, is) = (Spots::of(before), Spots::of(after));
        let (mut moved, mut found) = (BTreeSet::new(), BTreeSet::new());
        for stay in &forecast.stays {
            let Some(tray) = stay.tray() else { continue };
            for day in turns(before, stay).chain(turns(after, stay)) {
                match (was.of_stay(stay, day), is.of_stay(stay, day)) {
                    (Some(was), Some(is)) if !was.is_same_ground(is) => moved.insert(tray),
                    (None, Some(_)) => found.insert(tray),
                    _ => false,
                };
            }
        }
        Self { found: found.len(), moved: moved.difference(&found).count() }
    }
}

/// Its first day, and those on which it is put somewhere else.
fn turns(season: &Season, stay: &Stay) -> impl Iterator<Item = NaiveDate> {
    let spots = spots_during(season, stay).into_iter().flat_map(|(_, days)| [days.from(), days.until()]);
    let inside = stay.span;
    [stay.span.from()].into_iter().chain(spots).filter(move |day| inside.contains(*day))
}

/// Pins whatever stands right, as if the grower had; of two in each other's way the one that came first stays. How many
/// that are.
pub(super) fn pin_what_stands(problem: &mut fit::Problem) -> usize {
    let stands = |item: &fit::Item| {
        let spot = item.pinned.or(item.wish);
        spot.map(|spot| vec![(item.days().from, spot)]).unwrap_or_default()
    };
    let mut layout = fit::Layout { spots: problem.items.iter().map(stands).collect() };
    while let Err(faults) = fit::check(problem, &layout) {
        let mut moved = false;
        for fault in &faults {
            let Some(number) = who_moves(problem, &layout, fault) else { continue };
            if let Some(spots) = layout.spots.get_mut(number) {
                spots.clear();
                moved = true;
            }
        }
        if !moved {
            return 0;
        }
    }
    let mut stay = 0;
    for (item, spots) in problem.items.iter_mut().zip(&layout.spots) {
        if let (None, Some(&(_, spot))) = (item.pinned, spots.first()) {
            (item.pinned, item.wish) = (Some(spot), None);
            stay += 1;
        }
    }
    stay
}

/// Of those that cannot all stand as they do; none where what is wrong is mended already.
fn who_moves(problem: &fit::Problem, layout: &fit::Layout, fault: &Fault) -> Option<usize> {
    let among: &[usize] = match fault {
        Fault::Overlap { a, b, .. } => &[*a, *b],
        Fault::Overload { items, .. } | Fault::Overcover { items, .. } => items,
        Fault::OutsideDays { item, .. }
        | Fault::OutOfOrder { item, .. }
        | Fault::OutsideRegions { item, .. }
        | Fault::NotAsPinned { item, .. } => &[*item],
        Fault::Lists { .. } => &[],
    };
    if among.iter().any(|&number| layout.spots.get(number).is_none_or(Vec::is_empty)) {
        return None;
    }
    let may = among.iter().filter_map(|&number| Some((number, problem.items.get(number)?)));
    let (number, _) =
        may.filter(|(_, item)| item.pinned.is_none()).max_by_key(|(number, item)| (item.days().from, *number))?;
    Some(number)
}
