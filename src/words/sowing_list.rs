//! The list of sowings, as several pages have it.

pub const PAGE: &str = "Sowings";
pub const FIND: &str = "Find a sowing";
pub const NONE_OF_THAT_NAME: &str = "No sowing of that name";
pub const BY_NAME: &str = "Name";
pub const BY_SOWN: &str = "Sown";
pub const BY_OUT: &str = "Out";
pub const SORT_BY_NAME: &str = "Sort by name";
pub const SORT_BY_SOWN: &str = "Sort by sown";
pub const SORT_BY_OUT: &str = "Sort by out";

pub fn here_already(name: &str) -> String {
    format!("{name}, here already")
}

/// What a screen reader says of a row.
pub fn row(name: &str, plants: u32, begun: bool, sown: &str, out: &str) -> String {
    let since = if begun { "here" } else { "sown" };
    format!("{name}, {plants} plants, {since} {sown}, out {out}")
}

pub fn so_many(name: &str, plants: u32) -> String {
    format!("{name}: {plants} plants")
}

pub fn out_on(day: &str) -> String {
    format!("out {day}")
}
