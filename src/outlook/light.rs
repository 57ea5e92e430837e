//! How well trays and loose pots stand lit, each where it stands.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::fit::{self, Rect};
use crate::forecast::{Forecast, Problem, Shape, Stay};
use crate::season::{Lit, Role, Season, Shelf, ZoneKind};
use crate::units::DateSpan;

use super::layout::spots_during;
use super::room::{Room, clip, whole_shelf};
use super::view::weight;

/// Where a stay stands on its shelf: its corner, and how often it is turned by a quarter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Corner {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) quarter_turns: u8,
}

/// How many of a stay stand well lit there: the tray, or each of its loose pots.
pub(super) fn well_lit(lit: Lit, shelf: &Shelf, stay: &Stay, corner: Corner) -> u32 {
    let lamps: Vec<Rect> = match lit {
        Lit::Whole => return weight(stay),
        Lit::Beside | Lit::Dark => return 0,
        Lit::UnderLamps => {
            let all = whole_shelf(shelf);
            shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Lamp).filter_map(|zone| clip(zone, all)).collect()
        }
    };
    let (w, d) = (stay.shape.width().units(), stay.shape.depth().units());
    match &stay.shape {
        Shape::Tray { .. } => {
            let (w, d) = if corner.quarter_turns % 2 == 1 { (d, w) } else { (w, d) };
            u32::from(is_under(&lamps, Rect { x: corner.x, y: corner.y, w, d }))
        }
        Shape::Pots { across, centres, .. } => {
            let across = across.units();
            let under = centres.iter().filter(|(x, y)| {
                let (x, y) = (x.units(), y.units());
                let (x, y) = match corner.quarter_turns % 4 {
                    0 => (x, y),
                    1 => (d - y, x),
                    2 => (w - x, d - y),
                    _ => (y, w - x),
                };
                let (x, y) = (corner.x.saturating_add(x - across / 2), corner.y.saturating_add(y - across / 2));
                is_under(&lamps, Rect { x, y, w: across, d: across })
            });
            u32::try_from(under.count()).unwrap_or(u32::MAX)
        }
    }
}

/// A quarter of it may stick out of the lamps' good reach: a tray pushed into the corner of a shelf whose
/// lamp ends an inch or two before the edges still stands well lit (our choice, no source).
fn is_under(lamps: &[Rect], ground: Rect) -> bool {
    covered(lamps, ground) * 4 >= ground.area() * 3
}

/// How much of the ground lies under at least one of them.
fn covered(by: &[Rect], ground: Rect) -> i128 {
    let within: Vec<Rect> = by.iter().filter_map(|rect| common(*rect, ground)).collect();
    let mut edges: Vec<i64> = within.iter().flat_map(|rect| [rect.x, rect.right()]).collect();
    edges.sort_unstable();
    edges.dedup();
    let strips = edges.iter().zip(edges.iter().skip(1));
    strips.map(|(&from, &until)| i128::from(until - from) * i128::from(depth_within(&within, from))).sum()
}

fn common(one: Rect, other: Rect) -> Option<Rect> {
    let (x, y) = (one.x.max(other.x), one.y.max(other.y));
    let (w, d) = (one.right().min(other.right()) - x, one.back().min(other.back()) - y);
    (w > 0 && d > 0).then_some(Rect { x, y, w, d })
}

/// Along the line at `x`, what at least one of them covers.
fn depth_within(rects: &[Rect], x: i64) -> i64 {
    let here = rects.iter().filter(|rect| rect.x <= x && x < rect.right());
    let mut spans: Vec<(i64, i64)> = here.map(|rect| (rect.y, rect.back())).collect();
    spans.sort_unstable();
    let (mut covered, mut reached) = (0, i64::MIN);
    for (from, until) in spans {
        covered += (until - from.max(reached)).max(0);
        reached = reached.max(until);
    }
    covered
}

/// How many of each stay stand well lit where it does, as far as that was asked.
pub(super) type Known = BTreeMap<(usize, usize, Corner), u32>;

/// The same for a spot in the solver's terms.
pub(super) fn corner_of(spot: fit::Spot) -> Corner {
    Corner { x: spot.x, y: spot.y, quarter_turns: u8::from(spot.turned) }
}

/// More than lamps reach, and of them the loose pots.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct OverLit {
    pub(super) all: u32,
    pub(super) pots: u32,
    /// In all of them.
    pub(super) plants: u32,
}

