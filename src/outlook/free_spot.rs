//! A spot for one tray, found by trying the corners that neighbours leave.

use chrono::NaiveDate;

use crate::forecast::Stay;
use crate::season::{ShelfId, Spot};
use crate::units::Length;

use super::on_day::OnDay;
use super::spots::landing;

/// So many questions take a blink; a room where that is not enough is one for the solver.
const MOST_ASKED: u32 = 5_000;

/// The first spot that is free for the whole stay, else the one that is free longest; on that
/// shelf, or on any.
pub fn free_spot(at: &OnDay<'_>, stay: &Stay, on: Option<ShelfId>) -> Option<Spot> {
    let tray = stay.tray()?;
    let from = at.counts_from(stay);
    let mut best: Option<(NaiveDate, Spot)> = None;
    let mut asked = 0_u32;
    let racks = at.season.racks();
    let shelves = racks.iter().flat_map(|rack| at.season.shelves_of(rack.id));
    for shelf in shelves.filter(|shelf| on.is_none_or(|on| on == shelf.id)) {
        let mut corners = vec![(Length::ZERO, Length::ZERO)];
        // a mat or a lamp need not begin at the shelf's corner
        corners.extend(shelf.zones.iter().map(|zone| (zone.x.value(), zone.y.value())));
        for taken in at.grounds_on(shelf.id, tray) {
            corners.extend([(taken.right(), Length::ZERO), (Length::ZERO, taken.front())]);
            corners.extend([(taken.right(), taken.y), (taken.x, taken.front())]);
        }
        corners.sort_unstable_by_key(|(x, y)| (*y, *x));
        corners.dedup();
        for (quarter_turns, (x, y)) in [0_u8, 1].into_iter().flat_map(|t| corners.iter().map(move |c| (t, *c))) {
            asked += 1;
            if asked > MOST_ASKED {
                return best.map(|(_, spot)| spot);
            }
            let spot = Spot { tray, from, until: None, shelf: shelf.id, x, y, quarter_turns, pinned: false };
            let Some(found) = landing(at, stay, spot).ok().filter(|found| found.overload.is_none()) else { continue };
            if found.until.is_none() && !found.beyond_lamp {
                return Some(found.spot);
            }
            let worth = if found.beyond_lamp { at.day } else { found.until.unwrap_or(stay.span.until()) };
            if best.as_ref().is_none_or(|(before, _)| worth > *before) {
                best = Some((worth, found.spot));
            }
        }
    }
    best.map(|(_, spot)| spot)
}
