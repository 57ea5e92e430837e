//! More room: a lamp over a dark shelf, trays that stick out, shelves more.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::fit;
use crate::forecast::{Forecast, Shape};
use crate::outlook::answer::{Crunch, PoolKind};
use crate::outlook::room::footprint;
use crate::season::make::{new_shelf, whole};
use crate::season::{Lit, Op, Place, PlaceId, Rack, RackId, Role, Season, Shelf, ShelfId, ZoneKind, make};
use crate::units::{DateSpan, Length, LengthUnit, Measure, Size, shifted};

use super::draft::Draft;
use super::way::{Change, Price};

/// Trays stick out by no more than that: more would tip or be knocked off (common practice, no source).
const MOST_OUT: Length = Length::from_mm(100);
/// Sizes that shelving is sold in, inches and centimetres, smallest first: common sizes, from memory.
const INCHES: [(i64, i64); 9] =
    [(24, 14), (36, 14), (36, 18), (48, 14), (48, 18), (36, 24), (60, 18), (48, 24), (72, 24)];
const CENTIMETRES: [(i64, i64); 8] =
    [(60, 30), (80, 30), (90, 40), (100, 40), (120, 40), (100, 60), (120, 60), (150, 60)];
/// No more of them than these.
const MOST_SHELVES: u32 = 12;
/// A place opens sooner, or shuts later, by no more days.
const MOST_DAYS: i64 = 28;
/// Crops stay out at night some days after their first day outside: the most that shipped ones take.
const NIGHTS_AFTER: i64 = 5;

pub(in crate::outlook) struct RoomMade<'a> {
    pub(in crate::outlook) season: &'a Season,
    pub(in crate::outlook) forecast: &'a Forecast,
    pub(in crate::outlook) crunch: &'a Crunch,
    /// From here on nothing has a number.
    pub(in crate::outlook) fresh: u32,
    /// No place opens before it that doesn't as planned.
    pub(in crate::outlook) today: Option<NaiveDate>,
}

/// A lamp over all of a shelf of that place, in place of those that hang there.
pub(in crate::outlook) fn lamp(place: PlaceId, shelf: &Shelf) -> Draft {
    let mut lit = shelf.clone();
    lit.light = None;
    lit.zones.retain(|zone| zone.kind != ZoneKind::Lamp);
    lit.zones.push(whole(ZoneKind::Lamp, &shelf.width, &shelf.depth));
    let price = Price { lamps: 1, ..Price::default() };
    Draft::new(Change::Lamp { place, shelf: shelf.id }, vec![Op::PutShelf(lit)], price)
}