impl OverLit {
    pub(super) fn add(&mut self, stay: &Stay, well_lit: u32) {
        let beyond = weight(stay).saturating_sub(well_lit);
        self.all = self.all.saturating_add(beyond);
        if matches!(stay.shape, Shape::Pots { .. }) {
            self.pots = self.pots.saturating_add(beyond);
            self.plants = self.plants.saturating_add(beyond);
        } else if beyond > 0 {
            self.plants = self.plants.saturating_add(stay.plants);
        }
    }

    const fn and(self, other: Self) -> Self {
        Self {
            all: self.all.saturating_add(other.all),
            pots: self.pots.saturating_add(other.pots),
            plants: self.plants.saturating_add(other.plants),
        }
    }

    const fn without(self, other: Self) -> Self {
        Self {
            all: self.all.saturating_sub(other.all),
            pots: self.pots.saturating_sub(other.pots),
            plants: self.plants.saturating_sub(other.plants),
        }
    }
}

/// What grows beyond the lamps on some of those days, told once; no two of the spans have a day in common.
pub(super) fn beyond_lamps(days: &[(DateSpan, OverLit)]) -> Option<Problem> {
    let dark = || days.iter().filter(|(_, over)| over.all > 0);
    let sum = |each: fn(&OverLit) -> u32| {
        let of_span =
            |(span, over): &(DateSpan, OverLit)| u64::from(each(over)) * u64::try_from(span.days()).unwrap_or(0);
        dark().map(of_span).fold(0, u64::saturating_add)
    };
    let (first, last) = (dark().next()?.0, dark().next_back()?.0);
    let most = dark().map(|(_, over)| *over).reduce(|one, other| if other.all > one.all { other } else { one })?;
    Some(Problem::BeyondLamps {
        span: DateSpan::new(first.from(), last.until()).ok()?,
        most: most.all,
        pots: most.pots,
        days: u32::try_from(dark().map(|(span, _)| span.days()).sum::<i64>()).unwrap_or(u32::MAX),
        tray_days: sum(|over| over.all),
        plant_days: sum(|over| over.plants),
    })
}

/// What the layout of the season itself leaves beyond the lamps; `None` while some of what grows has no
/// spot in it.
pub(super) fn beyond_lamps_there(season: &Season, forecast: &Forecast, room: &Room<'_>) -> Option<Vec<Problem>> {
    let mut turns: BTreeMap<NaiveDate, Vec<(OverLit, bool)>> = BTreeMap::new();
    let mut any = false;
    for stay in forecast.stays.iter().filter(|stay| stay.needs.light && stay.needs.role == Role::Growing) {
        let spots = spots_during(season, stay);
        if spots.iter().map(|(_, span)| span.days()).sum::<i64>() < stay.span.days() {
            return None;
        }
        any = true;
        for (spot, span) in spots {
            let (shelf, lit) = (season.shelf(spot.shelf)?, room.lit(room.number(spot.shelf)?)?);
            let corner = Corner { x: spot.x.units(), y: spot.y.units(), quarter_turns: spot.quarter_turns };
            let mut over = OverLit::default();
            over.add(stay, well_lit(lit, shelf, stay, corner));
            if over.all > 0 {
                turns.entry(span.from()).or_default().push((over, true));
                turns.entry(span.until()).or_default().push((over, false));
            }
        }
    }
    let (mut days, mut over) = (Vec::new(), OverLit::default());
    let ends = turns.keys().skip(1).copied();
    for ((from, changes), until) in turns.iter().zip(ends) {
        for (change, comes) in changes {
            over = if *comes { over.and(*change) } else { over.without(*change) };
        }
        days.extend(DateSpan::new(*from, until).ok().map(|span| (span, over)));
    }
    any.then(|| beyond_lamps(&days).into_iter().collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn rect(x: i64, y: i64, w: i64, d: i64) -> Rect {
        Rect { x, y, w, d }
    }

    #[test]
    fn what_two_lamps_share_counts_once() {
        let ground = rect(0, 0, 10, 10);
        assert_eq!(covered(&[rect(0, 0, 6, 10), rect(4, 0, 6, 10)], ground), 100);
        assert_eq!(covered(&[rect(-5, -5, 10, 10), rect(0, 0, 5, 5)], ground), 25);
        assert_eq!(covered(&[], ground), 0);
    }

    #[test]
    fn a_quarter_may_stick_out() {
        assert!(is_under(&[rect(0, 0, 75, 100)], rect(0, 0, 100, 100)));
        assert!(!is_under(&[rect(0, 0, 74, 100)], rect(0, 0, 100, 100)));
        // two lamps side by side are one
        assert!(is_under(&[rect(0, 0, 5, 10), rect(5, 0, 5, 10)], rect(0, 0, 10, 10)));
    }
}
