//! A layout over all days, and for each day whether it fits, cannot, or is unsettled.

mod memory;
mod moves;
mod one_part;
mod parts;
#[cfg(test)]
mod tests;

pub use memory::{Memory, solve};
