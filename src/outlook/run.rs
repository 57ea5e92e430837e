//! Days on which nothing changes.

use std::rc::Rc;

use crate::units::DateSpan;

use super::answer::{PoolKind, Verdict};
use super::light::OverLit;
use super::shortage::Shortage;

/// Days on which nothing changes, for one pool.
pub(super) struct Run {
    pub(super) span: DateSpan,
    pub(super) pool: PoolKind,
    pub(super) verdict: Verdict,
    pub(super) needed: u32,
    /// Without a spot in the layout.
    pub(super) out: u32,
    /// How many of the commonest kind would stand well lit, and how many stand beyond the lamps.
    pub(super) lit: Option<u32>,
    pub(super) over_lit: OverLit,
    /// Of this pool, and of those that are in its way.
    pub(super) shortage: Option<Rc<Shortage>>,
}
