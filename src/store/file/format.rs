//! What every season file starts with, and how its RON is read and written.

use ron::Options;
use ron::extensions::Extensions;

pub(super) const FORMAT: &str = "flatwright season";
/// The version that is written.
pub(super) const VERSION: u32 = 2;

/// `germination_percent: 85`, not `Some(85)`.
pub(super) fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}
