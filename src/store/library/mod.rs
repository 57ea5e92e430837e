//! The written form of crops and containers, and the library of them that comes with the program.
//!
//! A season file holds the grower's own crops and containers in the same form. Lengths, volumes and
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
pub use read::LibraryError;
pub use shipped::shipped;
pub use sources::{NoSuchSource, Sources};
