use super::{PlaceId, SowingId};

/// A kind of change that the grower does not want as a way to make room, and of what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unwanted {
    OfSowing(SowingId, SowingChange),
    OfPlace(PlaceId, PlaceChange),
}

/// What may be done otherwise about a sowing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SowingChange {
    /// Moved on later, all of it or half.
    Held,
    Sown,
    Out,
    /// Hardened off for longer.
    Hardened,
    Container,
    /// Its pots are not spaced out.
    Tight,
    Fewer,
    /// Its plants stand in a tray with another sowing's.
    Shared,
    /// Its plugs are moved together out of cells that failed.
    GappedUp,
}

/// What may be made of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlaceChange {
    Shelves,
    Lamps,
    /// Trays stick out over its edges.
    Edges,
    /// Open on more days.
    Open,
}
