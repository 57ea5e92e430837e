use std::path::Path;

use crate::store::{Disk, Document, LineCol};

use super::error::{Fault, WeatherError, WeatherErrorKind};
use super::readings::Readings;
use super::record::{Record, WeatherAsk};
use super::{fixed, separated};

/// # Errors
/// As [`read_weather`], or the disk's.
pub fn load_weather(disk: &dyn Disk, path: &Path, ask: &WeatherAsk) -> Result<Record, WeatherError> {
    let refused = |why| WeatherError { path: path.to_owned(), at: None, kind: WeatherErrorKind::Read(why) };
    let bytes = Document::Record.read(disk, path).map_err(refused)?;
    read_weather(&bytes, path, ask)
}

/// The record in a file's bytes; `path` only names it in errors.
///
/// # Errors
/// Says what is wrong, and in which line and column.
pub fn read_weather(bytes: &[u8], path: &Path, ask: &WeatherAsk) -> Result<Record, WeatherError> {
    of_bytes(bytes, ask).map_err(|(at, kind)| WeatherError { path: path.to_owned(), at, kind })
}

fn of_bytes(bytes: &[u8], ask: &WeatherAsk) -> Result<Record, Fault> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes)
        .map_err(|why| (Some(LineCol::of_byte(bytes, why.valid_up_to())), WeatherErrorKind::NotText))?;
    let Some(first) = text.lines().find(|line| !line.trim().is_empty()) else {
        return Err((None, WeatherErrorKind::Empty));
    };
    let mut readings = Readings::new(text, ask.station.as_deref());
    if fixed::is_fixed(first) {
        fixed::read(text, &mut readings)?;
    } else {
        separated::read(text, first, &mut readings)?;
    }
    readings.record(ask.unit)
}
