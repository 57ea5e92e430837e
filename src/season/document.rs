use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::units::{LengthUnit, unit_of};

use super::map::Map;
use super::owners::Owners;
use super::{
    Away, AwayId, Container, ContainerKey, ContainerKind, Crop, CropKey, Guest, GuestId, Library, LotId, Place,
    PlaceId, Rack, RackId, Role, Settings, Shelf, ShelfId, Side, Sowing, SowingId, Spot, SpotFrom, StepId, TrayKey,
    TrayNote, ZoneKind,
};

/// The document: one year's space, crops, sowings, layout and records.
///
/// Entries sit behind `Arc`, so that a copy costs a pointer. Read freely; change only by
/// [`Season::apply`](Self::apply).
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    pub(super) name: String,
    pub(super) note: String,
    pub(super) settings: Settings,
    pub(super) away: Map<AwayId, Arc<Away>>,
    pub(super) places: Map<PlaceId, Arc<Place>>,
    pub(super) racks: Map<RackId, Arc<Rack>>,
    pub(super) shelves: Map<ShelfId, Arc<Shelf>>,
    pub(super) crops: Map<CropKey, Arc<Crop>>,
    pub(super) containers: Map<ContainerKey, Arc<Container>>,
    pub(super) sowings: Map<SowingId, Arc<Sowing>>,
    pub(super) owners: Owners,
    pub(super) guests_in_all: u64,
    pub(super) guests: Map<GuestId, Arc<Guest>>,
    pub(super) notes: Map<TrayKey, Arc<TrayNote>>,
    pub(super) spots: Map<(TrayKey, SpotFrom, Side), Spot>,
    pub(super) next_id: u32,
}

