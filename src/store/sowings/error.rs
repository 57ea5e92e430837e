use std::io;
use std::path::{Path, PathBuf};

/// More rows than any grower sows; a file of more is something else.
pub(super) const MOST_ROWS: usize = 20_000;
pub(super) const MOST_COLUMNS: usize = 200;

/// Why a table was not read at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TableError {
    #[error("{line}:1: this is not text in UTF-8; save the table as CSV (UTF-8)")]
    NotText { line: usize },
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
            Self::NotText { .. }
            | Self::NoCrop { .. }
            | Self::NoSuchColumn { .. }
            | Self::Twice { .. }
            | Self::Broken { .. } => "",
            Self::Empty | Self::TooLong | Self::TooWide | Self::NoRows { .. } | Self::HeadingsOnly => " ",
        };
        format!("{}:{placed}{self}", path.display())
    }
}

/// A table's file that the disk did not give.
#[derive(Debug, thiserror::Error)]
#[error("{}: {why}", path.display())]
pub struct NotLoaded {
    pub path: PathBuf,
    pub why: Unread,
}

#[derive(Debug, thiserror::Error)]
pub enum Unread {
    #[error("there is no such file")]
    Missing,
    #[error("this file is too large for a table of sowings")]
    TooLarge,
    #[error("this is a folder")]
    Folder,
    #[error("{0}")]
    System(io::Error),
}

impl From<io::Error> for Unread {
    fn from(why: io::Error) -> Self {
        match why.kind() {
            io::ErrorKind::NotFound => Self::Missing,
            io::ErrorKind::FileTooLarge => Self::TooLarge,
            io::ErrorKind::IsADirectory => Self::Folder,
            _ => Self::System(why),
        }
    }
}
