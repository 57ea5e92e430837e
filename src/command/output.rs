//! Files that a command writes, whole or not at all.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use serde::{Serialize, Serializer};

use crate::words::commands;

use super::report::Failure;

/// `2027-04-14`.
pub(super) struct IsoDay(pub(super) NaiveDate);

impl Serialize for IsoDay {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// The answer as JSON, ending with a line break.
pub(super) fn json(answer: &impl Serialize) -> Result<String, Failure> {
    let mut text = serde_json::to_string_pretty(answer)?;
    text.push('\n');
    Ok(text)
}

/// # Errors
/// Names the endings that work where `path` has another.
pub(super) fn known_ending(path: &Path, what: &str, endings: &[&str]) -> Result<(), Failure> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    if ending.as_deref().is_some_and(|ending| endings.contains(&ending)) {
        return Ok(());
    }
    Err(Failure::Bad(commands::wrong_ending(path, what, endings)))
}

/// Writes beside the file and renames, so that a crash or a full disk leaves the old one whole.
pub(super) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |why: &io::Error| Failure::Bad(commands::of_file(path, why));
    // A rename would put a file in the place of what is meant here.
    let path = match fs::canonicalize(path) {
        Ok(real) if real.is_file() => real,
        Ok(_) => return Err(Failure::Bad(commands::of_file(path, commands::NOT_A_FILE))),
        Err(_) => path.to_owned(),
    };
    let (beside, file) = create_beside(&path).map_err(|why| failed(&why))?;
    let written = fill(file, bytes).and_then(|()| fs::rename(&beside, &path));
    written.map_err(|why| {
        fs::remove_file(&beside).ok(); // the first fault is the one to tell
        failed(&why)
    })
}

fn create_beside(path: &Path) -> io::Result<(PathBuf, File)> {
    let name = path.file_name().ok_or_else(|| io::Error::other(commands::NOT_A_FILE_NAME))?;
    for attempt in 0..100_u32 {
        let mut beside = std::ffi::OsString::from(".");
        beside.push(name);
        beside.push(format!(".{}-{attempt}.part", std::process::id()));
        let beside = path.with_file_name(beside);
        match File::create_new(&beside) {
            Ok(file) => return Ok((beside, file)),
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {}
            Err(why) => return Err(why),
        }
    }
    Err(io::Error::other(commands::TOO_MANY_UNFINISHED))
}

fn fill(mut file: File, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.sync_all()
}
