use std::path::{Path, PathBuf};

use crate::store::{LineCol, Unread};
use crate::units::path_text;

/// More rows than any grower sows; a file of more is something else.
pub(super) const MOST_ROWS: usize = 20_000;
pub(super) const MOST_COLUMNS: usize = 200;

/// Why a table was not read at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableError {
    #[error("{}:{}: this is not text in UTF-8; save the table as CSV (UTF-8)", _0.line, _0.col)]
    NotText(LineCol),
    #[error("the file is empty")]
    Empty,
    #[error("1:1: found the headings {found}; one must be for the crop, such as “Crop”")]
    NoCrop { found: String },
    #[error("1:{column}: there is no column {name:?} in the table; it has {found}")]
    NoSuchColumn { column: usize, name: String, found: String },
    #[error("1:{column}: two columns are taken for the {what}: {one:?} and {other:?}; say which one is meant")]
    Twice { column: usize, what: &'static str, one: String, other: String },
    #[error("{line}:1: {why}")]
    Broken { line: u64, why: String },
    #[error("more than {MOST_ROWS} rows; a table of sowings has fewer")]
    TooLong,
    #[error("more than {MOST_COLUMNS} columns; a table of sowings has fewer")]
    TooWide,
    #[error("no row could be read: {first}")]
    NoRows { first: String },
    #[error("no row could be read: it has headings only")]
    HeadingsOnly,
}

impl TableError {
    /// `plan.csv:1:3: two columns …`, `plan.csv: the file is empty`.
    pub fn of_file(&self, path: &Path) -> String {
        let placed = match self {
            Self::NotText(_)
            | Self::NoCrop { .. }
            | Self::NoSuchColumn { .. }
            | Self::Twice { .. }
            | Self::Broken { .. } => "",
            Self::Empty | Self::TooLong | Self::TooWide | Self::NoRows { .. } | Self::HeadingsOnly => " ",
        };
        format!("{}:{placed}{self}", path_text(path))
    }
}

/// A table's file that the disk did not give.
#[derive(Debug, thiserror::Error)]
#[error("{}: {why}", path_text(path))]
pub struct NotLoaded {
    pub path: PathBuf,
    pub why: Unread,
}
