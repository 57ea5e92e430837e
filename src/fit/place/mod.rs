//! Spots for what stands at the same time: searched for, never proven not to exist.

pub(super) mod board;
pub(super) mod ejection;
pub(super) mod greedy;
pub(super) mod jobs;
mod nogoods;
mod pieces;
mod stretches;
