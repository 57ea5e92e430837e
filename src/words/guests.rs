//! Guests: what was not sown this year and takes room between two dates.

use crate::season::{FieldId, Guest, Role};
use crate::units::LengthUnit;

use super::refusal::field;

pub const PAGE: &str = "Other plants";
pub const ADD_TITLE: &str = "Add other plants";
pub const ADD: &str = "Add to other plants";
pub const DUPLICATE: &str = super::fields::DUPLICATE;
pub const REMOVE: &str = "Remove these plants";
pub const WHAT_THEY_ARE: &str =
    "Plants that were not sown this year, or anything else that takes room between two dates";
pub const NONE_YET: &str = "None yet: overwintered pots, bought plants, cuttings, a bag of mix on a shelf";

pub const NAME: &str = field(FieldId::GuestName);
pub const SIZE: &str = field(FieldId::GuestWidth);
pub const HEIGHT: &str = "Height";
pub const WEIGHT: &str = "Weight of each";
pub const BY_SIZE: &str = "by its size";
pub const NUMBER: &str = field(FieldId::GuestNumber);
pub const FROM: &str = field(FieldId::GuestFrom);
pub const UNTIL: &str = field(FieldId::GuestUntil);
pub const STANDS_ON: &str = "It stands on";
pub const LIGHT: &str = "Wants a lamp or daylight";

pub const NAME_HINT: &str = "Lemon tree";
pub const SIZE_HINT: &str = "30 × 50 cm, 10 × 20 in";

pub const ROLES: [(Role, &str); 3] = [
    (Role::Growing, "growing shelves"),
    (Role::Germinating, "germinating shelves"),
    (Role::Hardening, "the place for hardening off"),
];

/// Until the grower says how large it is.
pub fn usual_size(unit: LengthUnit) -> &'static str {
    if unit == LengthUnit::Inch { "10 × 20 in" } else { "30 × 50 cm" }
}

/// `8.0 kg by its size`.
pub fn weight_by_size(weight: &str) -> String {
    format!("{weight} {BY_SIZE}")
}

/// `3 × Lemon tree`.
pub fn so_many(guest: &Guest) -> String {
    format!("{} × {}", guest.number, guest.name)
}
