//! Enums of the file that are, variant for variant, those of the season; what is made of them alone.

use chrono::Weekday;

use crate::season::{
    Delays, Grown, Loss, Matter, Matters, PlaceChange, PlaceId, Potting, Shift, Shifting, SowingChange, SowingId,
    Unwanted, Wall, WhatIf,
};

use super::v2::{
    DelaysV2, GrownV2, LossV2, MatterV2, MattersV2, PlaceChangeV2, PottingV2, ShiftV2, ShiftingV2, SowingChangeV2,
    UnwantedV2, WallV2, WeekdayV2, WhatIfV2,
};

macro_rules! one_for_one {
    ($($file:ident = $of:ident { $($variant:ident),* })*) => {$(
        impl From<$of> for $file {
            fn from(value: $of) -> Self {
                match value {
                    $($of::$variant => Self::$variant,)*
                }
            }
        }

        impl From<$file> for $of {
            fn from(value: $file) -> Self {
                match value {
                    $($file::$variant => Self::$variant,)*
                }
            }
        }
    )*};
}

one_for_one! {
    LossV2 = Loss { NotKnown, DampingOff, TooDry, TooWet, Cold, Heat, Pests, Handling, Surplus }
    DelaysV2 = Delays { Sowing, MovingOn, Out }
    GrownV2 = Grown { TooSmall, Right, TooBig }
    PottingV2 = Potting { PotOn, PotUp, MoveOn }
    MatterV2 = Matter { Little, Fairly, Much }
    SowingChangeV2 = SowingChange { Held, Sown, Out, Hardened, Container, Tight, Fewer, Shared, GappedUp }
    PlaceChangeV2 = PlaceChange { Shelves, Lamps, Edges, Open }
    WallV2 = Wall { Back, Right, Front, Left }
}

macro_rules! field_for_field {
    ($file:ident = $of:ident { $($field:ident),* }) => {
        impl From<$of> for $file {
            fn from($of { $($field),* }: $of) -> Self {
                Self { $($field: $field.into()),* }
            }
        }

        impl From<$file> for $of {
            fn from($file { $($field),* }: $file) -> Self {
                Self { $($field: $field.into()),* }
            }
        }
    };
}

field_for_field! {
    MattersV2 = Matters { held, sown, out, outside, smaller, fewer, buying, dark }
}

impl From<Unwanted> for UnwantedV2 {
    fn from(unwanted: Unwanted) -> Self {
        match unwanted {
            Unwanted::OfSowing(sowing, change) => Self::OfSowing(sowing.0, change.into()),
            Unwanted::OfPlace(place, change) => Self::OfPlace(place.0, change.into()),
        }
    }
}

impl From<UnwantedV2> for Unwanted {
    fn from(file: UnwantedV2) -> Self {
        match file {
            UnwantedV2::OfSowing(sowing, change) => Self::OfSowing(SowingId(sowing), change.into()),
            UnwantedV2::OfPlace(place, change) => Self::OfPlace(PlaceId(place), change.into()),
        }
    }
}

impl From<&WhatIf> for WhatIfV2 {
    fn from(what_if: &WhatIf) -> Self {
        let shift = |shift: &Shift| ShiftV2 {
            what: match &shift.what {
                Shifting::LastFrost => ShiftingV2::LastFrost,
                Shifting::Out(family) => ShiftingV2::Out(family.clone()),
                Shifting::Sowing(family) => ShiftingV2::Sowing(family.clone()),
                Shifting::Place(place) => ShiftingV2::Place(place.0),
            },
            days: shift.days,
        };
        Self { name: what_if.name.clone(), shifts: what_if.shifts.iter().map(shift).collect() }
    }
}

impl From<WhatIfV2> for WhatIf {
    fn from(file: WhatIfV2) -> Self {
        let shift = |shift: ShiftV2| Shift {
            what: match shift.what {
                ShiftingV2::LastFrost => Shifting::LastFrost,
                ShiftingV2::Out(family) => Shifting::Out(family),
                ShiftingV2::Sowing(family) => Shifting::Sowing(family),
                ShiftingV2::Place(place) => Shifting::Place(PlaceId(place)),
            },
            days: shift.days,
        };
        Self { name: file.name, shifts: file.shifts.into_iter().map(shift).collect() }
    }
}

impl From<Weekday> for WeekdayV2 {
    fn from(day: Weekday) -> Self {
        match day {
            Weekday::Mon => Self::Monday,
            Weekday::Tue => Self::Tuesday,
            Weekday::Wed => Self::Wednesday,
            Weekday::Thu => Self::Thursday,
            Weekday::Fri => Self::Friday,
            Weekday::Sat => Self::Saturday,
            Weekday::Sun => Self::Sunday,
        }
    }
}

impl From<WeekdayV2> for Weekday {
    fn from(day: WeekdayV2) -> Self {
        match day {
            WeekdayV2::Monday => Self::Mon,
            WeekdayV2::Tuesday => Self::Tue,
            WeekdayV2::Wednesday => Self::Wed,
            WeekdayV2::Thursday => Self::Thu,
            WeekdayV2::Friday => Self::Fri,
            WeekdayV2::Saturday => Self::Sat,
            WeekdayV2::Sunday => Self::Sun,
        }
    }
}
