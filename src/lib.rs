//! Shelf room for plants started indoors: when the shelves run out, and what stands where.
//!
//! The layers, each using only those before it (`tests/house/` holds them):
//!
//! ```text
//! units  ←  fit (rectangles, circles, spans; no names, no dates)
//! units  ←  season (the document)
//! season, fit  ←  trade  ←  forecast  ←  outlook  ←  words  ←  store, export  ←  command, window
//! ```

pub mod command;
pub mod export;
pub mod fit;
pub mod forecast;
pub mod outlook;
pub mod season;
pub mod store;
pub mod trade;
pub mod units;
#[cfg(feature = "window")]
pub mod window;
pub mod words;
