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

/// Of a name in the bar at the top and in the title: the rest of either is never pushed out.
const LONGEST_NAME: usize = 48;

/// `● Spring 2027 – Flatwright`: the mark of what is not saved comes first, where no name hides it.
pub fn title(season: &str, unsaved: bool) -> String {
    let mark = if unsaved { "● " } else { "" };
    format!("{mark}{} – {PROGRAM}", short_name(season))
}

/// In one line, and not too long for one.
pub fn short_name(name: &str) -> String {
    let line: String = name.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let line = line.trim();
    if line.chars().count() <= LONGEST_NAME {
        return line.to_owned();
    }
    let start: String = line.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", start.trim_end())
}

pub fn not_worked_out(why: impl Display) -> String {
    format!("The shelves could not be worked out: {why}")
}

pub fn fault_of_the_program(why: impl Display) -> String {
    format!("A fault of the program stopped the work: {why}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_saved_is_marked_whatever_the_name() {
        for (name, expected) in [
            ("Spring 2027", "● Spring 2027 – Flatwright"),
            ("Spring\n2027\u{7}", "● Spring 2027 – Flatwright"),
            ("", "●  – Flatwright"),
        ] {
            assert_eq!(title(name, true), expected);
        }
        let long = title(&"Tomato ".repeat(100), true);
        assert!(long.starts_with("● Tomato ") && long.ends_with("… – Flatwright"), "{long}");
        assert!(long.chars().count() < 65);
        assert_eq!(title("Spring 2027", false), "Spring 2027 – Flatwright");
    }
}
