use crate::units::DateSpan;

use super::{
    Away, AwayId, Container, ContainerKey, Crop, CropKey, Guest, GuestId, Observation, Place, PlaceId, Rack, RackId,
    RecordId, Settings, Shelf, ShelfId, Sowing, SowingId, Spot, SpotFrom, TrayKey, TrayNote,
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
    /// The season goes on counting from that number.
    Reserve(u32),
    PutAway(Away),
    RemoveAway(AwayId),
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
    /// In its place by date: after those of the same day.
    PutRecord(SowingId, Observation),
    RemoveRecord(SowingId, RecordId),
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
    PutAway(DateSpan),
    RemoveAway,
    ChangePlace(String),
    RemovePlace(String),
    ChangeRack(String),
    RemoveRack(String),
    /// By their place's name.
    ChangeFloor(String),
    MoveRack(String),
    TurnRack(String),
    RackOffPlan(String),
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
    /// So many works, each done on its day.
    AddRecords(usize),
    ChangeRecord(String),
    RemoveRecord(String),
    ChangeDay(String),
    /// So many changes that make room.
    MakeRoom(usize),
    /// So many sowings are put on other days.
    OtherDays(usize),
    /// The season goes as it might, by name.
    WhatIf(String),
    /// To so many per cent.
    ScaleSeason(u32),
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
            Self::SetSettings(_) | Self::Reserve(_) => EditLabel::ChangeSettings,
            Self::PutAway(away) => EditLabel::PutAway(away.span),
            Self::RemoveAway(_) => EditLabel::RemoveAway,
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
            Self::PutRecord(id, _) | Self::RemoveRecord(id, _) => EditLabel::ChangeSowing(id.to_string()),
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
