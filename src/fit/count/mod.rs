//! How many of one size stand on one shelf: packings, and bounds that say when there is no better.
//!
//! `ladder` climbs from `rows` over `five_block` to `exact`, as far as its steps and `bound` leave hope; round
//! pots have rows of their own in `circles`, and `out_of_line` looks for more than those hold.

mod bound;
mod circles;
mod exact;
mod five_block;
mod ladder;
mod lengths;
mod out_of_line;
mod residues;
mod rows;

pub(super) use bound::at_most;
pub use circles::{RoundRows, oler_bound, round_rows};
pub use ladder::{CountOne, count, count_within};
pub(super) use lengths::gcd;
pub use out_of_line::{RoundPots, count_round, round_pots};
pub(super) use rows::at_least;
