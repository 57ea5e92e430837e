//! A layout over all days, and for each day whether it fits, cannot, or is unsettled.
//!
//! `parts` cuts a problem into those that have nothing to do with each other; `one_part` solves one, with `moves`
//! where one spot for all days was not found, and `fewest` for a handful; `memory` keeps the answers from one question
//! to the next. `pairs` tells which items of a part were there before, and `edited` answers by what was known of them, making
//! room in a `nook`.

mod edited;
mod fewer;
mod fewest;
mod memory;
mod moves;
mod nook;
mod one_part;
mod pairs;
mod parts;
#[cfg(test)]
mod tests;

pub use memory::{Memory, solve};
