//! Why an edit was refused, as data: which field can't be so, and what is wrong with it. Worded in
//! one place, `words::refusal`.

use std::ops::Range;

use chrono::NaiveDate;

use crate::units::{DateSpan, Length, Measure, Temperature};

use super::{DayRange, FrostChance, LotId, Observed, RecordId, SpotFrom, StepId, TrayKey};

/// Why an edit was refused; the season is as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct EditError {
    pub field: FieldId,
    pub why: Refusal,
}

/// What the grower typed or chose. Of things that an edit puts as a whole it is known which is meant;
/// their parts say which of several they are: by id, or by place in their list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FieldId {
    SeasonName,
    SeasonNote,
    TrayGap,
    LampGap,
    Chance,
    FirstWeek,
    WaterEvery,
    WhatIfName,
    WhatIfDays,
    Away,
    AwayName,
    AwayFirst,
    AwayLast,
    FrostDate,
    FrostRisk,
    FrostStation,
    FrostYears,
    FrostSprings,
    FrostTableDate,
    FrostTableRisk,
    Place,
    PlaceName,
    PlaceOpen,
    RoomWidth,
    RoomDepth,
    Barrow,
    Doors,
    DoorAlong(usize),
    DoorWidth(usize),
    Rack,
    RackName,
    RackX,
    RackY,
    RacksOnPlan,
    Shelf,
    ShelfWidth,
    ShelfDepth,
    ShelfHeight,
    ShelfOverhang,
    ShelfAllowance,
    ShelfClosed,
    ZoneX(usize),
    ZoneY(usize),
    ZoneWidth(usize),
    ZoneDepth(usize),
    Crop,
    CropName,
    CropMark,
    CropGermination,
    CropLegalGermination,
    CropEmergence,
    CropEmergenceWarmth,
    CropLeafWarmth,
    CropMovingOn,
    CropWeeksOut,
    CropWeeksToSale,
    CropWeeksFromFrost,
    CropInOpenFlat,
    CropLatest,
    /// Least, best from, best to, greatest: from 0 to 3.
    CropGerminates(usize),
    CropHardening,
    CropFirstNight,
    CropSeedsPerGram,
    CropLight,
    HeightWeek(usize),
    HeightSize(usize),
    SpreadWeek(usize),
    SpreadSize(usize),
    Container,
    ContainerName,
    ContainerNote,
    ContainerHeight,
    ContainerDome,
    ContainerWidth,
    ContainerDepth,
    FloorWidth,
    FloorDepth,
    Pockets,
    Cells,
    CellRows,
    CellWidth,
    CellVolume,
    PotWidth,
    PotBase,
    PotVolume,
    ClassVolumes,
    Sowing,
    Variety,
    SowingNote,
    SowingPlants,
    /// The so-manieth day out, from 0; so are the next ones.
    OutDays,
    OutPlants(usize),
    OutDate(usize),
    OutFrostDays(usize),
    OutMonth(usize),
    OutNth(usize),
    OutWeek(usize),
    SowingGermination,
    SowingLosses,
    SeedsPerCell,
    BegunOn,
    BegunLeaves,
    HardenDays,
    StackDays,
    StackHigh,
    Record(RecordId),
    RecordDate(RecordId),
    RecordSown(RecordId),
    RecordUp(RecordId),
    RecordLeaves(RecordId),
    RecordPlants(RecordId),
    Steps,
    Step(StepId),
    StepDate(StepId),
    StepPerTray(StepId),
    StepEarly(StepId),
    StepLate(StepId),
    StepPitch(StepId),
    Lots,
    Lot(LotId),
    LotShare(LotId),
    Guest,
    GuestName,
    GuestWidth,
    GuestDepth,
    GuestNumber,
    GuestFrom,
    GuestUntil,
    Tray,
    TrayMark,
    TrayRows,
    SpotX,
    SpotY,
    SpotUntil,
    /// A number that the season gives out, as of a place or a sowing.
    Number,
}

