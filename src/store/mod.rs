//! Season files, the library that comes with the program, and saving that loses nothing.
//!
//! A season goes in and out through [`load`], [`save`], [`parse`] and [`to_text`]; while it is open,
//! [`Autosave`] keeps what is not saved, and [`recovery`] offers it after a crash. All of it reaches
//! the disk through [`Disk`].

mod autosave;
mod disk;
mod file;
mod frost_table;
pub mod library;
mod recovery;
mod save;
pub mod sowings;
mod weather;

use std::path::Path;
use std::sync::LazyLock;

use crate::season::{Library, Season};

pub use autosave::{Autosave, AutosaveStatus, Home};
pub use disk::{Disk, RealDisk};
pub use file::{FileError, FileErrorKind, to_text};
pub use frost_table::{FrostTableError, FrostTableErrorKind, Sense, WrongWay, read_frost_table};
pub use library::LineCol;
pub use recovery::{Recovery, discard, recovery, unsaved};
pub use save::{load_from, previous_of, save_to};
pub use weather::{
    Record, RecordFrost, UnitKnown, WeatherAsk, WeatherError, WeatherErrorKind, WeatherUnit, frost_of_record,
    load_weather, read_weather,
};

/// The crops and containers that come with the program.
pub fn library() -> &'static Library {
    static LIBRARY: LazyLock<Library> =
        LazyLock::new(|| library::shipped().expect("the shipped library is read in every test run"));
    &LIBRARY
}

/// The season that the program opens with.
///
/// # Panics
/// If it cannot be read, which every test run would show.
pub fn sample() -> Season {
    let text = include_str!("../../examples/community-room.ron");
    parse(text, Path::new("examples/community-room.ron")).expect("the sample season is read in every test run")
}

/// # Errors
/// Says what is wrong with the file, and in which line.
pub fn load(path: &Path) -> Result<Season, FileError> {
    load_from(&RealDisk, path, library())
}

/// Saves, keeping the version before as `season.ron~` beside `season.ron`.
///
/// # Errors
/// The file is as it was.
pub fn save(path: &Path, season: &Season) -> Result<(), FileError> {
    save_to(&RealDisk, path, season)
}

/// The season in a file's text; `path` only names it in errors.
///
/// # Errors
/// Says what is wrong with the text, and in which line.
pub fn parse(text: &str, path: &Path) -> Result<Season, FileError> {
    file::read(text.as_bytes(), path, library())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_with_the_program_can_be_read() {
        assert!(!library().crops.is_empty());
        assert!(sample().sowings().next().is_some());
    }
}
