//! The last frost of a record, and what was odd about the record.

use std::path::Path;

use crate::season::Frost;
use crate::trade::{FrostWish, Half, NoFrostDate, RefusedSpring, frost_from_springs, springs};
use crate::units::breaks_a_line;

use super::record::Record;
use super::unit::{UnitKnown, WeatherUnit};

/// What a record says of the last frost.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordFrost {
    pub frost: Frost,
    pub half: Half,
    pub refused: Vec<RefusedSpring>,
    pub odd: Vec<OddRecord>,
}

/// Something about a record that the grower should know.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OddRecord {
    #[error("Lows are in {unit}, {known}")]
    Unit { unit: WeatherUnit, known: UnitKnown },
    #[error("The numbers look like {other}, not like {unit}")]
    LooksLike { other: WeatherUnit, unit: WeatherUnit },
    #[error("Days that failed a quality check and count as missing: {0}")]
    Flagged(usize),
    #[error("Days named without a reading: {0}")]
    Missing(usize),
    #[error("Days that stand in the file twice, alike: {0}")]
    Repeated(usize),
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
    found.chars().map(|c| if breaks_a_line(c) { ' ' } else { c }).take(200).collect()
}

fn odd(record: &Record) -> Vec<OddRecord> {
    let unit = record.unit;
    let mut odd = vec![OddRecord::Unit { unit, known: record.unit_known }];
    odd.extend(record.looks_like.map(|other| OddRecord::LooksLike { other, unit }));
    let counts = [
        (record.flagged, OddRecord::Flagged(record.flagged)),
        (record.missing, OddRecord::Missing(record.missing)),
        (record.repeated, OddRecord::Repeated(record.repeated)),
    ];
    odd.extend(counts.into_iter().filter(|(number, _)| *number > 0).map(|(_, odd)| odd));
    odd
}
