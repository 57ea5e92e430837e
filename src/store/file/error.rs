use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::season::EditError;
use crate::store::document::{Unread, system_words};
use crate::store::library::LineCol;
use crate::units::path_text;
use crate::words;

use super::entry::Entry;
use super::format::{FORMAT, VERSION};
use super::slip::Slip;

/// Why a file could not be read or written: `spring.ron:3:84: the last day must come after …`.
#[derive(Debug, thiserror::Error)]
pub struct FileError {
    /// As the caller gave it.
    pub path: PathBuf,
    /// `None` where no line is to blame.
    pub at: Option<LineCol>,
    pub kind: FileErrorKind,
}

#[derive(Debug, thiserror::Error)]
pub enum FileErrorKind {
    #[error("{0}")]
    Read(Unread),
    #[error("{}", WriteFault::of(.0))]
    Write(io::Error),
    #[error("this is not a season file: {found}, where format: {FORMAT:?} should stand")]
    NotASeason { found: Instead },
    #[error("made by a newer release (file version {found}, this program reads up to {VERSION})")]
    TooNew { found: u32 },
    #[error("there is no file version {found}; this program writes version {VERSION}")]
    NoSuchVersion { found: u32 },
    #[error("the season's version is missing; write version: {VERSION}")]
    NoVersion,
    #[error(transparent)]
    Syntax(Box<Slip>),
    #[error("{of}: no crop {key:?} in this season or the library{}", did_you_mean(near.as_deref()))]
    NoSuchCrop { of: Box<Entry>, key: String, near: Option<Box<str>> },
    #[error("{of}: no container {key:?} in this season or the library{}", did_you_mean(near.as_deref()))]
    NoSuchContainer { of: Box<Entry>, key: String, near: Option<Box<str>> },
    #[error("{what} is in this file twice")]
    Twice { what: Box<Entry> },
    #[error("{of}: {}", words::refusal(why))]
    Edit { of: Box<Entry>, why: Box<EditError> },
}

impl FileError {
    pub(in crate::store) fn new(path: &Path, kind: FileErrorKind) -> Self {
        Self { path: path.to_owned(), at: None, kind }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", path_text(&self.path), self.kind),
            None => write!(f, "{}: {}", path_text(&self.path), self.kind),
        }
    }
}

fn did_you_mean(near: Option<&str>) -> String {
    near.map(|near| DidYouMean(near).to_string()).unwrap_or_default()
}

#[derive(Debug, thiserror::Error)]
#[error("; did you mean {0:?}?")]
struct DidYouMean<'a>(&'a str);

/// What is in a file that is no season.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Instead {
    #[error("it is empty")]
    Nothing,
    #[error("it holds nothing but zeros")]
    Zeros,
    #[error("it is not text (UTF-8) from here on")]
    NoText,
    #[error("it says something else")]
    SomethingElse,
    #[error("it says format: {0:?}")]
    Format(String),
    #[error("it names no format")]
    NoFormat,
}

#[derive(Debug, thiserror::Error)]
#[error("it could not be saved: {0}")]
struct WriteFault(WhyNotWritten);

#[derive(Debug, thiserror::Error)]
enum WhyNotWritten {
    #[error("there is no such folder")]
    NotFound,
    #[error("this is a folder; give a file's name")]
    IsFolder,
    #[error("you may not write here")]
    Denied,
    #[error("this disk can only be read")]
    ReadOnly,
    #[error("the disk is full")]
    Full,
    #[error("{0}")]
    Other(String),
}

impl WriteFault {
    fn of(why: &io::Error) -> Self {
        Self(match why.kind() {
            io::ErrorKind::NotFound => WhyNotWritten::NotFound,
            io::ErrorKind::IsADirectory => WhyNotWritten::IsFolder,
            io::ErrorKind::PermissionDenied => WhyNotWritten::Denied,
            io::ErrorKind::ReadOnlyFilesystem => WhyNotWritten::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => WhyNotWritten::Full,
            _ => WhyNotWritten::Other(system_words(why)),
        })
    }
}
