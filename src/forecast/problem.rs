use chrono::NaiveDate;

use crate::season::{
    AwayId, ContainerKey, CropKey, Observed, PlaceId, RackId, Role, ShelfId, SowingId, StepId, TrayKey,
};
use crate::trade::{Bears, Harm};
use crate::units::{Area, DateSpan, Length, Temperature, Volume};

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
        /// What would be right, where that was worked out.
        instead: Option<Instead>,
    },
    /// Moved on before the crop is likely to have its leaves.
    MovedEarly {
        sowing: SowingId,
        step: StepId,
        due: NaiveDate,
        date: NaiveDate,
        /// Whether it may still be sown on another day.
        sow_earlier: bool,
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
    /// One alone, when watered, is more than any shelf that it may stand on is rated for.
    TooHeavy {
        tray: TrayKey,
        grams: u32,
        rated: u32,
    },
    /// More trays or loose pots stand beyond the good reach of lamps, for so many days.
    BeyondLamps {
        span: DateSpan,
        most: u32,
        /// Of `most`, the loose pots.
        pots: u32,
        days: u32,
        /// Trays and pots, summed over the days, and the plants in them.
        tray_days: u64,
        plant_days: u64,
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
    /// Much less of its seed comes up in a mix of that temperature than at its best.
    FewComeUp {
        sowing: SowingId,
        percent: u8,
        at: Temperature,
        best: u8,
        best_at: Temperature,
    },
    /// Half-hardy, and out before its weeks from the last frost begin.
    OutBeforeWindow {
        sowing: SowingId,
        out: NaiveDate,
        from: NaiveDate,
        /// After the last frost with even chances of a later one, negative before it.
        weeks: i8,
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
        /// To sow, to move on, to begin hardening off, to leave outside at night, or to plant out.
        work: What,
        date: NaiveDate,
        /// The last day before on which somebody is, unless that is past, and the first one after.
        before: Option<NaiveDate>,
        after: NaiveDate,
    },
    /// Plants stand there on days on which nobody waters.
    NobodyWaters {
        /// The first of those that touch.
        away: AwayId,
        span: DateSpan,
        trays: Vec<TrayKey>,
    },
    /// Trays are to be carried out by day and in for the night on days on which nobody does.
    NobodyCarries {
        /// In which they begin.
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
        /// That day is past.
        too_late: bool,
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
        too_late: bool,
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
    /// A tray fewer is likely enough to do: the last one is sown for a handful of cells.
    TrayForAHandful {
        sowing: SowingId,
        step: StepId,
        /// Trays that are full.
        full: u32,
        per_tray: u32,
        /// Cells of the last tray that are sown.
        sown: u32,
        wanted: u32,
        /// How sure the full trays are to give those that are wanted, and how sure the season asks to be.
        percent: u8,
        sure_percent: u8,
        /// Plants that the full trays give as surely as the season asks.
        would_do: u32,
        /// Seeds to a cell with which they give those that are wanted, where one more does it.
        seeds: Option<u8>,
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
    /// Leaves of plants in pots meet from that day on.
    LeavesMeet {
        /// The first of them, and others of its crop that stand alike: once for all.
        sowing: SowingId,
        others: Vec<SowingId>,
        step: StepId,
        from: NaiveDate,
        /// Gone, or spaced out.
        until: NaiveDate,
        spaced: bool,
        /// From middle to middle of the pots.
        at: Length,
        /// How wide they are by the end.
        wide: Length,
        room: RoomApart,
    },
    /// Its nights, or its days as well, are colder than the crop bears: it comes in for them, or hardens
    /// off elsewhere.
    TooColdToHarden {
        sowing: SowingId,
        place: PlaceId,
        from: NaiveDate,
        nights_alone: bool,
    },
    /// Chilled for so many days in all that it flowers before its time.
    Bolts {
        sowing: SowingId,
        /// In which it stands on the first of them.
        place: PlaceId,
        from: NaiveDate,
        days: u16,
        /// The day on which they are as many as make it bolt.
        reached: NaiveDate,
    },
    /// Its days are warmer than plants of the crop stand well.
    TooWarm {
        sowing: SowingId,
        place: PlaceId,
        from: NaiveDate,
        days: u16,
    },
    /// Every place that is there for them is too cold, or too warm for seed.
    NoPlaceBears {
        tray: TrayKey,
        /// With it, of the same sowing.
        trays: u32,
        span: DateSpan,
        /// The one that is nearest to what they bear.
        place: PlaceId,
        bears: Bears,
    },
    /// Stands where it is too cold or too warm for it.
    HarmedThere {
        tray: TrayKey,
        shelf: ShelfId,
        day: NaiveDate,
        harm: Harm,
    },
    /// Every place that is there for plants that grow is dark.
    NoLight {
        tray: TrayKey,
        trays: u32,
        span: DateSpan,
    },
    /// Plants that are up stand in the dark.
    InTheDark {
        tray: TrayKey,
        shelf: ShelfId,
        day: NaiveDate,
    },
    /// Seed that wants light to sprout was to stand in a stack; it stands apart.
    StackInTheDark {
        sowing: SowingId,
        days: u16,
    },
    /// Seed that wants dark to sprout, and no shelf is dark: it is covered until the first are up.
    CoverSeed {
        sowing: SowingId,
        until: NaiveDate,
    },
    /// The packet is below the legal minimum.
    BelowLegalGermination {
        sowing: SowingId,
        percent: u8,
        legal: u8,
    },
    /// It leaves before it is ready.
    NotReady {
        sowing: SowingId,
        why: NotReady,
    },
    /// On the floor of a place, as it is drawn.
    OnFloor {
        place: PlaceId,
        what: Cramped,
    },
    /// The season has no place to harden off in.
    NowhereToHarden {
        /// Sowings that want one, which wants it first, and on which day.
        sowings: u32,
        sowing: SowingId,
        first: NaiveDate,
    },
    /// A record that can't be so.
    NotSo {
        sowing: SowingId,
        on: NaiveDate,
        what: Observed,
        why: NotSo,
    },
    /// A record names a batch where none is taken, and counts for all of the sowing.
    OfNoBatch {
        sowing: SowingId,
        on: NaiveDate,
        what: Observed,
        /// There is such a batch, but what was seen is of the whole sowing.
        is_there: bool,
    },
}

/// What can't be about a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotSo {
    /// Its day is still to come.
    ToCome,
    /// Its sowing is planned for that later day, and not written down.
    BeforeSown(NaiveDate),
    /// So many cells are to be sown; how many were is not written down.
    MoreThanSown(u32),
}

/// What is wrong with racks on a floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cramped {
    /// Two stand in the same place.
    Overlap {
        one: RackId,
        other: RackId,
    },
    Outside {
        rack: RackId,
        by: Length,
    },
    /// Every door is narrower than the barrow, or none is drawn.
    NoDoor {
        barrow: Length,
        widest: Option<Length>,
    },
    /// The barrow doesn't come to it; the widest that does, if any.
    Barred {
        rack: RackId,
        barrow: Length,
        widest: Option<Length>,
    },
    /// Of so many racks of the floor it comes to so few that they are not told one by one.
    ManyBarred {
        barrow: Length,
        racks: usize,
        reached: usize,
        /// The widest that comes to all of them.
        for_all: Option<Length>,
        /// One of those that it doesn't come to: where none comes to all, one that none comes to.
        one: RackId,
    },
}

impl Cramped {
    /// The rack to look at.
    pub const fn rack(self) -> Option<RackId> {
        match self {
            Self::Overlap { one: rack, .. }
            | Self::Outside { rack, .. }
            | Self::Barred { rack, .. }
            | Self::ManyBarred { one: rack, .. } => Some(rack),
            Self::NoDoor { .. } => None,
        }
    }
}

/// What keeps a sowing from standing anywhere too long, each tried on it by the same rules: no other is broken.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Instead {
    /// Sown on the second day instead of the first: no container of it holds the plants back, and they are ready for
    /// their day.
    pub sow: Option<(NaiveDate, NaiveDate)>,
    /// The smallest larger container that holds them for as long as they stand there.
    pub into: Option<ContainerKey>,
}

