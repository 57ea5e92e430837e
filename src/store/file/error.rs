use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::season::EditError;
use crate::store::library::LineCol;
use crate::words;

use super::version::{FORMAT, VERSION};

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
    #[error("{}", reading(.0))]
    Read(io::Error),
    #[error("{}", writing(.0))]
    Write(io::Error),
    #[error("this is not a season file: {found}, where format: {FORMAT:?} should stand")]
    NotASeason { found: String },
    #[error("made by a newer release (file version {found}, this program reads up to {VERSION})")]
    TooNew { found: u32 },
    #[error("there is no file version {found}; this program writes version {VERSION}")]
    NoSuchVersion { found: u32 },
    #[error("{0}")]
    Syntax(String),
    #[error("{of}: no crop {key:?} in this season or the library{}", did_you_mean(near.as_deref()))]
    NoSuchCrop { of: String, key: String, near: Option<Box<str>> },
    #[error("{of}: no container {key:?} in this season or the library{}", did_you_mean(near.as_deref()))]
    NoSuchContainer { of: String, key: String, near: Option<Box<str>> },
    #[error("{what} is in this file twice")]
    Twice { what: String },
    #[error("{of}: {}", words::refusal(why))]
    Edit { of: String, why: Box<EditError> },
}

impl FileError {
    pub(in crate::store) fn new(path: &Path, kind: FileErrorKind) -> Self {
        Self { path: path.to_owned(), at: None, kind }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.path.display(), self.kind),
            None => write!(f, "{}: {}", self.path.display(), self.kind),
        }
    }
}

fn did_you_mean(near: Option<&str>) -> String {
    near.map(|near| format!("; did you mean {near:?}?")).unwrap_or_default()
}

fn reading(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::IsADirectory => "this is a folder; a season is one file".to_owned(),
        io::ErrorKind::PermissionDenied => "this file may not be read by you".to_owned(),
        io::ErrorKind::FileTooLarge => "this file is larger than 64 MB, too large for a season".to_owned(),
        _ => format!("it could not be read: {}", system_words(why)),
    }
}

fn writing(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::NotFound => "it could not be saved: there is no such folder".to_owned(),
        io::ErrorKind::IsADirectory => "it could not be saved: this is a folder; give a file's name".to_owned(),
        io::ErrorKind::PermissionDenied => "it could not be saved: you may not write here".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "it could not be saved: this disk can only be read".to_owned(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            "it could not be saved: the disk is full".to_owned()
        }
        _ => format!("it could not be saved: {}", system_words(why)),
    }
}

/// The system's own words, in our case and without its number.
fn system_words(why: &io::Error) -> String {
    let words = why.to_string();
    let words = words.split(" (os error").next().unwrap_or(&words);
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}
