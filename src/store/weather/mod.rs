//! Records of daily lows, as weather services give them out.
//!
//! Reads GHCN-Daily in its four layouts: a table with a header (`STATION,DATE,TMIN`, or the columns
//! and `TMIN_ATTRIBUTES` of one station's file), a year of all stations without one, and fixed
//! width (`.dly`). A value that a quality check has flagged is missing, as −9999 is. What is wrong
//! is refused with its line and column; what a low means for a season is not said here.

mod fixed;
mod frost;
mod separated;
mod unit;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use chrono::{Datelike as _, NaiveDate};

use super::{Disk, LineCol};

pub use frost::{RecordFrost, frost_of_record};
pub use unit::{UnitKnown, WeatherUnit};

/// A year of all stations has about 1 GB; 200 years of one have 3 MB.
const LARGEST: u64 = 256 * 1024 * 1024;
/// Stations that a complaint lists.
const LISTED: usize = 5;
/// The coldest and the warmest night that a reading may tell of, in tenths of a degree Celsius: a
/// little beyond any on record (−89.2 °C at Vostok; warmest lows about 44 °C, from memory).
const POSSIBLE: std::ops::RangeInclusive<f64> = -950.0..=500.0;
/// Instruments are not older.
const YEARS: std::ops::RangeInclusive<i32> = 1650..=2200;

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

/// Why a record could not be read: `station.csv:17:13: found "warm"; …`.
#[derive(Debug, thiserror::Error)]
pub struct WeatherError {
    pub path: PathBuf,
    /// `None` where no line is to blame.
    pub at: Option<LineCol>,
    pub kind: WeatherErrorKind,
}

#[derive(Debug, thiserror::Error)]
pub enum WeatherErrorKind {
    #[error("{}", reading(.0))]
    Read(io::Error),
    #[error("this file is empty")]
    Empty,
    #[error("this is not UTF-8 text; save it as UTF-8, or as it came from the weather service")]
    NotText,
    #[error(
        "this is no weather record: found {found:?} where a header with DATE and TMIN should stand, or a station's \
         line of a year or of a fixed-width file"
    )]
    NoRecord { found: String },
    #[error("there is no column {column} in this header; it has {found}")]
    NoColumn { column: &'static str, found: String },
    #[error("there is more than one column of lows: {found}")]
    SeveralColumns { found: String },
    #[error("this row ends before its column {column}")]
    ShortRow { column: String },
    #[error("found {found:?}; write a date as year-month-day, such as 2009-04-16")]
    NotADate { found: String },
    #[error("found {found:?}; the calendar has no such day")]
    NoSuchDay { found: String },
    #[error("found the year {0}; it must be from 1650 to 2200")]
    Year(i32),
    #[error("found {found:?}; a low is a number, such as -22")]
    NotANumber { found: String },
    #[error("found {found}, which is no night's low in {unit}; is the file in another unit?")]
    Impossible { found: f64, unit: WeatherUnit },
    #[error("{date} is in this file twice, with {before} in line {line} and {found} here")]
    Twice { date: NaiveDate, before: f64, found: f64, line: usize },
    #[error("there are {number} stations in this file: {listed}; say which one to take")]
    SeveralStations { number: usize, listed: String },
    #[error("there is no station {asked:?} in this file; it has {listed}")]
    NoSuchStation { asked: String, listed: String },
    #[error("there is no low in this file: {0}")]
    NoLows(String),
    #[error("lows from {least} to {most} could be °F, °C or tenths of °C here; say which unit: F, C or tenths")]
    WhichUnit { least: f64, most: f64 },
    #[error("you say that the lows are in {said}, but this file has them in {known}")]
    OtherUnit { said: WeatherUnit, known: WeatherUnit },
    #[error("this line breaks off; a line has 31 days of 8 characters each from column 22 on")]
    BreaksOff,
}

impl fmt::Display for WeatherError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.path.display(), self.kind),
            None => write!(f, "{}: {}", self.path.display(), self.kind),
        }
    }
}

