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

pub const CHANGE_SHELF: &str = "Change this shelf…";
pub const CHANGE_RACK: &str = "Change its whole rack…";
pub const CHOOSE_ALL_HERE: &str = "Choose all that stand here";

pub fn look_at(shelf: &str) -> String {
    format!("Change {shelf}…")
}

pub fn in_the_plan(sowing: &str) -> String {
    format!("{sowing} in the plan")
}

pub fn records_of(sowing: &str) -> String {
    format!("What was seen of {sowing}…")
}

pub const UNDO: &str = "Undo";
pub const REDO: &str = "Redo";
pub const NOTHING_TO_UNDO: &str = "Nothing was changed that could be taken back";
pub const NOTHING_TO_REDO: &str = "Nothing was taken back that could be done again";
pub const CHOOSE_A_TRAY: &str = "Choose a tray on the shelves first";
pub const CHOOSE_TWO_TRAYS: &str = "Choose two trays first: the second by Ctrl and a click";
pub const NO_SEASON_OPEN: &str = "No season is open";
pub const NONE_USED_BEFORE: &str = "No other season was opened or saved here before";
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

/// `‹ Plan`: back to where a page was opened from.
pub fn back_to(page: &str) -> String {
    format!("‹ {page}")
}

/// Where the season is, as it stands now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    InItsFile,
    /// Its file holds it as it was before.
    NotSaved,
    /// And kept aside, so that it comes back where the program ends.
    InNoFile {
        aside: bool,
    },
}

pub const fn kept(kept: Kept) -> &'static str {
    match kept {
        Kept::InItsFile => "saved",
        Kept::NotSaved => "not saved",
        Kept::InNoFile { aside: false } => super::files::NOT_IN_A_FILE,
        Kept::InNoFile { aside: true } => "in no file, but kept safe",
    }
}

/// What is under it: the file, or what becomes of a season that has none.
pub fn kept_where(kept: Kept, file: &str) -> &str {
    match kept {
        Kept::InItsFile | Kept::NotSaved => file,
        Kept::InNoFile { aside: true } => {
            "It is offered again when the program starts; Save puts it into a file of yours"
        }
        Kept::InNoFile { aside: false } => "Save puts it into a file of yours",
    }
}

/// `Spring 2027 · not saved · mm`.
pub fn state(season: &str, is: Kept, inches: bool) -> String {
    let state = kept(is);
    let units = if inches { "inches" } else { "mm" };
    format!("{} · {state} · {units}", short_name(season))
}

/// With what differs, in words; nothing where nothing does.
pub fn changed_since(differences: &str) -> String {
    if differences.is_empty() {
        "Nothing changed since it was opened or saved".to_owned()
    } else {
        format!("Changed since it was opened or saved: {differences}")
    }
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