/// What a plant that leaves still wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotReady {
    /// It is not as old as its crop wants to be.
    TooYoung {
        out: NaiveDate,
        /// From sowing until then, and those that it wants at least.
        days: u16,
        least: u16,
        to_sell: bool,
        /// Those days are the ones until it flowers.
        in_flower: bool,
        /// Whether it may still be sown on another day.
        sow_earlier: bool,
    },
    /// It leaves a container before its roots hold the ball together.
    NotRooted {
        step: StepId,
        from: NaiveDate,
        until: NaiveDate,
        least: u16,
        /// What may be done as many days sooner.
        sooner: Option<Sooner>,
        /// The step whose container holds it until it goes.
        stay_in: Option<StepId>,
        /// Until then, or until it is moved on again.
        goes_out: bool,
    },
    /// Fewer days outside than its crop wants, or none.
    /// `in_time` where what gives it all of them would still be.
    HardenedShort { out: NaiveDate, days: u16, wanted: u16, because: Hurried, in_time: bool },
}

/// What gives a plant more days in a container if it is done sooner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sooner {
    Sown,
    MovedOn,
}

/// Why hardening off is cut short.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hurried {
    /// It is moved on no sooner.
    MovedOn(NaiveDate),
    /// The same, and it is done.
    WasMovedOn(NaiveDate),
    /// No place for it is open sooner.
    PlaceOpens(NaiveDate),
    /// No place for it is open before it goes out.
    NoneOpen,
    /// It was begun only then.
    Began(NaiveDate),
    /// The grower gives it no more.
    AsSaid,
}

