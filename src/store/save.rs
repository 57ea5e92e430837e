//! Reading and saving so that a crash at any moment leaves the old file or the new one, whole.
//!
//! The text goes to a file beside the target, whose bytes are flushed before it takes the target's
//! name. The version before stays beside as `season.ron~`, made the same way. Where the target is a
//! symbolic link, the file it leads to is saved, and the link stays.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::season::{Library, Season};

use super::disk::{Disk, RealDisk, Unwritable};
use super::document::Document;
use super::file::{self, FileError, FileErrorKind};
use super::shipped::library;

/// Left behind by a crash, not by a program that is saving just now.
const LEFTOVER: Duration = Duration::from_hours(1);

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
    let bytes = Document::Season.read(disk, path).map_err(|why| FileError::new(path, FileErrorKind::Read(why)))?;
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
    let target = disk.resolve(path)?;
    let before = match disk.read(&target, Document::Season.most_bytes()) {
        Ok(before) => Some(before),
        Err(why) if why.kind() == io::ErrorKind::NotFound => None,
        Err(why) => return Err(why),
    };
    match before {
        // Saving twice must not push the version before out of its place.
        Some(before) if before == bytes => return Ok(()),
        Some(_) if disk.is_protected(&target)? => {
            return Err(io::Error::other(Unwritable::Protected));
        }
        Some(before) if !before.is_empty() => {
            let part = write_part(disk, &target, bytes, Some(&target))?;
            let kept = replace(disk, &previous_of(&target), &before, Some(&target));
            finish(disk, &part, &target, kept)?;
        }
        Some(_) => replace(disk, &target, bytes, Some(&target))?,
        None => replace(disk, &target, bytes, None)?,
    }
    sweep(disk, &target);
    Ok(())
}

/// Gives `target` the content `bytes`, or leaves it as it is.
pub(super) fn replace(disk: &dyn Disk, target: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()> {
    let part = write_part(disk, target, bytes, like)?;
    finish(disk, &part, target, Ok(()))
}

/// A flushed file beside `target`.
fn write_part(disk: &dyn Disk, target: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<PathBuf> {
    let part = part_of(target)?;
    let mut written = disk.write_new(&part, bytes, like);
    // Of a program that crashed and had the same number.
    if written.as_ref().is_err_and(|why| why.kind() == io::ErrorKind::AlreadyExists) {
        disk.remove(&part)?;
        written = disk.write_new(&part, bytes, like);
    }
    match written.and_then(|()| disk.sync(&part)) {
        Ok(()) => Ok(part),
        Err(why) => Err(dropped(disk, &part, why)),
    }
}

fn finish(disk: &dyn Disk, part: &Path, target: &Path, so_far: io::Result<()>) -> io::Result<()> {
    so_far.and_then(|()| disk.rename(part, target)).map_err(|why| dropped(disk, part, why))?;
    // The file is whole either way, and not every network drive can do it.
    disk.sync_folder(target.parent().unwrap_or(Path::new(""))).ok();
    Ok(())
}

fn dropped(disk: &dyn Disk, part: &Path, why: io::Error) -> io::Error {
    // The first failure is the one to report; what stays is swept away by a later save.
    disk.remove(part).ok();
    why
}

/// `.season.ron.4711.part` for `season.ron`: two programs never write the same one.
fn part_of(target: &Path) -> io::Result<PathBuf> {
    let name = target.file_name().ok_or(io::ErrorKind::IsADirectory)?;
    let mut part = OsString::from(".");
    part.push(name);
    part.push(format!(".{}.part", std::process::id()));
    Ok(target.with_file_name(part))
}

/// Takes away what crashes left behind; anything that goes wrong here can wait for the next save.
fn sweep(disk: &dyn Disk, target: &Path) {
    let Some(name) = target.file_name().and_then(|name| name.to_str()) else { return };
    let (Ok(saved), Ok(files)) = (disk.modified(target), disk.list(target.parent().unwrap_or(Path::new("")))) else {
        return;
    };
    for file in files {
        let is_part = file.file_name().and_then(|file| file.to_str()).is_some_and(|file| {
            let rest = file.strip_prefix('.').and_then(|file| file.strip_prefix(name));
            let number = rest.and_then(|rest| rest.trim_start_matches('~').strip_prefix('.')?.strip_suffix(".part"));
            number.is_some_and(|number| !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit()))
        });
        let is_old = || {
            let written = disk.modified(&file).ok();
            written.and_then(|written| saved.duration_since(written).ok()).is_some_and(|age| age > LEFTOVER)
        };
        if is_part && is_old() {
            disk.remove(&file).ok();
        }
    }
}

#[cfg(test)]
mod tests;
