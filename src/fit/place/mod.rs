//! Spots for what stands at the same time: searched for, and never proven not to exist.
//!
//! A `board` holds what stands; `greedy` passes fill it, `ejection`, `press` and `repair` make room for whoever is left, and
//! `exhaust` tries everything for a handful; `together` sorts what stands by kind.
//!
//! What is drawn comes from a seeded generator of its own, and work is counted in looks at obstacles, so that a
//! placement never hangs on a clock.

mod beside;
pub(super) mod board;
pub(super) mod ejection;
pub(super) mod exhaust;
pub(super) mod greedy;
mod grid;
pub(super) mod jobs;
mod nogoods;
mod pieces;
pub(super) mod placement;
pub(super) mod press;
pub(super) mod repair;
mod stretches;
mod together;

pub use together::together;
