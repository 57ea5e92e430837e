//! Which file this is, what of it is not saved, and asking for names.
//!
//! The system's dialog is asked first, off this thread. Where it is missing, fails, hangs or answers
//! at once with nothing, a field for the path opens and says why: nothing fails in silence.

mod file;
mod kept;
mod modal;
mod on_disk;
mod path_box;
mod questions;
mod recent;
mod standing;
mod wake;

pub(super) use file::{Asked, Files};
pub(super) use questions::questions_ui;
pub(super) use recent::{Recent, free_name, remember, remember_name};
pub(super) use standing::standing_ui;
