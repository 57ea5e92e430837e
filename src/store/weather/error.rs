use std::fmt;
use std::path::PathBuf;

use chrono::NaiveDate;

use crate::store::{LineCol, Unread};
use crate::units::{full_day, path_text};

use super::unit::WeatherUnit;

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
    #[error("{0}")]
    Read(Unread),
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
    #[error("{} is in this file twice, with {before} in line {line} and {found} here", full_day(*.date))]
    Twice { date: NaiveDate, before: f64, found: f64, line: usize },
    #[error("there are {number} stations in this file: {listed}; say which one to take")]
    SeveralStations { number: usize, listed: String },
    #[error("there is no station {asked:?} in this file; it has {listed}")]
    NoSuchStation { asked: String, listed: String },
    #[error("there is no low in this file: no row has one")]
    NoLows,
    #[error("there is no low in this file: {missing} are missing and {flagged} failed a quality check")]
    NoGoodLows { missing: usize, flagged: usize },
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
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", path_text(&self.path), self.kind),
            None => write!(f, "{}: {}", path_text(&self.path), self.kind),
        }
    }
}

/// What is wrong, before the file is named.
pub(super) type Fault = (Option<LineCol>, WeatherErrorKind);
