//! Season files: RON that a person can read, edit and compare line by line.
//!
//! Reading takes two passes. The header says which version the rest is in; then that version's own
//! structs read it, refusing what they do not know, and the season is built through the same edits
//! as everything else. What a season has not, its file does not say. Reading and writing again
//! gives the same text, but comments in a file are lost when the program saves it.
//!
//! Knows nothing of disks: text in, text out.

mod build;
mod check;
mod enums;
mod error;
mod from_v1;
mod layout;
mod locate;
mod own;
mod say;
mod text;
mod v1;
mod v2;
mod version;
mod write;

use std::path::Path;

use ron::Options;
use ron::error::SpannedError;
use ron::extensions::Extensions;
use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::season::{Library, Season};

use super::library::LineCol;
use build::{Refused, build};
pub use error::{FileError, FileErrorKind};
use layout::lay_out;
use say::say;
use v1::SeasonV1;
use v2::SeasonV2;
use version::{FORMAT, VERSION};

const OPENING: &str =
    "// A season of Flatwright. Safe to edit by hand; comments are not kept when the program saves.\n";

/// What every version has in common.
#[derive(Default, Deserialize)]
#[serde(default, rename = "season")]
struct Header {
    format: Option<String>,
    version: Option<u32>,
}

/// The season in a file's bytes; `path` only names it in errors.
pub(super) fn read(bytes: &[u8], path: &Path, library: &Library) -> Result<Season, FileError> {
    let refused = |at, kind| FileError { path: path.to_owned(), at, kind };
    let text = decode(bytes).map_err(|kind| refused(None, kind))?;
    let from = |(at, kind)| refused(at, kind);
    let file = match version(text).map_err(from)? {
        1 => SeasonV2::from(parse::<SeasonV1>(text).map_err(from)?),
        2 => parse::<SeasonV2>(text).map_err(from)?,
        found if found > VERSION => return Err(refused(None, FileErrorKind::TooNew { found })),
        found => return Err(refused(None, FileErrorKind::NoSuchVersion { found })),
    };
    build(file, library).map_err(|Refused { entry, kind }| {
        let at = entry.and_then(|(list, index)| locate::entry(text, list, index));
        refused(at, kind)
    })
}

/// The season as a file in the newest version.
///
/// # Panics
/// Never: the names of the file's structs are all that could be wrong, and every test writes them.
pub fn to_text(season: &Season) -> String {
    let compact = options().to_string(&SeasonV2::from(season)).expect("every part of a season can be written");
    OPENING.to_owned() + &lay_out(&compact)
}

/// `germination_percent: 85`, not `Some(85)`.
fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

fn decode(bytes: &[u8]) -> Result<&str, FileErrorKind> {
    let found = |found: &str| FileErrorKind::NotASeason { found: found.to_owned() };
    // What a power cut can leave behind where something else wrote the file.
    if bytes.iter().all(|&byte| byte == 0) {
        let words = if bytes.is_empty() { "it is empty" } else { "it holds nothing but zeros" };
        return Err(found(words));
    }
    // An editor's byte order mark is no part of the text.
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if text.trim().is_empty() => Err(found("it is empty")),
        Ok(text) => Ok(text),
        Err(why) => Err(found(&format!("it is not text (UTF-8) after byte {}", why.valid_up_to()))),
    }
}

fn version(text: &str) -> Result<u32, (Option<LineCol>, FileErrorKind)> {
    let not_a_season = |found: String| (None, FileErrorKind::NotASeason { found });
    let header = match parse::<Header>(text) {
        Ok(header) => header,
        Err(_) if !text.contains(FORMAT) => return Err(not_a_season("it says something else".to_owned())),
        Err(why) => return Err(why),
    };
    match header {
        Header { format: Some(format), version: Some(version) } if format == FORMAT => Ok(version),
        Header { format: Some(format), version: None } if format == FORMAT => {
            Err((None, FileErrorKind::Syntax(format!("the season's version is missing; write version: {VERSION}"))))
        }
        Header { format: Some(format), .. } => Err(not_a_season(format!("it says format: {format:?}"))),
        Header { format: None, .. } => Err(not_a_season("it names no format".to_owned())),
    }
}

fn parse<T: DeserializeOwned>(text: &str) -> Result<T, (Option<LineCol>, FileErrorKind)> {
    options().from_str(text).map_err(|SpannedError { code, span }| {
        let at = LineCol { line: span.start.line, col: span.start.col };
        (Some(at), FileErrorKind::Syntax(say(&code)))
    })
}
