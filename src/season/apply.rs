//! What each op does to a season. What a value must be is asked of `valid`; here stands what it must
//! fit: ids that are there, numbers that nothing else has.

use std::sync::Arc;

use crate::units::Length;

use super::limits::{ENTRIES, GUESTS, RACKS_ON_PLAN, SHELVES, one_more};
use super::order::in_order;
use super::valid::{self, named, range, year};
use super::{
    ContainerKey, CropKey, Edit, EditError, FieldId, Guest, LotId, LotName, Observation, Observed, Op, Place, PlaceId,
    Rack, RackId, RecordId, Refusal, Season, Settings, Shelf, ShelfId, Sowing, SowingId, Spot, SpotFrom, Stands, Step,
    StepId, TrayKey, TrayNote,
};

impl Season {
    /// Makes one change; the only way a season changes.
    ///
    /// # Errors
    /// Refused for an unknown id or an invalid value only; trays that clash because a date moved
    /// are problems of a valid season. After an error the season may be half changed: apply to a
    /// copy, as [`History::commit`](super::History::commit) does.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), EditError> {
        edit.ops.iter().try_for_each(|op| self.apply_one(op))
    }

    /// Whether the season would take that edit, and if not, which field is why. Cheap enough to be
    /// asked in every frame.
    pub fn may(&self, edit: &Edit) -> Result<(), EditError> {
        self.clone().apply(edit)
    }

    fn apply_one(&mut self, op: &Op) -> Result<(), EditError> {
        match op {
            Op::Rename(name) => self.rename(name),
            Op::SetNote(note) => {
                valid::note(FieldId::SeasonNote, note)?;
                self.note.clone_from(note);
                Ok(())
            }
            Op::SetSettings(settings) => self.set_settings(settings),
            Op::Reserve(next) => next.checked_sub(1).map_or(Ok(()), |last| self.seen_id(last)),
            Op::PutAway(away) => {
                valid::away(away)?;
                one_more(&self.away, &away.id, FieldId::Away, ENTRIES)?;
                self.seen_id(away.id.0)?;
                self.away.insert_mut(away.id, Arc::new(away.clone()));
                Ok(())
            }
            Op::RemoveAway(id) => there(self.away.remove_mut(id), FieldId::Away, id.0),
            Op::PutPlace(place) => self.put_place(place),
            Op::RemovePlace(id) => self.remove_place(*id),
            Op::PutRack(rack) => self.put_rack(rack),
            Op::RemoveRack(id) => self.remove_rack(*id),
            Op::PutShelf(shelf) => self.put_shelf(shelf),
            Op::RemoveShelf(id) => self.remove_shelf(*id),
            Op::PutCrop(crop) => {
                valid::crop(crop)?;
                one_more(&self.crops, &crop.key, FieldId::Crop, ENTRIES)?;
                self.crops.insert_mut(crop.key.clone(), Arc::new((**crop).clone()));
                Ok(())
            }
            Op::RemoveCrop(key) => self.remove_crop(key),
            Op::PutContainer(container) => {
                valid::container(container)?;
                one_more(&self.containers, &container.key, FieldId::Container, ENTRIES)?;
                self.containers.insert_mut(container.key.clone(), Arc::new(container.clone()));
                Ok(())
            }
            Op::RemoveContainer(key) => self.remove_container(key),
            Op::PutSowing(sowing) => self.put_sowing(sowing),
            Op::RemoveSowing(id) => self.remove_sowing(*id),
            Op::PutRecord(id, record) => self.put_record(*id, *record),
            Op::RemoveRecord(id, record) => self.remove_record(*id, *record),
            Op::PutGuest(guest) => self.put_guest(guest),
            Op::RemoveGuest(id) => {
                self.guests_in_all -= self.guest(*id).map_or(0, |guest| u64::from(guest.number));
                there(self.guests.remove_mut(id), FieldId::Guest, id.0)
            }
            Op::PutNote(note) => self.put_note(note),
            Op::RemoveNote(tray) if self.notes.remove_mut(tray) => Ok(()),
            Op::RemoveNote(tray) => Err(FieldId::Tray.refuse(Refusal::NoTray(*tray))),
            Op::PutSpot(spot) => self.put_spot(*spot),
            Op::LiftTray { tray, from } => self.lift(*tray, *from),
            Op::Pin { tray, from, pinned } => self.pin(*tray, *from, *pinned),
            Op::SetLayout(spots) => self.set_layout(spots),
        }
    }

    fn seen_id(&mut self, id: u32) -> Result<(), EditError> {
        range(FieldId::Number, id, 0, i64::from(u32::MAX / 2))?;
        self.next_id = self.next_id.max(id + 1);
        Ok(())
    }

    fn rename(&mut self, name: &str) -> Result<(), EditError> {
        named(FieldId::SeasonName, name)?;
        name.clone_into(&mut self.name);
        Ok(())
    }

    fn set_settings(&mut self, settings: &Settings) -> Result<(), EditError> {
        valid::settings(settings)?;
        self.settings = settings.clone();
        self.move_by_rules();
        Ok(())
    }

    fn put_place(&mut self, place: &Place) -> Result<(), EditError> {
        valid::place(place)?;
        one_more(&self.places, &place.id, FieldId::Place, ENTRIES)?;
        self.seen_id(place.id.0)?;
        let changed = self.place(place.id).is_some_and(|before| before.role != place.role);
        self.places.insert_mut(place.id, Arc::new(place.clone()));
        if changed {
            self.sort_spots();
        }
        Ok(())
    }

    fn put_rack(&mut self, rack: &Rack) -> Result<(), EditError> {
        valid::rack(rack)?;
        one_more(&self.racks, &rack.id, FieldId::Rack, ENTRIES)?;
        there(self.place(rack.place).is_some(), FieldId::Place, rack.place.0)?;
        self.seen_id(rack.id.0)?;
        let elsewhere = self.rack(rack.id).filter(|before| before.place != rack.place);
        // where it stood was on another floor
        let came_along = elsewhere.is_some_and(|before| before.stands == rack.stands);
        let changed = elsewhere.is_some();
        let stands = rack.stands.clone().filter(|_| !came_along);
        if stands.is_some() {
            self.one_more_on_plan(rack)?;
        }
        let stands = stands.map(|one| Stands { quarter_turns: one.quarter_turns % 4, ..one });
        self.racks.insert_mut(rack.id, Arc::new(Rack { stands, ..rack.clone() }));
        if changed {
            self.sort_spots();
        }
        Ok(())
    }

    fn one_more_on_plan(&self, rack: &Rack) -> Result<(), EditError> {
        let beside = |other: &&Arc<Rack>| other.place == rack.place && other.stands.is_some() && other.id != rack.id;
        let found = self.racks.values().filter(beside).count() + 1;
        if found <= RACKS_ON_PLAN {
            return Ok(());
        }
        Err(FieldId::RacksOnPlan.refuse(Refusal::TooManyOfOne { most: RACKS_ON_PLAN, found }))
    }

    fn put_shelf(&mut self, shelf: &Shelf) -> Result<(), EditError> {
        there(self.rack(shelf.rack).is_some(), FieldId::Rack, shelf.rack.0)?;
        valid::shelf(shelf)?;
        one_more(&self.shelves, &shelf.id, FieldId::Shelf, SHELVES)?;
        self.seen_id(shelf.id.0)?;
        let changed = self.shelf(shelf.id).is_some_and(|before| before.rack != shelf.rack);
        self.shelves.insert_mut(shelf.id, Arc::new(shelf.clone()));
        if changed {
            self.sort_spots();
        }
        Ok(())
    }

    fn remove_place(&mut self, id: PlaceId) -> Result<(), EditError> {
        there(self.places.remove_mut(&id), FieldId::Place, id.0)?;
        let racks: Vec<RackId> = self.racks.values().filter(|rack| rack.place == id).map(|rack| rack.id).collect();
        racks.into_iter().try_for_each(|rack| self.remove_rack(rack))
    }

    fn remove_rack(&mut self, id: RackId) -> Result<(), EditError> {
        there(self.racks.remove_mut(&id), FieldId::Rack, id.0)?;
        let shelves: Vec<ShelfId> = self.shelves().filter(|shelf| shelf.rack == id).map(|shelf| shelf.id).collect();
        shelves.into_iter().try_for_each(|shelf| self.remove_shelf(shelf))
    }

    fn remove_shelf(&mut self, id: ShelfId) -> Result<(), EditError> {
        there(self.shelves.remove_mut(&id), FieldId::Shelf, id.0)?;
        let gone: Vec<_> = self.spots.iter().filter(|(_, spot)| spot.shelf == id).map(|(key, _)| *key).collect();
        for key in gone {
            self.spots.remove_mut(&key);
        }
        Ok(())
    }

    fn remove_crop(&mut self, key: &CropKey) -> Result<(), EditError> {
        let own = self.crops.get(key).ok_or_else(|| FieldId::Crop.refuse(Refusal::NoKey(key.to_string())))?;
        if self.sowings().any(|sowing| sowing.crop == *key) {
            return Err(FieldId::Crop.refuse(Refusal::InUse(own.name.clone())));
        }
        self.crops.remove_mut(key);
        Ok(())
    }

    fn remove_container(&mut self, key: &ContainerKey) -> Result<(), EditError> {
        let own = self.containers.get(key).ok_or_else(|| FieldId::Container.refuse(Refusal::NoKey(key.to_string())))?;
        let uses = |step: &Step| step.container == *key || step.carried_in.as_ref() == Some(key);
        if self.sowings().any(|sowing| sowing.steps.iter().any(uses)) {
            return Err(FieldId::Container.refuse(Refusal::InUse(own.name.clone())));
        }
        self.containers.remove_mut(key);
        Ok(())
    }

    fn put_sowing(&mut self, sowing: &Sowing) -> Result<(), EditError> {
        valid::sowing(sowing)?;
        one_more(&self.sowings, &sowing.id, FieldId::Sowing, ENTRIES)?;
        self.owners.may_put(sowing, self.sowing(sowing.id))?;
        self.seen_id(sowing.id.0)?;
        let (lots, steps) = (sowing.lots.iter().map(|lot| lot.id.0), sowing.steps.iter().map(|step| step.id.0));
        for id in lots.chain(steps).chain(sowing.seen.iter().map(|record| record.id.0)) {
            self.seen_id(id)?;
        }
        let sowing = self.by_rule(sowing).unwrap_or_else(|| sowing.clone());
        if let Some(before) = self.sowings.get(&sowing.id) {
            self.owners.remove(before);
        }
        self.owners.put(&sowing);
        self.sowings.insert_mut(sowing.id, Arc::new(sowing));
        Ok(())
    }

    fn put_guest(&mut self, guest: &Guest) -> Result<(), EditError> {
        valid::guest(guest)?;
        one_more(&self.guests, &guest.id, FieldId::Guest, ENTRIES)?;
        let before = self.guest(guest.id).map_or(0, |before| u64::from(before.number));
        let found = self.guests_in_all - before + u64::from(guest.number);
        if found > GUESTS {
            return Err(FieldId::GuestNumber.refuse(Refusal::TooMany { most: GUESTS, found }));
        }
        self.seen_id(guest.id.0)?;
        self.guests_in_all = found;
        self.guests.insert_mut(guest.id, Arc::new(guest.clone()));
        Ok(())
    }

    fn remove_sowing(&mut self, id: SowingId) -> Result<(), EditError> {
        if let Some(sowing) = self.sowings.get(&id) {
            self.owners.remove(sowing);
        }
        there(self.sowings.remove_mut(&id), FieldId::Sowing, id.0)
    }

    fn put_record(&mut self, id: SowingId, record: Observation) -> Result<(), EditError> {
        let sowing = self.sowing(id).ok_or_else(|| FieldId::Sowing.refuse(Refusal::NotThere(id.0)))?;
        let next = sowing.with_record(record);
        valid::sowing(&next)?;
        in_order(sowing, record)?;
        self.put_sowing(&next)
    }

    fn remove_record(&mut self, id: SowingId, record: RecordId) -> Result<(), EditError> {
        let sowing = self.sowing(id).ok_or_else(|| FieldId::Sowing.refuse(Refusal::NotThere(id.0)))?;
        let mut next = sowing.clone();
        next.seen.retain(|seen| seen.id != record);
        there(next.seen.len() < sowing.seen.len(), FieldId::Record(record), record.0)?;
        self.put_sowing(&next)
    }

    /// Every sowing's days out, as their rules have them now.
    fn move_by_rules(&mut self) {
        let moved: Vec<Sowing> = self.sowings().filter_map(|sowing| self.by_rule(sowing)).collect();
        for sowing in moved {
            self.sowings.insert_mut(sowing.id, Arc::new(sowing));
        }
    }

    /// The sowing with its days out as their rules have them; `None` where they are so already. What
    /// has begun to leave keeps its days.
    fn by_rule(&self, sowing: &Sowing) -> Option<Sowing> {
        if sowing.seen.iter().any(|seen| matches!(seen.what, Observed::PutOut(_) | Observed::Sold(_))) {
            return None;
        }
        let mut moved = sowing.clone();
        for (at, wanted) in moved.wanted.iter_mut().enumerate() {
            let date = wanted.rule.date(wanted.date, &self.settings);
            wanted.date = date.filter(|date| year(FieldId::OutDate(at), *date).is_ok()).unwrap_or(wanted.date);
        }
        (moved != *sowing).then_some(moved)
    }

    fn put_note(&mut self, note: &TrayNote) -> Result<(), EditError> {
        if let TrayKey::Shared(id) = note.key {
            self.seen_id(id.0)?;
        } else {
            self.known(note.key)?;
        }
        note.mark.as_deref().map_or(Ok(()), |mark| valid::short(FieldId::TrayMark, mark))?;
        for (at, rows) in note.rows.iter().enumerate() {
            let empty = [Some(&rows.rows), rows.cells.as_ref()].into_iter().flatten().find(|range| range.is_empty());
            if let Some(empty) = empty {
                return Err(FieldId::TrayRows.refuse(Refusal::NoRows(empty.clone())));
            }
            self.known(TrayKey::Own { lot: rows.lot, step: rows.step, n: 1 })?;
            let before = note.rows.iter().take(at).find_map(|other| Some((other, rows.clash(other)?)));
            if let Some((other, row)) = before {
                let lots = Box::new([other.lot, rows.lot].map(|lot| self.name_of_lot(lot)));
                return Err(FieldId::TrayRows.refuse(Refusal::RowTaken { row, lots }));
            }
        }
        self.notes.insert_mut(note.key, Arc::new(note.clone()));
        Ok(())
    }

    /// The crop as the grower calls it, else by its key; a lot that no sowing has any more by its number.
    fn name_of_lot(&self, lot: LotId) -> LotName {
        let sowing = self.sowing_of(lot);
        let own = sowing.and_then(|sowing| self.crops.get(&sowing.crop)).map(|crop| crop.name.clone());
        LotName {
            lot,
            crop: own.or_else(|| sowing.map(|sowing| sowing.crop.to_string())).unwrap_or_default(),
            variety: sowing.map(|sowing| sowing.variety.clone()).unwrap_or_default(),
        }
    }

    fn put_spot(&mut self, spot: Spot) -> Result<(), EditError> {
        there(self.shelf(spot.shelf).is_some(), FieldId::Shelf, spot.shelf.0)?;
        self.known(spot.tray)?;
        let most = Length::from_mm(100_000).units();
        range(FieldId::SpotX, spot.x.units(), -most, most)?;
        range(FieldId::SpotY, spot.y.units(), -most, most)?;
        let spot = Spot { quarter_turns: spot.quarter_turns % 4, ..spot };
        if let (Some(until), SpotFrom::On(from)) = (spot.until, spot.from)
            && until <= from
        {
            return Err(FieldId::SpotUntil.refuse(Refusal::NotAfter { from, found: until }));
        }
        self.spots.insert_mut((spot.tray, spot.from, self.side(spot.shelf)), spot);
        Ok(())
    }

    fn set_layout(&mut self, spots: &[Spot]) -> Result<(), EditError> {
        let loose: Vec<_> = self.spots.iter().filter(|(_, spot)| !spot.pinned).map(|(key, _)| *key).collect();
        for key in loose {
            self.spots.remove_mut(&key);
        }
        for spot in spots {
            if self.spot_like(spot).is_none() {
                self.put_spot(*spot)?;
            }
        }
        Ok(())
    }

    /// Puts every spot under the side that its shelf is on now.
    fn sort_spots(&mut self) {
        let moved: Vec<_> = self
            .spots
            .iter()
            .filter(|((_, _, side), spot)| *side != self.side(spot.shelf))
            .map(|(key, _)| *key)
            .collect();
        for key in moved {
            if let Some(spot) = self.spots.get(&key).copied() {
                self.spots.remove_mut(&key);
                self.spots.insert_mut((spot.tray, spot.from, self.side(spot.shelf)), spot);
            }
        }
    }

    fn pin(&mut self, tray: TrayKey, from: SpotFrom, pinned: bool) -> Result<(), EditError> {
        let theirs: Vec<Spot> = self.spots_of(tray).filter(|spot| spot.from == from).copied().collect();
        if theirs.is_empty() {
            return Err(FieldId::Tray.refuse(Refusal::NoSpot(tray, from)));
        }
        for spot in theirs {
            let key = (spot.tray, spot.from, self.side(spot.shelf));
            self.spots.insert_mut(key, Spot { pinned, ..spot });
        }
        Ok(())
    }

    fn lift(&mut self, tray: TrayKey, from: SpotFrom) -> Result<(), EditError> {
        let theirs: Vec<Spot> = self.spots_of(tray).copied().collect();
        if theirs.is_empty() {
            return Err(FieldId::Tray.refuse(Refusal::NoSpot(tray, from)));
        }
        for spot in theirs {
            let key = (spot.tray, spot.from, self.side(spot.shelf));
            match from {
                SpotFrom::On(day) if spot.from < from => {
                    if spot.until.is_none_or(|until| until > day) {
                        self.spots.insert_mut(key, Spot { until: Some(day), ..spot });
                    }
                }
                _ => {
                    self.spots.remove_mut(&key);
                }
            }
        }
        Ok(())
    }

    /// A spot of a tray that no sowing has any more sleeps; one that never was is refused.
    fn known(&self, tray: TrayKey) -> Result<(), EditError> {
        let below_next = |LotId(lot), StepId(step)| lot < self.next_id && step < self.next_id;
        let known = match tray {
            TrayKey::Own { lot, step, n } => n >= 1 && below_next(lot, step),
            TrayKey::Shared(id) => id.0 < self.next_id,
            TrayKey::Guest { guest, n } => n >= 1 && guest.0 < self.next_id,
        };
        if known { Ok(()) } else { Err(FieldId::Tray.refuse(Refusal::NoTray(tray))) }
    }
}

fn there(is_there: bool, what: FieldId, number: u32) -> Result<(), EditError> {
    if is_there { Ok(()) } else { Err(what.refuse(Refusal::NotThere(number))) }
}
