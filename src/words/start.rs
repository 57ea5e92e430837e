//! A season from nothing: shelves, the last frost, what to grow.

use std::path::Path;

use crate::season::{FieldId, Rack, Season, ZoneKind};

use crate::units::path_text;

use super::amounts::counted;
use super::refusal::field;
use super::window::short_name;

pub const SEASON_NAME: &str = field(FieldId::SeasonName);
pub const SHELVES: &str = "1  Shelves";
pub const FROST: &str = "2  Last frost";
pub const SOWINGS: &str = "3  Sowings";
pub const ON_AVERAGE: &str = "On average";
pub const WHAT_AVERAGE: &str = "5 years in 10 have a later frost; may be left empty";
pub const MORE_OF_FROST: &str = "Risk, station, table…";
pub const HERE_ALREADY: &str = super::already_here::OPEN;
pub const PUT_AWAY: &str = "Put this form away";
pub const ONE_MORE: &str = "One more";
pub const CHANGE: &str = "Change…";
pub const REMOVE: &str = super::fields::REMOVE;
pub const SEE_SHELVES: &str = "See the shelves";

/// Over seasons that may be opened in place of a new one.
pub const USED_BEFORE: &str = "Seasons used before";

/// `Spring at home, 2026`; a name that holds the year already is said as it is.
pub fn named_with_year(name: &str, year: Option<i32>) -> String {
    let name = short_name(name);
    match year.filter(|year| !name.contains(&year.to_string())) {
        Some(year) => format!("{name}, {year}"),
        None => name,
    }
}

pub fn open_used(name: &str, path: &Path) -> String {
    format!("Open {name}: {}", path_text(path))
}

pub fn one_more_like(name: &str) -> String {
    format!("One more like {name}")
}

pub fn change(name: &str) -> String {
    format!("Change {name}")
}

pub fn remove(name: &str) -> String {
    format!("Remove {name}")
}

/// With what is known of the last frost before it.
pub fn lines_go_by(frost: &str) -> String {
    format!("{frost}; lines without a day go by it")
}

fn shelves(number: usize) -> String {
    counted(number, "shelf", "shelves")
}

/// `Rack 1: 4 shelves of 48 in × 18 in, with lamps`.
pub fn rack(season: &Season, rack: &Rack) -> String {
    let all = season.shelves_of(rack.id);
    let said = format!("{}: {}", rack.name, shelves(all.len()));
    let Some(first) = all.first() else { return said };
    let alike =
        all.iter().all(|one| (one.width.value(), one.depth.value()) == (first.width.value(), first.depth.value()));
    let of = if alike { " of" } else { ", the first" };
    let lamps = if all.iter().all(|shelf| shelf.has(ZoneKind::Lamp)) { ", with lamps" } else { "" };
    format!("{said}{of} {}{lamps}", super::places::shelf_size(first))
}

/// `72 × Tomato: sown 21 Mar, out 16 May`; each with its day where that is known.
pub fn sowing(plants: u32, name: &str, begins: Option<(Begins, &str)>, out: Option<&str>) -> String {
    let mut said = format!("{plants} × {name}");
    if let Some((begins, day)) = begins {
        let how = match begins {
            Begins::Sown => "sown",
            Begins::HereFrom => "here from",
        };
        said = format!("{said}: {how} {day}");
    }
    if let Some(day) = out {
        said = format!("{said}, out {day}");
    }
    said
}

/// How a sowing came to be here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begins {
    Sown,
    HereFrom,
}
