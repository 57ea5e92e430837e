use chrono::NaiveDate;

use crate::season::{ContainerKey, CropKey, Role, ShelfId, SowingId, StepId, TrayKey};
use crate::units::{DateSpan, Length, Volume};

/// Something of a valid season that the grower should look at. Listed, never lost, never an error.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    NothingSown,
    NoShelves,
    UnknownCrop {
        sowing: SowingId,
        crop: CropKey,
    },
    UnknownContainer {
        sowing: SowingId,
        container: ContainerKey,
    },
    /// A standard's class, or a pot in a flat too small for it.
    NoRoomInside {
        sowing: SowingId,
        container: ContainerKey,
    },
    /// Moved on before it was sown, or out before it was moved on.
    OutOfOrder {
        sowing: SowingId,
        step: StepId,
        date: NaiveDate,
        not_before: NaiveDate,
    },
    /// Less than three times the volume of the cell before it.
    SmallStep {
        sowing: SowingId,
        step: StepId,
        from: Volume,
        to: Volume,
    },
    HeldTooLong {
        sowing: SowingId,
        step: StepId,
        latest: NaiveDate,
        until: NaiveDate,
    },
    /// Moved on before the crop is likely to have its leaves.
    MovedEarly {
        sowing: SowingId,
        step: StepId,
        due: NaiveDate,
        date: NaiveDate,
    },
    /// No place for plants in this role is open then.
    NoPlaceFor {
        role: Role,
        span: DateSpan,
    },
    /// No shelf is tall enough from that day on.
    TooTall {
        tray: TrayKey,
        day: NaiveDate,
        needs: Length,
        tallest: Length,
    },
    /// Stands on a shelf too low for it.
    TooTallThere {
        tray: TrayKey,
        shelf: ShelfId,
        day: NaiveDate,
        missing: Length,
    },
    /// No shelf is wide and deep enough, turned either way.
    TooLarge {
        tray: TrayKey,
        width: Length,
        depth: Length,
    },
    /// More trays want light than lamps serve, for so many days.
    BeyondLamps {
        span: DateSpan,
        most: u32,
        days: u32,
    },
    /// Two trays stand in the same place.
    Clash {
        one: TrayKey,
        other: TrayKey,
        shelf: ShelfId,
        day: NaiveDate,
        pinned: bool,
    },
    /// Stands over the edge, or outside what it needs.
    OffShelf {
        tray: TrayKey,
        shelf: ShelfId,
        day: NaiveDate,
    },
    Overloaded {
        shelf: ShelfId,
        day: NaiveDate,
        grams: u64,
        rated: u64,
    },
    /// A lamp or mat that is larger than its shelf.
    ZoneSticksOut {
        shelf: ShelfId,
        by: Length,
    },
    /// Its middle is as far as an arm reaches, or further.
    OutOfReach {
        shelf: ShelfId,
        reach: Length,
    },
    /// The packet is below the legal minimum.
    BelowLegalGermination {
        sowing: SowingId,
        percent: u8,
        legal: u8,
    },
}
