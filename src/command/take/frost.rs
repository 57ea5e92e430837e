//! `take --weather` and `take --frost-table`: the last frost of a station, or of a typed table.

use std::path::Path;

use chrono::NaiveDate;
use serde::Serialize;

use crate::forecast::{self, Kept, Moved};
use crate::season::{Frost, FrostChance, Op, Season, Settings};
use crate::store::{self, Document, RealDisk, Record, RecordFrost, WeatherAsk, frost_of_record, read_frost_bytes};
use crate::trade::{FrostWish, Half, frost_from_table, with_risk};
use crate::units::LengthUnit;
use crate::words::{self, Words, commands};

use super::super::opened::Opened;
use super::super::output::IsoDay;
use super::super::report::{Exit, Failure, Report, bullet, frost_line};
use super::super::table::{Align, Table};
use super::super::{Take, output};

#[derive(Serialize)]
struct FrostTaken<'a> {
    season: &'a str,
    frost: FrostRow<'a>,
    record: Option<RecordRow<'a>>,
    moved: Vec<MovedRow>,
    stayed: Vec<StayedRow>,
}

#[derive(Serialize)]
struct MovedRow {
    sowing: String,
    from: IsoDay,
    to: IsoDay,
    text: String,
}

#[derive(Serialize)]
struct StayedRow {
    sowing: String,
    date: IsoDay,
    text: String,
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
    odd: Vec<String>,
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
    found: RecordFrost,
}

pub(super) fn of_record(args: &Take, path: &Path, output: &Path) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let near = near(args, &opened.season)?;
    let ask = WeatherAsk { unit: args.unit, station: args.station.clone() };
    let record = store::load_weather(&RealDisk, path, &ask).map_err(|why| Failure::Bad(why.to_string()))?;
    let (at, later_in_ten, method) = (args.at.clone(), args.later_in_ten, args.method);
    let wish = FrostWish { at, later_in_ten, method, near };
    let found = frost_of_record(&record, path, &wish);
    let found = found.map_err(|why| Failure::Bad(commands::of_file(path, why)))?;
    finish(args, output, opened, found.frost.clone(), Some(&Told { record, found }))
}

pub(super) fn of_table(args: &Take, path: &Path, output: &Path) -> Result<Report, Failure> {
    let Some(sense) = args.sense else {
        return Err(Failure::Bad(commands::SAY_THE_SENSE.to_owned()));
    };
    let opened = Opened::load(&args.file)?;
    let near = near(args, &opened.season)?;
    let failed = |why: String| Failure::Bad(commands::of_file(path, why));
    let bytes = Document::FrostTable.read(&RealDisk, path).map_err(|why| failed(why.to_string()))?;
    let table = read_frost_bytes(&bytes, sense, near).map_err(|why| match why.at {
        Some(_) => Failure::Bad(commands::of_line(path, why)),
        None => failed(why.to_string()),
    })?;
    let frost = frost_from_table(table, &args.at, args.later_in_ten).map_err(|why| failed(why.to_string()))?;
    let station = args.station.clone().unwrap_or_default();
    finish(args, output, opened, Frost { station, ..frost }, None)
}

/// A day of the season whose last frost is meant.
fn near(args: &Take, season: &Season) -> Result<NaiveDate, Failure> {
    let middle = |year| NaiveDate::from_ymd_opt(year, 7, 1);
    args.year
        .and_then(middle)
        .or_else(|| forecast::frost_near(season))
        .ok_or_else(|| Failure::Bad(commands::SAY_THE_YEAR.to_owned()))
}

