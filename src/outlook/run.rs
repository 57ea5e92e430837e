//! Days on which nothing changes.

use crate::units::DateSpan;

use super::answer::{PoolKind, Verdict};
use super::proof::Proof;

/// Days on which nothing changes, for one pool.
pub(super) struct Run {
    pub(super) span: DateSpan,
    pub(super) pool: PoolKind,
    pub(super) verdict: Verdict,
    pub(super) needed: u32,
    /// Without a spot in the layout.
    pub(super) out: u32,
    /// How many of the commonest kind lamps serve well, and how many want light beyond that.
    pub(super) lit: Option<u32>,
    pub(super) over_lit: u32,
    pub(super) crunch: Option<Proof>,
}
