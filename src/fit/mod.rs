//! Rectangles and circles on shelves over days: whole numbers only, no names, no calendar.
//!
//! The question is a [`Problem`]: shelves, parts of them, and items that need one spot each for
//! their days. The answer is a [`Layout`], which [`check()`] accepts or refuses on its own; it shares
//! nothing with the solver but the types in `problem`. A [`Bound`] proves that a day cannot be
//! packed however the items are turned or moved about.
//!
//! Lengths are in 1/8000 mm, weights in grams, days are counted from any fixed day.

mod assign;
mod board;
mod bound;
mod check;
mod circles;
mod count;
mod draw;
mod five_block;
mod ground;
mod jobs;
mod known;
mod moves;
mod over_time;
mod pack;
mod pieces;
mod problem;
#[cfg(test)]
mod samples;
mod stretches;
mod work;

pub use bound::{Bound, BoundKind, prove_day};
pub use check::{Fault, check};
pub use circles::{RoundRows, count_round, oler_bound, round_rows};
pub use count::{CountOne, count};
pub use over_time::{Answer, DayVerdict, Verdict, solve};
pub use pack::{pack_day, pack_most, place_more};
pub use problem::{Days, Item, Layout, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};
pub use work::{Cancel, Cancelled, Progress};
