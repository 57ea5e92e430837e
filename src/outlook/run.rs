//! Days on which nothing changes.

use std::rc::Rc;

use crate::units::DateSpan;

use super::answer::{PoolKind, Verdict};
use super::shortage::Shortage;

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
    /// Of this pool, and of those that are in its way.
    pub(super) shortage: Option<Rc<Shortage>>,
}
