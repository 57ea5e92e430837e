//! Rows of fields: with a header, or a year of all stations without one.
//!
//! A row without a header is `station, YYYYMMDD, element, value, measurement flag, quality flag,
//! source flag, time` (GHCN-Daily's files by year; from memory), values in tenths of a degree
//! Celsius. With one, `TMIN_ATTRIBUTES` holds the flags as `M,Q,S` (from memory as well), and the
//! unit is the exporter's: degrees of either scale, or tenths.

use chrono::NaiveDate;
use csv::{ReaderBuilder, StringRecord};

use super::error::{Fault, WeatherErrorKind};
use super::fixed::short;
use super::reading::{Field, is_missing, number};
use super::readings::Readings;
use super::unit::{UnitKnown, WeatherUnit};

/// Where the fields that count stand.
struct Columns {
    station: Option<usize>,
    name: Option<usize>,
    latitude: Option<usize>,
    date: usize,
    low: usize,
    flags: Flags,
    element: Option<usize>,
    /// What the header calls the lows.
    called: String,
}

#[derive(Clone, Copy)]
enum Flags {
    Nowhere,
    /// The second of a field that holds several.
    Second(usize),
    Alone(usize),
}

pub(super) fn read(text: &str, first: &str, readings: &mut Readings<'_>) -> Result<(), Fault> {
    let delimiter = [b',', b';', b'\t'].into_iter().max_by_key(|sign| {
        // the first of equals: max_by_key takes the last
        (first.bytes().filter(|byte| byte == sign).count(), *sign == b',')
    });
    let delimiter = delimiter.unwrap_or(b',');
    readings.delimiter = char::from(delimiter);
    let mut reader =
        ReaderBuilder::new().delimiter(delimiter).has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut columns: Option<Columns> = None;
    let mut record = StringRecord::new();
    loop {
        let row = usize::try_from(reader.position().byte()).unwrap_or(0);
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => return Ok(()),
            // the text is UTF-8, and rows may be of any length: nothing else can fail
            Err(_) => return Err(readings.wrong(Field { row, number: 0 }, WeatherErrorKind::NotText)),
        }
        if record.iter().all(|field| field.trim().is_empty()) {
            continue;
        }
        let row = RecordLine { record: &record, row };
        match &columns {
            Some(columns) => row.read(columns, readings)?,
            None => match by_year(&record) {
                Some(found) => {
                    readings.unit = Some((WeatherUnit::TenthsCelsius, UnitKnown::Layout));
                    row.read(&found, readings)?;
                    columns = Some(found);
                }
                None => columns = Some(row.header(first, readings)?),
            },
        }
    }
}

/// The columns of a file by year, if this is a row of one.
fn by_year(record: &StringRecord) -> Option<Columns> {
    let field = |at: usize| record.get(at).map(str::trim);
    let is_day = |text: &str| text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit());
    let is_element = |text: &str| text.len() == 4 && text.bytes().all(|byte| byte.is_ascii_alphanumeric());
    let fits = field(1).is_some_and(is_day) && field(2).is_some_and(is_element) && record.len() >= 4;
    fits.then(|| Columns {
        station: Some(0),
        name: None,
        latitude: None,
        date: 1,
        low: 3,
        flags: Flags::Alone(5),
        element: Some(2),
        called: "value".to_owned(),
    })
}

/// One row, and where it begins in the text.
struct RecordLine<'a> {
    record: &'a StringRecord,
    row: usize,
}

