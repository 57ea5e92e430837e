//! What could be added by one: a shelf, a lamp, a week of hardening.

use std::collections::BTreeSet;

use crate::forecast::{Forecast, Scenario, What, broken, drawn};
use crate::outlook::ways_out::{Change, Draft, RoomMade, is_safe, lamp};
use crate::outlook::{Crunch, PoolKind};
use crate::season::{
    Crop, CropKey, Edit, EditLabel, Hardening, Library, Lit, Op, Place, Role, Season, Shelf, Sourced, Sowing, ZoneKind,
};
use crate::units::Measure;

use super::asked::Scaled;
use super::search::Most;

/// What was added, and how many the room then carries.
#[derive(Clone, Debug, PartialEq)]
pub struct More {
    pub what: OneMore,
    pub edit: Edit,
    pub most: Most,
}

#[derive(Clone, Debug, PartialEq)]
pub enum OneMore {
    /// A shelf or a lamp.
    Room(Change),
    /// The crops that were asked about start to harden off so many days sooner.
    HardenedEarlier { days: u16 },
}

impl OneMore {
    pub(super) const fn is_lamp(&self) -> bool {
        matches!(self, Self::Room(Change::Lamp { .. }))
    }

    /// Of those of one kind only the best is told.
    pub(super) const fn kind(&self) -> u8 {
        match self {
            Self::Room(Change::Lamp { .. }) => 1,
            Self::Room(_) => 0,
            Self::HardenedEarlier { .. } => 2,
        }
    }
}

/// Shelves of one kind, and lamps over them, that are tried.
const MOST_TRIED: usize = 3;
const EARLIER: u16 = 7;

/// What may be added where that crunch is the limit.
pub(super) struct Additions<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'a Library,
    pub(super) scaled: &'a Scaled,
    /// Of as many as are too many.
    pub(super) forecast: &'a Forecast,
    pub(super) crunch: &'a Crunch,
    /// From here on nothing has a number.
    pub(super) fresh: u32,
}

impl Additions<'_> {
    pub(super) fn all(&self, beyond_lamps: bool) -> Vec<(OneMore, Edit)> {
        let Self { season, forecast, crunch, fresh, .. } = *self;
        let mut shelves = RoomMade { season, forecast, crunch, fresh, today: None }.one_more_shelf();
        shelves.truncate(MOST_TRIED);
        let drafts = shelves.into_iter().chain(self.lamps(beyond_lamps));
        let room = drafts.filter_map(|draft| {
            let (edit, Draft { changes, .. }) = (draft.edit(), draft);
            Some((OneMore::Room(changes.into_iter().next()?), edit))
        });
        room.chain(self.hardened_earlier()).collect()
    }

    /// One over each kind of shelf that is dark where that is what limits, or over part of which none hangs where
    /// some stand beyond the lamps.
    fn lamps(&self, beyond_lamps: bool) -> Vec<Draft> {
        let is_of_growing = self.crunch.pools.iter().any(|pool| pool.kind == PoolKind::Of(Role::Growing));
        let with_lamps = self.season.places_with_lamps();
        let mut tried: BTreeSet<_> = BTreeSet::new();
        let mut drafts = Vec::new();
        for rack in self.season.racks() {
            let place = self.season.place(rack.place).filter(|place| place.role == Role::Growing);
            for (place, shelf) in self.season.shelves_of(rack.id).into_iter().filter_map(|shelf| Some((place?, shelf)))
            {
                let lit = shelf.lit(place, with_lamps.contains(&place.id));
                let adds_light = beyond_lamps && (lit == Lit::Beside || lit == Lit::UnderLamps && is_partly_lit(shelf));
                let adds_room = is_of_growing && lit == Lit::Dark;
                if (adds_light || adds_room) && tried.insert(kind_of(place, shelf, lit)) {
                    drafts.push(lamp(place.id, shelf));
                }
            }
        }
        drafts.truncate(MOST_TRIED);
        drafts
    }

    /// `None` where nothing hardens off, or a rule is broken by it.
    fn hardened_earlier(&self) -> Option<(OneMore, Edit)> {
        let Self { season, library, scaled, .. } = *self;
        let crops: BTreeSet<&CropKey> = scaled.sowings().iter().map(|sowing| &sowing.crop).collect();
        let crops = crops.into_iter().filter_map(|key| season.crop(library, key));
        let ops: Vec<Op> = crops.filter_map(|crop| Some(Op::PutCrop(Box::new(earlier(crop)?)))).collect();
        let edit = Edit::new(EditLabel::MakeRoom(1), ops);
        let (mut before, mut after) = (season.clone(), season.clone());
        let planned = scaled.edit(scaled.as_planned, season, library);
        before.apply(&planned).ok()?;
        after.apply(&edit).and_then(|()| after.apply(&planned)).ok()?;
        let [before, after] = [&before, &after].map(|season| drawn(season, library, &Scenario::none()));
        let is_other = before.stays != after.stays;
        let keeps_rules = broken(&before.problems, &after.problems).is_none();
        let first =
            |of: &Forecast, sowing: &Sowing, what| of.courses_of(sowing.id).next().and_then(|one| one.date(what));
        let is_safe = |sowing: &Sowing| {
            let [now, then] = [&before, &after].map(|of| first(of, sowing, What::FirstNightOut));
            let crop = season.crop(library, &sowing.crop);
            now == then || then.zip(crop).is_none_or(|(night, crop)| is_safe(season, crop, night))
        };
        let sooner = |sowing: &Sowing| {
            let [now, then] = [&before, &after].map(|of| first(of, sowing, What::Hardening));
            now.zip(then).map_or(0, |(now, then)| (now - then).num_days())
        };
        let sowings = scaled.sowings();
        let days = u16::try_from(sowings.iter().map(sooner).max()?).ok().filter(|days| *days > 0)?;
        let is_offered = is_other && keeps_rules && sowings.iter().all(is_safe);
        is_offered.then_some((OneMore::HardenedEarlier { days }, edit))
    }
}

/// `None` for a crop that is not hardened off.
fn earlier(crop: &Crop) -> Option<Crop> {
    let now = crop.hardening.value;
    let longer = Hardening { days: now.days.saturating_add(EARLIER), ..now };
    (now.days > 0).then(|| Crop { hardening: Sourced::own(longer), ..crop.clone() })
}

/// Lamps that together cover less than the shelf.
fn is_partly_lit(shelf: &Shelf) -> bool {
    let area = |width: &Measure, depth: &Measure| i128::from(width.value().units()) * i128::from(depth.value().units());
    let lamps = shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Lamp);
    lamps.map(|zone| area(&zone.width, &zone.depth)).sum::<i128>() < area(&shelf.width, &shelf.depth)
}

/// A lamp over one of them is as good as over another.
fn kind_of(place: &Place, shelf: &Shelf, lit: Lit) -> impl Ord + use<> {
    let height = shelf.clear_height.as_ref().map(Measure::value);
    (place.id, shelf.width.value(), shelf.depth.value(), height, lit)
}
