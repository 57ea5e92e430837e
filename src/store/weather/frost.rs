//! The last frost of a record, and what was odd about the record.

use std::path::Path;

use crate::season::Frost;
use crate::trade::{FrostWish, Half, NoFrostDate, RefusedSpring, frost_from_springs, springs};

use super::record::Record;
use super::unit::UnitKnown;

/// What a record says of the last frost.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordFrost {
    pub frost: Frost,
    pub half: Half,
    pub refused: Vec<RefusedSpring>,
    /// A sentence each.
    pub odd: Vec<String>,
}

/// The last frost that is wished for; `path` names the station where the record doesn't.
///
/// # Errors
/// Says why the record has no such date.
pub fn frost_of_record(record: &Record, path: &Path, wish: &FrostWish) -> Result<RecordFrost, NoFrostDate> {
    let half = match record.latitude {
        Some(degrees) if degrees < 0.0 => Half::South,
        Some(_) => Half::North,
        None => Half::of_lows(&record.lows).unwrap_or(Half::North),
    };
    let (good, refused) = springs(&record.lows, half);
    let frost = frost_from_springs(&good, half, wish).map_err(|why| match why {
        NoFrostDate::NoSpring { .. } => NoFrostDate::NoSpring { refused: refused.len() },
        why => why,
    })?;
    Ok(RecordFrost { frost: Frost { station: station(record, path), ..frost }, half, refused, odd: odd(record) })
}

fn station(record: &Record, path: &Path) -> String {
    let found = match (record.name.trim(), record.station.trim()) {
        ("", "") => path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned()),
        ("", id) => id.to_owned(),
        (name, "") => name.to_owned(),
        (name, id) => format!("{name} ({id})"),
    };
    found.chars().take(200).collect()
}

fn odd(record: &Record) -> Vec<String> {
    let known = match record.unit_known {
        UnitKnown::Said => "as you said",
        UnitKnown::Layout => "as this layout always has them",
        UnitKnown::Header => "as the header says",
        UnitKnown::Numbers => "told by the numbers",
    };
    let mut odd = vec![format!("Lows are in {}, {known}", record.unit)];
    odd.extend(record.looks_like.map(|other| format!("The numbers look like {other}, not like {}", record.unit)));
    let counts = [
        (record.flagged, "that failed a quality check and count as missing"),
        (record.missing, "named without a reading"),
        (record.repeated, "that stand in the file twice, alike"),
    ];
    let counts = counts.into_iter().filter(|(number, _)| *number > 0);
    odd.extend(counts.map(|(number, what)| format!("Days {what}: {number}")));
    odd
}