fn finish(args: &Take, output: &Path, opened: Opened, frost: Frost, told: Option<&Told>) -> Result<Report, Failure> {
    let Opened { mut season, library, forecast: before, unit } = opened;
    let settings = Settings { frost: Some(frost), ..season.settings().clone() };
    season.apply(&Op::SetSettings(settings).into())?;
    let after = forecast::forecast(&season, library);
    store::save(output, &season)?;
    let words = Words { season: &season, library, forecast: &after, unit };
    let difference = forecast::dates_moved(&before, &after);
    let Some(frost) = season.settings().frost.as_ref() else {
        return Err(Failure::Bad(commands::FROST_NOT_KEPT.to_owned()));
    };
    let text = if args.json {
        let record = told.map(Told::row);
        let moved = difference.moved.iter().map(|moved| MovedRow::new(moved, &words)).collect();
        let stayed = difference.kept.iter().map(|kept| StayedRow::new(kept, &words)).collect();
        output::json(&FrostTaken { season: season.name(), frost: frost_row(frost, words.unit), record, moved, stayed })?
    } else {
        let mut text = format!("{}\n{}\n", season.name(), frost_line(&words));
        text.push_str(&dates(frost));
        text.extend(told.map(Told::text));
        let lines = words.moved_and_kept(&difference);
        if !lines.is_empty() {
            text.extend(["\n", commands::WHAT_MOVED, "\n"]);
            text.extend(lines.iter().map(|line| bullet(line)));
        }
        text.extend([format!("\n{}\n{}\n", words::frost_cautions(words.unit), commands::saved_as(output))]);
        text
    };
    Ok(Report { text, exit: Exit::Good })
}

impl MovedRow {
    fn new(moved: &Moved, words: &Words<'_>) -> Self {
        let (from, to) = (IsoDay(moved.from), IsoDay(moved.to));
        Self { sowing: words.sowing(moved.sowing), from, to, text: words.moved(moved) }
    }
}

impl StayedRow {
    fn new(kept: &Kept, words: &Words<'_>) -> Self {
        Self { sowing: words.sowing(kept.sowing), date: IsoDay(kept.date), text: words.kept(kept) }
    }
}

fn frost_row(frost: &Frost, unit: LengthUnit) -> FrostRow<'_> {
    FrostRow {
        date: IsoDay(frost.date),
        later_in_ten: frost.later_in_ten,
        temperature: frost.temperature.typed(),
        station: &frost.station,
        years: &frost.years,
        springs: frost.springs,
        weak: frost.is_weak(),
        method: words::commands::method(frost.method),
        text: words::last_frost(frost, unit),
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
    let mut table =
        Table::new(commands::heads_of_frost_dates(risks), [Align::Left, Align::Right, Align::Right, Align::Right]);
    let mut temperatures: Vec<_> = frost.table.iter().map(|one| &one.temperature).collect();
    temperatures.sort_by_key(|one| std::cmp::Reverse(one.value()));
    temperatures.dedup_by_key(|one| one.value());
    for temperature in temperatures {
        let mut cells = vec![words::both_scales(temperature)];
        cells.extend(risks.map(|later_in_ten| {
            // the record has all chances it can have; a typed table may have two with more between
            with_risk(frost, temperature, later_in_ten)
                .map_or_else(|_| commands::NO_DATE.to_owned(), |one| words::day(one.date))
        }));
        table.row(cells);
    }
    table.text()
}

impl Told {
    fn row(&self) -> RecordRow<'_> {
        let Self { record, found } = self;
        let refused = found.refused.iter().map(|one| RefusedRow {
            spring: one.year,
            missing: one.missing,
            text: words::refused_spring(one),
        });
        RecordRow {
            station: &record.station,
            name: &record.name,
            unit: record.unit.to_string(),
            southern: found.half == Half::South,
            flagged: record.flagged,
            missing: record.missing,
            refused: refused.collect(),
            odd: found.odd.iter().map(ToString::to_string).collect(),
        }
    }

    fn text(&self) -> String {
        let RecordFrost { half, refused, odd, .. } = &self.found;
        let mut text = "\n".to_owned();
        text.extend(odd.iter().map(|odd| format!("{odd}\n")));
        if *half == Half::South {
            text.extend([words::frost::SOUTHERN, "\n"]);
        }
        if !refused.is_empty() {
            text.extend(["\n", commands::SPRINGS_NOT_USED, "\n"]);
            text.extend(refused.iter().map(|one| bullet(&words::refused_spring(one))));
        }
        text
    }
}
