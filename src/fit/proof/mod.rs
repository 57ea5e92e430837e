//! Proof that a day's items cannot all stand, cheap to dear.

mod bound;
mod by_shelf;
pub(super) mod counts;
pub(super) mod from_patterns;
pub(super) mod ground;
pub(super) mod on_day;
pub(super) mod patterns;
pub(super) mod prices;
pub(super) mod prover;
mod small_sets;
#[cfg(test)]
mod tests;

pub use prover::prove_day;
