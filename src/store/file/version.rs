//! What a season file says of itself.

pub(super) const FORMAT: &str = "flatwright season";
/// The version that is written.
pub(super) const VERSION: u32 = 2;
