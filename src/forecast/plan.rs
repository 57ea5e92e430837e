use crate::season::{Crop, Library, Season, Sowing};

use super::starts::LongCourse;

/// A sowing, and all that its dates are worked out from.
#[derive(Clone, Copy)]
pub(super) struct Plan<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'a Library,
    pub(super) crop: &'a Crop,
    pub(super) sowing: &'a Sowing,
    pub(super) course: Option<LongCourse>,
}
