//! Records of daily lows, as weather services give them out.
//!
//! Reads GHCN-Daily in its four layouts: a table with a header (`STATION,DATE,TMIN`, or the columns
//! and `TMIN_ATTRIBUTES` of one station's file), a year of all stations without one, and fixed
//! width (`.dly`). A value that a quality check has flagged is missing, as −9999 is. What is wrong
//! is refused with its line and column; what a low means for a season is not said here.

mod error;
mod fixed;
mod frost;
mod read;
mod reading;
mod readings;
mod record;
mod separated;
mod unit;

pub use error::{WeatherError, WeatherErrorKind};
pub use frost::{OddRecord, RecordFrost, frost_of_record};
pub use read::{load_weather, read_weather};
pub use record::{Record, WeatherAsk};
pub use unit::{NoUnit, UnitKnown, WeatherUnit};
