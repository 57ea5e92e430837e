use std::sync::Arc;

use chrono::{Datelike as _, Weekday};

use crate::units::Length;

use super::valid::{self, length, named, outer_size, range, shelf_side, unlike, year};
use super::{
    Container, ContainerKey, Crop, CropKey, Guest, GuestId, LotId, Observed, Place, PlaceId, Rack, RackId, Rule,
    Season, Settings, Shelf, ShelfId, Sowing, SowingId, Spot, SpotFrom, Stage, Step, StepId, TrayKey, TrayNote,
    WeekLabels,
};

/// One change to a season, as the grower made it: what the window, the command line and the solver
/// all speak, and what one undo takes back.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// What the menu calls it.
    pub label: EditLabel,
    pub ops: Vec<Op>,
}

/// The smallest change there is; several make one [`Edit`].
#[derive(Clone, Debug, PartialEq)]
pub enum Op {
    Rename(String),
    SetNote(String),
    SetSettings(Settings),
    /// Adds the place, or replaces the one of its id; so do the others that start with `Put`.
    PutPlace(Place),
    /// Takes its racks, their shelves and what stands on them along.
    RemovePlace(PlaceId),
    PutRack(Rack),
    /// Takes its shelves and what stands on them along.
    RemoveRack(RackId),
    PutShelf(Shelf),
    /// What stands on it has no spot any more.
    RemoveShelf(ShelfId),
    PutCrop(Box<Crop>),
    RemoveCrop(CropKey),
    PutContainer(Container),
    RemoveContainer(ContainerKey),
    PutSowing(Sowing),
    /// Its trays' spots sleep: they count again if it comes back.
    RemoveSowing(SowingId),
    PutGuest(Guest),
    RemoveGuest(GuestId),
    PutNote(TrayNote),
    RemoveNote(TrayKey),
    /// Gives a tray a spot, or moves it.
    PutSpot(Spot),
    /// Takes a tray up: no spot from that day on.
    LiftTray {
        tray: TrayKey,
        from: SpotFrom,
    },
    Pin {
        tray: TrayKey,
        from: SpotFrom,
        pinned: bool,
    },
    /// A whole layout, as found by the solver. Pinned spots stay.
    SetLayout(Vec<Spot>),
}

/// What an edit is called in the menu; worded in one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EditLabel {
    Rename,
    ChangeNote,
    ChangeSettings,
    ChangePlace(String),
    RemovePlace(String),
    ChangeRack(String),
    RemoveRack(String),
    ChangeShelf,
    RemoveShelf,
    ChangeCrop(String),
    RemoveCrop(String),
    ChangeContainer(String),
    RemoveContainer(String),
    ChangeSowing(String),
    RemoveSowing(String),
    ChangeGuest(String),
    RemoveGuest,
    ChangeTrayNote(TrayKey),
    PlaceTray(TrayKey),
    MoveTray(TrayKey),
    TurnTray(TrayKey),
    LiftTray(TrayKey),
    PinTray(TrayKey),
    UnpinTray(TrayKey),
    FindSpots,
    AddRack(String),
    AddSowing(String),
    AddShelf,
    MoveTrays(usize),
    TurnTrays(usize),
    PlaceTrays(usize),
    LiftTrays(usize),
    PinTrays(usize),
    UnpinTrays(usize),
    SwapTrays(TrayKey, TrayKey),
    AddGuest(String),
    AddContainer(String),
    AddCrop(String),
    TakeIn(usize),
    AddRecord(String),
    ChangeRecord(String),
    RemoveRecord(String),
    ChangeDay(String),
}

