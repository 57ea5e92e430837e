//! Files: dialogs, the field for a path, what was never saved.

use std::fmt::Display;
use std::path::Path;

use chrono::NaiveDateTime;

use crate::units::path_text;

use super::moment;

/// The folder among the documents.
/// Opens every season file, as a comment in it.
pub const OPENS_A_FILE: &str =
    "A season of Flatwright. Safe to edit by hand; comments are not kept when the program saves.";
pub const FOLDER: &str = "Flatwright";
pub const SEASONS: &str = "Seasons";
pub const WEATHER_RECORDS: &str = "Weather records";
pub const SOWING_TABLES: &str = "Sowing tables";
pub const OPEN_SEASON: &str = "Open a season";
pub const SAVE_SEASON: &str = "Save the season";
pub const CHOOSE_WEATHER: &str = "Choose a weather record";
pub const CHOOSE_TABLE: &str = "Choose a sowing table";

pub const SAVE: &str = "Save";
pub const CANCEL: &str = "Cancel";
pub const OPEN: &str = "Open";
pub const REPLACE: &str = "Replace";
pub const READ: &str = "Read";
pub const CHOOSE: &str = "Choose…";
pub const FILE: &str = "File";
pub const READING: &str = "Reading…";
pub const PATH: &str = "Path of the file";
pub const PATH_FIRST: &str = "Write a path";
pub const FOLDER_ABOVE: &str = "↑ the folder above";
pub const NO_SEASON_HERE: &str = "No season is in this folder";
pub const NO_WEATHER_HERE: &str = "No .csv or .dly is in this folder";
pub const NO_TABLE_HERE: &str = "No .csv, .tsv or .txt is in this folder";

pub const NO_DIALOG: &str = "No file dialog can be asked here; write the path";
pub const NO_DIALOG_SERVICE: &str = "This session has no service that shows file dialogs; write the path";
pub const NO_DIALOG_CAME: &str = "No file dialog came up on this system; write the path here";
pub const DIALOG_FAILED: &str = "The system’s file dialog failed; write the path here";
pub const IF_NO_DIALOG_CAME: &str = "If no file dialog has come up by now, write the path here";
pub const NOT_IN_A_FILE: &str = "not in a file yet";

pub const SAVE_CHANGES: &str = "Save the changes to this season?";
pub const DO_NOT_SAVE: &str = "Don’t save";
pub const IT_IS_IN_NO_FILE: &str = "It is not in a file yet";
pub const RESUME: &str = "Resume";
pub const DISCARD: &str = "Discard";
pub const NOT_NOW: &str = "Not now";

pub const DECIDE: &str = "Decide…";
pub const KEEP_MINE: &str = "Keep mine";
pub const TAKE_THEIRS: &str = "Take theirs";
pub const ANOTHER_NAME: &str = "Another name…";
pub const WHAT_BECOMES: &str = "Keep mine writes over it, and it stays among the earlier versions; Take theirs lays what is here among them, for 30 days";
pub const HAS_COMMENTS: &str = "This file has notes that somebody wrote into it by hand";
pub const SAVE_WITHOUT: &str = "Save without them";

pub const EARLIER: &str = "Earlier versions";
pub const EARLIER_MENU: &str = "Earlier versions…";
pub const EARLIER_HINT: &str = "One that is opened takes the place of this season when it is saved";
pub const NONE_EARLIER: &str = "No earlier version of this season is kept yet; each save keeps the one before";
pub const THE_SAME: &str = "the same as here";

pub fn dialog_not_asked(why: impl Display) -> String {
    format!("The system’s dialog could not be asked: {why}")
}

pub fn not_kept(why: impl Display) -> String {
    format!("Not kept! Unsaved work would be lost: {why}")
}

pub fn found_unreadable(why: impl Display) -> String {
    format!("Unsaved work was found but cannot be read: {why}")
}

pub fn there_already(path: &Path) -> String {
    format!("{} is there already; press {REPLACE} to write over it", path_text(path))
}

pub fn in_folder(folder: &Path) -> String {
    format!("In {}", path_text(folder))
}

pub fn changes_not_in(path: &Path) -> String {
    format!("They are not in {} yet", path_text(path))
}

pub fn kept_on(season: &str, at: NaiveDateTime) -> String {
    format!("“{season}”, kept on {}", moment(at))
}

pub fn differs(has_file: bool, differences: &str) -> String {
    let against = if has_file { "What differs from the file" } else { "Against an empty season" };
    format!("{against}: {differences}")
}

/// `Work that was never saved was found (2 of 3)`.
pub fn work_found(at: usize, of: usize) -> String {
    let found = "Work that was never saved was found";
    if of > 1 { format!("{found} ({at} of {of})") } else { found.to_owned() }
}

pub fn work_of(path: &Path) -> String {
    format!("It belongs to {}", path.display())
}

pub fn changed_elsewhere(path: &Path) -> String {
    format!("{} was changed elsewhere since it was opened or saved here", path.display())
}

pub fn is_gone(path: &Path) -> String {
    format!("{} is gone; this season is in no file now", path.display())
}

pub fn theirs(differences: &str) -> String {
    if differences.is_empty() {
        "What is there now cannot be read, or reads the same".to_owned()
    } else {
        format!("What differs there: {differences}")
    }
}

pub fn comments_go(path: &Path) -> String {
    format!("Saving drops the lines after // in {}; they stay in its earlier version", path.display())
}

pub fn version_of(at: NaiveDateTime, thrown: bool) -> String {
    if thrown { format!("Discarded on {}", moment(at)) } else { format!("As saved on {}", moment(at)) }
}

pub fn unreadable(why: impl Display) -> String {
    format!("it cannot be read: {why}")
}

pub fn no_versions(why: impl Display) -> String {
    format!("The earlier versions cannot be looked at: {why}")
}
