//! Places, racks and shelves, and how many trays fit on one.

use chrono::NaiveDate;

use crate::season::make::ShelfPart;
use crate::season::{FieldId, Light, PartOfDay, Rack, Reach, Role, Season, Shelf, ShelfId, Zone, ZoneKind};
use crate::units::{Length, LengthUnit, Measure, weight_in_words};

use super::amounts::measure;
use super::fields;
use super::listed;
use super::refusal::field;

pub const ADD_TITLE: &str = "Add a rack";
pub const ADD_ROW: &str = "Add a rack: form";
pub const WHAT_A_RACK_IS: &str = "Equal shelves, one above the other; a bench is a rack with one tier";
pub const NONE_YET: &str = "Nothing is here yet";
pub const NEW_RACK: &str = "Name of the new rack";
pub const FIRST_RACK: &str = "Rack 1";
pub const STANDS_IN: &str = "It stands in";
pub const A_NEW_PLACE: &str = "a new place";
pub const PLACE_NAME: &str = field(FieldId::PlaceName);
pub const IS_FOR: &str = "The place is for";
pub const TIERS: &str = "Tiers";
pub const SIZE: &str = "Size of each shelf";
pub const STICK_OUT: &str = "Trays may stick out";
pub const NOT_AT_ALL: &str = "not at all";
pub const LAMPS: &str = "A lamp over each shelf";
pub const MATS: &str = "A heat mat under the whole of each shelf";
pub const ADD: &str = "Add rack";
/// What else a rack may be told of.
pub const MORE: &str = "Name, height…";
pub const TO_HARDEN: &str = "To harden off on";
pub const ADD_TABLE: &str = "Add table outdoors";
pub const TABLE: &str = "Table";
pub const OUTDOORS: &str = "Outdoors";

pub const USED: &str = "It can be used";
pub const LIGHT: &str = "Plants grow there by";
pub const SHELF_LIGHT: &str = "Light";
pub const BY_DAY: &str = "By day";
pub const BY_NIGHT: &str = "By night";
pub const ON_A_MAT: &str = "On a heat mat";
pub const OPEN_FROM: &str = "Open from";
pub const SHUT_AGAIN: &str = "Shut again on";
pub const ADD_OPEN: &str = "Add open dates";
pub const OPEN_ALL_YEAR: &str = "Open all year, unless dates are added";
pub const OPEN_BETWEEN: &str = field(FieldId::PlaceOpen);
pub const REMOVE_DATES: &str = "Remove these dates";
pub const REMOVE_PLACE: &str = "Remove place with its racks";

pub const RACK_NAME: &str = field(FieldId::RackName);
pub const SHELVES: &str = "Shelves";
pub const COPY_RACK: &str = "Copy rack";
pub const EACH_TIER: &str = "Each shelf by itself";
pub const ADD_SHELF: &str = "Add a shelf";
pub const REMOVE_RACK: &str = "Remove rack";

pub const FROM_ABOVE: &str = "This shelf, from above";
pub const GIVE_TO_OTHERS: &str = "Give it to other shelves";
pub const GIVEN_TO: &str = "Given to";
pub const GIVEN: &str = "Of it";
pub const ITS_SIZE: &str = "its size";
pub const ALL_OF_IT: &str = "all but closed dates";
pub const GIVE: &str = "Give it to them";
const ALL_OF_THIS_SIZE: &str = "All of them are of this size already";
const ALL_LIKE_THIS: &str = "All of them are like this one already";
pub const COPY_BELOW: &str = "Copy shelf below";
pub const REMOVE_SHELF: &str = "Remove shelf";
pub const WIDTH: &str = field(FieldId::ShelfWidth);
pub const DEPTH: &str = field(FieldId::ShelfDepth);
pub const HEIGHT: &str = field(FieldId::ShelfHeight);
pub const OVERHANG: &str = field(FieldId::ShelfOverhang);
pub const ALLOWANCE: &str = field(FieldId::ShelfAllowance);
pub const LOAD: &str = "Rated load";
pub const REACHED_FROM: &str = "Reached from";
pub const ZONES: &str = "Lamps and heat mats, from the back left corner";
pub const ADD_LAMP: &str = "Add a lamp";
pub const ADD_MAT: &str = "Add a heat mat";
pub const CLOSED_FROM: &str = "Closed from";
pub const OPEN_AGAIN: &str = "Open again on";
pub const ADD_CLOSED: &str = "Add closed dates";
pub const NEVER_CLOSED: &str = "Never closed, unless dates are added";
pub const CLOSED_BETWEEN: &str = field(FieldId::ShelfClosed);

