//! The bar at the top.

use std::fmt::Display;

use super::window::short_name;
use super::{plural, worth_a_look};

pub const SEASON: &str = "Season";
pub const EDIT: &str = "Edit";
pub const VIEW: &str = "View";

pub const QUESTIONS: &str = "Questions";

pub const ROOM: &str = "Room";
pub const LIBRARY: &str = "Library";

pub const START: &str = "About this season…";
pub const PLACES: &str = "Places, racks and shelves…";
pub const SOWINGS: &str = "Every figure of a sowing…";
pub const GUESTS: &str = "Plants not sown this year…";
pub const DAYS: &str = "Days away…";
pub const RECORDS: &str = "What was seen and done…";
pub const WORTH_A_LOOK: &str = worth_a_look::TITLE;
pub const BACK_KEY: &str = "Esc leads back too";

pub const NEW: &str = "New season";
pub const SAMPLE: &str = "Look at the sample season";
pub const OPEN: &str = "Open…";
pub const OPEN_BY_PATH: &str = "Open by its path…";
pub const OPEN_RECENT: &str = "Open one used before";
pub const SAVE_AS: &str = "Save as…";
pub const SAVE_BY_PATH: &str = "Save under a path…";
pub const SAVE_IN_FOLDER: &str = "Save in the seasons folder";
pub const QUIT: &str = "Quit";
pub const FORGET_RECENT: &str = "Forget these";

pub const UNDO: &str = "Undo";
pub const REDO: &str = "Redo";
pub const SWAP: &str = "Swap two trays";
pub const CHOOSE_ALL: &str = "Choose all that stand";
pub const PASTE: &str = "Paste arrangement on the shelf last used";

pub const GROWING_IN_VIEW: &str = "Growing shelves in view (Home)";
pub const ALL_IN_VIEW: &str = "All shelves in view (0)";
pub const AS_THE_SEASON: &str = "Units as the season was measured";
pub const INCHES: &str = "Inches";
pub const MILLIMETRES: &str = "Millimetres";
pub const AS_THE_SYSTEM: &str = "Light or dark as the system";
pub const LIGHT: &str = "Light";
pub const DARK: &str = "Dark";
pub const LARGER: &str = "Larger letters";
pub const SMALLER: &str = "Smaller letters";
pub const USUAL: &str = "Usual letters";

/// `Worth a look (3)`.
pub fn worth_a_look(number: usize) -> String {
    if number == 0 { worth_a_look::TITLE.to_owned() } else { format!("{} ({number})", worth_a_look::TITLE) }
}

/// `‹ Plan`: back to the room that a page lies over.
pub fn back_to(room: &str) -> String {
    format!("‹ {room}")
}

pub const fn saved(unsaved: bool) -> &'static str {
    if unsaved { "not saved" } else { "saved" }
}

/// `Spring 2027 · not saved · mm`.
pub fn state(season: &str, unsaved: bool, inches: bool) -> String {
    let state = saved(unsaved);
    let units = if inches { "inches" } else { "mm" };
    format!("{} · {state} · {units}", short_name(season))
}

pub fn recent(name: impl Display, folder: impl Display) -> String {
    format!("{name} in {folder}")
}

pub fn undo(what: Option<&str>) -> String {
    what.map_or_else(|| UNDO.to_owned(), |what| format!("{UNDO} {what}"))
}

pub fn redo(what: Option<&str>) -> String {
    what.map_or_else(|| REDO.to_owned(), |what| format!("{REDO} {what}"))
}

pub fn turn(trays: usize) -> String {
    format!("Turn {}", plural(trays, "tray", "trays"))
}

pub fn pin(trays: usize) -> String {
    format!("Pin or unpin {}", plural(trays, "tray", "trays"))
}

pub fn lift(trays: usize) -> String {
    format!("Take {} off the shelf", plural(trays, "tray", "trays"))
}

pub fn copy(trays: usize) -> String {
    format!("Copy {}", plural(trays, "tray", "trays"))
}
