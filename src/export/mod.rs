//! What leaves the program: one drawing, then the formats it is written in.
//!
//! A drawing is made in real lengths and knows no format; a format knows no shelves. Nothing here
//! decides where a tray stands, and nothing writes a file.

pub mod colours;
mod drawing;
mod page;
mod scale;
mod shelf_map;
mod stays;
mod svg;
mod tray;

pub use colours::{Colour, Family, Fill};
pub use drawing::{Anchor, Class, Drawing, Shape, TextClass};
pub use page::largest_scale;
pub use scale::Scale;
pub use shelf_map::{ShelfMap, shelf_map};
pub use stays::family_of;
pub use svg::svg;
pub use tray::tray;
