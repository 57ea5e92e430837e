//! Reads a table off the window's thread, as often as the grower says something else of it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::thread;

use egui::Context;

use crate::season::{Edit, Library, Season, SowingId};
use crate::store::RealDisk;
use crate::store::sowings::{self, Assigned, Column, Heading, Odd, OddKind, Planned, Which, Wish};
use crate::words;
use crate::words::sowing_table::{self as said, PreviewRow};

/// A file, what the grower says of it, and what is in it.
pub(super) struct TableFile {
    pub(super) path: PathBuf,
    bytes: Arc<[u8]>,
    pub(super) headings: Vec<Heading>,
    /// What each column is taken for, by its place.
    pub(super) taken_for: Vec<Option<Column>>,
    /// The weeks that rows off their rule keep to, by line.
    pub(super) weeks: BTreeMap<u64, i16>,
    pub(super) found: Result<Found, String>,
    /// Of the season that it was read for.
    revision: u64,
}

/// What would be taken in.
pub(super) struct Found {
    pub(super) edit: Edit,
    pub(super) first: SowingId,
    pub(super) lines: Vec<PreviewRow>,
    pub(super) taken: usize,
    /// What wants a decision first, then what is left out, then the rest; each by line.
    pub(super) odd: Vec<Odd>,
}

struct LastRead {
    bytes: Arc<[u8]>,
    headings: Vec<Heading>,
    taken_for: Vec<Option<Column>>,
}

/// Something said of the file, with the season it is read for.
struct Work {
    path: PathBuf,
    /// `None`: still on the disk.
    known: Option<LastRead>,
    weeks: BTreeMap<u64, i16>,
    season: Season,
    library: &'static Library,
    revision: u64,
}

pub(super) struct Reading(Receiver<Result<TableFile, String>>);

impl Reading {
    pub(super) fn of_file(
        path: PathBuf,
        season: &Season,
        library: &'static Library,
        revision: u64,
        ctx: &Context,
    ) -> Result<Self, String> {
        let work = Work { path, known: None, weeks: BTreeMap::new(), season: season.clone(), library, revision };
        Self::start(work, ctx)
    }

    /// The same file once more: something else is said of it, or the season is another.
    pub(super) fn again(
        file: &TableFile,
        season: &Season,
        library: &'static Library,
        revision: u64,
        ctx: &Context,
    ) -> Result<Self, String> {
        let (bytes, headings) = (Arc::clone(&file.bytes), file.headings.clone());
        let known = LastRead { bytes, headings, taken_for: file.taken_for.clone() };
        let (path, weeks) = (file.path.clone(), file.weeks.clone());
        Self::start(Work { path, known: Some(known), weeks, season: season.clone(), library, revision }, ctx)
    }

    fn start(work: Work, ctx: &Context) -> Result<Self, String> {
        let (sender, answer) = sync_channel(1);
        let wake = ctx.clone();
        let run = move || {
            sender.send(work.done()).ok(); // nobody listens once something else was said
            wake.request_repaint();
        };
        match thread::Builder::new().name("sowing_table".to_owned()).spawn(run) {
            Ok(_) => Ok(Self(answer)),
            Err(why) => Err(said::not_read(&why.to_string())),
        }
    }

    /// What was read, once it is.
    pub(super) fn poll(&self) -> Option<Result<TableFile, String>> {
        match self.0.try_recv() {
            Ok(read) => Some(read),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(said::NOT_READ.to_owned())),
        }
    }
}

impl TableFile {
    pub(super) fn is_of(&self, revision: u64) -> bool {
        self.revision == revision
    }
}

impl Work {
    fn done(self) -> Result<TableFile, String> {
        let Self { path, known, weeks, season, library, revision } = self;
        let LastRead { bytes, headings, taken_for } = if let Some(known) = known {
            known
        } else {
            let bytes: Arc<[u8]> = sowings::load(&RealDisk, &path).map_err(|why| why.to_string())?.into();
            let headings = sowings::headings(&bytes).map_err(|why| why.of_file(&path))?;
            let taken_for = headings.iter().map(|heading| heading.means).collect();
            LastRead { bytes, headings, taken_for }
        };
        let assigned =
            |(place, column): (usize, &Option<Column>)| Assigned { column: *column, which: Which::Place(place) };
        let columns = taken_for.iter().enumerate().map(assigned).collect();
        let wish = Wish { columns, weeks };
        let found = found(&bytes, &wish, &season, library, &path);
        Ok(TableFile { path, bytes, headings, taken_for, weeks: wish.weeks, found, revision })
    }
}

fn found(bytes: &[u8], wish: &Wish, season: &Season, library: &Library, path: &Path) -> Result<Found, String> {
    let table = sowings::read(bytes, wish, season, library).map_err(|why| why.of_file(path))?;
    let planned = table.planned(season, library).map_err(|why| words::refusal(&why))?;
    let mut odd_of: BTreeMap<u64, &'static str> = BTreeMap::new();
    for odd in &table.odd {
        let marked = odd_of.entry(odd.line).or_default();
        if marked.is_empty() || rank(odd) == 0 {
            *marked = mark(odd);
        }
    }
    let mut lines: Vec<PreviewRow> = planned.iter().map(|row| line(row, odd_of.get(&row.line).copied())).collect();
    lines.extend(table.odd.iter().filter(|odd| odd.is_left_out()).map(left_out));
    lines.sort_by_key(|line| line.line);
    let (taken, edit) = (planned.len(), table.edit(season, library));
    let mut odd = table.odd;
    odd.sort_by_key(|odd| (rank(odd), odd.line));
    Ok(Found { edit, first: SowingId(season.next_id()), lines, taken, odd })
}

/// What wants the grower first.
const fn rank(odd: &Odd) -> u8 {
    match odd.kind {
        OddKind::OffRule { .. } => 0,
        OddKind::LeftOut(_) => 1,
        OddKind::OffDays { .. } => 2,
        OddKind::NoNumber => 3,
        OddKind::NoContainer { .. } => 4,
    }
}

const fn mark(odd: &Odd) -> &'static str {
    match odd.kind {
        OddKind::LeftOut(_) => said::MARK_LEFT_OUT,
        OddKind::NoNumber => said::MARK_NO_NUMBER,
        OddKind::NoContainer { .. } => said::MARK_NO_CONTAINER,
        OddKind::OffRule { kept_to: None, .. } => said::MARK_OFF_RULE,
        OddKind::OffRule { kept_to: Some(_), .. } => said::MARK_BY_RULE,
        OddKind::OffDays { .. } => said::MARK_OFF_DAYS,
    }
}

fn line(row: &Planned, odd: Option<&'static str>) -> PreviewRow {
    PreviewRow {
        line: row.line,
        number: row.line.to_string(),
        sowing: row.sowing.clone(),
        plants: row.plants.to_string(),
        sow: row.sow.map_or_else(|| "?".to_owned(), words::full_day),
        out: words::full_day(row.out),
        rule: words::out_rule(row.rule),
        odd: odd.unwrap_or_default(),
    }
}

fn left_out(odd: &Odd) -> PreviewRow {
    let none = String::new;
    let sowing = if odd.crop.is_empty() { said::NO_CROP.to_owned() } else { odd.crop.clone() };
    PreviewRow {
        line: odd.line,
        number: odd.line.to_string(),
        sowing,
        plants: none(),
        sow: none(),
        out: none(),
        rule: none(),
        odd: mark(odd),
    }
}
