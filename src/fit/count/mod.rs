//! How many of one size stand on one shelf: packings, and bounds that say when there is no better.

mod circles;
mod exact;
mod five_block;
mod ladder;
mod lengths;
mod residues;

pub use circles::{RoundRows, count_round, oler_bound, round_rows};
pub use ladder::{CountOne, count, count_within};
pub(super) use ladder::{at_least, at_most};
pub(super) use residues::gcd;
