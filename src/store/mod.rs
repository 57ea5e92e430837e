//! Season files, the library that comes with the program, and saving that loses nothing.
//!
//! A season goes in and out through [`load`], [`save`], [`parse`] and [`to_text`]; while it is open,
//! [`Autosave`] keeps what is not saved, [`left_work`] offers it after a crash, and [`Watch`] sees it
//! when the file is changed by somebody else. [`versions`] are those that the file had before. All of it reaches
//! the disk through [`Disk`].

mod autosave;
mod comments;
mod content;
mod copies;
mod disk;
mod document;
mod file;
mod frost_table;
pub mod library;
mod line_col;
mod recovery;
mod save;
mod shipped;
pub mod sowings;
mod versions;
mod watch;
mod weather;
mod write;

pub use autosave::{Autosave, AutosaveStatus, Keeper, NotKept};
pub use content::{Content, content};
pub use disk::{Claim, Disk, RealDisk, Rights, Thing};
pub use document::{Document, Unread};
pub use file::{FileError, FileErrorKind, to_text};
pub use frost_table::{
    FrostTableError, FrostTableErrorKind, NoSense, Sense, WrongWay, read_frost_bytes, read_frost_table,
};
pub use line_col::LineCol;
pub use recovery::{LeftBehind, Recovery, left_work, thrown_away};
pub use save::{Elsewhere, Expected, Loaded, NotSaved, load, load_from, load_whole, parse, save, save_over, save_to};
pub use shipped::{library, sample};
pub use versions::{Version, versions};
pub use watch::{Watch, Watched};
pub use weather::{
    NoUnit, OddRecord, Record, RecordFrost, UnitKnown, WeatherAsk, WeatherError, WeatherErrorKind, WeatherUnit,
    frost_of_record, load_weather, read_weather,
};
pub use write::{write, write_to};
