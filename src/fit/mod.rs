//! Rectangles and circles on shelves over days: whole numbers only, no names, no calendar.
//!
//! The question is a [`Problem`]: shelves, parts of them, and items that need one spot each for
//! their days. The answer is a [`Layout`], which [`check()`] accepts or refuses on its own; it shares
//! nothing with the solver but the types in `problem`. A [`Bound`] proves that a day cannot be
//! packed however the items are turned or moved about.
//!
//! Lengths are in 1/8000 mm, weights in grams, days are counted from any fixed day.

mod apart;
mod assign;
mod bins;
mod board;
mod bound;
mod by_shelf;
mod check;
mod circles;
mod count;
mod crowds;
mod draw;
mod eject;
mod exact;
mod fillings;
mod five_block;
mod ground;
mod jobs;
mod known;
mod memory;
mod moves;
mod normal;
mod over_time;
mod pack;
mod pieces;
mod plan;
mod prices;
mod problem;
mod prover;
mod residues;
#[cfg(test)]
mod samples;
mod stretches;
mod today;
mod together;
mod work;

pub use bins::{Bins, BinsError, pack_bins};
pub use bound::{Bound, BoundKind, prove_day};
pub use check::{Fault, check};
pub use circles::{RoundRows, count_round, oler_bound, round_rows};
pub use count::{CountOne, count, count_within};
pub use crowds::{Counted, Crowd, Crowds, Found, Judged, Kind};
pub use memory::Memory;
pub use over_time::{Answer, DayVerdict, Verdict, solve};
pub use pack::{pack_day, pack_most, place_more};
pub use problem::{Days, Item, Layout, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};
pub use work::{Cancel, Cancelled, Progress};
