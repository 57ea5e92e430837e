//! The season's shelves: which of them may take what, and when.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit::{self, Rect, Region};
use crate::forecast::{Shape, Stay};
use crate::season::{PartOfDay, Place, PlaceId, Role, Season, Shelf, ShelfId, Zone, ZoneKind};
use crate::units::{DateSpan, Length};

/// What a stay covers on the shelf: its shape and the gap kept beside trays; pots may touch.
pub(super) fn footprint(season: &Season, shape: &Shape) -> (Length, Length) {
    let gap = match shape {
        Shape::Tray { .. } => season.settings().gap.value(),
        Shape::Pots { .. } => Length::ZERO,
    };
    (shape.width() + gap, shape.depth() + gap)
}

/// What of that ground may lie in the air past a far edge: a gap is kept between neighbours only.
pub(super) fn slack(season: &Season, shape: &Shape) -> Length {
    match shape {
        Shape::Tray { .. } => season.settings().gap.value(),
        Shape::Pots { across, pitch, .. } => *pitch - *across,
    }
}

/// The season's shelves, prepared to say where a stay may stand.
pub(super) struct Room<'a> {
    season: &'a Season,
    shelves: Vec<(usize, &'a Shelf, &'a Place)>,
    hardening_parts: BTreeSet<PartOfDay>,
    pub(super) ids: Vec<ShelfId>,
    /// Dates on which a place or shelf opens or closes.
    turns: Vec<NaiveDate>,
    any_heat: bool,
    /// Places with a lamp on some shelf.
    with_lamps: BTreeSet<PlaceId>,
}

/// Why a stay may not stand anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum NoGround {
    /// No place in its role is there and open.
    NoPlace,
    /// The tallest of them is too low.
    TooLow {
        missing: Length,
        tallest: Length,
    },
    TooLarge,
    /// One alone is more than any of them is rated for.
    TooHeavy {
        rated: u32,
    },
}

impl<'a> Room<'a> {
    pub(super) fn of(season: &'a Season) -> Self {
        let mut shelves = Vec::new();
        for rack in season.racks() {
            for shelf in season.shelves_of(rack.id) {
                if let Some(place) = season.place(rack.place) {
                    shelves.push((shelves.len(), shelf, place));
                }
            }
        }
        let mut turns: Vec<NaiveDate> = shelves
            .iter()
            .flat_map(|(_, shelf, place)| shelf.closed.iter().chain(&place.open))
            .flat_map(|span| [span.from(), span.until()])
            .collect();
        turns.sort_unstable();
        turns.dedup();
        let ids = shelves.iter().map(|(_, shelf, _)| shelf.id).collect();
        let any_heat = shelves.iter().any(|(_, shelf, _)| shelf.has(ZoneKind::Heat));
        let hardening = shelves.iter().filter(|(_, _, place)| place.role == Role::Hardening);
        let hardening_parts = hardening.map(|(_, _, place)| place.part).collect();
        let lit = shelves.iter().filter(|(_, shelf, _)| shelf.has(ZoneKind::Lamp));
        let with_lamps = lit.map(|(_, _, place)| place.id).collect();
        Self { season, shelves, hardening_parts, ids, turns, any_heat, with_lamps }
    }

    pub(super) fn number(&self, id: ShelfId) -> Option<usize> {
        self.ids.iter().position(|shelf| *shelf == id)
    }

    pub(super) fn shelves(&self) -> impl Iterator<Item = (usize, &'a Shelf, &'a Place)> {
        self.shelves.iter().copied()
    }

    pub(super) fn limits(&self) -> Vec<fit::Shelf> {
        let limit = |shelf: &Shelf| fit::Shelf {
            load: shelf.load_grams.map(i64::from),
            cover: (shelf.allowance_percent > 0).then(|| {
                let gap = self.season.settings().gap.value();
                let all = ((shelf.width.value() + gap) * (shelf.usable_depth() + gap)).units();
                all * i128::from(100 - i32::from(shelf.allowance_percent.min(100))) / 100
            }),
        };
        self.shelves.iter().map(|(_, shelf, _)| limit(shelf)).collect()
    }

    /// The days of a stay, cut where a place or shelf opens or closes.
    pub(super) fn cuts(&self, span: DateSpan) -> Vec<DateSpan> {
        let mut from = span.from();
        let mut cuts = Vec::new();
        for &turn in self.turns.iter().filter(|turn| **turn > span.from() && **turn < span.until()) {
            cuts.extend(DateSpan::new(from, turn));
            from = turn;
        }
        cuts.extend(DateSpan::new(from, span.until()));
        cuts
    }

