//! Trays that change their spot though it is no step of theirs.
//!
//! Within an item `fit` counts them; here are those from one item of a tray to the next.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::fit;
use crate::forecast::Needs;
use crate::season::{Role, TrayKey};

use super::question::{StayPart, day_number};
use super::view::View;

/// Where a tray stood last, indoors or outside.
struct Last {
    until: NaiveDate,
    needs: Needs,
    /// `None` until it has stood anywhere.
    spot: Option<fit::Spot>,
    /// It was taken up for want of room.
    waits: bool,
}

impl View<'_> {
    /// Moved though nothing about the tray changed, or though its spot would still have done; so is whatever was
    /// taken up for want of room, when it is put down again. A tray that has grown too tall for its shelf is moved too:
    /// no step of it takes it from there, somebody has to carry it.
    pub(super) fn moved_between_items(&self) -> usize {
        let mut last: BTreeMap<(TrayKey, bool), Last> = BTreeMap::new();
        let mut moves = 0;
        for (number, item) in self.question.items.iter().enumerate() {
            let stay = |part: &StayPart| self.forecast.stays.get(part.stay);
            let (Some(first), Some(end)) = (item.parts.first(), item.parts.last()) else { continue };
            let (Some(opening), Some(closing)) = (stay(first), stay(end)) else { continue };
            let spots = self.answer.layout.spots.get(number).map_or(&[][..], Vec::as_slice);
            let key = (item.tray, opening.needs.role == Role::Hardening);
            let before = last.get(&key).filter(|before| before.until == first.span.from());
            if let (Some((day, now)), Some(before)) = (spots.first(), before)
                && let Some(then) = before.spot
            {
                let moved = then != *now && (before.needs == opening.needs || self.would_still_do(number, then));
                let waited = before.waits || day_number(first.span.from()) < *day;
                moves += usize::from(moved || waited);
            }
            let stood = before.and_then(|before| before.spot);
            let spot = spots.last().map(|(_, spot)| *spot);
            let now =
                Last { until: end.span.until(), needs: closing.needs, spot: spot.or(stood), waits: spot.is_none() };
            last.insert(key, now);
        }
        moves
    }

    fn would_still_do(&self, item: usize, spot: fit::Spot) -> bool {
        let Some(item) = self.question.problem.items.get(item) else { return false };
        let holds = |region: &fit::Region| {
            region.shelf == spot.shelf && item.phases.iter().all(|phase| region.rect.holds(spot.rect(phase)))
        };
        item.regions.iter().any(holds)
    }
}
