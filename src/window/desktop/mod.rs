//! What the window asks of the system around it: file dialogs, folders, another program.
//!
//! Every answer may stay away: a [`Desktop`] says so where it knows, and the window never waits.

mod folders;
mod system;

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

pub(super) use system::SystemDesktop;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    Open,
    Save,
    /// A weather record to read.
    Weather,
    /// A table of sowings to take in.
    SowingTable,
}

/// What a file dialog starts with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    pub purpose: Purpose,
    pub folder: Option<PathBuf>,
    /// Of the file to save.
    pub name: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    Chosen(PathBuf),
    /// Given up, or a dialog that never came up: systems don't always tell them apart.
    Nothing {
        after: Duration,
    },
}

/// May be called from any thread; dropped without a call, the dialog has failed.
pub type Reply = Box<dyn FnOnce(Answer) + Send>;

pub trait Desktop: fmt::Debug + Send + Sync {
    /// Why no file dialog can come up here, where that is known beforehand.
    fn no_dialog(&self) -> Option<String>;

    /// Returns at once.
    ///
    /// # Errors
    /// Nobody could be asked.
    fn ask(&self, question: &Question, reply: Reply) -> io::Result<()>;

    /// Shows a folder in the system's own program for that.
    ///
    /// # Errors
    /// There is none.
    fn open_folder(&self, folder: &Path) -> io::Result<()>;

    /// Where seasons are saved if nobody says where; need not be there yet.
    fn seasons_folder(&self) -> Option<PathBuf>;

    /// Where the unsaved work of seasons without a file is kept.
    fn unsaved_folder(&self) -> Option<PathBuf>;
}

/// Nothing is there to be asked.
#[derive(Clone, Copy, Debug)]
pub(super) struct NoDesktop;

impl Desktop for NoDesktop {
    fn no_dialog(&self) -> Option<String> {
        Some(crate::words::files::NO_DIALOG.to_owned())
    }

    fn ask(&self, _: &Question, _: Reply) -> io::Result<()> {
        Err(io::ErrorKind::Unsupported.into())
    }

    fn open_folder(&self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::Unsupported.into())
    }

    fn seasons_folder(&self) -> Option<PathBuf> {
        None
    }

    fn unsaved_folder(&self) -> Option<PathBuf> {
        None
    }
}
