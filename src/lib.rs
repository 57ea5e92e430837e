//! Shelf room for plants started indoors: when the shelves run out, and what stands where.

pub mod fit;
pub mod forecast;
pub mod outlook;
pub mod season;
pub mod store;
pub mod trade;
pub mod units;
pub mod words;