pub const HOW_MANY: &str = "How many fit";
pub const ON_A_SHELF: &str = "On a shelf of";
pub const THIS_SHELF: &str = "This shelf";
pub const TRAY: &str = "Tray or pot";
pub const FLAT: &str = "flat";
pub const CHOOSE_TRAY: &str = "Choose a tray or pot…";

pub const ROLES: [(Role, &str); 3] =
    [(Role::Germinating, "Germinating"), (Role::Growing, "Growing"), (Role::Hardening, "Hardening")];

pub const PARTS: [(PartOfDay, &str); 3] =
    [(PartOfDay::Whole, "Day and night"), (PartOfDay::Days, "Days only"), (PartOfDay::Nights, "Nights only")];

pub const LIGHTS: [(Light, &str); 3] =
    [(Light::Lamps, "lamps"), (Light::Daylight, "daylight"), (Light::Dark, "nothing: it is dark")];

pub const LIGHTS_OF_SHELF: [(Option<Light>, &str); 4] = [
    (None, "as its place"),
    (Some(Light::Lamps), "lamps"),
    (Some(Light::Daylight), "daylight"),
    (Some(Light::Dark), "dark"),
];

pub const REACHES: [(Reach, &str); 2] = [(Reach::OneSide, "one side"), (Reach::BothSides, "both sides")];

/// `growing`.
pub const fn role(role: Role) -> &'static str {
    match role {
        Role::Germinating => "germinating",
        Role::Growing => "growing",
        Role::Hardening => "hardening",
    }
}

/// What a new place is called until the grower says.
pub const fn usual_place(role: Role) -> &'static str {
    match role {
        Role::Germinating => "Germinating shelves",
        Role::Growing => "Growing shelves",
        Role::Hardening => "Cold frame",
    }
}

/// How large a shelf is taken to be until the grower says.
pub const fn usual_size(unit: LengthUnit) -> &'static str {
    if matches!(unit, LengthUnit::Inch) { "48 × 18 in" } else { "120 × 45 cm" }
}

/// How large a table outdoors is taken to be until the grower says.
pub const fn usual_table(unit: LengthUnit) -> &'static str {
    if matches!(unit, LengthUnit::Inch) { "72 × 30 in" } else { "180 × 75 cm" }
}

/// `2 sowings harden off from 18 Apr`.
pub fn wanted_to_harden(sowings: u32, first: NaiveDate) -> String {
    format!("{} from {}", super::counted(sowings, "sowing hardens off", "sowings harden off"), super::day(first))
}

pub fn tiers(most: u32, found: &str) -> String {
    format!("tiers must be a number from 1 to {most}, found {found:?}")
}

pub fn no_percentage(found: &str) -> String {
    format!("found {found:?}; write a whole number from 0 to 95")
}

pub fn no_weight(found: &str, unit: LengthUnit) -> String {
    let (most, such) = if unit.is_of_inches() { ("22046 lb", "60 lb") } else { ("10000 kg", "25 kg") };
    format!("found {found:?}; write a weight from 0 to {most}, such as {such}")
}

/// `Growing shelves · growing`.
pub fn place_row(name: &str, of: Role) -> String {
    format!("{name} · {}", role(of))
}

/// The same, said as one of several kinds of rows.
pub fn place_said(name: &str, of: Role) -> String {
    format!("Place {name}, {}", role(of))
}

pub fn rack_said(name: &str) -> String {
    format!("Rack {name}")
}

/// `Rack 1, shelf 2, 48 in × 18 in`.
pub fn shelf_said(rack: &Rack, shelf: &Shelf) -> String {
    format!("{}, shelf {}, {}", rack.name, shelf.tier, shelf_size(shelf))
}

/// `48 in × 18 in`, as typed.
pub fn shelf_size(shelf: &Shelf) -> String {
    format!("{} × {}", shelf.width.typed(), shelf.depth.typed())
}

/// The same in the units shown.
pub fn shelf_size_in(shelf: &Shelf, unit: LengthUnit) -> String {
    format!("{} × {}", measure(&shelf.width, unit), measure(&shelf.depth, unit))
}

/// What a shelf bears, as it may be written.
pub fn load(grams: u32, unit: LengthUnit) -> String {
    weight_in_words(u64::from(grams), unit, if unit.is_of_inches() { 2 } else { 3 })
}

pub const fn tray_hint(unit: LengthUnit) -> &'static str {
    if unit.is_of_inches() { "flat, 72, 3 in" } else { "flat, 72, 7 cm" }
}

pub const fn warmth_hint(unit: LengthUnit) -> &'static str {
    if unit.is_of_inches() { "70 °F" } else { "21 °C" }
}

