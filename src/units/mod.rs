//! Values that cannot be invalid: lengths, areas, volumes, temperatures, spans of days.
//!
//! Everything here is exact where the trade mixes systems: an inch, a hundredth of a millimetre
//! and a degree Fahrenheit are whole numbers of the stored unit, so nothing is lost by going there
//! and back. [`Typed`] keeps what the grower typed beside the value it means.
//!
//! Knows nothing of plants, shelves or files.

mod area;
mod date;
mod days;
mod length;
mod number;
mod one_line;
mod rounded;
mod size;
mod span;
mod temperature;
mod typed;
mod volume;
mod weight;

pub use area::Area;
pub use date::{DATE_YEARS, DateError, DayTyped, read_date};
pub use days::{full_day, monday, shifted, short_day};
pub use length::{Length, LengthUnit};
pub use number::{ParseError, Signs, Wanted, Within};
pub use one_line::{breaks_a_line, one_line, path_text};
pub use rounded::{about, exact_up, hundredth, measured_up, rounded, size_text, unit_of};
pub use size::Size;
pub use span::{DateSpan, EmptySpan};
pub use temperature::Temperature;
pub use typed::{Measure, Typed};
pub use volume::Volume;
pub use weight::{read_grams, weight_in_words};
