//! How much a season may hold: far beyond any grower's, and what is worked out in seconds. Our choice.

use super::{EditError, FieldId, Map, Refusal};

pub(super) const PLANTS: u64 = 1_000_000;
pub(super) const GUESTS: u64 = 100_000;
pub(super) const SHELVES: usize = 2_000;
/// Of sowings, entries of guests, places, racks, crops, containers and absences, each.
pub(super) const ENTRIES: usize = 20_000;
/// That stand on the floor of one place, and doors into it: ways round them are found exactly.
pub(super) const RACKS_ON_PLAN: usize = 100;
pub(super) const DOORS: usize = 20;

/// # Errors
/// Says how many there may be, where `key` would be one more.
pub(super) fn one_more<K: Ord, V>(map: &Map<K, V>, key: &K, field: FieldId, most: usize) -> Result<(), EditError> {
    if map.size() < most || map.contains_key(key) {
        return Ok(());
    }
    let [most, found] = [most, map.size() + 1].map(|number| number as u64);
    Err(field.refuse(Refusal::TooMany { most, found }))
}