/// A length of a shelf, where none is written: its width, its depth, what may stick out of it.
pub const fn length_hints(unit: LengthUnit) -> [&'static str; 3] {
    if unit.is_of_inches() { ["48 in", "18 in", "0 in"] } else { ["120 cm", "45 cm", "0 cm"] }
}

/// What shelves that are given something lose by it, shelf by shelf.
pub fn what_is_overwritten(season: &Season, changes: &[(ShelfId, Vec<ShelfPart>)], sizes_alone: bool) -> String {
    if changes.is_empty() {
        return if sizes_alone { ALL_OF_THIS_SIZE } else { ALL_LIKE_THIS }.to_owned();
    }
    let shelf = |(id, parts): &(ShelfId, Vec<ShelfPart>)| {
        let tier = season.shelf(*id).map_or(0, |shelf| shelf.tier);
        let parts: Vec<&str> = parts.iter().map(|part| shelf_part(*part)).collect();
        format!("shelf {tier}: {}", listed(&parts))
    };
    let changes: Vec<String> = changes.iter().map(shelf).collect();
    let stays = if sizes_alone { "Lamps, heat mats, closed dates and rated loads stay" } else { "Closed dates stay" };
    format!("Changes {}. {stays}", changes.join("; "))
}

const fn shelf_part(part: ShelfPart) -> &'static str {
    match part {
        ShelfPart::Width => "width",
        ShelfPart::Depth => "depth",
        ShelfPart::ClearHeight => "clear height",
        ShelfPart::Overhang => "what may stick out",
        ShelfPart::Allowance => "what is kept free",
        ShelfPart::Load => "rated load",
        ShelfPart::Reach => "where it is reached from",
        ShelfPart::Light => "light",
        ShelfPart::Lamps => "lamps",
        ShelfPart::Mats => "heat mats",
    }
}

/// `Shelves of Door rack`.
pub fn shelves_of(rack: &str, own: bool) -> String {
    if own { "the others of this rack".to_owned() } else { format!("all of {rack}") }
}

pub fn of_rack(rack: &str) -> String {
    format!("Of {rack}: the whole rack")
}

pub fn of_place(place: &str) -> String {
    format!("In {place}")
}

/// `Shelf 2, 48 in × 18 in`.
pub fn tier(shelf: &Shelf) -> String {
    format!("Shelf {}, {}", shelf.tier, shelf_size(shelf))
}

/// `from the top: 15 in, 12 in`.
pub fn from_the_top(all: &[String]) -> String {
    let all: Vec<&str> = all.iter().map(|one| if one.is_empty() { fields::UNKNOWN } else { one }).collect();
    format!("from the top: {}", all.join(", "))
}

/// Where not all shelves of a rack are covered by such a zone.
pub fn some_have(of: ZoneKind, some: usize, all: usize) -> String {
    let (one, more) = match of {
        ZoneKind::Lamp => ("a lamp", "lamps"),
        ZoneKind::Heat => ("a heat mat", "heat mats"),
    };
    if some == all {
        format!("Each shelf has {more} of its own")
    } else {
        format!("{some} of {all} shelves {} {one}", if some == 1 { "has" } else { "have" })
    }
}

const fn kind(kind: ZoneKind) -> &'static str {
    match kind {
        ZoneKind::Lamp => "Lamp",
        ZoneKind::Heat => "Heat mat",
    }
}

/// `Heat mat 1`; the first of its kind is at 0.
pub fn zone(of: ZoneKind, at: usize) -> String {
    format!("{} {}", kind(of), at + 1)
}

/// `Heat mat 1: width`.
pub fn zone_field(zone: &str, what: &str) -> String {
    format!("{zone}: {what}")
}

pub fn remove_zone(zone: &str) -> String {
    format!("Remove {}", zone.to_lowercase())
}

/// Of the zones of a shelf, whatever their kind, the first is at 0.
pub fn move_zone(of: ZoneKind, at: usize) -> String {
    format!("Move {}", zone(of, at).to_lowercase())
}

pub fn size_zone(of: ZoneKind, at: usize) -> String {
    format!("Size {}", zone(of, at).to_lowercase())
}

/// A zone in the hand.
pub fn lies_at(zone: &Zone) -> String {
    let Zone { x, y, width, depth, .. } = zone;
    let [x, y, width, depth] = [x, y, width, depth].map(Measure::typed);
    format!("{width} × {depth}, {x} from the left, {y} from the back")
}

/// `4 flats, 3½ in out`; `out` in words, if it is more than nothing.
pub fn held_with(number: &str, overhang: Length, out: &str) -> String {
    if overhang > Length::ZERO { format!("{number}, {out} out") } else { number.to_owned() }
}

pub fn drawing_of(caption: &str) -> String {
    format!("Drawing: {caption}")
}
