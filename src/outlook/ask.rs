//! The season's stays and shelves as a question for `fit`: numbers only.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::NaiveDate;

use crate::fit::{self, Days, Rect, Region, RegionSet};
use crate::forecast::{Forecast, Shape, Stay};
use crate::season::{PartOfDay, Place, Role, Season, Shelf, ShelfId, Side, Spot, SpotFrom, TrayKey, ZoneKind};
use crate::units::{DateSpan, Length};

use super::Keep;
use super::standing::spot_of;

/// One question: what each item and each shelf of it stands for.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    pub(super) problem: fit::Problem,
    pub(super) items: Vec<ItemOf>,
    pub(super) shelves: Vec<ShelfId>,
}

#[derive(Clone, Debug)]
pub(super) struct ItemOf {
    pub(super) tray: TrayKey,
    /// Stays, by their place in the forecast, with the days of each.
    pub(super) parts: Vec<Part>,
}

/// A run of days of one stay on which its ground does not change.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub(super) stay: usize,
    pub(super) span: DateSpan,
    pub(super) regions: RegionSet,
}

pub(super) fn day_number(date: NaiveDate) -> i32 {
    i32::try_from((date - NaiveDate::default()).num_days()).unwrap_or(i32::MAX)
}

pub(super) fn date_of(day: i32) -> NaiveDate {
    NaiveDate::default() + chrono::TimeDelta::days(i64::from(day))
}

fn days(span: DateSpan) -> Days {
    Days::new(day_number(span.from()), day_number(span.until()))
}

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
}

