//! From a file's bytes to a season, by whichever version they are in.

use std::path::Path;

use ron::error::SpannedError;
use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::season::{Library, Season};
use crate::store::library::LineCol;

use super::build::{Refused, Where, build};
use super::error::{FileError, FileErrorKind, Instead};
use super::format::{FORMAT, VERSION, options};
use super::locate;
use super::slip::Slip;
use super::v1::SeasonV1;
use super::v2::SeasonV2;

/// What every version has in common.
#[derive(Default, Deserialize)]
#[serde(default, rename = "season")]
struct Header {
    format: Option<String>,
    version: Option<u32>,
}

/// The season in a file's bytes; `path` only names it in errors.
pub(in crate::store) fn read(bytes: &[u8], path: &Path, library: &Library) -> Result<Season, FileError> {
    let refused = |at, kind| FileError { path: path.to_owned(), at, kind };
    let from = |(at, kind)| refused(at, kind);
    let text = decode(bytes).map_err(from)?;
    let file = match version(text).map_err(from)? {
        1 => SeasonV2::from(parse::<SeasonV1>(text).map_err(from)?),
        2 => parse::<SeasonV2>(text).map_err(from)?,
        found if found > VERSION => return Err(refused(None, FileErrorKind::TooNew { found })),
        found => return Err(refused(None, FileErrorKind::NoSuchVersion { found })),
    };
    build(file, library).map_err(|Refused { at, kind }| {
        let at = match at {
            Where::Entry(list, index) => locate::entry(text, list, index),
            Where::Field(path) => locate::field(text, path),
        };
        refused(at, kind)
    })
}

fn decode(bytes: &[u8]) -> Result<&str, (Option<LineCol>, FileErrorKind)> {
    let found = |found| (None, FileErrorKind::NotASeason { found });
    // What a power cut can leave behind where something else wrote the file.
    if bytes.iter().all(|&byte| byte == 0) {
        return Err(found(if bytes.is_empty() { Instead::Nothing } else { Instead::Zeros }));
    }
    // An editor's byte order mark is no part of the text.
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if text.trim().is_empty() => Err(found(Instead::Nothing)),
        Ok(text) => Ok(text),
        Err(why) => {
            let at = LineCol::of_byte(bytes, why.valid_up_to());
            Err((Some(at), FileErrorKind::NotASeason { found: Instead::NoText }))
        }
    }
}

fn version(text: &str) -> Result<u32, (Option<LineCol>, FileErrorKind)> {
    let not_a_season = |found| (None, FileErrorKind::NotASeason { found });
    let header = match parse::<Header>(text) {
        Ok(header) => header,
        Err(_) if !text.contains(FORMAT) => return Err(not_a_season(Instead::SomethingElse)),
        Err(why) => return Err(why),
    };
    match header {
        Header { format: Some(format), version: Some(version) } if format == FORMAT => Ok(version),
        Header { format: Some(format), version: None } if format == FORMAT => Err((None, FileErrorKind::NoVersion)),
        Header { format: Some(format), .. } => Err(not_a_season(Instead::Format(format))),
        Header { format: None, .. } => Err(not_a_season(Instead::NoFormat)),
    }
}

fn parse<T: DeserializeOwned>(text: &str) -> Result<T, (Option<LineCol>, FileErrorKind)> {
    options().from_str(text).map_err(|SpannedError { code, span }| {
        let at = LineCol { line: span.start.line, col: span.start.col };
        let end = LineCol::of_byte(text.as_bytes(), text.trim_end().len());
        let is_cut = (span.end.line, span.end.col) >= (end.line, end.col);
        let (at, slip) = if is_cut { (end, Slip::CutOff) } else { (at, Slip::from(&code)) };
        (Some(at), FileErrorKind::Syntax(Box::new(slip)))
    })
}
