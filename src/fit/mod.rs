//! Rectangles and circles on shelves over days: whole numbers only, no names, no calendar.
//!
//! The question is a [`Problem`]: shelves, parts of them, and items that need one spot each for
//! their days. The answer is a [`Layout`], which [`check()`] accepts or refuses on its own; it shares
//! nothing with the solver but the types in `problem` and `answer`. A [`Bound`] proves that a day cannot
//! be packed however the items are turned or moved about.
//!
//! `count` is about one size on one shelf, `place` finds spots, `proof` shows that there are none; they are put
//! together for `one_day`, for a season in `over_time` and for drawn days in `many_days`. `bins` stands alone, and so
//! does `level`, which picks dates by amounts a day.
//!
//! Lengths are in 1/8000 mm, weights in grams, days are counted from any fixed day.

mod answer;
mod bins;
mod check;
mod count;
mod level;
mod many_days;
mod one_day;
mod over_time;
mod place;
mod problem;
mod proof;
mod random;
#[cfg(test)]
mod samples;
mod scales;
mod work;

pub use answer::{Answer, Bound, BoundKind, DayVerdict, Layout, Verdict};
pub use bins::{Bins, BinsError, pack_bins};
pub use check::{Fault, check};
pub use count::{CountOne, RoundPots, RoundRows, count, count_round, count_within, oler_bound, round_pots, round_rows};
pub use level::{
    Batch, Choice, Closest, DailyCapacity, LevelError, LevelProblem, Levelled, Levels, Limit, NoGood, Over, Term, Use,
    closest, level,
};
pub use many_days::{Counted, Demand, DemandKind, FoundPatterns, Judged, ManyDays};
pub use one_day::{fits_as_wished, pack_day, pack_most, place_more};
pub use over_time::{Memory, solve};
pub use place::together;
pub use problem::{Days, Item, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot};
pub use proof::prove_day;
pub use work::{Cancel, Cancelled, Progress};
