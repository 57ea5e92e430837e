//! The forms that an answer has, and the endings of the files that a command writes.

use std::path::Path;

use chrono::NaiveDate;
use serde::{Serialize, Serializer};

use crate::words::commands;

use super::report::Failure;

/// `2027-04-14`.
pub(super) struct IsoDay(pub(super) NaiveDate);

impl Serialize for IsoDay {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// The answer as JSON, ending with a line break.
pub(super) fn json(answer: &impl Serialize) -> Result<String, Failure> {
    let mut text = serde_json::to_string_pretty(answer)?;
    text.push('\n');
    Ok(text)
}

/// # Errors
/// Names the endings that work where `path` has another.
pub(super) fn known_ending(path: &Path, what: &str, endings: &[&str]) -> Result<(), Failure> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    if ending.as_deref().is_some_and(|ending| endings.contains(&ending)) {
        return Ok(());
    }
    Err(Failure::Bad(commands::wrong_ending(path, what, endings)))
}
