//! What is left out of the file, and what it means where it is missing.

use crate::units::Measure;

use crate::store::file::text::LengthText;

pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
pub(super) fn is_usual_watering(days: &u8) -> bool {
    *days == 2
}

pub(super) fn one<T: From<u8>>() -> T {
    T::from(1)
}

pub(super) fn is_one<T: From<u8> + PartialEq>(value: &T) -> bool {
    *value == T::from(1)
}

pub(super) const fn yes() -> bool {
    true
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
pub(super) const fn is_yes(value: &bool) -> bool {
    *value
}

pub(super) fn nothing() -> LengthText {
    LengthText(Measure::mm(0))
}

/// As typed: `0 in` is written.
pub(super) fn is_nothing(value: &LengthText) -> bool {
    *value == nothing()
}
