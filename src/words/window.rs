//! The frame of the window: its name, why it did not come up, faults of the work behind it.

use std::fmt::Display;

pub const PROGRAM: &str = "Flatwright";
pub const NO_SEASON: &str = "No season";
pub const NO_DISPLAY: &str =
    "no window could be opened: neither DISPLAY nor WAYLAND_DISPLAY names a display of this session";

pub fn no_graphics(why: impl Display) -> String {
    format!("no window could be opened: OpenGL, which it is drawn with, is missing or does not work ({why})")
}

pub fn not_started(why: impl Display) -> String {
    format!("no window could be opened: {why}")
}

pub fn title(season: &str) -> String {
    format!("{season} – {PROGRAM}")
}

pub fn not_worked_out(why: impl Display) -> String {
    format!("The shelves could not be worked out: {why}")
}

pub fn fault_of_the_program(why: impl Display) -> String {
    format!("A fault of the program stopped the work: {why}")
}
