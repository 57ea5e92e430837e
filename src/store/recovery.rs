//! Offers unsaved work again that a crash left beside the file.

use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::season::{Difference, Library, Season, differences};

use super::autosave::{ENDING, Home, UNSAVED};
use super::disk::Disk;
use super::document::Document;
use super::file::{FileError, FileErrorKind};
use super::save::load_from;

/// Unsaved work, newer than its file and not the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Recovery {
    pub season: Season,
    /// The autosave it was read from.
    pub file: PathBuf,
    pub modified: SystemTime,
    /// Against the file; against an empty season where that is missing or cannot be read.
    pub differs: Vec<Difference>,
}

/// The unsaved work beside `path`, if there is any.
///
/// # Errors
/// There is some, but it cannot be read.
pub fn recovery(disk: &dyn Disk, path: &Path, library: &Library) -> Result<Option<Recovery>, FileError> {
    let home = Home::Beside(path.to_owned());
    let file =
        home.file(disk).map_err(|why| FileError::new(path, FileErrorKind::Read(Document::Season.unread(&why))))?;
    let Some(modified) = time(disk, &file)? else { return Ok(None) };
    // Times are coarse on some disks: when in doubt, offer it.
    if time(disk, path)?.is_some_and(|saved| saved > modified) {
        return Ok(None);
    }
    let season = load_from(disk, &file, library)?;
    let saved = load_from(disk, path, library).unwrap_or_else(|_| Season::new(""));
    let differs = differences(&saved, &season);
    Ok((!differs.is_empty()).then_some(Recovery { season, file, modified, differs }))
}

/// Unsaved work in the folder for seasons that were never saved, oldest first.
///
/// # Errors
/// There is some, but it cannot be read.
pub fn unsaved(disk: &dyn Disk, folder: &Path, library: &Library) -> Result<Vec<Recovery>, FileError> {
    let files = match disk.list(folder) {
        Ok(files) => files,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(FileError::new(folder, FileErrorKind::Read(Document::Season.unread(&why)))),
    };
    let is_one = |file: &PathBuf| {
        let name = file.file_name().and_then(|name| name.to_str());
        name.is_some_and(|name| name.starts_with(UNSAVED) && name.ends_with(ENDING))
    };
    let mut found = Vec::new();
    for file in files.into_iter().filter(is_one) {
        let Some(modified) = time(disk, &file)? else { continue };
        let season = load_from(disk, &file, library)?;
        let differs = differences(&Season::new(""), &season);
        found.push(Recovery { season, file, modified, differs });
    }
    found.sort_by(|a, b| (a.modified, &a.file).cmp(&(b.modified, &b.file)));
    Ok(found)
}

/// Takes the autosave away: it was taken up, or is not wanted.
///
/// # Errors
/// It is still there.
pub fn discard(disk: &dyn Disk, recovery: &Recovery) -> Result<(), FileError> {
    match disk.remove(&recovery.file) {
        Err(why) if why.kind() != io::ErrorKind::NotFound => {
            Err(FileError::new(&recovery.file, FileErrorKind::Write(why)))
        }
        _ => Ok(()),
    }
}

fn time(disk: &dyn Disk, path: &Path) -> Result<Option<SystemTime>, FileError> {
    match disk.modified(path) {
        Ok(time) => Ok(Some(time)),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(why) => Err(FileError::new(path, FileErrorKind::Read(Document::Season.unread(&why)))),
    }
}
