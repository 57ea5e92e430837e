//! Rectangles and circles on shelves over days: whole numbers only, no names, no calendar.
//!
//! The question is a [`Problem`]: shelves, parts of them, and items that need one spot each for
//! their days. The answer is a [`Layout`], which [`check()`] accepts or refuses on its own; it shares
//! nothing with the solver but the types in `problem`. A [`Bound`] proves that a day cannot be
//! packed however the items are turned or moved about.
//!
//! Lengths are in 1/8000 mm, weights in grams, days are counted from any fixed day.

mod bins;
mod check;
mod count;
mod many_days;
mod one_day;
mod over_time;
mod place;
mod problem;
mod proof;
mod random;
#[cfg(test)]
mod samples;
mod work;

pub use bins::{Bins, BinsError, pack_bins};
pub use check::{Fault, check};
pub use count::{CountOne, RoundRows, count, count_round, count_within, oler_bound, round_rows};
pub use many_days::{Counted, Crowd, Crowds, Found, Judged, Kind};
pub use one_day::{pack_day, pack_most, place_more};
pub use over_time::{Answer, DayVerdict, Memory, Verdict, solve};
pub use problem::{Days, Item, Layout, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};
pub use proof::counts::{Bound, BoundKind, prove_day};
pub use work::{Cancel, Cancelled, Progress};
