//! Enums of the file that are, variant for variant, those of the season.

use chrono::Weekday;

use crate::season::{Grown, Loss};

use super::v1::{GrownV1, LossV1, WeekdayV1};

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
    LossV1 = Loss { NotKnown, DampingOff, TooDry, TooWet, Cold, Heat, Pests, Handling, Surplus }
    GrownV1 = Grown { TooSmall, Right, TooBig }
}

impl From<Weekday> for WeekdayV1 {
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

impl From<WeekdayV1> for Weekday {
    fn from(day: WeekdayV1) -> Self {
        match day {
            WeekdayV1::Monday => Self::Mon,
            WeekdayV1::Tuesday => Self::Tue,
            WeekdayV1::Wednesday => Self::Wed,
            WeekdayV1::Thursday => Self::Thu,
            WeekdayV1::Friday => Self::Fri,
            WeekdayV1::Saturday => Self::Sat,
            WeekdayV1::Sunday => Self::Sun,
        }
    }
}
