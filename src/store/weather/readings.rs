use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike as _, NaiveDate};

use crate::store::LineCol;
use crate::units::one_line;

use super::error::{Fault, WeatherErrorKind};
use super::reading::{Field, Reading};
use super::record::Record;
use super::unit::{self, UnitKnown, WeatherUnit};

/// Stations that a complaint lists.
const LISTED: usize = 5;
/// The coldest and the warmest night that a reading may tell of, in tenths of a degree Celsius: a
/// little beyond any on record (−89.2 °C at Vostok; warmest lows about 44 °C, from memory).
const POSSIBLE: std::ops::RangeInclusive<f64> = -950.0..=500.0;
/// Instruments are not older.
const YEARS: std::ops::RangeInclusive<i32> = 1650..=2200;

/// What a file's rows have told so far.
pub(super) struct Readings<'a> {
    pub(super) text: &'a str,
    pub(super) delimiter: char,
    pub(super) asked: Option<&'a str>,
    /// The one whose rows are taken.
    pub(super) taken: Option<String>,
    pub(super) stations: BTreeSet<String>,
    pub(super) name: String,
    pub(super) latitude: Option<f64>,
    pub(super) lows: BTreeMap<NaiveDate, Reading>,
    /// A number was written with decimals.
    pub(super) decimals: bool,
    /// What the layout or the header says.
    pub(super) unit: Option<(WeatherUnit, UnitKnown)>,
    pub(super) flagged: usize,
    pub(super) missing: usize,
    pub(super) repeated: usize,
}

impl<'a> Readings<'a> {
    pub(super) const fn new(text: &'a str, asked: Option<&'a str>) -> Self {
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
    pub(super) fn takes(&mut self, station: &str) -> bool {
        if !self.stations.contains(station) {
            self.stations.insert(station.to_owned());
        }
        if self.taken.is_none() && self.asked.is_none_or(|asked| asked.eq_ignore_ascii_case(station)) {
            self.taken = Some(station.to_owned());
        }
        self.taken.as_deref() == Some(station)
    }

    /// The line of a field and its column in characters. Walks the text: for complaints alone.
    pub(super) fn at(&self, field: Field) -> LineCol {
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

    pub(super) fn wrong(&self, field: Field, kind: WeatherErrorKind) -> Fault {
        (Some(self.at(field)), kind)
    }

    pub(super) fn put(&mut self, at: Field, date: NaiveDate, number: f64) -> Result<(), Fault> {
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

    pub(super) fn which_unit(&self) -> WeatherErrorKind {
        let (least, most) = unit::ends(&self.lows);
        WeatherErrorKind::WhichUnit { least, most }
    }

    pub(super) fn record(self, unit: Option<WeatherUnit>) -> Result<Record, Fault> {
        let listed = || {
            let all: Vec<_> = self.stations.iter().take(LISTED).map(|station| one_line(station)).collect();
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
            let kind = match (self.flagged, self.missing) {
                (0, 0) => WeatherErrorKind::NoLows,
                (flagged, missing) => WeatherErrorKind::NoGoodLows { missing, flagged },
            };
            return Err((None, kind));
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
