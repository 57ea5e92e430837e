//! Names of things inside a season. Numbers are handed out once and never used again.

use std::fmt;
use std::sync::Arc;

macro_rules! numbered {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    )*};
}

numbered!(PlaceId, RackId, ShelfId, SowingId, LotId, StepId, TrayId, GuestId, AwayId, RecordId);

macro_rules! keyed {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub Arc<str>);

        impl $name {
            pub fn new(key: &str) -> Self {
                Self(key.into())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    )*};
}

keyed!(
    /// A crop's key in the library or the season: `tomato`.
    CropKey,
    /// A container's key in the library or the season: `plug_72`.
    ContainerKey,
);
