//! What leaves the program: one drawing, then the formats it is written in.
//!
//! A drawing is made in real lengths and knows no format; a format knows no shelves. Nothing here
//! decides where a tray stands, and nothing writes a file.

mod colours;
mod drawing;
mod paper;
mod shelf_map;
mod stays;
mod svg;

pub use colours::{Colour, Family};
pub use drawing::{Anchor, Class, Drawing, Shape, TextClass};
pub use paper::Scale;
pub use shelf_map::{ShelfMap, shelf_map};
pub use svg::svg;
