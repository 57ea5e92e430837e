//! Reading and saving seasons; the version before stays beside the file as `season.ron~`.

use std::io;
use std::path::{Path, PathBuf};

use crate::season::{Library, Season};

use super::disk::{Disk, RealDisk, Rights};
use super::file::{self, FileError, FileErrorKind};
use super::shipped::library;
use super::write::{Target, replace};

/// Far beyond any season: 50,000 trays with their spots take 5 MB.
const LARGEST: u64 = 64 * 1024 * 1024;

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load(path: &Path) -> Result<Season, FileError> {
    load_from(&RealDisk, path, library())
}

/// Saves, keeping the version before as `season.ron~` beside `season.ron`.
///
/// # Errors
/// The file is as it was.
pub fn save(path: &Path, season: &Season) -> Result<(), FileError> {
    save_to(&RealDisk, path, season)
}

/// The season in a file's text; `path` only names it in errors.
///
/// # Errors
/// Says what is wrong with the text, and in which line.
pub fn parse(text: &str, path: &Path) -> Result<Season, FileError> {
    file::read(text.as_bytes(), path, library())
}

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load_from(disk: &dyn Disk, path: &Path, library: &Library) -> Result<Season, FileError> {
    let bytes = disk.read(path, LARGEST).map_err(|why| FileError::new(path, FileErrorKind::Read(why)))?;
    file::read(&bytes, path, library)
}

/// # Errors
/// The file is as it was.
pub fn save_to(disk: &dyn Disk, path: &Path, season: &Season) -> Result<(), FileError> {
    let text = file::to_text(season);
    save_bytes(disk, path, text.as_bytes()).map_err(|why| FileError::new(path, FileErrorKind::Write(why)))
}

/// Where [`save_to`] keeps the version before: `season.ron~` beside `season.ron`.
pub fn previous_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("~");
    name.into()
}

fn save_bytes(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let target = Target::of(disk, path)?;
    let before = if target.is_there { disk.read(&target.path, LARGEST)? } else { Vec::new() };
    // Saving twice must not push the version before out of its place.
    if target.is_there && before == bytes {
        return Ok(());
    }
    target.put(disk, bytes, || {
        if before.is_empty() {
            return Ok(());
        }
        replace(disk, &previous_of(&target.path), &before, Rights::Of(&target.path))
    })
}

#[cfg(test)]
mod tests;
