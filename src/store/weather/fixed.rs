//! Fixed width: a line a month, as GHCN-Daily's `.dly` files have it.
//!
//! Columns, from 1 and last one included, as the readme of GHCN-Daily says: 1–11 station, 12–15
//! year, 16–17 month, 18–21 element, then for each of 31 days 5 of value, and a measurement, a
//! quality and a source flag. Values are tenths of a degree Celsius.

use chrono::NaiveDate;

use super::error::{Fault, WeatherErrorKind};
use super::reading::{Field, is_missing, number};
use super::readings::Readings;
use super::unit::{UnitKnown, WeatherUnit};

const FIRST_DAY: usize = 21;
const DAY: usize = 8;

/// Whether a first line looks like it.
pub(super) fn is_fixed(line: &str) -> bool {
    let head = |from, to| line.get(from..to);
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit() || byte == b' ');
    head(11, 17).is_some_and(|when| digits(when) && !when.trim().is_empty())
        && head(17, 21).is_some_and(|element| element.bytes().all(|byte| byte.is_ascii_alphanumeric()))
        && head(0, 11).is_some_and(|station| !station.contains([',', ';', '\t', '"']))
}

pub(super) fn read(text: &str, readings: &mut Readings<'_>) -> Result<(), Fault> {
    readings.unit = Some((WeatherUnit::TenthsCelsius, UnitKnown::Layout));
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let month_line = line.trim_end_matches(['\r', '\n']);
        if !month_line.trim().is_empty() {
            month(month_line, start, readings)?;
        }
        start += line.len();
    }
    Ok(())
}

/// `start` is where the line begins in the text.
fn month(line: &str, start: usize, readings: &mut Readings<'_>) -> Result<(), Fault> {
    let at = |byte: usize| Field { row: start + byte, number: 0 };
    let odd = line.char_indices().find(|(_, c)| !c.is_ascii() || c.is_control()).map(|(byte, _)| byte);
    if let Some(byte) = odd.or((!is_fixed(line)).then_some(0)) {
        return Err(readings.wrong(at(byte), WeatherErrorKind::NoRecord { found: short(line) }));
    }
    let part = |from: usize, to: usize| line.get(from..to.min(line.len())).unwrap_or_default();
    if part(17, 21) != "TMIN" || !readings.takes(part(0, 11).trim()) {
        return Ok(());
    }
    let written = || format!("{}-{}", part(11, 15), part(15, 17));
    let year = part(11, 15).trim().parse::<i32>().ok();
    let month = part(15, 17).trim().parse::<u32>().ok();
    let (Some(year), Some(month)) = (year, month.filter(|month| (1..=12).contains(month))) else {
        return Err(readings.wrong(at(11), WeatherErrorKind::NoSuchDay { found: written() }));
    };
    for (day, from) in (1..=31).zip((FIRST_DAY..).step_by(DAY)) {
        let date = NaiveDate::from_ymd_opt(year, month, day);
        if line.len() < from + 5 {
            // what is cut off at the end may be days that the month does not have
            return match date {
                Some(_) => Err(readings.wrong(at(line.len().saturating_sub(1)), WeatherErrorKind::BreaksOff)),
                None => Ok(()),
            };
        }
        let value = part(from, from + 5).trim();
        let Some(found) = number(value) else {
            let kind = WeatherErrorKind::NotANumber { found: value.to_owned() };
            return Err(readings.wrong(at(from), kind));
        };
        if is_missing(found) {
            readings.missing += usize::from(date.is_some());
            continue;
        }
        let Some(date) = date else {
            let kind = WeatherErrorKind::NoSuchDay { found: format!("{}-{day:02}", written()) };
            return Err(readings.wrong(at(from), kind));
        };
        if part(from + 6, from + 7).trim().is_empty() {
            readings.put(at(from), date, found)?;
        } else {
            readings.flagged += 1;
        }
    }
    Ok(())
}

/// The beginning of what was found in place of something better.
pub(super) fn short(line: &str) -> String {
    let start: String = line.chars().take(40).collect();
    if start.len() < line.len() { format!("{start}…") } else { start }
}
