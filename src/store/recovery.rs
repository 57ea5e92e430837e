//! Offers unsaved work again that windows left behind which live no more.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use crate::season::{Difference, Library, Season, differences};

use super::copies::{Owner, left_behind, of_file, thrown};
use super::disk::Disk;
use super::document::Document;
use super::file::{self, FileError, FileErrorKind};
use super::save::load_from;
use super::versions::Version;

/// Unsaved work that is not the same as its file. While this is held, no other window is offered it.
#[derive(Debug)]
pub struct Recovery {
    pub season: Season,
    /// The file that it is of, if it ever had one.
    pub of: Option<PathBuf>,
    pub modified: SystemTime,
    /// Against the file; against an empty season where that is missing or cannot be read.
    pub differs: Vec<Difference>,
    owner: Owner,
}

/// What windows left behind.
#[derive(Debug, Default)]
pub struct LeftBehind {
    /// Newest first.
    pub work: Vec<Recovery>,
    /// Copies that can't be read; they stay where they are.
    pub unreadable: Vec<FileError>,
}

impl Recovery {
    /// The copy that it was read from.
    pub fn file(&self) -> &Path {
        &self.owner.copy
    }

    /// It was taken up, and is safe elsewhere.
    pub fn done(self) {
        self.owner.remove();
    }

    /// Keeps it for thirty days more, and offers it to nobody.
    ///
    /// # Errors
    /// It is still where it was.
    pub fn throw(self, disk: &dyn Disk) -> Result<(), FileError> {
        let thrown =
            disk.read(&self.owner.copy, Document::Season.most_bytes()).and_then(|text| self.owner.throw(&text));
        thrown.map_err(|why| FileError::new(&self.owner.copy, FileErrorKind::Write(why)))
    }
}

/// The unsaved work in the folder of copies that no window holds.
///
/// # Errors
/// The folder is there and can't be read.
pub fn left_work(disk: &Arc<dyn Disk>, folder: &Path, library: &Library) -> Result<LeftBehind, FileError> {
    let owners = left_behind(disk, folder)
        .map_err(|why| FileError::new(folder, FileErrorKind::Read(Document::Season.unread(&why))))?;
    let mut found = LeftBehind::default();
    for owner in owners {
        let owner =
            owner.map_err(|(copy, why)| FileError::new(&copy, FileErrorKind::Read(Document::Season.unread(&why))));
        match owner.and_then(|owner| recovery(&**disk, owner, library)) {
            Ok(work) => found.work.extend(work),
            Err(why) => found.unreadable.push(why),
        }
    }
    found.work.sort_by(|a, b| (b.modified, b.file()).cmp(&(a.modified, a.file())));
    Ok(found)
}

fn recovery(disk: &dyn Disk, owner: Owner, library: &Library) -> Result<Option<Recovery>, FileError> {
    let unread = |why| FileError::new(&owner.copy, FileErrorKind::Read(why));
    let text = Document::Season.read(disk, &owner.copy).map_err(unread)?;
    let modified = disk.modified(&owner.copy).map_err(|why| unread(Document::Season.unread(&why)))?;
    let season = file::read(&text, &owner.copy, library)?;
    let of = of_file(&text);
    let saved = of.as_ref().and_then(|of| load_from(disk, of, library).ok());
    // By what is in them: the times of two disks say nothing.
    if saved.as_ref() == Some(&season) {
        owner.remove();
        return Ok(None);
    }
    let differs = differences(&saved.unwrap_or_else(|| Season::new("")), &season);
    Ok(Some(Recovery { season, of, modified, differs, owner }))
}

/// What was thrown away of the season in `of`, or of seasons without a file, newest first.
///
/// # Errors
/// The folder is there and can't be read.
pub fn thrown_away(disk: &dyn Disk, folder: &Path, of: Option<&Path>) -> io::Result<Vec<Version>> {
    let mut found = Vec::new();
    for file in thrown(disk, folder)? {
        // One that can't be read hides no other.
        let (Ok(text), Ok(at)) = (Document::Season.read(disk, &file), disk.modified(&file)) else { continue };
        if of_file(&text).as_deref() == of {
            found.push(Version { file, at });
        }
    }
    found.sort_by(|a, b| (b.at, &b.file).cmp(&(a.at, &a.file)));
    Ok(found)
}
