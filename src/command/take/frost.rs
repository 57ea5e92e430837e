//! `take --weather` and `take --frost-table`: the last frost of a station, or of a typed table.

use std::fs;
use std::path::Path;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::forecast;
use crate::season::{Edit, Frost, FrostChance, Season, Settings};
use crate::store::{self, RealDisk, Record, UnitKnown, WeatherAsk, read_frost_table};
use crate::trade::{
    FrostWish, Half, NoFrostDate, RefusedSpring, frost_from_springs, frost_from_table, springs, with_risk,
};
use crate::words::{self, Words};

use super::super::output::IsoDay;
use super::super::table::{Align, Table};
use super::super::{Exit, Failure, Opened, Report, Take, output};
use super::moved::{self, Moved, Stayed};

/// A frost table has a line a temperature.
const LARGEST_TABLE: u64 = 1_000_000;

#[derive(Serialize)]
struct Answer<'a> {
    season: &'a str,
    frost: FrostRow<'a>,
    record: Option<RecordRow<'a>>,
    moved: Vec<Moved>,
    stayed: Vec<Stayed>,
}

#[derive(Serialize)]
struct FrostRow<'a> {
    date: IsoDay,
    later_in_ten: u8,
    temperature: &'a str,
    station: &'a str,
    years: &'a str,
    springs: Option<u16>,
    weak: bool,
    method: &'static str,
    text: String,
    table: Vec<ChanceRow<'a>>,
}

#[derive(Serialize)]
struct ChanceRow<'a> {
    temperature: &'a str,
    later_in_ten: u8,
    date: IsoDay,
}

#[derive(Serialize)]
struct RecordRow<'a> {
    station: &'a str,
    name: &'a str,
    unit: String,
    southern: bool,
    flagged: usize,
    missing: usize,
    refused: Vec<RefusedRow>,
    odd: &'a [String],
}

#[derive(Serialize)]
struct RefusedRow {
    spring: i32,
    missing: usize,
    text: String,
}

/// What is told of a record beside its dates.
struct Told {
    record: Record,
    half: Half,
    refused: Vec<RefusedSpring>,
    odd: Vec<String>,
}

pub(super) fn of_record(args: &Take, path: &Path) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let near = near(args, &opened.season)?;
    let ask = WeatherAsk { unit: args.unit, station: args.station.clone() };
    let record = store::load_weather(&RealDisk, path, &ask).map_err(|why| Failure::Bad(why.to_string()))?;
    let half = match record.latitude {
        Some(degrees) if degrees < 0.0 => Half::South,
        Some(_) => Half::North,
        None => Half::of_lows(&record.lows).unwrap_or(Half::North),
    };
    let (good, refused) = springs(&record.lows, half);
    let (at, later_in_ten, method) = (args.at.clone(), args.later_in_ten, args.method);
    let wish = FrostWish { at, later_in_ten, method, near };
    let frost = frost_from_springs(&good, half, &wish).map_err(|why| {
        let why = match why {
            NoFrostDate::NoSpring { .. } => NoFrostDate::NoSpring { refused: refused.len() },
            why => why,
        };
        Failure::Bad(format!("{}: {why}", path.display()))
    })?;
    let frost = Frost { station: station(&record, path), ..frost };
    let odd = odd(&record);
    finish(args, opened, frost, Some(&Told { record, half, refused, odd }))
}

pub(super) fn of_table(args: &Take, path: &Path) -> Result<Report, Failure> {
    let Some(sense) = args.sense else {
        let meaning = "later (the chance that a later frost comes) or over (that the last frost is over)";
        return Err(Failure::Bad(format!("say what the chances of the table are: --sense {meaning}")));
    };
    let opened = Opened::load(&args.file)?;
    let near = near(args, &opened.season)?;
    let failed = |why: String| Failure::Bad(format!("{}: {why}", path.display()));
    let length = fs::metadata(path).map_err(|why| failed(why.to_string()))?.len();
    if length > LARGEST_TABLE {
        return Err(failed("this file is too large for a frost table".to_owned()));
    }
    let bytes = fs::read(path).map_err(|why| failed(why.to_string()))?;
    let Ok(text) = String::from_utf8(bytes) else { return Err(failed("this is not UTF-8 text".to_owned())) };
    let table = read_frost_table(&text, sense, near).map_err(|why| match why.at {
        Some(_) => Failure::Bad(format!("{}:{why}", path.display())),
        None => failed(why.to_string()),
    })?;
    let frost = frost_from_table(table, &args.at, args.later_in_ten).map_err(|why| failed(why.to_string()))?;
    let station = args.station.clone().unwrap_or_default();
    finish(args, opened, Frost { station, ..frost }, None)
}

/// A day of the season whose last frost is meant.
fn near(args: &Take, season: &Season) -> Result<NaiveDate, Failure> {
    let middle = |year| NaiveDate::from_ymd_opt(year, 7, 1);
    args.year.and_then(middle).or_else(|| forecast::frost_near(season)).ok_or_else(|| {
        Failure::Bad(
            "this season has no date yet that says which year’s frost is meant; add --year, such as --year 2027".into(),
        )
    })
}

