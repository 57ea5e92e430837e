//! The season's shelves: which of them may take what, and when.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::fit::{self, Rect, Region};
use crate::forecast::{Needs, Shape, Stay};
use crate::season::{Lit, PartOfDay, Place, PlaceId, Role, Season, Shelf, ShelfId, Zone, ZoneKind};
use crate::trade::{self, Bears, Harm};
use crate::units::{DateSpan, Length, Temperature};

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
#[derive(Clone)]
pub(super) struct Room<'a> {
    season: &'a Season,
    shelves: Vec<(usize, &'a Shelf, &'a Place)>,
    /// What of each of them is well lit.
    lit: Vec<Lit>,
    hardening_parts: BTreeSet<PartOfDay>,
    pub(super) ids: Vec<ShelfId>,
    /// Dates on which a place or shelf opens or closes.
    turns: Vec<NaiveDate>,
    any_heat: bool,
    /// Trays may stick out where a shelf allows it.
    over_edges: bool,
}

/// Why a stay may not stand anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum NoGround {
    /// No place in its role is there and open.
    NoPlace,
    /// All that are there are too cold for it, or too warm; this one is nearest to what it bears.
    Harmed {
        place: PlaceId,
    },
    /// All that are there are dark, and it grows.
    Dark,
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

/// Why a shelf of the right role is none for a stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unfit {
    Harm(Harm),
    Dark,
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
        let lamps = season.places_with_lamps();
        let lit = shelves.iter().map(|(_, shelf, place)| shelf.lit(place, lamps.contains(&place.id))).collect();
        Self { season, shelves, lit, hardening_parts, ids, turns, any_heat, over_edges: true }
    }

    /// The same where nothing may stick out; `None` where nothing may anyway.
    pub(super) fn within_edges(&self) -> Option<Self> {
        let any = self.shelves.iter().any(|(_, shelf, _)| shelf.overhang.value() > Length::ZERO);
        any.then(|| Self { over_edges: false, ..self.clone() })
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

    /// Days on which a place or shelf opens or closes, in order.
    pub(super) fn turns(&self) -> &[NaiveDate] {
        &self.turns
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

    /// The ground on which the stay may stand during those days, best first: light before warmth, and what is
    /// warmer before what is not, as the forecast takes it.
    pub(super) fn regions(&self, stay: &Stay, span: DateSpan) -> Vec<Region> {
        let mut ranked = Vec::new();
        for &(number, shelf, place) in &self.shelves {
            let (Some(lit), true) = (self.lit(number), is_open(place, shelf, span) && suits_part(place, stay.part))
            else {
                continue;
            };
            if too_low(shelf, stay) || unfit(stay, shelf, place, lit).is_some() {
                continue;
            }
            for (light, class, rect) in grounds(stay, shelf, place.role, lit) {
                let (checks, at) = warmth(stay, shelf, place);
                let ground = if self.over_edges { Some(rect) } else { above(rect, shelf.depth.value().units()) };
                let rank = (light, checks, Reverse(at), class);
                ranked.extend(ground.map(|rect| (rank, Region { shelf: number, rect })));
            }
        }
        ranked.sort_by_key(|(rank, _)| *rank);
        let slack = slack(self.season, &stay.shape).units();
        let region = |(_, Region { shelf, rect })| {
            let rect = Rect { w: rect.w + slack, d: rect.d + slack, ..rect };
            Region { shelf, rect }
        };
        ranked.into_iter().map(region).collect()
    }

    /// What of a shelf is well lit, by its number.
    pub(super) fn lit(&self, number: usize) -> Option<Lit> {
        self.lit.get(number).copied()
    }

    /// Why a shelf is none for the stay, whatever stands there.
    pub(super) fn unfit(&self, stay: &Stay, id: ShelfId) -> Option<Unfit> {
        let number = self.number(id)?;
        let (_, shelf, place) = *self.shelves.get(number)?;
        unfit(stay, shelf, place, self.lit(number)?)
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
            return Some(self.no_place(stay, span));
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

    /// What keeps it from every place that is there, if any is.
    fn no_place(&self, stay: &Stay, span: DateSpan) -> NoGround {
        let with = |needs: Needs| {
            let stay = Stay { height: Length::ZERO, needs, ..stay.clone() };
            let first = self.regions(&stay, span).first().map(|region| region.shelf);
            first.and_then(|shelf| self.shelves.get(shelf)).map(|(_, _, place)| place.id)
        };
        let needs = stay.needs;
        if with(Needs { light: false, ..needs }).is_some() {
            return NoGround::Dark;
        }
        let warm = with(Needs { bears: Bears::Anything, ..needs });
        let warm = warm.or_else(|| with(Needs { bears: Bears::Anything, light: false, ..needs }));
        warm.map_or(NoGround::NoPlace, |place| NoGround::Harmed { place })
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

/// Too cold or too warm for it there, or dark where it grows or wants light to sprout.
fn unfit(stay: &Stay, shelf: &Shelf, place: &Place, lit: Lit) -> Option<Unfit> {
    let on_mat = on_mat(stay, shelf, place);
    // nobody knows how warm a mat is that has no figure
    let unknown = on_mat && place.role == Role::Growing && place.temperatures.mat.is_none();
    let harm = stay.needs.bears.harm(&place.temperatures, stay.part, on_mat).filter(|_| !unknown);
    let dark = lit == Lit::Dark && stay.needs.light && stay.part != PartOfDay::Nights;
    harm.map(Unfit::Harm).or_else(|| dark.then_some(Unfit::Dark))
}

fn on_mat(stay: &Stay, shelf: &Shelf, place: &Place) -> bool {
    stay.needs.heat && (place.role == Role::Germinating || shelf.has(ZoneKind::Heat))
}

/// Whether it is too warm by day for what grows, and how warm it is for what may choose; nobody hardens off
/// where it is warmest.
fn warmth(stay: &Stay, shelf: &Shelf, place: &Place) -> (bool, Option<Temperature>) {
    let (bears, of) = (stay.needs.bears, &place.temperatures);
    match bears {
        _ if stay.needs.role == Role::Hardening => (trade::checks(bears, of), None),
        Bears::Mix { .. } => (false, trade::mix_temperature(of, on_mat(stay, shelf, place))),
        Bears::Air { .. } => (trade::checks(bears, of), trade::mean_temperature(of)),
        Bears::Anything => (false, None),
    }
}

/// The parts of a shelf on which it may stand, each with two ranks: how well it does there, which comes
/// before warmth, and how well among those alike.
fn grounds(stay: &Stay, shelf: &Shelf, place: Role, lit: Lit) -> Vec<(u8, u8, Rect)> {
    let all = whole_shelf(shelf);
    let parts = |kind| {
        let zones = shelf.zones.iter().filter(move |zone| zone.kind == kind);
        zones.filter_map(move |zone| Some((0, 0, clip(zone, all)?)))
    };
    let needs = stay.needs;
    match (needs.role, place) {
        (Role::Hardening, Role::Hardening) => vec![(0, 0, all)],
        (Role::Germinating, Role::Growing) if needs.heat => parts(ZoneKind::Heat).collect(),
        (Role::Germinating, Role::Germinating) if needs.heat => vec![(0, 1, all)],
        (Role::Germinating, Role::Germinating | Role::Growing) | (Role::Growing, Role::Growing) => {
            if needs.light {
                let whole = match lit {
                    Lit::Whole => (0, 1, all),
                    Lit::UnderLamps => (1, 2, all),
                    Lit::Beside | Lit::Dark => (2, 3, all),
                };
                return parts(ZoneKind::Lamp).filter(|_| lit == Lit::UnderLamps).chain([whole]).collect();
            }
            // the dark days leave the lamps to others
            let class = match lit {
                Lit::Dark => 0,
                Lit::Beside => 1,
                Lit::Whole => 2,
                Lit::UnderLamps => 3,
            };
            vec![(u8::from(needs.role == Role::Germinating && place == Role::Growing), class, all)]
        }
        _ => Vec::new(),
    }
}

/// The part of it above a shelf of that depth.
fn above(rect: Rect, depth: i64) -> Option<Rect> {
    let d = rect.back().min(depth) - rect.y;
    (d > 0).then_some(Rect { d, ..rect })
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
    role_suits(role_of(season, shelf), stay)
}

/// What a shelf is for.
pub(super) fn role_of(season: &Season, shelf: ShelfId) -> Option<Role> {
    season.shelf(shelf).and_then(|shelf| season.place_of(shelf)).map(|place| place.role)
}

pub(super) fn role_suits(role: Option<Role>, stay: &Stay) -> bool {
    match stay.needs.role {
        Role::Germinating => matches!(role, Some(Role::Germinating | Role::Growing)),
        wanted => role == Some(wanted),
    }
}
