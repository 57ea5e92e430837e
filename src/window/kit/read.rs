//! What a text in a field says, for fields of any page.

use std::str::FromStr;

use crate::units::{LengthUnit, Measure, ParseError};
use crate::words::fields as said;

use super::fault::Fault;

/// A whole number; a comma or a point in it is refused, never left out.
pub(in crate::window) fn whole<T: FromStr>(text: &str) -> Result<T, Fault> {
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    text.parse().ok().filter(|_| digits).ok_or_else(|| {
        let why = if digits { said::too_large(text) } else { said::no_whole_number(text) };
        why.into()
    })
}

/// The same, or nothing where nothing is written.
pub(in crate::window) fn whole_or_none<T: FromStr>(text: &str) -> Result<Option<T>, Fault> {
    if text.is_empty() { Ok(None) } else { whole(text).map(Some) }
}

pub(in crate::window) fn length_or_none(text: &str, unit: LengthUnit) -> Result<Option<Measure>, ParseError> {
    if text.is_empty() { Ok(None) } else { Measure::parse_length(text, Some(unit)).map(Some) }
}

/// One of several parts of a thing, where there still is such a one.
pub(in crate::window) fn remove_at<T>(parts: &mut Vec<T>, at: usize) {
    if at < parts.len() {
        parts.remove(at);
    }
}