/// Why a stay may not stand anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Homeless {
    /// No place in its role is there and open.
    NoPlace,
    /// The tallest of them is too low.
    TooLow {
        missing: Length,
        tallest: Length,
    },
    TooLarge,
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
        Self { season, shelves, hardening_parts, ids, turns, any_heat }
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
        let mut whole = Vec::new();
        for &(number, shelf, place) in &self.shelves {
            if !is_open(place, shelf, span) || !suits_part(place, stay.part) || too_low(shelf, stay).is_some() {
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
        self.shelves.iter().any(|(_, shelf, of)| of.id == place.id && shelf.has(ZoneKind::Lamp))
    }

    /// Why the stay has no ground on those days; `None` if it has some that holds it.
    pub(super) fn homeless(&self, stay: &Stay, span: DateSpan) -> Option<Homeless> {
        let (w, d) = footprint(self.season, &stay.shape);
        let holds = |regions: &[Region]| {
            regions.iter().any(|region| {
                let (rw, rd) = (region.rect.w, region.rect.d);
                (w.units() <= rw && d.units() <= rd) || (d.units() <= rw && w.units() <= rd)
            })
        };
        let regions = self.regions(stay, span);
        if holds(&regions) {
            return None;
        }
        let any_height = self.regions(&Stay { height: Length::ZERO, ..stay.clone() }, span);
        if any_height.is_empty() {
            return Some(Homeless::NoPlace);
        }
        if !holds(&any_height) {
            return Some(Homeless::TooLarge);
        }
        let tallest = any_height
            .iter()
            .filter_map(|region| self.shelves.get(region.shelf)?.1.clear_height.as_ref())
            .map(crate::units::Typed::value)
            .max()?;
        Some(Homeless::TooLow { missing: stay.height - tallest, tallest })
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
pub(super) fn clip(zone: &crate::season::Zone, shelf: Rect) -> Option<Rect> {
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

/// What is missing above the stay on that shelf.
pub(super) fn too_low(shelf: &Shelf, stay: &Stay) -> Option<Length> {
    let clear = shelf.clear_height.as_ref()?.value();
    (stay.height > clear).then(|| stay.height - clear)
}

/// How stays of one tray become items.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joined {
    /// A tray keeps one spot for as long as some ground suits it throughout; only heat is left as
    /// soon as it is no longer wanted.
    WhereOneSpotDoes,
    /// A new item wherever the ground changes: what holds for each day on its own.
    WhereGroundIsTheSame,
}

/// Puts the question; spots that the season has are wishes if they are to be kept, pinned ones
/// conditions.
pub(super) fn ask(season: &Season, forecast: &Forecast, room: &Room<'_>, joined: Joined, keep: Keep) -> Asked {
    let mut chains: BTreeMap<(TrayKey, bool), Vec<Part>> = BTreeMap::new();
    let mut sets: BTreeMap<Vec<Region>, RegionSet> = BTreeMap::new();
    let mut set_of = |regions: Vec<Region>| -> RegionSet {
        Arc::clone(sets.entry(regions).or_insert_with_key(|regions| Arc::from(regions.as_slice())))
    };
    for (number, stay) in forecast.stays.iter().enumerate() {
        let Some(tray) = stay.tray() else { continue };
        let chain = chains.entry((tray, stay.needs.role == Role::Hardening)).or_default();
        for span in room.cuts(stay.span) {
            chain.push(Part { stay: number, span, regions: set_of(room.regions(stay, span)) });
        }
    }
    let mut asked = Asked {
        problem: fit::Problem { shelves: room.limits(), items: Vec::new() },
        items: Vec::new(),
        shelves: room.ids.clone(),
    };
    for ((tray, _), mut chain) in chains {
        chain.sort_by_key(|part| part.span);
        let mut group: Vec<Part> = Vec::new();
        let mut ground: Option<RegionSet> = None;
        for part in chain {
            let next = ground.as_ref().zip(group.last()).and_then(|(ground, last)| {
                let heat = |part: &Part| forecast.stays.get(part.stay).is_some_and(|stay| stay.needs.heat);
                if last.span.until() != part.span.from() || (heat(last) && !heat(&part)) {
                    return None;
                }
                match joined {
                    Joined::WhereGroundIsTheSame => (*ground == part.regions).then(|| Arc::clone(ground)),
                    Joined::WhereOneSpotDoes => {
                        if *ground == part.regions {
                            return Some(Arc::clone(ground));
                        }
                        let both = common(ground, &part.regions);
                        (!both.is_empty()).then(|| set_of(both))
                    }
                }
            });
            if next.is_none() && !group.is_empty() {
                push_item(season, forecast, room, tray, std::mem::take(&mut group), ground.take(), &mut asked);
            }
            ground = next.or_else(|| Some(Arc::clone(&part.regions)));
            group.push(part);
        }
        push_item(season, forecast, room, tray, group, ground, &mut asked);
    }
    if keep == Keep::Pinned {
        asked.problem.items.iter_mut().for_each(|item| item.wish = None);
    }
    asked
}

/// Ground that suits both.
fn common(a: &[Region], b: &[Region]) -> Vec<Region> {
    let within = |part: &Region, of: &[Region]| of.iter().any(|r| r.shelf == part.shelf && r.rect.holds(part.rect));
    let mut both: Vec<Region> = b.iter().filter(|region| within(region, a)).copied().collect();
    both.extend(a.iter().filter(|region| within(region, b) && !b.contains(region)));
    both
}

fn push_item(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    tray: TrayKey,
    parts: Vec<Part>,
    ground: Option<RegionSet>,
    asked: &mut Asked,
) {
    let (Some(first), Some(regions)) = (parts.first(), ground) else { return };
    let Some(stay) = forecast.stays.get(first.stay) else { return };
    let mut phases: Vec<fit::Phase> = Vec::new();
    for part in &parts {
        let Some(stay) = forecast.stays.get(part.stay) else { continue };
        let (w, d) = footprint(season, &stay.shape);
        let phase = fit::Phase { days: days(part.span), w: w.units(), d: d.units(), grams: i64::from(stay.grams) };
        match phases.last_mut() {
            Some(last) if (last.w, last.d, last.grams) == (phase.w, phase.d, phase.grams) => {
                last.days.until = phase.days.until;
            }
            _ => phases.push(phase),
        }
    }
    let stands = spot_of(season, stay, first.span.from());
    let spot = stands.and_then(|spot| as_fit(room, spot));
    let pinned = stands.is_some_and(|spot| spot.pinned);
    asked.problem.items.push(fit::Item {
        phases,
        regions,
        pinned: spot.filter(|_| pinned),
        wish: spot.filter(|_| !pinned),
    });
    asked.items.push(ItemOf { tray, parts });
}

fn as_fit(room: &Room<'_>, spot: &Spot) -> Option<fit::Spot> {
    let shelf = room.number(spot.shelf)?;
    Some(fit::Spot { shelf, x: spot.x.units(), y: spot.y.units(), turned: spot.is_turned() })
}

impl Asked {
    /// The layout as the season writes it; what is pinned keeps its pin.
    pub(super) fn spots(&self, season: &Season, forecast: &Forecast, layout: &fit::Layout) -> Vec<Spot> {
        let mut spots: BTreeMap<(TrayKey, SpotFrom, Side), Spot> = BTreeMap::new();
        let mut order: Vec<usize> = (0..self.items.len()).collect();
        order.sort_by_key(|&i| self.items.get(i).and_then(|item| item.parts.first()).map(|part| part.span));
        for i in order {
            let (Some(item), Some(found)) = (self.items.get(i), layout.spots.get(i)) else { continue };
            let Some(first) = item.parts.first() else { continue };
            let Some(stay) = forecast.stays.get(first.stay) else { continue };
            let side = if stay.needs.role == Role::Hardening { Side::Outside } else { Side::Indoors };
            let starts = forecast.stays_of(item.tray).map(|stay| stay.span.from()).min();
            let key = |date| {
                let from = if starts == Some(date) { SpotFrom::Start } else { SpotFrom::On(date) };
                (item.tray, from, side)
            };
            let from = first.span.from();
            if found.first().is_none_or(|(day, _)| date_of(*day) > from) {
                // no room for it from here on: it is taken up, and waits
                if let Some(before) = latest(&mut spots, key(from)) {
                    before.until = before.until.or(Some(from));
                }
            }
            for &(day, spot) in found {
                let Some(&shelf) = self.shelves.get(spot.shelf) else { continue };
                let date = date_of(day);
                let pinned = spot_of(season, stay, date).filter(|spot| spot.pinned);
                let spot = Spot {
                    tray: item.tray,
                    from: key(date).1,
                    until: None,
                    shelf,
                    x: Length::from_units(spot.x),
                    y: Length::from_units(spot.y),
                    quarter_turns: pinned.map_or(u8::from(spot.turned), |spot| spot.quarter_turns),
                    pinned: pinned.is_some(),
                };
                // a tray that stays where it was needs no new entry
                let same = latest(&mut spots, key(date)).is_some_and(|before| {
                    before.until.is_none()
                        && (before.shelf, before.x, before.y, before.is_turned())
                            == (spot.shelf, spot.x, spot.y, spot.is_turned())
                });
                if !same {
                    spots.insert(key(date), spot);
                }
            }
        }
        spots.into_values().collect()
    }
}

/// The tray's spot on the same side that was put down last before that one.
fn latest(
    spots: &mut BTreeMap<(TrayKey, SpotFrom, Side), Spot>,
    (tray, from, side): (TrayKey, SpotFrom, Side),
) -> Option<&mut Spot> {
    let first = (tray, SpotFrom::Start, Side::Indoors);
    let before = spots.range_mut(first..(tray, from, Side::Indoors));
    before.rev().find(|((_, _, of), _)| *of == side).map(|(_, spot)| spot)
}