impl RoomMade<'_> {
    pub(super) fn drafts(&self) -> Vec<Draft> {
        let Some((w, d)) = self.commonest() else { return Vec::new() };
        let mut all = self.lamps();
        all.extend(self.stick_out(w, d));
        all.extend(self.shelves(w, d));
        all.extend(self.open());
        all.retain(|draft| draft.is_wanted(self.season));
        all
    }

    fn role(&self) -> Option<Role> {
        self.crunch.pools.iter().find_map(|pool| match pool.kind {
            PoolKind::Of(role) => Some(role),
            PoolKind::BottomHeat => None,
        })
    }

    /// What most of those that are counted cover.
    fn commonest(&self) -> Option<(i64, i64)> {
        let mut sizes: BTreeMap<(i64, i64), usize> = BTreeMap::new();
        for stay in self.forecast.on(self.crunch.worst_day) {
            let counted = stay.tray().is_some_and(|tray| self.crunch.counted.contains(&tray));
            if counted && matches!(stay.shape, Shape::Tray { .. }) {
                let (w, d) = footprint(self.season, &stay.shape);
                *sizes.entry((w.units(), d.units())).or_insert(0) += 1;
            }
        }
        sizes.into_iter().max_by_key(|(_, number)| *number).map(|(size, _)| size)
    }

    /// Places of the crunch that are of its role.
    fn places(&self) -> Vec<&Place> {
        let role = self.role();
        let of = self.crunch.pools.iter().flat_map(|pool| &pool.places).filter_map(|id| self.season.place(*id));
        let mut places: Vec<&Place> = of.filter(|place| Some(place.role) == role).collect();
        places.sort_by_key(|place| place.id);
        places.dedup_by_key(|place| place.id);
        places
    }

    fn shelves_of(&self, place: &Place) -> Vec<&Shelf> {
        let racks = self.season.racks().into_iter().filter(|rack| rack.place == place.id);
        racks.flat_map(|rack| self.season.shelves_of(rack.id)).collect()
    }

    /// Over each shelf of the places that is dark or beside the lamps.
    fn lamps(&self) -> Vec<Draft> {
        if self.role() != Some(Role::Growing) {
            return Vec::new();
        }
        let lamps = self.season.places_with_lamps();
        let mut all = Vec::new();
        for place in self.places() {
            for shelf in self.shelves_of(place) {
                if matches!(shelf.lit(place, lamps.contains(&place.id)), Lit::Dark | Lit::Beside) {
                    all.push(lamp(place.id, shelf));
                }
            }
        }
        all
    }

    /// By the least that makes room for one more of the commonest, over as few shelves as are enough.
    fn stick_out(&self, w: i64, d: i64) -> Option<Draft> {
        let gap = self.season.settings().gap.value();
        let unit = self.season.length_unit();
        let step = if unit == LengthUnit::Inch { Length::from_units(203_200 / 4) } else { Length::from_mm(5) };
        let places = self.places();
        let place = places.first()?.id;
        let shelves: Vec<&Shelf> = places.into_iter().flat_map(|place| self.shelves_of(place)).collect();
        let most = |shelf: &Shelf, by: Length| {
            let deep = shelf.depth.value() + by + gap;
            fit::count((shelf.width.value() + gap).units(), deep.units(), w, d).most
        };
        let outs = (1..).map(|n| step * n).take_while(|by| *by <= MOST_OUT);
        for by in outs {
            let gain = |shelf: &Shelf| {
                let now = shelf.overhang.value();
                if by > now { most(shelf, by) - most(shelf, now) } else { 0 }
            };
            let mut gains: Vec<(i64, &Shelf)> = shelves.iter().map(|shelf| (gain(shelf), *shelf)).collect();
            gains.retain(|(gain, _)| *gain > 0);
            gains.sort_by_key(|(gain, shelf)| (std::cmp::Reverse(*gain), shelf.id));
            let mut wanted = i64::from(self.crunch.short_at_most);
            let enough = gains.into_iter().take_while(|(gain, _)| {
                wanted -= gain;
                wanted + gain > 0
            });
            let found: Vec<&Shelf> = enough.map(|(_, shelf)| shelf).collect();
            if found.is_empty() {
                continue;
            }
            let by = Measure::of(by, unit);
            let put = |shelf: &&Shelf| Op::PutShelf(Shelf { overhang: by.clone(), ..(*shelf).clone() });
            let edges = u32::try_from(found.len()).unwrap_or(u32::MAX);
            let change =
                Change::StickOut { place, shelves: found.iter().map(|shelf| shelf.id).collect(), by: by.clone() };
            let ops = found.iter().map(put).collect();
            return Some(Draft::new(change, ops, Price { edges, ..Price::default() }));
        }
        None
    }

    /// One more like most shelves of the place, for each place that is short; the smallest standard size that holds
    /// one of the commonest where it has none.
    pub(in crate::outlook) fn one_more_shelf(&self) -> Vec<Draft> {
        let mut all = Vec::new();
        for place in self.short_places() {
            let mut shelves = self.shelves_of(place);
            shelves.retain(|shelf| self.role().is_some() || shelf.has(ZoneKind::Heat));
            // of those that the proof is about, where it is about any here: others don't suit what is short
            let named = self.crunch.reason.shelves();
            if shelves.iter().any(|shelf| named.contains(&shelf.id)) {
                shelves.retain(|shelf| named.contains(&shelf.id));
            }
            let kind = |shelf: &Shelf| {
                let height = shelf.clear_height.as_ref().map(Measure::value);
                (shelf.width.value(), shelf.depth.value(), height, shelf.zones.len())
            };
            let mut alike: BTreeMap<_, usize> = BTreeMap::new();
            for shelf in &shelves {
                *alike.entry(kind(shelf)).or_insert(0) += 1;
            }
            let rank = |shelf: &&Shelf| (alike.get(&kind(shelf)).copied(), std::cmp::Reverse(shelf.id));
            all.extend(match shelves.into_iter().max_by_key(rank) {
                Some(shelf) => Some(self.copied(place, shelf)),
                None if self.role().is_some() => self.commonest().and_then(|(w, d)| {
                    let size = self.sizes().into_iter().find(|size| self.most_on(size, w, d) > 0)?;
                    Some(self.more(place, &size, 1))
                }),
                None => None,
            });
        }
        all
    }

    /// Places that are short, of whatever role.
    fn short_places(&self) -> Vec<&Place> {
        if let Some(role) = self.role() {
            let named = self.places();
            // none of them has a shelf yet
            let all = || self.season.places().filter(|place| place.role == role).collect();
            return if named.is_empty() { all() } else { named };
        }
        self.crunch.pools.iter().flat_map(|pool| &pool.places).filter_map(|id| self.season.place(*id)).collect()
    }

    fn copied(&self, place: &Place, shelf: &Shelf) -> Draft {
        let rack = self.new_rack(place);
        let copy = Shelf { id: ShelfId(rack.id.0.saturating_add(1)), rack: rack.id, tier: 1, ..shelf.clone() };
        let lit = shelf.has(ZoneKind::Lamp);
        let size = Size { width: shelf.width.clone(), depth: shelf.depth.clone() };
        let mat = shelf.has(ZoneKind::Heat);
        let change = Change::Shelves { place: place.id, size, number: 1, lit, mat };
        let price = Price { shelves: 1, lamps: u32::from(lit), ..Price::default() };
        Draft::new(change, vec![Op::PutRack(rack), Op::PutShelf(copy)], price)
    }

    fn sizes(&self) -> Vec<Size> {
        match self.season.length_unit() {
            LengthUnit::Inch => {
                INCHES.iter().filter_map(|&(w, d)| Size::parse(&format!("{w} x {d} in"), None).ok()).collect()
            }
            _ => CENTIMETRES.iter().filter_map(|&(w, d)| Size::parse(&format!("{w} x {d} cm"), None).ok()).collect(),
        }
    }

    fn most_on(&self, size: &Size, w: i64, d: i64) -> i64 {
        let gap = self.season.settings().gap.value();
        fit::count((size.width.value() + gap).units(), (size.depth.value() + gap).units(), w, d).most
    }

    /// The smallest standard size of which one is enough, or the fewest of the largest.
    fn shelves(&self, w: i64, d: i64) -> Vec<Draft> {
        let sizes = self.sizes();
        let most = |size: &Size| self.most_on(size, w, d);
        let short = i64::from(self.crunch.short_at_most);
        let Some(place) = self.places().into_iter().next() else { return Vec::new() };
        let one = sizes.iter().find(|size| most(size) >= short);
        let largest = sizes.iter().max_by_key(|size| most(size)).filter(|size| most(size) > 0);
        let Some(size) = one.or(largest) else { return Vec::new() };
        let number = u32::try_from((short + most(size) - 1) / most(size).max(1)).unwrap_or(u32::MAX);
        if number > MOST_SHELVES {
            return Vec::new();
        }
        vec![self.more(place, size, number)]
    }

    /// Places that open in the middle of it, or soon after, open when it begins, or as much sooner as may be; what
    /// shuts before its end stays open. One outside opens so much sooner that what is to stand there at night by then is
    /// used to it.
    fn open(&self) -> Vec<Draft> {
        let span = self.crunch.span;
        let mut all = Vec::new();
        for place in self.season.places() {
            let outside = place.role == Role::Hardening;
            if Some(place.role) != self.role() && !outside {
                continue;
            }
            let lead = if outside && self.role() != Some(Role::Hardening) { NIGHTS_AFTER } else { 0 };
            let wanted = shifted(span.from(), -lead);
            for (at, was) in place.open.iter().enumerate() {
                let sooner = (was.from() - wanted).num_days().clamp(0, MOST_DAYS);
                let late = (span.until() - was.until()).num_days();
                let until = if (1..=MOST_DAYS).contains(&late) { span.until() } else { was.until() };
                // other days on which it is open stay as they are
                let before = place.open.iter().map(|one| one.until()).filter(|day| *day <= was.from()).max();
                let next = place.open.iter().map(|one| one.from()).filter(|day| *day >= was.until()).min();
                let from = shifted(was.from(), -sooner);
                let from = before.map_or(from, |before| from.max(before));
                let until = next.map_or(until, |next| until.min(next));
                let from = self.today.map_or(from, |today| from.max(today.min(was.from())));
                let Ok(then) = DateSpan::new(from, until) else { continue };
                let mut open = place.clone();
                let days = u32::try_from(then.days().saturating_sub(was.days()));
                let (Ok(open_days @ 1..), Some(one)) = (days, open.open.get_mut(at)) else { continue };
                *one = then;
                let change = Change::Open { place: place.id, was: *was, then };
                all.push(Draft::new(change, vec![Op::PutPlace(open)], Price { open_days, ..Price::default() }));
            }
        }
        all
    }

    fn more(&self, place: &Place, size: &Size, number: u32) -> Draft {
        let lit = self.season.places_with_lamps().contains(&place.id);
        let tallest = self.shelves_of(place).into_iter().filter_map(|shelf| shelf.clear_height.clone());
        let tallest = tallest.max_by_key(Measure::value);
        let rack = self.new_rack(place);
        let id = rack.id;
        let mut ops = vec![Op::PutRack(rack)];
        for tier in 1..=number {
            let mut shelf = new_shelf(ShelfId(id.0.saturating_add(tier)), id, tier, size);
            shelf.clear_height.clone_from(&tallest);
            if lit {
                shelf.zones.push(whole(ZoneKind::Lamp, &shelf.width, &shelf.depth));
            }
            ops.push(Op::PutShelf(shelf));
        }
        let change = Change::Shelves { place: place.id, size: size.clone(), number, lit, mat: false };
        let lamps = if lit { number } else { 0 };
        Draft::new(change, ops, Price { shelves: number, lamps, ..Price::default() })
    }

    fn new_rack(&self, place: &Place) -> Rack {
        let racks = self.season.racks();
        let like =
            racks.iter().rev().find(|rack| rack.place == place.id).map_or(place.name.as_str(), |rack| &rack.name);
        let name = make::free_name(self.season, like);
        let position = racks.last().map_or(0, |rack| rack.position.saturating_add(1));
        Rack { id: RackId(self.fresh), place: place.id, name, position, stands: None }
    }
}
