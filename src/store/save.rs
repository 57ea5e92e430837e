//! Reading and saving seasons; what a file held before stays among its versions.

use std::io;
use std::path::Path;

use crate::season::{Library, Season};

use super::content::Content;
use super::disk::{Disk, RealDisk};
use super::document::Document;
use super::file::{self, FileError, FileErrorKind};
use super::shipped::library;
use super::write::Target;
use super::{comments, versions};

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load(path: &Path) -> Result<Season, FileError> {
    load_from(&RealDisk, path, library())
}

/// Saves over whatever is there, which stays among the versions.
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

/// A season, with what has to be known of its file to save over it.
#[derive(Debug)]
pub struct Loaded {
    pub season: Season,
    pub content: Content,
    /// Notes were written into it by hand, which saving would drop.
    pub own_comments: bool,
}

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load_whole(disk: &dyn Disk, path: &Path) -> Result<Loaded, FileError> {
    let bytes = read(disk, path)?;
    let season = file::read(&bytes, path, library())?;
    let own_comments = std::str::from_utf8(&bytes).is_ok_and(comments::has_own);
    Ok(Loaded { season, content: Content::of(&bytes), own_comments })
}

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load_from(disk: &dyn Disk, path: &Path, library: &Library) -> Result<Season, FileError> {
    file::read(&read(disk, path)?, path, library)
}

fn read(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, FileError> {
    Document::Season.read(disk, path).map_err(|why| FileError::new(path, FileErrorKind::Read(why)))
}

/// What is written over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expected {
    Anything,
    /// That and nothing else; `None` for no file.
    Only(Option<Content>),
}

/// Somebody else was there meanwhile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Elsewhere {
    /// The file holds this now.
    Changed(Content),
    Gone,
}

#[derive(Debug)]
pub enum NotSaved {
    Elsewhere(Elsewhere),
    File(FileError),
}

/// # Errors
/// The file is as it was.
pub fn save_to(disk: &dyn Disk, path: &Path, season: &Season) -> Result<(), FileError> {
    let text = file::to_text(season);
    let saved = save_bytes(disk, path, text.as_bytes(), Expected::Anything);
    saved.map(drop).map_err(|why| FileError::new(path, FileErrorKind::Write(why)))
}

/// Saves over what is expected there; gives what the file holds then.
///
/// # Errors
/// The file is as it was.
pub fn save_over(disk: &dyn Disk, path: &Path, season: &Season, expected: Expected) -> Result<Content, NotSaved> {
    let text = file::to_text(season);
    match save_bytes(disk, path, text.as_bytes(), expected) {
        Ok(None) => Ok(Content::of(text.as_bytes())),
        Ok(Some(elsewhere)) => Err(NotSaved::Elsewhere(elsewhere)),
        Err(why) => Err(NotSaved::File(FileError::new(path, FileErrorKind::Write(why)))),
    }
}

fn save_bytes(disk: &dyn Disk, path: &Path, bytes: &[u8], expected: Expected) -> io::Result<Option<Elsewhere>> {
    let target = Target::of(disk, path)?;
    let before = if target.is_there { Some(disk.read(&target.path, Document::Season.most_bytes())?) } else { None };
    // Saving twice must not make a version of it.
    if before.as_deref() == Some(bytes) {
        return Ok(None);
    }
    let found = before.as_deref().map(Content::of);
    if let Expected::Only(expected) = expected
        && expected != found
    {
        return Ok(Some(found.map_or(Elsewhere::Gone, Elsewhere::Changed)));
    }
    target.put(disk, bytes, || match &before {
        Some(before) if !before.is_empty() => versions::keep(disk, &target.path, before),
        _ => Ok(()),
    })?;
    Ok(None)
}

#[cfg(test)]
mod tests;
