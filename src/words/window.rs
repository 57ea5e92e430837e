//! The frame of the window: seasons without a name, the way past a season that could not be read, its errors.

pub const PROGRAM: &str = "Flatwright";
pub const NO_SEASON: &str = "No season";
pub const NEW_SEASON: &str = "New season";
