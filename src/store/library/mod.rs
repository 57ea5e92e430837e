//! The library of crops and containers that comes with the program, and the form it is written in; a season
//! file has forms of its own, each version its. Lengths, volumes and
//! temperatures stand as text with their unit and are read through the checked types, so what is
//! wrong is refused with its line and column, and what was typed comes back as it was typed.
//!
//! Says nothing about whether a figure is right: it carries its source and its trust along.

mod container;
mod crop;
mod emergence;
mod forms;
mod read;
mod shipped;
mod sources;
#[cfg(test)]
mod tests;

pub use super::line_col::LineCol;
pub use container::ContainerFile;
pub use crop::CropFile;
pub(in crate::store) use forms::temperature_text;
pub use read::{LibraryError, LibraryFault};
pub use shipped::shipped;
pub use sources::{NoSuchSource, Sources};
