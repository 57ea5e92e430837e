//! Whose warmth works on a sowing: that of the place in which its trays stand, else of the one in which
//! they would. No other place of the season slows it or harms it.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::season::{
    Crop, Light, LotId, PartOfDay, Place, PlaceId, Role, Season, Sowing, Spot, SpotFrom, StepId, Temperatures, TrayKey,
    TrayRows, ZoneKind,
};
use crate::trade::{self, Bears};
use crate::units::Temperature;

use super::bottom_heat::BottomHeat;

/// What the places in which seed may come up are like.
pub(super) struct Warmth(Vec<(Temperatures, bool)>);

impl Warmth {
    pub(super) fn of(season: &Season) -> Self {
        let places = season.places().filter(|place| place.role != Role::Hardening);
        Self(places.map(|place| (place.temperatures.clone(), has_mat(season, place))).collect())
    }

    /// What seed of a crop bears; anything where no place would do, as the trays then stand in one that
    /// doesn't, and that is said.
    pub(super) fn seed(&self, crop: &Crop, heat: bool) -> Bears {
        let bears = Bears::seed(crop);
        let suits = |(of, mat): &(Temperatures, bool)| bears.harm(of, PartOfDay::Whole, heat && *mat).is_none();
        if self.0.iter().any(suits) { bears } else { Bears::Anything }
    }
}

fn has_mat(season: &Season, place: &Place) -> bool {
    let of_place = |shelf| season.place_of(shelf).is_some_and(|of| of.id == place.id);
    place.temperatures.mat.is_some()
        && (place.role == Role::Germinating
            || season.shelves().any(|shelf| shelf.has(ZoneKind::Heat) && of_place(shelf)))
}

pub(super) fn is_open(place: &Place, on: NaiveDate) -> bool {
    place.open.is_empty() || place.open.iter().any(|span| span.contains(on))
}

/// Temperature of the mix in which the sowing comes up, where that is known.
///
/// Where its trays would stand: a place for germinating or a mat before others, the warmest first.
pub(super) fn of_mix(season: &Season, crop: &Crop, sowing: &Sowing, sown: NaiveDate) -> Option<Temperature> {
    let heat = BottomHeat::of(season).wants_heat(crop, sowing);
    let on_mat = |place: &Place| heat && has_mat(season, place);
    let at = |place: &Place| trade::mix_temperature(&place.temperatures, on_mat(place));
    let indoors = |place: &Place| place.role != Role::Hardening;
    if let Some(place) = first_step(sowing).and_then(|step| stands_in(season, step, sown, indoors)) {
        return at(place);
    }
    let bears = Bears::seed(crop);
    let rank = |place: &&Place| {
        let harmed = bears.harm(&place.temperatures, PartOfDay::Whole, on_mat(place)).is_some();
        (harmed, place.role != Role::Germinating && !on_mat(place), Reverse(at(place)))
    };
    season.places().filter(|place| indoors(place) && is_open(place, sown)).min_by_key(rank).and_then(at)
}

/// The place in which the first step's plants grow on that day.
pub(super) fn growing_place<'a>(season: &'a Season, crop: &Crop, sowing: &Sowing, on: NaiveDate) -> Option<&'a Place> {
    let stands = first_step(sowing).and_then(|step| stands_in(season, step, on, grows));
    stands.or_else(|| would_grow_in(season, crop, on))
}

pub(super) fn grows(place: &Place) -> bool {
    place.role == Role::Growing
}

/// One that doesn't harm them, and of those the warmest.
pub(super) fn would_grow_in<'a>(season: &'a Season, crop: &Crop, on: NaiveDate) -> Option<&'a Place> {
    let bears = Bears::plants(crop);
    let rank = |place: &&Place| {
        let of = &place.temperatures;
        let harmed = bears.harm(of, PartOfDay::Whole, false).is_some();
        (harmed, trade::checks(bears, of), Reverse(trade::mean_temperature(of)))
    };
    let suits = |place: &&Place| grows(place) && is_open(place, on) && place.light != Light::Dark;
    season.places().filter(suits).min_by_key(rank)
}

fn first_step(sowing: &Sowing) -> Option<(LotId, StepId)> {
    Some((sowing.lots.first()?.id, sowing.steps.first()?.id))
}

/// The place in which most trays of a step stand on that day, of those that are meant.
pub(super) fn stands_in(
    season: &Season,
    (lot, step): (LotId, StepId),
    on: NaiveDate,
    meant: impl Fn(&Place) -> bool,
) -> Option<&Place> {
    let mut places: BTreeMap<TrayKey, PlaceId> = BTreeMap::new();
    let mut note = |spot: &Spot| {
        let place = season.shelf(spot.shelf).and_then(|shelf| season.place_of(shelf));
        let Some(place) = place.filter(|place| spot.from <= SpotFrom::On(on) && meant(place)) else { return };
        if spot.until.is_none_or(|until| on < until) {
            places.insert(spot.tray, place.id);
        } else {
            places.remove(&spot.tray);
        }
    };
    season.spots_in(lot, step).for_each(&mut note);
    let holds = |rows: &TrayRows| rows.lot == lot && rows.step == step;
    let shared = season.notes().filter(|note| note.rows.iter().any(holds));
    shared.flat_map(|note| season.spots_of(note.key)).for_each(&mut note);
    let mut trays: BTreeMap<PlaceId, usize> = BTreeMap::new();
    for place in places.into_values() {
        *trays.entry(place).or_default() += 1;
    }
    let most = trays.into_iter().max_by_key(|(place, trays)| (*trays, Reverse(*place)));
    most.and_then(|(place, _)| season.place(place))
}