/// The file's name where the record has none.
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
    let mut odd = Vec::new();
    let mut count = |number: usize, what: &str| {
        if number > 0 {
            odd.push(format!("{number} {what}"));
        }
    };
    count(record.flagged, "readings failed a quality check and count as missing");
    count(record.missing, "days are named without a reading");
    count(record.repeated, "days are in the file twice, with the same reading");
    if let Some(other) = record.looks_like {
        odd.push(format!("the numbers look like {other}, not like {}", record.unit));
    }
    odd
}

fn finish(args: &Take, opened: Opened, frost: Frost, told: Option<&Told>) -> Result<Report, Failure> {
    let Opened { mut season, library, forecast: before, unit } = opened;
    let settings = Settings { frost: Some(frost), ..season.settings().clone() };
    season.apply(&Edit::SetSettings(settings))?;
    let after = forecast::forecast(&season, library);
    store::save(&args.output, &season)?;
    let words = Words { season: &season, library, forecast: &after, unit };
    let (moved, stayed) = moved::compare(&before, &words);
    let Some(frost) = season.settings().frost.as_ref() else {
        return Err(Failure::Bad("the season did not keep its last frost".to_owned()));
    };
    let text = if args.json {
        let record = told.map(Told::row);
        output::json(&Answer { season: season.name(), frost: frost_row(frost), record, moved, stayed })?
    } else {
        let mut text = format!("{}\nLast frost {}\n\n", season.name(), words::last_frost(frost));
        text.push_str(&dates(frost));
        text.extend(told.map(Told::text));
        text.push_str(&moved::text(&moved, &stayed));
        text.extend([format!("\n{}\nSaved as {}\n", words::FROST_CAUTIONS, args.output.display())]);
        text
    };
    Ok(Report { text, exit: Exit::Good })
}

fn frost_row(frost: &Frost) -> FrostRow<'_> {
    FrostRow {
        date: IsoDay(frost.date),
        later_in_ten: frost.later_in_ten,
        temperature: frost.temperature.typed(),
        station: &frost.station,
        years: &frost.years,
        springs: frost.springs,
        weak: frost.is_weak(),
        method: words::frost_method(frost.method),
        text: words::last_frost(frost),
        table: frost
            .table
            .iter()
            .map(|FrostChance { temperature, later_in_ten, date }| ChanceRow {
                temperature: temperature.typed(),
                later_in_ten: *later_in_ten,
                date: IsoDay(*date),
            })
            .collect(),
    }
}

/// The dates for 5, 3 and 1 years in 10, at each temperature.
fn dates(frost: &Frost) -> String {
    let risks = [5, 3, 1];
    let heads = risks.map(words::later_frost);
    let mut columns = vec![("nights as cold as", Align::Left)];
    columns.extend(heads.iter().map(|head| (head.as_str(), Align::Right)));
    let mut table = Table::new(&columns);
    let mut temperatures: Vec<_> = frost.table.iter().map(|one| &one.temperature).collect();
    temperatures.sort_by_key(|one| std::cmp::Reverse(one.value()));
    temperatures.dedup_by_key(|one| one.value());
    for temperature in temperatures {
        let mut cells = vec![words::both_scales(temperature)];
        cells.extend(risks.map(|later_in_ten| {
            // the record has all chances it can have; a typed table may have two with more between
            with_risk(frost, temperature, later_in_ten).map_or_else(|_| "none".to_owned(), |one| words::day(one.date))
        }));
        table.row(cells);
    }
    table.text()
}

impl Told {
    fn row(&self) -> RecordRow<'_> {
        RecordRow {
            station: &self.record.station,
            name: &self.record.name,
            unit: self.record.unit.to_string(),
            southern: self.half == Half::South,
            flagged: self.record.flagged,
            missing: self.record.missing,
            refused: self
                .refused
                .iter()
                .map(|one| RefusedRow { spring: one.year, missing: one.missing, text: refused_words(one) })
                .collect(),
            odd: &self.odd,
        }
    }

    fn text(&self) -> String {
        let known = match self.record.unit_known {
            UnitKnown::Said => "as you said",
            UnitKnown::Layout => "as this layout always has them",
            UnitKnown::Header => "as the header says",
            UnitKnown::Numbers => "told by the numbers",
        };
        let mut text = format!("\nLows are in {}, {known}\n", self.record.unit);
        if self.half == Half::South {
            text.push_str("A southern station: its spring runs from 24 July to 23 January\n");
        }
        text.extend(self.odd.iter().map(|odd| format!("{odd}\n")));
        if !self.refused.is_empty() {
            text.push_str("\nSprings not used\n");
            text.extend(self.refused.iter().map(|one| format!("- {}\n", refused_words(one))));
        }
        text
    }
}

/// `2000: 53 days without a reading, 1 May – 31 May the longest run`.
fn refused_words(RefusedSpring { year, missing, longest: (first, last) }: &RefusedSpring) -> String {
    let run = last.checked_add_days(Days::new(1)).and_then(|until| crate::units::DateSpan::new(*first, until).ok());
    let run = run.map_or_else(String::new, |run| format!(", {} the longest run", words::span(run)));
    format!("{year}: {missing} days without a reading{run}")
}
