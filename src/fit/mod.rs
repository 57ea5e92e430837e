//! Temporary surface.
mod problem;
mod work;
pub use problem::{Days, Item, Layout, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};
pub use work::{Cancel, Cancelled, Progress};