impl Season {
    pub fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            note: String::new(),
            settings: Settings::default(),
            away: Map::new_sync(),
            places: Map::new_sync(),
            racks: Map::new_sync(),
            shelves: Map::new_sync(),
            crops: Map::new_sync(),
            containers: Map::new_sync(),
            sowings: Map::new_sync(),
            owners: Owners::new(),
            guests_in_all: 0,
            guests: Map::new_sync(),
            notes: Map::new_sync(),
            spots: Map::new_sync(),
            next_id: 1,
        }
    }

    pub fn name(&self) -> &str {
        &self.name
    }

    pub fn note(&self) -> &str {
        &self.note
    }

    pub const fn settings(&self) -> &Settings {
        &self.settings
    }

    /// A number that nothing in the season has had.
    pub const fn next_id(&self) -> u32 {
        self.next_id
    }

    /// Days on which nobody is there to work, in order.
    pub fn away(&self) -> Vec<&Away> {
        let mut all: Vec<&Away> = self.away.values().map(Arc::as_ref).collect();
        all.sort_by(|a, b| (a.span, &a.name, a.id).cmp(&(b.span, &b.name, b.id)));
        all
    }

    /// Whether nobody is there to work on that day.
    pub fn is_away(&self, date: NaiveDate) -> bool {
        self.away.values().any(|away| away.span.contains(date))
    }

    pub fn places(&self) -> impl Iterator<Item = &Place> {
        self.places.values().map(Arc::as_ref)
    }

    pub fn place(&self, id: PlaceId) -> Option<&Place> {
        self.places.get(&id).map(Arc::as_ref)
    }

    /// From left to right.
    pub fn racks(&self) -> Vec<&Rack> {
        let mut racks: Vec<&Rack> = self.racks.values().map(Arc::as_ref).collect();
        racks.sort_by_key(|rack| (rack.position, rack.id));
        racks
    }

    pub fn rack(&self, id: RackId) -> Option<&Rack> {
        self.racks.get(&id).map(Arc::as_ref)
    }

    /// The unit that most of its shelves were measured in; inches where there is none.
    pub fn length_unit(&self) -> LengthUnit {
        let units = || self.shelves().map(|shelf| unit_of(shelf.width.typed()));
        let often = |unit| units().filter(|found| *found == unit).count();
        let all = [LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Inch];
        all.into_iter().max_by_key(|unit| often(*unit)).unwrap_or_default()
    }

    pub fn shelves(&self) -> impl Iterator<Item = &Shelf> {
        self.shelves.values().map(Arc::as_ref)
    }

    pub fn shelf(&self, id: ShelfId) -> Option<&Shelf> {
        self.shelves.get(&id).map(Arc::as_ref)
    }

    /// From the top down.
    pub fn shelves_of(&self, rack: RackId) -> Vec<&Shelf> {
        let mut shelves: Vec<&Shelf> = self.shelves().filter(|shelf| shelf.rack == rack).collect();
        shelves.sort_by_key(|shelf| (shelf.tier, shelf.id));
        shelves
    }

    pub fn place_of(&self, shelf: &Shelf) -> Option<&Place> {
        self.rack(shelf.rack).and_then(|rack| self.place(rack.place))
    }

    /// Places with a lamp drawn on some shelf.
    pub fn places_with_lamps(&self) -> BTreeSet<PlaceId> {
        let lit = self.shelves().filter(|shelf| shelf.has(ZoneKind::Lamp));
        lit.filter_map(|shelf| self.place_of(shelf)).map(|place| place.id).collect()
    }

    pub fn own_crops(&self) -> impl Iterator<Item = &Crop> {
        self.crops.values().map(Arc::as_ref)
    }

    pub fn own_containers(&self) -> impl Iterator<Item = &Container> {
        self.containers.values().map(Arc::as_ref)
    }

    /// The grower's own crop of that key, or the library's.
    pub fn crop<'a>(&'a self, library: &'a Library, key: &CropKey) -> Option<&'a Crop> {
        self.crops.get(key).map(Arc::as_ref).or_else(|| library.crops.get(key))
    }

    /// The grower's own container of that key, or the library's.
    pub fn container<'a>(&'a self, library: &'a Library, key: &ContainerKey) -> Option<&'a Container> {
        self.containers.get(key).map(Arc::as_ref).or_else(|| library.containers.get(key))
    }

    /// The grower's own crops by key, then those of the library that none of them stands for.
    pub fn crops<'a>(&'a self, library: &'a Library) -> impl Iterator<Item = &'a Crop> {
        let others = library.crops.values().filter(|crop| !self.crops.contains_key(&crop.key));
        self.own_crops().chain(others)
    }

    /// The containers to choose from: the grower's own by key, then those of the library that none of them
    /// stands for. A class of a standard, in which nothing can be grown, is found by its key alone.
    pub fn containers<'a>(&'a self, library: &'a Library) -> impl Iterator<Item = &'a Container> {
        let can_be_used = |one: &&Container| !matches!(one.kind, ContainerKind::Class { .. });
        let others = library.containers.values().filter(|one| !self.containers.contains_key(&one.key));
        self.own_containers().chain(others.filter(can_be_used))
    }

    pub fn sowings(&self) -> impl Iterator<Item = &Sowing> {
        self.sowings.values().map(Arc::as_ref)
    }

    pub fn sowing(&self, id: SowingId) -> Option<&Sowing> {
        self.sowings.get(&id).map(Arc::as_ref)
    }

    /// The sowing that a lot is of.
    pub fn sowing_of(&self, lot: LotId) -> Option<&Sowing> {
        self.owners.of_lot(lot).and_then(|id| self.sowing(id))
    }

    /// The sowing that a step is of.
    pub fn sowing_with(&self, step: StepId) -> Option<&Sowing> {
        self.owners.of_step(step).and_then(|id| self.sowing(id))
    }

    pub fn guest(&self, id: GuestId) -> Option<&Guest> {
        self.guests.get(&id).map(Arc::as_ref)
    }

    pub fn guests(&self) -> impl Iterator<Item = &Guest> {
        self.guests.values().map(Arc::as_ref)
    }

    pub fn notes(&self) -> impl Iterator<Item = &TrayNote> {
        self.notes.values().map(Arc::as_ref)
    }

    pub fn note_of(&self, tray: TrayKey) -> Option<&TrayNote> {
        self.notes.get(&tray).map(Arc::as_ref)
    }

    /// By tray, then by day.
    pub fn spots(&self) -> impl Iterator<Item = &Spot> {
        self.spots.values()
    }

    /// The tray's spot from that day on; the indoor one, if it has one on each side.
    pub fn spot(&self, tray: TrayKey, from: SpotFrom) -> Option<&Spot> {
        self.spots.range((tray, from, Side::Indoors)..=(tray, from, Side::Outside)).next().map(|(_, spot)| spot)
    }

    /// On which side of the door a shelf is.
    pub fn side(&self, shelf: ShelfId) -> Side {
        let place = self.shelf(shelf).and_then(|shelf| self.place_of(shelf));
        if place.is_some_and(|place| place.role == Role::Hardening) { Side::Outside } else { Side::Indoors }
    }

    /// The spot that putting this one would replace.
    pub fn spot_like(&self, spot: &Spot) -> Option<&Spot> {
        self.spots.get(&(spot.tray, spot.from, self.side(spot.shelf)))
    }

    /// The spots of a lot's own trays in a step, by tray, then by day.
    pub fn spots_in(&self, lot: LotId, step: StepId) -> impl Iterator<Item = &Spot> {
        let key = |n| TrayKey::Own { lot, step, n };
        let first = (key(0), SpotFrom::Start, Side::Indoors);
        self.spots.range(first..=(key(u32::MAX), SpotFrom::On(NaiveDate::MAX), Side::Outside)).map(|(_, spot)| spot)
    }

    /// All spots of one tray, by day.
    pub fn spots_of(&self, tray: TrayKey) -> impl Iterator<Item = &Spot> {
        let first = (tray, SpotFrom::Start, Side::Indoors);
        self.spots.range(first..=(tray, SpotFrom::On(NaiveDate::MAX), Side::Outside)).map(|(_, spot)| spot)
    }
}
