//! Season files: RON that a person can read, edit and compare line by line.
//!
//! Reading takes two passes. The header says which version the rest is in; then that version's own
//! structs read it, refusing what they do not know, and the season is built through the same edits
//! as everything else. What a season has not, its file does not say. Reading and writing again
//! gives the same text, but comments in a file are lost when the program saves it.
//!
//! Knows nothing of disks: text in, text out.

mod build;
mod check;
mod entry;
mod enums;
mod error;
mod floor;
mod format;
mod from_v1;
mod layout;
mod locate;
mod own;
mod read;
mod slip;
mod text;
mod v1;
mod v2;
mod write;

pub use error::{FileError, FileErrorKind};
pub(super) use read::read;
pub use write::to_text;