/// Why an edit was refused; the season is as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    #[error("there is no place {0} in this season")]
    NoSuchPlace(PlaceId),
    #[error("there is no rack {0} in this season")]
    NoSuchRack(RackId),
    #[error("there is no shelf {0} in this season")]
    NoSuchShelf(ShelfId),
    #[error("there is no crop {:?} of your own in this season", .0.to_string())]
    NoSuchCrop(CropKey),
    #[error("there is no container {:?} of your own in this season", .0.to_string())]
    NoSuchContainer(ContainerKey),
    #[error("there is no sowing {0} in this season")]
    NoSuchSowing(SowingId),
    #[error("there is no guest {0} in this season")]
    NoSuchGuest(GuestId),
    #[error("there is no such lot or step in this season")]
    NoSuchTray(TrayKey),
    #[error("that tray has no spot from that day")]
    NoSuchSpot(TrayKey),
    #[error("{what} must be from {least} to {most}, found {found}")]
    OutOfRange { what: &'static str, least: String, most: String, found: String },
    #[error("{what} is {found} characters long; 200 at most")]
    TooLong { what: &'static str, found: usize },
    #[error("a name is missing")]
    NoName,
    #[error("a sowing needs at least one step, one lot and one number of plants")]
    EmptySowing,
    #[error("{what} {id} is there already")]
    IdTaken { what: &'static str, id: u32 },
    #[error("{what} {key:?} is used by a sowing; change that first")]
    InUse { what: &'static str, key: String },
    #[error("{what} {wanted}, found {found}")]
    NotInOrder { what: &'static str, wanted: &'static str, found: String },
}

impl Edit {
    pub const fn new(label: EditLabel, ops: Vec<Op>) -> Self {
        Self { label, ops }
    }
}

/// One op labels itself.
impl From<Op> for Edit {
    fn from(op: Op) -> Self {
        Self { label: op.label(), ops: vec![op] }
    }
}

impl Op {
    fn label(&self) -> EditLabel {
        match self {
            Self::Rename(_) => EditLabel::Rename,
            Self::SetNote(_) => EditLabel::ChangeNote,
            Self::SetSettings(_) => EditLabel::ChangeSettings,
            Self::PutPlace(place) => EditLabel::ChangePlace(place.name.clone()),
            Self::RemovePlace(id) => EditLabel::RemovePlace(id.to_string()),
            Self::PutRack(rack) => EditLabel::ChangeRack(rack.name.clone()),
            Self::RemoveRack(id) => EditLabel::RemoveRack(id.to_string()),
            Self::PutShelf(_) => EditLabel::ChangeShelf,
            Self::RemoveShelf(_) => EditLabel::RemoveShelf,
            Self::PutCrop(crop) => EditLabel::ChangeCrop(crop.name.clone()),
            Self::RemoveCrop(key) => EditLabel::RemoveCrop(key.to_string()),
            Self::PutContainer(container) => EditLabel::ChangeContainer(container.name.clone()),
            Self::RemoveContainer(key) => EditLabel::RemoveContainer(key.to_string()),
            Self::PutSowing(sowing) => EditLabel::ChangeSowing(sowing.crop.to_string()),
            Self::RemoveSowing(id) => EditLabel::RemoveSowing(id.to_string()),
            Self::PutGuest(guest) => EditLabel::ChangeGuest(guest.name.clone()),
            Self::RemoveGuest(_) => EditLabel::RemoveGuest,
            Self::PutNote(note) => EditLabel::ChangeTrayNote(note.key),
            Self::RemoveNote(tray) => EditLabel::ChangeTrayNote(*tray),
            Self::PutSpot(spot) => EditLabel::MoveTray(spot.tray),
            Self::LiftTray { tray, .. } => EditLabel::LiftTray(*tray),
            Self::Pin { tray, pinned: true, .. } => EditLabel::PinTray(*tray),
            Self::Pin { tray, pinned: false, .. } => EditLabel::UnpinTray(*tray),
            Self::SetLayout(_) => EditLabel::FindSpots,
        }
    }
}

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

    #[expect(clippy::too_many_lines, reason = "one short arm an op")]
    fn apply_one(&mut self, op: &Op) -> Result<(), EditError> {
        match op {
            Op::Rename(name) => {
                named("the season's name", name)?;
                self.name.clone_from(name);
            }
            Op::SetNote(note) => self.note.clone_from(note),
            Op::SetSettings(settings) => {
                length("the gap beside a tray", &settings.gap, Length::ZERO, Length::from_mm(200))?;
                length("the gap to the lamp", &settings.lamp_gap, Length::ZERO, Length::from_mm(2_000))?;
                range("the chance", i64::from(settings.sure_percent), 1, 99)?;
                if let WeekLabels::From(date) = settings.weeks {
                    year(date)?;
                    if date.weekday() != Weekday::Mon {
                        return Err(EditError::NotInOrder {
                            what: "week 1",
                            wanted: "must start on a Monday",
                            found: date.format("%A %Y-%m-%d").to_string(),
                        });
                    }
                }
                if let Some(frost) = &settings.frost {
                    valid::frost(frost)?;
                }
                range("days between waterings", i64::from(settings.water_every), 1, 60)?;
                for away in &settings.away {
                    named("what the days away are called", &away.name)?;
                    year(away.span.from())?;
                    year(away.span.until())?;
                }
                self.settings = settings.clone();
                self.settings.away.sort_by(|a, b| (a.span, &a.name).cmp(&(b.span, &b.name)));
                self.move_by_rules();
            }
            Op::PutPlace(place) => {
                named("a place's name", &place.name)?;
                self.seen_id(place.id.0)?;
                self.places.insert_mut(place.id, Arc::new(place.clone()));
                self.sort_spots();
            }
            Op::RemovePlace(id) => self.remove_place(*id)?,
            Op::PutRack(rack) => {
                named("a rack's name", &rack.name)?;
                self.place(rack.place).ok_or(EditError::NoSuchPlace(rack.place))?;
                self.seen_id(rack.id.0)?;
                self.racks.insert_mut(rack.id, Arc::new(rack.clone()));
                self.sort_spots();
            }
            Op::RemoveRack(id) => self.remove_rack(*id)?,
            Op::PutShelf(shelf) => self.put_shelf(shelf)?,
            Op::RemoveShelf(id) => self.remove_shelf(*id)?,
            Op::PutCrop(crop) => {
                valid::crop(crop)?;
                self.crops.insert_mut(crop.key.clone(), Arc::new((**crop).clone()));
            }
            Op::RemoveCrop(key) => {
                if self.sowings().any(|sowing| sowing.crop == *key) {
                    return Err(EditError::InUse {
                        what: "crop",
                        key: self.crops.get(key).map_or_else(|| key.to_string(), |own| own.name.clone()),
                    });
                }
                if !self.crops.remove_mut(key) {
                    return Err(EditError::NoSuchCrop(key.clone()));
                }
            }
            Op::PutContainer(container) => {
                valid::container(container)?;
                self.containers.insert_mut(container.key.clone(), Arc::new(container.clone()));
            }
            Op::RemoveContainer(key) => {
                let uses = |step: &Step| step.container == *key || step.carried_in.as_ref() == Some(key);
                if self.sowings().any(|sowing| sowing.steps.iter().any(uses)) {
                    return Err(EditError::InUse {
                        what: "container",
                        key: self.containers.get(key).map_or_else(|| key.to_string(), |own| own.name.clone()),
                    });
                }
                if !self.containers.remove_mut(key) {
                    return Err(EditError::NoSuchContainer(key.clone()));
                }
            }
            Op::PutSowing(sowing) => self.put_sowing(sowing)?,
            Op::RemoveSowing(id) => {
                if !self.sowings.remove_mut(id) {
                    return Err(EditError::NoSuchSowing(*id));
                }
            }
            Op::PutGuest(guest) => {
                named("a guest's name", &guest.name)?;
                outer_size("a guest's width", &guest.size.width)?;
                outer_size("a guest's depth", &guest.size.depth)?;
                year(guest.span.from())?;
                year(guest.span.until())?;
                range("the number of guests", i64::from(guest.number), 1, 10_000)?;
                self.seen_id(guest.id.0)?;
                self.guests.insert_mut(guest.id, Arc::new(guest.clone()));
            }
            Op::RemoveGuest(id) => {
                if !self.guests.remove_mut(id) {
                    return Err(EditError::NoSuchGuest(*id));
                }
            }
            Op::PutNote(note) => {
                if let TrayKey::Shared(id) = note.key {
                    self.seen_id(id.0)?;
                } else {
                    self.known(note.key)?;
                }
                for rows in &note.rows {
                    if rows.rows.is_empty() {
                        let found = format!("{} to {}", rows.rows.start, rows.rows.end);
                        return Err(EditError::NotInOrder {
                            what: "rows of a tray",
                            wanted: "must be one at least",
                            found,
                        });
                    }
                    self.known(TrayKey::Own { lot: rows.lot, step: rows.step, n: 1 })?;
                }
                self.notes.insert_mut(note.key, Arc::new(note.clone()));
            }
            Op::RemoveNote(tray) => {
                if !self.notes.remove_mut(tray) {
                    return Err(EditError::NoSuchTray(*tray));
                }
            }
            Op::PutSpot(spot) => self.put_spot(*spot)?,
            Op::LiftTray { tray, from } => self.lift(*tray, *from)?,
            Op::Pin { tray, from, pinned } => {
                self.spot(*tray, *from).ok_or(EditError::NoSuchSpot(*tray))?;
                let theirs: Vec<Spot> = self.spots_of(*tray).filter(|spot| spot.from == *from).copied().collect();
                for spot in theirs {
                    let key = (spot.tray, spot.from, self.side(spot.shelf));
                    self.spots.insert_mut(key, Spot { pinned: *pinned, ..spot });
                }
            }
            Op::SetLayout(spots) => {
                let loose: Vec<_> = self.spots.iter().filter(|(_, spot)| !spot.pinned).map(|(key, _)| *key).collect();
                for key in loose {
                    self.spots.remove_mut(&key);
                }
                for spot in spots {
                    if self.spot_like(spot).is_none() {
                        self.put_spot(*spot)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn seen_id(&mut self, id: u32) -> Result<(), EditError> {
        range("an id", i64::from(id), 0, i64::from(u32::MAX / 2))?;
        self.next_id = self.next_id.max(id + 1);
        Ok(())
    }

    fn remove_place(&mut self, id: PlaceId) -> Result<(), EditError> {
        if !self.places.remove_mut(&id) {
            return Err(EditError::NoSuchPlace(id));
        }
        let racks: Vec<RackId> = self.racks.values().filter(|rack| rack.place == id).map(|rack| rack.id).collect();
        racks.into_iter().try_for_each(|rack| self.remove_rack(rack))
    }

    fn remove_rack(&mut self, id: RackId) -> Result<(), EditError> {
        if !self.racks.remove_mut(&id) {
            return Err(EditError::NoSuchRack(id));
        }
        let shelves: Vec<ShelfId> = self.shelves().filter(|shelf| shelf.rack == id).map(|shelf| shelf.id).collect();
        shelves.into_iter().try_for_each(|shelf| self.remove_shelf(shelf))
    }

    fn remove_shelf(&mut self, id: ShelfId) -> Result<(), EditError> {
        if !self.shelves.remove_mut(&id) {
            return Err(EditError::NoSuchShelf(id));
        }
        let gone: Vec<_> = self.spots.iter().filter(|(_, spot)| spot.shelf == id).map(|(key, _)| *key).collect();
        for key in gone {
            self.spots.remove_mut(&key);
        }
        Ok(())
    }

    fn put_shelf(&mut self, shelf: &Shelf) -> Result<(), EditError> {
        self.rack(shelf.rack).ok_or(EditError::NoSuchRack(shelf.rack))?;
        shelf_side("a shelf's width", &shelf.width)?;
        shelf_side("a shelf's depth", &shelf.depth)?;
        if let Some(height) = &shelf.clear_height {
            length("clear height", height, Length::from_mm(10), Length::from_mm(20_000))?;
        }
        length("overhang", &shelf.overhang, Length::ZERO, Length::from_mm(1_000))?;
        range("the packing allowance", i64::from(shelf.allowance_percent), 0, 95)?;
        for zone in &shelf.zones {
            let most = Length::from_mm(100_000);
            length("a zone's place", &zone.x, Length::ZERO, most)?;
            length("a zone's place", &zone.y, Length::ZERO, most)?;
            length("a zone's width", &zone.width, Length::from_mm(10), most)?;
            length("a zone's depth", &zone.depth, Length::from_mm(10), most)?;
        }
        self.seen_id(shelf.id.0)?;
        self.shelves.insert_mut(shelf.id, Arc::new(shelf.clone()));
        self.sort_spots();
        Ok(())
    }

    fn put_sowing(&mut self, sowing: &Sowing) -> Result<(), EditError> {
        if sowing.steps.is_empty() || sowing.lots.is_empty() || sowing.wanted.is_empty() {
            return Err(EditError::EmptySowing);
        }
        let plants = sowing.wanted.iter().map(|wanted| i64::from(wanted.plants)).sum();
        range("the number of plants", plants, 1, 1_000_000)?;
        for wanted in &sowing.wanted {
            year(wanted.date)?;
            range("the number of plants", i64::from(wanted.plants), 1, 1_000_000)?;
            valid::out_rule(wanted.rule)?;
        }
        range("seeds to a cell", i64::from(sowing.seeds_per_cell), 1, 50)?;
        range("losses", i64::from(sowing.losses_percent), 0, 95)?;
        if let Some(germination) = sowing.germination_percent {
            range("germination", i64::from(germination), 1, 100)?;
        }
        if let Some(begun) = sowing.begun {
            year(begun.on)?;
            if let Stage::TrueLeaves(leaves) = begun.stage {
                range("the number of true leaves", i64::from(leaves), 1, 50)?;
            }
        }
        if let Some(stack) = sowing.stack {
            range("days in a stack", i64::from(stack.days), 1, 60)?;
            range("trays in a stack", i64::from(stack.high), 1, 100)?;
        }
        for seen in &sowing.seen {
            year(seen.date)?;
            valid::seen(seen.what)?;
        }
        for step in &sowing.steps {
            if let Rule::On(date) = step.start {
                year(date)?;
            }
            if let Some(slack) = step.slack {
                range("days early", i64::from(slack.early), 0, 200)?;
                range("days late", i64::from(slack.late), 0, 200)?;
            }
            if let Some(spaced) = &step.spaced {
                outer_size("a spacing", &spaced.pitch)?;
            }
            if let Some(per_tray) = step.per_tray {
                range("plants to a tray", i64::from(per_tray), 1, 100_000)?;
            }
        }
        for lot in &sowing.lots {
            range("a lot's share", i64::from(lot.share), 1, 1_000_000)?;
        }
        unlike("lot", sowing.lots.iter().map(|lot| lot.id.0))?;
        unlike("step", sowing.steps.iter().map(|step| step.id.0))?;
        for other in self.sowings().filter(|other| other.id != sowing.id) {
            if let Some(lot) = sowing.lots.iter().find(|lot| other.lots.iter().any(|o| o.id == lot.id)) {
                return Err(EditError::IdTaken { what: "lot", id: lot.id.0 });
            }
            if let Some(step) = sowing.steps.iter().find(|step| other.steps.iter().any(|o| o.id == step.id)) {
                return Err(EditError::IdTaken { what: "step", id: step.id.0 });
            }
        }
        self.seen_id(sowing.id.0)?;
        for id in sowing.lots.iter().map(|lot| lot.id.0).chain(sowing.steps.iter().map(|step| step.id.0)) {
            self.seen_id(id)?;
        }
        let sowing = self.by_rule(sowing).unwrap_or_else(|| sowing.clone());
        self.sowings.insert_mut(sowing.id, Arc::new(sowing));
        Ok(())
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
        for wanted in &mut moved.wanted {
            let date = wanted.rule.date(wanted.date, &self.settings);
            wanted.date = date.filter(|date| year(*date).is_ok()).unwrap_or(wanted.date);
        }
        (moved != *sowing).then_some(moved)
    }

    fn put_spot(&mut self, spot: Spot) -> Result<(), EditError> {
        self.shelf(spot.shelf).ok_or(EditError::NoSuchShelf(spot.shelf))?;
        self.known(spot.tray)?;
        let most = Length::from_mm(100_000).units();
        range("a spot's place", spot.x.units(), -most, most)?;
        range("a spot's place", spot.y.units(), -most, most)?;
        let spot = Spot { quarter_turns: spot.quarter_turns % 4, ..spot };
        if let (Some(until), SpotFrom::On(from)) = (spot.until, spot.from)
            && until <= from
        {
            return Err(EditError::NotInOrder {
                what: "the day a tray is taken up",
                wanted: "must come after the day it is put there",
                found: format!("{from} to {until}"),
            });
        }
        self.spots.insert_mut((spot.tray, spot.from, self.side(spot.shelf)), spot);
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

    fn lift(&mut self, tray: TrayKey, from: SpotFrom) -> Result<(), EditError> {
        let theirs: Vec<Spot> = self.spots_of(tray).copied().collect();
        if theirs.is_empty() {
            return Err(EditError::NoSuchSpot(tray));
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
        if known { Ok(()) } else { Err(EditError::NoSuchTray(tray)) }
    }
}
