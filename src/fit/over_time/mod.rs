//! A layout over all days, and for each day whether it fits, cannot, or is unsettled.

mod memory;
mod moves;
mod one_part;
mod parts;

pub use memory::Memory;
pub use one_part::{Answer, DayVerdict, Verdict, solve};