fn reading(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::IsADirectory => "this is a folder; a record is one file".to_owned(),
        io::ErrorKind::PermissionDenied => "this file may not be read by you".to_owned(),
        io::ErrorKind::FileTooLarge => "this file is larger than 256 MB; take the file of one station".to_owned(),
        _ => format!("it could not be read: {why}"),
    }
}

/// # Errors
/// As [`read_weather`], or the disk's.
pub fn load_weather(disk: &dyn Disk, path: &Path, ask: &WeatherAsk) -> Result<Record, WeatherError> {
    let bytes = disk.read(path, LARGEST).map_err(|why| WeatherError {
        path: path.to_owned(),
        at: None,
        kind: WeatherErrorKind::Read(why),
    })?;
    read_weather(&bytes, path, ask)
}

/// The record in a file's bytes; `path` only names it in errors.
///
/// # Errors
/// Says what is wrong, and in which line and column.
pub fn read_weather(bytes: &[u8], path: &Path, ask: &WeatherAsk) -> Result<Record, WeatherError> {
    of_bytes(bytes, ask).map_err(|(at, kind)| WeatherError { path: path.to_owned(), at, kind })
}

type Fault = (Option<LineCol>, WeatherErrorKind);

fn of_bytes(bytes: &[u8], ask: &WeatherAsk) -> Result<Record, Fault> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|why| {
        let good = bytes.get(..why.valid_up_to()).unwrap_or_default();
        let good = String::from_utf8_lossy(good);
        let line = 1 + good.matches('\n').count();
        let col = 1 + good.rsplit('\n').next().unwrap_or_default().chars().count();
        (Some(LineCol { line, col }), WeatherErrorKind::NotText)
    })?;
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

/// A field of a row in the text; in what follows a fixed width, the row begins with it.
#[derive(Clone, Copy, Debug)]
struct Field {
    /// The first byte of its row, or of the empty lines before it.
    row: usize,
    number: usize,
}

/// One low as written.
#[derive(Clone, Copy, Debug)]
struct Reading {
    at: Field,
    number: f64,
}

/// What a file's rows have told so far.
struct Readings<'a> {
    text: &'a str,
    delimiter: char,
    asked: Option<&'a str>,
    /// The one whose rows are taken.
    taken: Option<String>,
    stations: BTreeSet<String>,
    name: String,
    latitude: Option<f64>,
    lows: BTreeMap<NaiveDate, Reading>,
    /// A number was written with decimals.
    decimals: bool,
    /// What the layout or the header says.
    unit: Option<(WeatherUnit, UnitKnown)>,
    flagged: usize,
    missing: usize,
    repeated: usize,
}

impl<'a> Readings<'a> {
    const fn new(text: &'a str, asked: Option<&'a str>) -> Self {
        Self {
            text,
            delimiter: ',',
            asked,
            taken: None,
            stations: BTreeSet::new(),
            name: String::new(),
            latitude: None,
            lows: BTreeMap::new(),
            decimals: false,
            unit: None,
            flagged: 0,
            missing: 0,
            repeated: 0,
        }
    }

    /// Whether the rows of this station are to be taken.
    fn takes(&mut self, station: &str) -> bool {
        if !self.stations.contains(station) {
            self.stations.insert(station.to_owned());
        }
        if self.taken.is_none() && self.asked.is_none_or(|asked| asked.eq_ignore_ascii_case(station)) {
            self.taken = Some(station.to_owned());
        }
        self.taken.as_deref() == Some(station)
    }

    /// The line of a field and its column in characters. Walks the text: for complaints alone.
    fn at(&self, field: Field) -> LineCol {
        let rest = self.text.get(field.row..).unwrap_or_default();
        let start = field.row + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        let before = self.text.get(..start).unwrap_or_default();
        let mut line = 1 + before.matches('\n').count();
        let mut col = 1 + before.rsplit('\n').next().unwrap_or_default().chars().count();
        let (mut fields, mut quoted) = (0, false);
        for c in self.text.get(start..).unwrap_or_default().chars() {
            if fields == field.number {
                break;
            }
            match c {
                '"' => quoted = !quoted,
                '\n' => (line, col) = (line + 1, 0),
                c if !quoted && c == self.delimiter => fields += 1,
                _ => {}
            }
            col += 1;
        }
        LineCol { line, col }
    }

