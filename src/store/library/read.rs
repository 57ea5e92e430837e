use std::fmt;

use serde::de::DeserializeOwned;

use crate::store::LineCol;

use super::sources::NoSuchSource;

/// Why a file of the library was refused: `assets/crops.ron:12:8: found "wide"; write …`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct LibraryError {
    pub file: &'static str,
    /// `None` for a reference to something that is nowhere.
    pub at: Option<LineCol>,
    pub why: LibraryFault,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LibraryFault {
    /// The reader's words.
    #[error("{0}")]
    Form(String),
    #[error("{0}")]
    NoSuchSource(NoSuchSource),
    #[error("two entries have the key \"{0}\"")]
    Twice(String),
    #[error("row \"{0}\": temperatures must rise, and days be from 0.1 to 1000")]
    Row(String),
}

impl fmt::Display for LibraryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.file, self.why),
            None => write!(f, "{}: {}", self.file, self.why),
        }
    }
}

pub(super) fn read<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, LibraryError> {
    ron::from_str(text).map_err(|why| LibraryError {
        file,
        at: Some(LineCol { line: why.span.start.line, col: why.span.start.col }),
        why: LibraryFault::Form(why.code.to_string()),
    })
}
