//! The kinds of file that are read: how large one may be, and why the disk did not give it.

use std::io;
use std::path::Path;

use super::disk::Disk;

const MEGABYTE: u64 = 1024 * 1024;

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Document {
    #[error("a season")]
    Season,
    #[error("a station's record")]
    Record,
    #[error("a table of sowings")]
    Sowings,
    #[error("a frost table")]
    FrostTable,
}

/// Why the disk did not give a file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unread {
    #[error("there is no such file")]
    Missing,
    #[error("this is a folder; {0} is one file")]
    Folder(Document),
    #[error("this is a pipe or a device; {0} is a file")]
    NotAFile(Document),
    #[error("this file may not be read by you")]
    Forbidden,
    #[error("this file is larger than {} MB, too large for {_0}{}", _0.most_megabytes(), _0.instead())]
    TooLarge(Document),
    #[error("it could not be read: {0}")]
    System(String),
}

impl Document {
    /// A season of 50,000 trays with their spots takes 5 MB, 200 years of one station 3 MB.
    const fn most_megabytes(self) -> u64 {
        match self {
            Self::Season | Self::Sowings => 64,
            Self::Record => 256,
            Self::FrostTable => 1,
        }
    }

    pub(super) const fn most_bytes(self) -> u64 {
        self.most_megabytes() * MEGABYTE
    }

    const fn instead(self) -> Instead {
        Instead(matches!(self, Self::Record))
    }

    /// # Errors
    /// Says why it could not be read.
    pub fn read(self, disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, Unread> {
        disk.read(path, self.most_bytes()).map_err(|why| self.unread(&why))
    }

    pub(super) fn unread(self, why: &io::Error) -> Unread {
        match why.kind() {
            io::ErrorKind::NotFound => Unread::Missing,
            io::ErrorKind::IsADirectory => Unread::Folder(self),
            io::ErrorKind::Unsupported => Unread::NotAFile(self),
            io::ErrorKind::PermissionDenied => Unread::Forbidden,
            io::ErrorKind::FileTooLarge => Unread::TooLarge(self),
            _ => Unread::System(system_words(why)),
        }
    }
}

/// A record of all stations can be had station by station.
#[derive(thiserror::Error, Debug)]
#[error("{}", if *_0 { "; take the file of one station" } else { "" })]
struct Instead(bool);

/// The system's own words, in our case and without its number.
pub(super) fn system_words(why: &io::Error) -> String {
    let words = why.to_string();
    // the system's number stands behind its words, in brackets
    let numbered = words.rsplit_once(" (").filter(|_| why.raw_os_error().is_some());
    let words = numbered.map_or(words.as_str(), |(words, _)| words);
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}