/// What is wrong with it.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    NoName,
    /// In characters.
    TooLong {
        most: usize,
        found: usize,
    },
    /// It must stand within a line.
    BreaksTheLine(char),
    /// In text of several lines.
    Unprintable(char),
    OutOfRange {
        least: i64,
        most: i64,
        found: i64,
    },
    /// As [`OutOfRange`](Self::OutOfRange), of what has fractions.
    NotBetween {
        least: f64,
        most: f64,
        found: f64,
    },
    LengthOutOfRange {
        least: Length,
        most: Length,
        found: Measure,
    },
    Zero,
    /// What must be more than nothing, as it was typed.
    Nothing(String),
    /// The list must hold one at least.
    NoneLeft,
    /// The second is below the first; both as they were typed.
    Falls {
        first: String,
        second: String,
    },
    NotEarlyLikelyLate(DayRange),
    NotBaseLowHigh([Temperature; 3]),
    /// Two numbers from 0 up, the second no smaller.
    NotLowHigh {
        low: f64,
        high: f64,
    },
    /// Weeks of a curve must rise from point to point, from 0 up.
    WeekNotLater {
        found: f64,
    },
    /// Rows and columns don't make up the cells.
    NotTheCells {
        rows: u16,
        columns: u16,
        cells: u16,
    },
    /// In days: its least time to planting out is more than any container allows.
    ReadyAfterLatest {
        ready: u16,
        latest: u16,
    },
    /// In days from sowing.
    DueBeforeUp {
        up: u16,
        due: u16,
    },
    /// In days from sowing.
    DueAfterOut {
        due: u16,
        out: u16,
    },
    LongerThan {
        found: u16,
        most: u16,
    },
    /// In weeks from sowing.
    SaleTooSoon {
        sale: u8,
        size: u8,
    },
    /// Something inside is larger than what is around it; both as they were typed.
    LargerThan {
        found: String,
        around: String,
    },
    /// More is stated than the outer size has room for.
    HoldsLess {
        found: String,
        room: String,
    },
    NotAMonday(NaiveDate),
    /// Nobody is there on some of those days anyway.
    AwayAlready(DateSpan),
    /// Written down for a day after that one, which it is.
    ToCome {
        today: NaiveDate,
        found: NaiveDate,
    },
    /// Before the day on which it is to be sown; that it was is not written down.
    BeforeSown {
        sown: NaiveDate,
        found: NaiveDate,
    },
    /// More than are to be sown; how many were is not written down.
    MoreThanSown {
        most: u32,
        found: u32,
    },
    NotAfter {
        from: NaiveDate,
        found: NaiveDate,
    },
    /// Days that are in two spans of one list.
    InTwoSpans([DateSpan; 2]),
    /// Two dates of a frost table for the same chance.
    ChanceTwice(Box<[FrostChance; 2]>),
    /// An earlier date belongs where more years have a later frost.
    ChanceRises(Box<[FrostChance; 2]>),
    NoRows(Range<u16>),
    /// Two lots want the same cells of a row.
    RowTaken {
        row: u16,
        lots: Box<[LotName; 2]>,
    },
    /// Written down for a day before what it follows.
    NotBefore {
        what: Observed,
        on: NaiveDate,
        found: NaiveDate,
    },
    /// Written down for a day after what follows it.
    NotPast {
        what: Observed,
        on: NaiveDate,
        found: NaiveDate,
    },
    /// It happens once, and is written down for that day.
    Once(NaiveDate),
    /// More than were there.
    OnlySoMany {
        most: u32,
        found: u32,
    },
    /// Fewer than were seen of them.
    SoManyAtLeast {
        least: u32,
        found: u32,
    },
    NumberTaken(u32),
    /// A sowing uses it; the name it goes by.
    InUse(String),
    NotThere(u32),
    /// In one season.
    TooMany {
        most: u64,
        found: u64,
    },
    /// Of what a thing may have.
    TooManyOfOne {
        most: usize,
        found: usize,
    },
    /// It ends beyond its wall.
    PastItsWall {
        along: Measure,
        width: Measure,
        wall: Measure,
    },
    NoKey(String),
    NoTray(TrayKey),
    NoSpot(TrayKey, SpotFrom),
}

/// What a lot goes by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotName {
    pub lot: LotId,
    /// Empty where no sowing has the lot.
    pub crop: String,
    pub variety: String,
}

impl FieldId {
    pub(super) const fn refuse(self, why: Refusal) -> EditError {
        EditError { field: self, why }
    }
}