    fn wrong(&self, field: Field, kind: WeatherErrorKind) -> Fault {
        (Some(self.at(field)), kind)
    }

    fn put(&mut self, at: Field, date: NaiveDate, number: f64) -> Result<(), Fault> {
        if !YEARS.contains(&date.year()) {
            return Err(self.wrong(at, WeatherErrorKind::Year(date.year())));
        }
        match self.lows.insert(date, Reading { at, number }) {
            None => Ok(()),
            #[expect(clippy::float_cmp, reason = "the same text read twice")]
            Some(before) if before.number == number => {
                self.repeated += 1;
                Ok(())
            }
            Some(Reading { at: first, number: before }) => {
                let line = self.at(first).line;
                Err(self.wrong(at, WeatherErrorKind::Twice { date, before, found: number, line }))
            }
        }
    }

    fn which_unit(&self) -> WeatherErrorKind {
        let (least, most) = unit::ends(&self.lows);
        WeatherErrorKind::WhichUnit { least, most }
    }

    fn record(self, unit: Option<WeatherUnit>) -> Result<Record, Fault> {
        let listed = || {
            let all: Vec<&str> = self.stations.iter().take(LISTED).map(String::as_str).collect();
            format!("{}{}", all.join(", "), if self.stations.len() > LISTED { " …" } else { "" })
        };
        if let (Some(asked), None) = (self.asked, &self.taken) {
            let kind = WeatherErrorKind::NoSuchStation { asked: asked.to_owned(), listed: listed() };
            return Err((None, kind));
        }
        if self.asked.is_none() && self.stations.len() > 1 {
            let kind = WeatherErrorKind::SeveralStations { number: self.stations.len(), listed: listed() };
            return Err((None, kind));
        }
        if self.lows.is_empty() {
            let why = match (self.flagged, self.missing) {
                (0, 0) => "no row has one".to_owned(),
                (flagged, missing) => format!("{missing} are missing and {flagged} failed a quality check"),
            };
            return Err((None, WeatherErrorKind::NoLows(why)));
        }
        let by_numbers = unit::found(&self.lows, self.decimals);
        let (unit, unit_known) = match (unit, self.unit) {
            (Some(said), Some((known, _))) if said != known => {
                return Err((None, WeatherErrorKind::OtherUnit { said, known }));
            }
            (_, Some(known)) => known,
            (Some(said), None) => (said, UnitKnown::Said),
            (None, None) => (by_numbers.ok_or_else(|| (None, self.which_unit()))?, UnitKnown::Numbers),
        };
        let looks_like = by_numbers.filter(|other| *other != unit);
        let mut lows = BTreeMap::new();
        for (date, Reading { at, number }) in &self.lows {
            let tenths = unit.tenths(*number).round();
            if !POSSIBLE.contains(&tenths) {
                return Err(self.wrong(*at, WeatherErrorKind::Impossible { found: *number, unit }));
            }
            lows.insert(*date, tenths as i16);
        }
        Ok(Record {
            station: self.taken.unwrap_or_default(),
            name: self.name,
            latitude: self.latitude,
            lows,
            unit,
            unit_known,
            looks_like,
            flagged: self.flagged,
            missing: self.missing,
            repeated: self.repeated,
        })
    }
}

/// A number without exponent, with point or comma.
fn number(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || b"+-.,".contains(&byte));
    if !plain || text.len() > 20 { None } else { text.replace(',', ".").parse().ok() }
}

/// −9999 says that there is no reading, in whatever unit.
fn is_missing(number: f64) -> bool {
    (number + 9999.0).abs() < 0.5
}