/// What keeps leaves apart, and what they have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoomApart {
    Trays {
        now: u32,
        apart: u32,
    },
    /// Of loose pots.
    Ground {
        now: Area,
        apart: Area,
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
    /// Its floor, and a rack on it.
    Floor(PlaceId, Option<RackId>),
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
            | Self::TooHeavy { tray: one, .. }
            | Self::OffShelf { tray: one, .. }
            | Self::HarmedThere { tray: one, .. }
            | Self::NoPlaceBears { tray: one, .. }
            | Self::NoLight { tray: one, .. }
            | Self::InTheDark { tray: one, .. } => one == tray,
            Self::Clash { one, other, .. } => one == tray || other == tray,
            _ => false,
        }
    }

    /// Whether it is about that sowing.
    pub fn is_of_sowing(&self, of: SowingId) -> bool {
        matches!(self, Self::LeavesMeet { others, .. } if others.contains(&of)) || self.about() == About::Sowing(of)
    }

    /// Of days on which nobody is there.
    pub const fn is_of_days_away(&self) -> bool {
        matches!(self, Self::NobodyThere { .. } | Self::NobodyWaters { .. } | Self::NobodyCarries { .. })
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
            | Self::FewComeUp { sowing, .. }
            | Self::OutBeforeWindow { sowing, .. }
            | Self::ReadyEarly { sowing, .. }
            | Self::NobodyThere { sowing, .. }
            | Self::TooFew { sowing, .. }
            | Self::SownTooFew { sowing, .. }
            | Self::InsertTooLarge { sowing, .. }
            | Self::BlockTooLarge { sowing, .. }
            | Self::TrayForAHandful { sowing, .. }
            | Self::NoSuchRows { sowing, .. }
            | Self::SharesUnlike { sowing, .. }
            | Self::LeavesMeet { sowing, .. }
            | Self::NotReady { sowing, .. }
            | Self::TooColdToHarden { sowing, .. }
            | Self::Bolts { sowing, .. }
            | Self::TooWarm { sowing, .. }
            | Self::StackInTheDark { sowing, .. }
            | Self::CoverSeed { sowing, .. }
            | Self::NotSo { sowing, .. }
            | Self::OfNoBatch { sowing, .. }
            | Self::BelowLegalGermination { sowing, .. } => About::Sowing(sowing),
            Self::NoPlaceBears { tray, span, .. } | Self::NoLight { tray, span, .. } => {
                About::Tray(tray, Some(span.from()))
            }
            Self::TooTall { tray, day, .. }
            | Self::TooTallThere { tray, day, .. }
            | Self::OffShelf { tray, day, .. }
            | Self::HarmedThere { tray, day, .. }
            | Self::InTheDark { tray, day, .. }
            | Self::Clash { one: tray, day, .. } => About::Tray(tray, Some(day)),
            Self::TooLarge { tray, .. } | Self::TooHeavy { tray, .. } => About::Tray(tray, None),
            Self::Overloaded { shelf, day, .. } => About::Shelf(shelf, Some(day)),
            Self::ZoneSticksOut { shelf, .. } | Self::OutOfReach { shelf, .. } => About::Shelf(shelf, None),
            Self::NoPlaceFor { role, span } => About::Place(role, span.from()),
            Self::NowhereToHarden { first, .. } => About::Place(Role::Hardening, first),
            Self::OnFloor { place, what } => About::Floor(place, what.rack()),
            Self::BeyondLamps { span, .. } => About::Lamps(span.from()),
            Self::NobodyWaters { away, span, .. } | Self::NobodyCarries { away, span, .. } => {
                About::Away(away, span.from())
            }
        }
    }
}
