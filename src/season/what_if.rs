use super::PlaceId;

/// How the season might go otherwise, kept by name beside the plan. It changes nothing until it is taken.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WhatIf {
    pub name: String,
    pub shifts: Vec<Shift>,
}

/// Something that comes so many days later; sooner where they are negative.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shift {
    pub what: Shifting,
    pub days: i16,
}

impl Shift {
    /// Beyond that it is another plan.
    pub const MOST_DAYS: i16 = 60;
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shifting {
    /// And all that follows it by rule.
    LastFrost,
    /// Days out of the crops of a family, or of all of them. They are sown when they were to be.
    Out(Option<String>),
    /// Their sowing. They go out when they were to.
    Sowing(Option<String>),
    /// The days on which a place is open.
    Place(PlaceId),
}
