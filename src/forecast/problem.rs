use chrono::NaiveDate;

use crate::season::{AwayId, ContainerKey, CropKey, Role, ShelfId, SowingId, StepId, TrayKey};
use crate::units::{DateSpan, Length, Temperature, Volume};

use super::course::What;

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
    /// Tender, and out before the last frost that the season reckons with.
    OutBeforeFrost {
        sowing: SowingId,
        out: NaiveDate,
        frost: NaiveDate,
        /// Years in 10 that have a later frost than that.
        later_in_ten: u8,
    },
    /// Seed of the crop does not come up in a mix of that temperature.
    WontComeUp {
        sowing: SowingId,
        at: Temperature,
        /// The least or greatest at which it does, where that is known.
        limit: Option<Temperature>,
    },
    /// Ready long before it goes out: it stands there all the while.
    ReadyEarly {
        sowing: SowingId,
        ready: NaiveDate,
        out: NaiveDate,
    },
    /// Nobody is there on that day, and the work has no other inside its window.
    NobodyThere {
        sowing: SowingId,
        /// To sow, to move on, or to plant out.
        work: What,
        date: NaiveDate,
        /// The last day before, and the first one after, on which somebody is.
        before: NaiveDate,
        after: NaiveDate,
    },
    /// Plants stand there on days on which nobody waters.
    NobodyWaters {
        /// The first of those that touch.
        away: AwayId,
        span: DateSpan,
        trays: Vec<TrayKey>,
    },
    /// Fewer plants are alive than are wanted.
    TooFew {
        sowing: SowingId,
        alive: u32,
        wanted: u32,
        /// Of them, those that nothing sown again makes up for.
        missing: u32,
        /// Sown by then, more would be ready in time.
        sow_again_until: NaiveDate,
    },
    /// Fewer cells were sown than give the plants that are wanted.
    SownTooFew {
        sowing: SowingId,
        cells: u32,
        /// That come up of them.
        likely: u32,
        wanted: u32,
        missing: u32,
        sow_again_until: NaiveDate,
    },
    /// What stands in the tray is larger than its floor, whichever way it is turned.
    InsertTooLarge {
        sowing: SowingId,
        insert: ContainerKey,
        tray: ContainerKey,
        /// By which it is too long for the floor along one side or both.
        by: Length,
    },
    /// No shelf holds as many loose pots as are to stand together.
    BlockTooLarge {
        sowing: SowingId,
        step: StepId,
        per_tray: u32,
    },
    /// Rows or cells that the tray does not have.
    NoSuchRows {
        sowing: SowingId,
        tray: TrayKey,
        rows: u16,
        cells: u16,
    },
    /// It is the worse for the others in a tray that it shares.
    SharesUnlike {
        sowing: SowingId,
        tray: TrayKey,
        how: Unlike,
    },
    /// The packet is below the legal minimum.
    BelowLegalGermination {
        sowing: SowingId,
        percent: u8,
        legal: u8,
    },
}

/// How lots of one tray turn out unlike each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unlike {
    /// The tray is taken to the light, and off its heat, when the first of them are up.
    UpLater { first: NaiveDate, up: NaiveDate, heat: bool },
    /// The others have left the tray.
    StandsOn { others: NaiveDate, until: NaiveDate },
    /// Than that one on that day, which the lamp hangs for.
    Shorter { than: SowingId, by: Length, day: NaiveDate },
}

/// What a problem is about, so that it can be gone to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    Season,
    Sowing(SowingId),
    /// Where it stands on that day, if the day matters.
    Tray(TrayKey, Option<NaiveDate>),
    /// With the day that is meant, if one is.
    Shelf(ShelfId, Option<NaiveDate>),
    Place(Role, NaiveDate),
    Lamps(NaiveDate),
    /// From that day on.
    Away(AwayId, NaiveDate),
}

impl Problem {
    /// Whether it is about where that tray stands, or could.
    pub fn is_of_tray(&self, tray: TrayKey) -> bool {
        match *self {
            Self::TooTall { tray: one, .. }
            | Self::TooTallThere { tray: one, .. }
            | Self::TooLarge { tray: one, .. }
            | Self::OffShelf { tray: one, .. } => one == tray,
            Self::Clash { one, other, .. } => one == tray || other == tray,
            _ => false,
        }
    }

    pub const fn about(&self) -> About {
        match *self {
            Self::NothingSown | Self::NoShelves => About::Season,
            Self::UnknownCrop { sowing, .. }
            | Self::UnknownContainer { sowing, .. }
            | Self::NoRoomInside { sowing, .. }
            | Self::OutOfOrder { sowing, .. }
            | Self::SmallStep { sowing, .. }
            | Self::HeldTooLong { sowing, .. }
            | Self::MovedEarly { sowing, .. }
            | Self::OutBeforeFrost { sowing, .. }
            | Self::WontComeUp { sowing, .. }
            | Self::ReadyEarly { sowing, .. }
            | Self::NobodyThere { sowing, .. }
            | Self::TooFew { sowing, .. }
            | Self::SownTooFew { sowing, .. }
            | Self::InsertTooLarge { sowing, .. }
            | Self::BlockTooLarge { sowing, .. }
            | Self::NoSuchRows { sowing, .. }
            | Self::SharesUnlike { sowing, .. }
            | Self::BelowLegalGermination { sowing, .. } => About::Sowing(sowing),
            Self::TooTall { tray, day, .. }
            | Self::TooTallThere { tray, day, .. }
            | Self::OffShelf { tray, day, .. }
            | Self::Clash { one: tray, day, .. } => About::Tray(tray, Some(day)),
            Self::TooLarge { tray, .. } => About::Tray(tray, None),
            Self::Overloaded { shelf, day, .. } => About::Shelf(shelf, Some(day)),
            Self::ZoneSticksOut { shelf, .. } | Self::OutOfReach { shelf, .. } => About::Shelf(shelf, None),
            Self::NoPlaceFor { role, span } => About::Place(role, span.from()),
            Self::BeyondLamps { span, .. } => About::Lamps(span.from()),
            Self::NobodyWaters { away, span, .. } => About::Away(away, span.from()),
        }
    }
}
