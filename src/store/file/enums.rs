//! Enums of the file that are, variant for variant, those of the season.

use chrono::Weekday;

use crate::season::{Delays, Grown, Loss, Matter, Matters, Potting};

use super::v2::{DelaysV2, GrownV2, LossV2, MatterV2, MattersV2, PottingV2, WeekdayV2};

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
}

impl From<Matters> for MattersV2 {
    fn from(Matters { held, sown, out, smaller, fewer, buying }: Matters) -> Self {
        Self {
            held: held.into(),
            sown: sown.into(),
            out: out.into(),
            smaller: smaller.into(),
            fewer: fewer.into(),
            buying: buying.into(),
        }
    }
}

impl From<MattersV2> for Matters {
    fn from(MattersV2 { held, sown, out, smaller, fewer, buying }: MattersV2) -> Self {
        Self {
            held: held.into(),
            sown: sown.into(),
            out: out.into(),
            smaller: smaller.into(),
            fewer: fewer.into(),
            buying: buying.into(),
        }
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
