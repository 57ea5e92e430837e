//! What a command prints and how it ends, or why it can't.

use crate::fit::Cancelled;
use crate::season::EditError;
use crate::store;
use crate::words::{self, Words};

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    Good,
    /// It did its work, but not everything fits.
    NotAll,
    BadInput,
}

impl Exit {
    pub const fn code(self) -> u8 {
        match self {
            Self::Good => 0,
            Self::NotAll => 1,
            Self::BadInput => 2,
        }
    }
}

/// What a command prints, whole, and how it ends.
#[derive(Debug)]
pub(super) struct Report {
    pub(super) text: String,
    pub(super) exit: Exit,
}

#[derive(Debug, thiserror::Error)]
pub(super) enum Failure {
    #[error(transparent)]
    File(Box<store::FileError>),
    #[error("{}", words::refusal(.0))]
    Edit(Box<EditError>),
    #[error(transparent)]
    Stopped(#[from] Cancelled),
    #[error("{}", words::commands::not_json(.0))]
    Json(#[from] serde_json::Error),
    #[error("{0}")]
    Bad(String),
}

impl From<EditError> for Failure {
    fn from(why: EditError) -> Self {
        Self::Edit(Box::new(why))
    }
}

impl From<store::FileError> for Failure {
    fn from(why: store::FileError) -> Self {
        Self::File(Box::new(why))
    }
}

pub(super) fn bullet(text: &str) -> String {
    format!("- {text}\n")
}

/// The last frost that the dates rest on; empty where the season has none.
pub(super) fn frost_line(words: &Words<'_>) -> String {
    words.frost_line().map_or_else(String::new, |line| line + "\n")
}
