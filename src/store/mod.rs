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
mod line_col;
mod recovery;
mod save;
mod shipped;
pub mod sowings;
mod weather;
mod write;

pub use autosave::{Autosave, AutosaveStatus, Home, NotKept};
pub use disk::{Disk, RealDisk, Rights, Thing};
pub use file::{FileError, FileErrorKind, to_text};
pub use frost_table::{FrostTableError, FrostTableErrorKind, NoSense, Sense, WrongWay, read_frost_table};
pub use line_col::LineCol;
pub use recovery::{Recovery, discard, recovery, unsaved};
pub use save::{load, load_from, parse, previous_of, save, save_to};
pub use shipped::{library, sample};
pub use weather::{
    NoUnit, OddRecord, Record, RecordFrost, UnitKnown, Unread, WeatherAsk, WeatherError, WeatherErrorKind, WeatherUnit,
    frost_of_record, load_weather, read_weather,
};
pub use write::{write, write_to};
