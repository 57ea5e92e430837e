//! Writing a file so that a crash at any moment leaves the old one or the new one, whole.
//!
//! Everything that the program writes goes through here. The bytes go to a part beside the target
//! and are flushed before it takes the target's name. Where that is a symbolic link, the file it
//! leads to is written, and the link stays. Only files are replaced, never a device or a pipe; mode
//! and owner stay as they were.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::disk::{Disk, RealDisk, Rights, Thing, Unwritable};
use super::file::{FileError, FileErrorKind};

/// Left behind by a crash, not by a program that is saving just now.
const LEFTOVER: Duration = Duration::from_hours(1);

/// Writes a file that is no season: a drawing, a table.
///
/// # Errors
/// The file is as it was.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    write_to(&RealDisk, path, bytes)
}

/// # Errors
/// The file is as it was.
pub fn write_to(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let written = Target::of(disk, path).and_then(|target| target.put(disk, bytes, || Ok(())));
    written.map_err(|why| FileError::new(path, FileErrorKind::Write(why)))
}

/// Where something is going to be written.
#[derive(Debug)]
pub(super) struct Target {
    /// At the end of all links.
    pub(super) path: PathBuf,
    pub(super) is_there: bool,
}

impl Target {
    /// # Errors
    /// What is there is no file; it is not touched.
    pub(super) fn of(disk: &dyn Disk, path: &Path) -> io::Result<Self> {
        let path = disk.resolve(path)?;
        match disk.what(&path)? {
            None => Ok(Self { path, is_there: false }),
            Some(Thing::File) => Ok(Self { path, is_there: true }),
            Some(Thing::Folder) => Err(io::ErrorKind::IsADirectory.into()),
            Some(Thing::Other) => Err(io::Error::other(Unwritable::NoFile)),
        }
    }

    /// Gives it that content, or leaves it as it is. What `first` does comes when the bytes are safe
    /// beside it and before they take its name.
    pub(super) fn put(&self, disk: &dyn Disk, bytes: &[u8], first: impl FnOnce() -> io::Result<()>) -> io::Result<()> {
        if self.is_there {
            disk.may_write(&self.path)?;
        }
        let rights = if self.is_there { Rights::Of(&self.path) } else { Rights::Usual };
        let part = write_part(disk, &self.path, bytes, rights)?;
        finish(disk, &part, &self.path, first())?;
        sweep(disk, &self.path);
        Ok(())
    }
}

/// The same for a file of our own, whatever is there.
pub(super) fn replace(disk: &dyn Disk, target: &Path, bytes: &[u8], rights: Rights<'_>) -> io::Result<()> {
    let part = write_part(disk, target, bytes, rights)?;
    finish(disk, &part, target, Ok(()))
}

/// A flushed file beside `target`.
fn write_part(disk: &dyn Disk, target: &Path, bytes: &[u8], rights: Rights<'_>) -> io::Result<PathBuf> {
    let part = part_of(target)?;
    let mut written = disk.write_new(&part, bytes, rights);
    // Of a program that crashed and had the same number.
    if written.as_ref().is_err_and(|why| why.kind() == io::ErrorKind::AlreadyExists) {
        disk.remove(&part)?;
        written = disk.write_new(&part, bytes, rights);
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
pub(super) fn sweep(disk: &dyn Disk, target: &Path) {
    let Some(name) = target.file_name().and_then(|name| name.to_str()) else { return };
    let (Ok(saved), Ok(files)) = (disk.modified(target), disk.list(target.parent().unwrap_or(Path::new("")))) else {
        return;
    };
    for file in files {
        let is_part = file.file_name().and_then(|file| file.to_str()).is_some_and(|file| {
            let rest = file.strip_prefix('.').and_then(|file| file.strip_prefix(name));
            let number = rest.and_then(|rest| rest.strip_prefix('.')?.strip_suffix(".part"));
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
