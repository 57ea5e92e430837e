use std::fmt;

use serde::de::DeserializeOwned;

use crate::store::LineCol;

/// Why a file of the library was refused: `assets/crops.ron:12:8: found "wide"; write …`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct LibraryError {
    pub file: &'static str,
    /// `None` for a reference to something that is nowhere.
    pub at: Option<LineCol>,
    pub message: String,
}

impl fmt::Display for LibraryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.file, self.message),
            None => write!(f, "{}: {}", self.file, self.message),
        }
    }
}

pub(super) fn read<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, LibraryError> {
    ron::from_str(text).map_err(|why| LibraryError {
        file,
        at: Some(LineCol { line: why.span.start.line, col: why.span.start.col }),
        message: why.code.to_string(),
    })
}