    /// The ground on which the stay may stand during those days, best first.
    pub(super) fn regions(&self, stay: &Stay, span: DateSpan) -> Vec<Region> {
        let mut zones = Vec::new();
        let mut whole = Vec::with_capacity(self.shelves.len());
        for &(number, shelf, place) in &self.shelves {
            if !is_open(place, shelf, span) || !suits_part(place, stay.part) || too_low(shelf, stay) {
                continue;
            }
            let all = whole_shelf(shelf);
            let part = |kind| {
                shelf.zones.iter().filter(move |zone| zone.kind == kind).filter_map(move |zone| {
                    let rect = clip(zone, all)?;
                    Some(Region { shelf: number, rect })
                })
            };
            match (stay.needs.role, place.role) {
                (Role::Germinating, Role::Germinating) | (Role::Hardening, Role::Hardening) => {
                    whole.push(Region { shelf: number, rect: all });
                }
                (Role::Germinating, Role::Growing) if stay.needs.heat => zones.extend(part(ZoneKind::Heat)),
                (Role::Germinating | Role::Growing, Role::Growing) => {
                    let lit = shelf.has(ZoneKind::Lamp);
                    if stay.needs.light && !lit && self.has_lamps(place) {
                        continue;
                    }
                    if stay.needs.light {
                        zones.extend(part(ZoneKind::Lamp));
                    }
                    whole.push(Region { shelf: number, rect: all });
                }
                _ => {}
            }
        }
        // an unlit shelf is good enough for the dark days, and leaves the lamps to others
        if !stay.needs.light {
            whole.sort_by_key(|region| {
                self.shelves.get(region.shelf).is_some_and(|(_, shelf, _)| shelf.has(ZoneKind::Lamp))
            });
        }
        zones.extend(whole);
        let slack = slack(self.season, &stay.shape).units();
        for region in &mut zones {
            region.rect.w += slack;
            region.rect.d += slack;
        }
        zones
    }

    /// A place with a lamp on one shelf is dark on those without; with none at all, daylight or
    /// lamps that nobody drew serve it all.
    fn has_lamps(&self, place: &Place) -> bool {
        self.with_lamps.contains(&place.id)
    }

    /// Why the stay has no ground on those days; `None` if it has some that holds it.
    pub(super) fn no_ground(&self, stay: &Stay, span: DateSpan) -> Option<NoGround> {
        let (w, d) = footprint(self.season, &stay.shape);
        let holds = |regions: &[Region]| {
            regions.iter().any(|region| {
                let (rw, rd) = (region.rect.w, region.rect.d);
                (w.units() <= rw && d.units() <= rd) || (d.units() <= rw && w.units() <= rd)
            })
        };
        let regions = self.regions(stay, span);
        let rating = |region: &Region| self.shelves.get(region.shelf).and_then(|(_, shelf, _)| shelf.load_grams);
        if holds(&regions) {
            let bears = |region: &Region| rating(region).is_none_or(|rated| stay.grams <= rated);
            let strong: Vec<Region> = regions.iter().filter(|region| bears(region)).copied().collect();
            let rated = regions.iter().filter_map(rating).max()?;
            return (!holds(&strong)).then_some(NoGround::TooHeavy { rated });
        }
        let any_height = self.regions(&Stay { height: Length::ZERO, ..stay.clone() }, span);
        if any_height.is_empty() {
            return Some(NoGround::NoPlace);
        }
        if !holds(&any_height) {
            return Some(NoGround::TooLarge);
        }
        let tallest = any_height
            .iter()
            .filter_map(|region| self.shelves.get(region.shelf)?.1.clear_height.as_ref())
            .map(crate::units::Typed::value)
            .max()?;
        Some(NoGround::TooLow { missing: stay.height_on(span.from()) - tallest, tallest })
    }

    /// Whether trays that harden off have a choice between places for the day and for the night,
    /// which the forecast makes for them: no proof may rest on that choice.
    pub(super) fn may_harden_otherwise(&self) -> bool {
        self.hardening_parts.len() > 1
    }

    /// Whether a tray that hardens off may spend its nights elsewhere than indoors.
    pub(super) fn has_night_place(&self) -> bool {
        self.hardening_parts.contains(&PartOfDay::Nights)
    }

    /// Whether the season has warm ground at all, so that heat is counted by itself.
    pub(super) const fn any_heat(&self) -> bool {
        self.any_heat
    }
}

pub(super) fn whole_shelf(shelf: &Shelf) -> Rect {
    Rect { x: 0, y: 0, w: shelf.width.value().units(), d: shelf.usable_depth().units() }
}

/// A zone's part that lies on the shelf.
pub(super) fn clip(zone: &Zone, shelf: Rect) -> Option<Rect> {
    let (x, y) = (zone.x.value().units(), zone.y.value().units());
    let w = (x + zone.width.value().units()).min(shelf.w) - x;
    let d = (y + zone.depth.value().units()).min(shelf.d) - y;
    (w > 0 && d > 0).then_some(Rect { x, y, w, d })
}

pub(super) fn is_open(place: &Place, shelf: &Shelf, span: DateSpan) -> bool {
    let open = place.open.is_empty()
        || place.open.iter().any(|open| open.from() <= span.from() && span.until() <= open.until());
    open && !shelf.closed.iter().any(|closed| closed.overlaps(span))
}

pub(super) fn suits_part(place: &Place, part: PartOfDay) -> bool {
    place.part == PartOfDay::Whole || place.part == part
}

/// Whether something is missing above the stay on that shelf: on all its days, or on none.
pub(super) fn too_low(shelf: &Shelf, stay: &Stay) -> bool {
    shelf.clear_height.as_ref().is_some_and(|clear| stay.height > clear.value())
}

/// How much it is that day.
pub(super) fn missing_above(shelf: &Shelf, stay: &Stay, date: NaiveDate) -> Option<Length> {
    let clear = shelf.clear_height.as_ref().filter(|_| too_low(shelf, stay))?.value();
    Some(stay.height_on(date) - clear)
}

/// Whether trays in the stay's role stand on that shelf at all.
pub(super) fn shelf_suits(season: &Season, shelf: ShelfId, stay: &Stay) -> bool {
    let role = season.shelf(shelf).and_then(|shelf| season.place_of(shelf)).map(|place| place.role);
    match stay.needs.role {
        Role::Germinating => matches!(role, Some(Role::Germinating | Role::Growing)),
        wanted => role == Some(wanted),
    }
}