impl RecordLine<'_> {
    fn field(&self, at: usize) -> Option<&str> {
        self.record.get(at).map(str::trim)
    }

    const fn at(&self, number: usize) -> Field {
        Field { row: self.row, number }
    }

    fn header(&self, first: &str, readings: &mut Readings<'_>) -> Result<Columns, Fault> {
        let names: Vec<String> = self.record.iter().map(|name| name.trim().to_lowercase()).collect();
        let find = |wanted: &str| names.iter().position(|name| name == wanted);
        let lows: Vec<usize> = names.iter().enumerate().filter(|(_, name)| is_low(name)).map(|(at, _)| at).collect();
        let found = || short(&self.record.iter().map(str::trim).collect::<Vec<_>>().join(", "));
        let (date, low) = match (find("date"), lows.as_slice()) {
            (Some(date), &[low]) => (date, low),
            (None, []) => {
                return Err(readings.wrong(self.at(0), WeatherErrorKind::NoRecord { found: short(first) }));
            }
            (Some(_), [_, second, ..]) => {
                let several: Vec<&str> = lows.iter().filter_map(|low| self.field(*low)).collect();
                let kind = WeatherErrorKind::SeveralColumns { found: several.join(", ") };
                return Err(readings.wrong(self.at(*second), kind));
            }
            (date, _) => {
                let column = if date.is_some() { "TMIN" } else { "DATE" };
                return Err(readings.wrong(self.at(0), WeatherErrorKind::NoColumn { column, found: found() }));
            }
        };
        let called = self.field(low).unwrap_or_default().to_owned();
        readings.unit = unit_in(&called).map(|unit| (unit, UnitKnown::Header));
        Ok(Columns {
            station: find("station").or_else(|| find("id")),
            name: find("name").or_else(|| find("station_name")),
            latitude: find("latitude"),
            date,
            low,
            flags: find("tmin_attributes").map_or(Flags::Nowhere, Flags::Second),
            element: None,
            called,
        })
    }

    fn read(&self, columns: &Columns, readings: &mut Readings<'_>) -> Result<(), Fault> {
        if columns.element.is_some_and(|at| self.field(at).is_some_and(|element| element != "TMIN")) {
            return Ok(());
        }
        let station = columns.station.and_then(|at| self.field(at)).unwrap_or_default();
        if !readings.takes(station) {
            return Ok(());
        }
        if readings.name.is_empty()
            && let Some(name) = columns.name.and_then(|at| self.field(at))
        {
            name.clone_into(&mut readings.name);
        }
        if readings.latitude.is_none() {
            let degrees = columns.latitude.and_then(|at| number(self.field(at)?));
            readings.latitude = degrees.filter(|degrees| degrees.abs() <= 90.0);
        }
        let [date_at, low_at] = [columns.date, columns.low].map(|number| self.at(number));
        let short_row = |column: &str| {
            let kind = WeatherErrorKind::ShortRow { column: column.to_owned() };
            readings.wrong(self.at(self.record.len().saturating_sub(1)), kind)
        };
        let date = self.field(columns.date).ok_or_else(|| short_row("DATE"))?;
        let date = read_date(date).map_err(|kind| readings.wrong(date_at, kind))?;
        let low = self.field(columns.low).ok_or_else(|| short_row(&columns.called))?;
        if low.is_empty() || low == "NA" {
            readings.missing += 1;
            return Ok(());
        }
        let Some(found) = number(low) else {
            return Err(readings.wrong(low_at, WeatherErrorKind::NotANumber { found: short(low) }));
        };
        if is_missing(found) {
            readings.missing += 1;
            return Ok(());
        }
        let flag = match columns.flags {
            Flags::Nowhere => None,
            Flags::Second(at) => self.field(at).and_then(|flags| flags.split(',').nth(1)),
            Flags::Alone(at) => self.field(at),
        };
        if flag.is_some_and(|flag| !flag.trim().is_empty()) {
            readings.flagged += 1;
            return Ok(());
        }
        readings.decimals |= low.contains(['.', ',']);
        readings.put(low_at, date, found)
    }
}

/// Whether a header names the lows.
fn is_low(name: &str) -> bool {
    name.starts_with("tmin ")
        || name.starts_with("tmin(")
        || matches!(name, "tmin" | "temp_min" | "min_temp" | "minimum temperature")
}

/// The unit that a header such as `TMIN (Degrees Fahrenheit)` names.
fn unit_in(name: &str) -> Option<WeatherUnit> {
    let (_, inside) = name.split_once('(')?;
    let inside = inside.trim_end_matches(')').to_lowercase();
    let word = inside.replace("degrees", "").replace("degree", "");
    match word.trim().trim_start_matches('°') {
        "f" | "fahrenheit" => Some(WeatherUnit::Fahrenheit),
        "c" | "celsius" => Some(WeatherUnit::Celsius),
        "tenths c" | "tenths of °c" | "tenths" => Some(WeatherUnit::TenthsCelsius),
        _ => None,
    }
}

/// `2009-04-16`, `2009/04/16` or `20090416`.
fn read_date(text: &str) -> Result<NaiveDate, WeatherErrorKind> {
    let digits = |text: &str| text.len() <= 8 && !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let plain = |text: &str| text.parse::<u32>().ok().filter(|_| digits(text));
    let parts: Vec<Option<u32>> = match plain(text).filter(|_| text.len() == 8) {
        Some(day) => vec![Some(day / 10_000), Some(day / 100 % 100), Some(day % 100)],
        None if text.find(['-', '/']) == Some(4) => text.split(['-', '/']).map(plain).collect(),
        None => Vec::new(),
    };
    let &[Some(year), Some(month), Some(day)] = parts.as_slice() else {
        return Err(WeatherErrorKind::NotADate { found: short(text) });
    };
    let date = i32::try_from(year).ok().and_then(|year| NaiveDate::from_ymd_opt(year, month, day));
    date.ok_or_else(|| WeatherErrorKind::NoSuchDay { found: short(text) })
}
