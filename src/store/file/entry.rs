//! Which part of a file an error is about: `sowing 7 (tomato "Early Red")`.

use chrono::NaiveDate;

use crate::season::{
    AwayId, ContainerKey, CropKey, GuestId, LotId, Op, PlaceId, RackId, ShelfId, Sowing, SowingId, SpotFrom, StepId,
    TrayId, TrayKey,
};
use crate::units::full_day;

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Entry {
    #[error("the season")]
    Season,
    #[error("the settings")]
    Settings,
    #[error("next_id")]
    NextId,
    #[error("days away {0} ({1:?})")]
    Away(AwayId, String),
    #[error("place {0} ({1:?})")]
    Place(PlaceId, String),
    #[error("rack {0} ({1:?})")]
    Rack(RackId, String),
    #[error("shelf {0}")]
    Shelf(ShelfId),
    #[error("crop {:?}", .0.0)]
    Crop(CropKey),
    #[error("container {:?}", .0.0)]
    Container(ContainerKey),
    #[error("sowing {0} ({1})")]
    Sowing(SowingId, CropKey),
    #[error("sowing {0} ({1} {2:?})")]
    SowingOf(SowingId, CropKey, String),
    #[error("{0}: lot {1}")]
    Lot(Box<Self>, LotId),
    #[error("{0}: step {1}")]
    Step(Box<Self>, StepId),
    #[error("guest {0} ({1:?})")]
    Guest(GuestId, String),
    #[error("the note of {0}")]
    Note(Tray),
    #[error("the spot of {0}")]
    Spot(Tray),
    #[error("the spot of {tray} from {day}", tray = .0, day = full_day(*.1))]
    SpotFrom(Tray, NaiveDate),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Tray {
    #[error("tray {n} of lot {lot} in step {step}")]
    Own { lot: LotId, step: StepId, n: u32 },
    #[error("shared tray {0}")]
    Shared(TrayId),
    #[error("tray {n} of guest {guest}")]
    Guest { guest: GuestId, n: u32 },
}

impl Entry {
    /// What an op puts there; the season as a whole where it is no entry of its own.
    pub(super) fn of(op: &Op) -> Self {
        match op {
            Op::PutAway(away) => Self::Away(away.id, away.name.clone()),
            Op::PutPlace(place) => Self::Place(place.id, place.name.clone()),
            Op::PutRack(rack) => Self::Rack(rack.id, rack.name.clone()),
            Op::PutShelf(shelf) => Self::Shelf(shelf.id),
            Op::PutCrop(crop) => Self::Crop(crop.key.clone()),
            Op::PutContainer(container) => Self::Container(container.key.clone()),
            Op::PutSowing(sowing) => Self::sowing(sowing),
            Op::PutGuest(guest) => Self::Guest(guest.id, guest.name.clone()),
            Op::PutNote(note) => Self::Note(note.key.into()),
            Op::PutSpot(spot) => match spot.from {
                SpotFrom::Start => Self::Spot(spot.tray.into()),
                SpotFrom::On(date) => Self::SpotFrom(spot.tray.into(), date),
            },
            Op::SetSettings(_) => Self::Settings,
            Op::Reserve(_) => Self::NextId,
            _ => Self::Season,
        }
    }

    pub(super) fn sowing(sowing: &Sowing) -> Self {
        let (id, crop) = (sowing.id, sowing.crop.clone());
        if sowing.variety.is_empty() {
            Self::Sowing(id, crop)
        } else {
            Self::SowingOf(id, crop, sowing.variety.clone())
        }
    }
}

impl From<TrayKey> for Tray {
    fn from(tray: TrayKey) -> Self {
        match tray {
            TrayKey::Own { lot, step, n } => Self::Own { lot, step, n },
            TrayKey::Shared(id) => Self::Shared(id),
            TrayKey::Guest { guest, n } => Self::Guest { guest, n },
        }
    }
}
