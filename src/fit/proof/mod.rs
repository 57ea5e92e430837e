//! Proof that a day's items cannot all stand, cheap to dear.
//!
//! `counts` holds bases within the items against the ground, `loads` their weights against what the shelves bear,
//! `prices` and `by_shelf` the items against all `patterns` of the shelves; `prover` asks them in turn and keeps what it
//! learned. `from_patterns` turns a proof that no more need be left out into spots.

mod bound;
mod by_price;
mod by_shelf;
pub(super) mod counts;
pub(super) mod from_patterns;
pub(super) mod ground;
mod loads;
pub(super) mod on_day;
pub(super) mod patterns;
pub(super) mod prices;
pub(super) mod prover;
mod seen;
mod small_sets;
#[cfg(test)]
mod tests;

pub use prover::prove_day;
