//! More room: a lamp over a dark shelf, trays that stick out, shelves more.

use std::collections::BTreeMap;

use crate::fit;
use crate::forecast::{Forecast, Shape};
use crate::outlook::answer::{Crunch, PoolKind};
use crate::outlook::room::footprint;
use crate::season::make::{new_shelf, whole};
use crate::season::{Lit, Op, Place, Rack, RackId, Role, Season, Shelf, ShelfId, ZoneKind, make};
use crate::units::{Length, LengthUnit, Measure, Size};

use super::way::{Change, Draft, Price};

/// Trays stick out by no more than that: more would tip or be knocked off (common practice, no source).
const MOST_OUT: Length = Length::from_mm(100);
/// Sizes that shelving is sold in, inches and centimetres, smallest first: common sizes, from memory.
const INCHES: [(i64, i64); 9] =
    [(24, 14), (36, 14), (36, 18), (48, 14), (48, 18), (36, 24), (60, 18), (48, 24), (72, 24)];
const CENTIMETRES: [(i64, i64); 8] =
    [(60, 30), (80, 30), (90, 40), (100, 40), (120, 40), (100, 60), (120, 60), (150, 60)];
/// No more of them than these.
const MOST_SHELVES: u32 = 12;

pub(super) struct RoomMade<'a> {
    pub(super) season: &'a Season,
    pub(super) forecast: &'a Forecast,
    pub(super) crunch: &'a Crunch,
    /// From here on nothing has a number.
    pub(super) fresh: u32,
}

impl RoomMade<'_> {
    pub(super) fn drafts(&self) -> Vec<Draft> {
        let Some((w, d)) = self.commonest() else { return Vec::new() };
        let mut all = self.lamps();
        all.extend(self.stick_out(w, d));
        all.extend(self.shelves(w, d));
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
                if !matches!(shelf.lit(place, lamps.contains(&place.id)), Lit::Dark | Lit::Beside) {
                    continue;
                }
                let mut lit = shelf.clone();
                lit.light = None;
                lit.zones.push(whole(ZoneKind::Lamp, &shelf.width, &shelf.depth));
                let price = Price { lamps: 1, ..Price::default() };
                all.push(Draft::new(Change::Lamp { shelf: shelf.id }, vec![Op::PutShelf(lit)], price));
            }
        }
        all
    }

    /// By the least that makes room for one more of the commonest, over as few shelves as are enough.
    fn stick_out(&self, w: i64, d: i64) -> Option<Draft> {
        let gap = self.season.settings().gap.value();
        let unit = self.season.length_unit();
        let step = if unit == LengthUnit::Inch { Length::from_units(203_200 / 4) } else { Length::from_mm(5) };
        let shelves: Vec<&Shelf> = self.places().into_iter().flat_map(|place| self.shelves_of(place)).collect();
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
            let change = Change::StickOut { shelves: found.iter().map(|shelf| shelf.id).collect(), by: by.clone() };
            let ops = found.iter().map(put).collect();
            return Some(Draft::new(change, ops, Price { edges, ..Price::default() }));
        }
        None
    }

    /// The smallest standard size of which one is enough, or the fewest of the largest.
    fn shelves(&self, w: i64, d: i64) -> Vec<Draft> {
        let unit = self.season.length_unit();
        let sizes: Vec<Size> = match unit {
            LengthUnit::Inch => {
                INCHES.iter().filter_map(|&(w, d)| Size::parse(&format!("{w} x {d} in"), None).ok()).collect()
            }
            _ => CENTIMETRES.iter().filter_map(|&(w, d)| Size::parse(&format!("{w} x {d} cm"), None).ok()).collect(),
        };
        let gap = self.season.settings().gap.value();
        let most =
            |size: &Size| fit::count((size.width.value() + gap).units(), (size.depth.value() + gap).units(), w, d).most;
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

    fn more(&self, place: &Place, size: &Size, number: u32) -> Draft {
        let lit = self.season.places_with_lamps().contains(&place.id);
        let tallest = self.shelves_of(place).into_iter().filter_map(|shelf| shelf.clear_height.clone());
        let tallest = tallest.max_by_key(Measure::value);
        let id = RackId(self.fresh);
        let racks = self.season.racks();
        let like =
            racks.iter().rev().find(|rack| rack.place == place.id).map_or(place.name.as_str(), |rack| &rack.name);
        let name = make::free_name(self.season, like);
        let position = racks.last().map_or(0, |rack| rack.position.saturating_add(1));
        let mut ops = vec![Op::PutRack(Rack { id, place: place.id, name, position })];
        for tier in 1..=number {
            let mut shelf = new_shelf(ShelfId(id.0.saturating_add(tier)), id, tier, size);
            shelf.clear_height.clone_from(&tallest);
            if lit {
                shelf.zones.push(whole(ZoneKind::Lamp, &shelf.width, &shelf.depth));
            }
            ops.push(Op::PutShelf(shelf));
        }
        let change = Change::Shelves { place: place.id, size: size.clone(), number, lit };
        let lamps = if lit { number } else { 0 };
        Draft::new(change, ops, Price { shelves: number, lamps, ..Price::default() })
    }
}
