use std::collections::BTreeMap;
use std::path::Path;

use chrono::NaiveDate;

use crate::season::{Container, Crop, Edit, EditLabel, Frost, Library, Op, Season, Sowing, SowingId};
use crate::store::{Disk, Document, LineCol};
use crate::trade;

use super::cells;
use super::columns::{Assigned, Column, Columns, Heading};
use super::error::{MOST_COLUMNS, MOST_ROWS, NotLoaded, TableError};
use super::row::{Odd, Reading, Row};

/// What the grower says of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wish {
    pub columns: Vec<Assigned>,
    /// Rows off their rule that are to keep to it: by line, the weeks, one of those that [`OddKind::OffRule`](super::OddKind::OffRule) names.
    pub weeks: BTreeMap<u64, i16>,
}

/// A table as it was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Heading and what it was taken for; `None` for a column that was not used.
    pub columns: Vec<(String, Option<Column>)>,
    pub rows: Vec<Row>,
    /// By line.
    pub odd: Vec<Odd>,
}

/// The bytes of a table's file.
///
/// # Errors
/// The disk's, by the name of the file.
pub fn load(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, NotLoaded> {
    Document::Sowings.read(disk, path).map_err(|why| NotLoaded { path: path.to_owned(), why })
}

/// The columns of the table, and what each is taken for if nobody says otherwise.
///
/// # Errors
/// Where no table is there.
pub fn headings(bytes: &[u8]) -> Result<Vec<Heading>, TableError> {
    let mut reader = reader(text(bytes)?);
    let texts = texts(&mut reader)?;
    let first = reader.records().next().and_then(Result::ok).unwrap_or_default(); // reading the rows says what is wrong
    let cell = |place| first.get(place).unwrap_or_default().trim().to_owned();
    let heading = |(place, text): (usize, String)| Heading { means: Column::meant_by(&text), first: cell(place), text };
    Ok(texts.into_iter().enumerate().map(heading).collect())
}

fn text(bytes: &[u8]) -> Result<&str, TableError> {
    let text =
        std::str::from_utf8(bytes).map_err(|why| TableError::NotText(LineCol::of_byte(bytes, why.valid_up_to())))?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() { Err(TableError::Empty) } else { Ok(text) }
}

fn reader(text: &str) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new().delimiter(cells::delimiter(text)).flexible(true).from_reader(text.as_bytes())
}

fn broken(why: &csv::Error) -> TableError {
    TableError::Broken { line: why.position().map_or(1, csv::Position::line), why: why.to_string() }
}

fn texts(reader: &mut csv::Reader<&[u8]>) -> Result<Vec<String>, TableError> {
    let headings = reader.headers().map_err(|why| broken(&why))?;
    if headings.len() > MOST_COLUMNS {
        return Err(TableError::TooWide);
    }
    Ok(headings.iter().map(|cell| cell.trim().to_owned()).collect())
}

/// The reader starts a row where the one before ended, at the empty lines between them.
fn line(text: &str, start: &csv::Position) -> u64 {
    let rest = usize::try_from(start.byte()).ok().and_then(|byte| text.as_bytes().get(byte..)).unwrap_or_default();
    let empty = rest.iter().take_while(|byte| matches!(byte, b'\r' | b'\n')).filter(|byte| **byte == b'\n').count();
    start.line() + empty as u64
}

/// Reads the table. Columns are found by their headings, or as the grower says; days without a year lie
/// in the season's own.
///
/// # Errors
/// Where no table is there, or none of its rows can be read; a row that can't is left out and told.
pub fn read(bytes: &[u8], wish: &Wish, season: &Season, library: &Library) -> Result<Table, TableError> {
    let text = text(bytes)?;
    let mut reader = reader(text);
    let headings = texts(&mut reader)?;
    let columns = Columns::find(&headings, &wish.columns)?;
    let near = near(season);
    let crops: Vec<&Crop> = season.crops(library).collect();
    let containers: Vec<&Container> = season.containers(library).collect();
    let mut table = Table { columns: columns.named(&headings), rows: Vec::new(), odd: Vec::new() };
    let mut number = 0_usize;
    for record in reader.records() {
        let record = record.map_err(|why| broken(&why))?;
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        number += 1;
        if number > MOST_ROWS {
            return Err(TableError::TooLong);
        }
        let line = record.position().map_or(0, |start| line(text, start));
        let kept_to = wish.weeks.get(&line).copied();
        let read = Reading {
            line,
            record: &record,
            columns: &columns,
            crops: &crops,
            containers: &containers,
            near,
            season,
            kept_to,
        };
        table.rows.extend(read.row(&mut table.odd));
    }
    match (table.rows.is_empty(), table.odd.first()) {
        (true, Some(first)) => Err(TableError::NoRows { first: first.to_string() }),
        (true, None) => Err(TableError::HeadingsOnly),
        _ => Ok(table),
    }
}

/// Days without a year are looked for from here on: eight months before the frost or the first day out,
/// so that a season that crosses New Year stays one.
fn near(season: &Season) -> Option<NaiveDate> {
    let frost = season.settings().frost.as_ref().map(Frost::even);
    let out = season.sowings().filter_map(Sowing::out).min();
    frost.or(out)?.checked_sub_months(chrono::Months::new(8))
}

impl Table {
    /// The rows as sowings of that season, each in the chain of containers that its crop usually goes
    /// through, from the one that the table names.
    pub fn edit(&self, season: &Season, library: &Library) -> Edit {
        let mut next = season.next_id();
        let mut ops = Vec::new();
        for row in &self.rows {
            let Some(crop) = season.crop(library, &row.crop) else { continue };
            let sown_in = row.sown_in.as_ref().and_then(|key| season.container(library, key));
            let steps = match sown_in {
                Some(container) => trade::chain_in(crop, container, row.days(), library),
                None => trade::chain_for(crop, row.days(), library),
            };
            let sowing = row.sowing(steps).renumbered(next);
            next = numbers_after(&sowing, next);
            ops.push(Op::PutSowing(sowing));
        }
        Edit::new(EditLabel::TakeIn(ops.len()), ops)
    }
}

fn numbers_after(sowing: &Sowing, next: u32) -> u32 {
    let SowingId(id) = sowing.id;
    let steps = sowing.steps.iter().map(|step| step.id.0);
    let lots = sowing.lots.iter().map(|lot| lot.id.0);
    steps.chain(lots).chain([id]).max().map_or(next, |id| id.saturating_add(1))
}
