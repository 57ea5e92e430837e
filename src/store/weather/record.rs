use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::unit::{UnitKnown, WeatherUnit};

/// What is known beforehand of a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WeatherAsk {
    pub unit: Option<WeatherUnit>,
    /// The one to take of several.
    pub station: Option<String>,
}

/// The lows of one station.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Empty where the file names none.
    pub station: String,
    pub name: String,
    /// Degrees north, where the file says it.
    pub latitude: Option<f64>,
    /// In tenths of a degree Celsius.
    pub lows: BTreeMap<NaiveDate, i16>,
    pub unit: WeatherUnit,
    pub unit_known: UnitKnown,
    /// Another unit in which alone the numbers would be lows of a place where plants grow.
    pub looks_like: Option<WeatherUnit>,
    /// Readings that a quality check has failed.
    pub flagged: usize,
    /// Days that the file names without a reading.
    pub missing: usize,
    /// Days that the file has twice with the same reading.
    pub repeated: usize,
}
