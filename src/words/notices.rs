//! What the window says by itself: what to try, what was done, what went wrong.

use std::fmt::Display;
use std::path::Path;

use chrono::NaiveDate;

use crate::outlook::Settled;
use crate::season::TrayKey;
use crate::units::path_text;

use super::days::month;
use super::{Words, counted, listed};

pub const HIDE: &str = "Hide";
pub const HIDE_HINT: &str = "Hide hint";
pub const OPEN_FOLDER: &str = "Open folder";
pub const COPY_PATH: &str = "Copy path";
pub const NOT_OPENED: &str = "This season could not be opened";
pub const OPEN_ANOTHER: &str = "Open another…";
pub const START_NEW: &str = "Start a new season";

pub const TRY: &str =
    "Drag the blue date below through the year, and trays from shelf to shelf; R turns the one in your hand";

pub fn try_finding_spots(worst: NaiveDate) -> String {
    format!(
        "Nothing stands on the shelves yet: press Find spots, then drag the blue date below to {}, where they overflow",
        month(worst)
    )
}

pub fn try_moving(worst: NaiveDate) -> String {
    format!("The shelves overflow in {}: Make room says what can be changed, and what it costs", month(worst))
}

pub fn of_the_sample(hint: &str) -> String {
    format!("An invented sample season. {hint}")
}

pub const IN_ORDER_BELOW_LAMPS: &str = "as they stand on this day, each has its middle below a lamp";
pub const NO_DOCUMENTS: &str = "No folder for documents is known here; use Save under a path";

pub fn not_done(why: impl Display) -> String {
    format!("Not done: {why}")
}

pub fn framed(reason: &str) -> String {
    format!("Framed in red: {reason}")
}

/// `Every tray has a spot on all its days: 8 found one and 3 moved`.
pub fn all_have_a_spot(settled: Settled) -> String {
    format!("{}{}", super::weeks::ALL_HAVE_A_SPOT, found_and_moved(settled))
}

fn found_and_moved(Settled { found, moved }: Settled) -> String {
    let parts = [(found > 0).then(|| format!("{found} found one")), (moved > 0).then(|| format!("{moved} moved"))];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    match (parts.is_empty(), moved) {
        (true, _) => String::new(),
        (false, 0) => format!(": {}, none moved", listed(&parts)),
        (false, _) => format!(": {}", listed(&parts)),
    }
}

/// Once a way out has been taken and all stands as it wants.
pub const WAY_TAKEN: &str = "Done: every tray has a spot on all its days";

impl Words<'_> {
    /// Which have none after all, for some of their days.
    pub fn some_have_a_spot(&self, left: &[TrayKey], settled: Settled) -> String {
        format!(
            "All that have room have a spot{}; {} without one for some days: {}",
            found_and_moved(settled),
            counted(left.len(), "tray", "trays"),
            self.marks(left)
        )
    }
}

pub fn framed_beyond_lamps(framed: usize) -> String {
    format!("framed in red: {} beyond a lamp or without a spot on this day", counted(framed, "tray", "trays"))
}

pub fn copied(trays: usize) -> String {
    format!("Copied {} as a table", counted(trays, "tray", "trays"))
}

pub fn no_free_spot(mark: &str) -> String {
    format!("No shelf has a free spot for {mark} on this day")
}

pub fn not_opened(why: impl Display) -> String {
    format!("Not opened: {why}")
}

pub fn not_made(why: impl Display) -> String {
    format!("Not made: {why}")
}

pub fn made_from(season: &str, before: &str) -> String {
    format!("{season}, made from {before}; it is not in a file yet")
}

pub fn saved_to(path: &Path) -> String {
    format!("Saved to {}", path_text(path))
}

pub fn nothing_to_save(path: &Path) -> String {
    format!("Nothing to save: {} holds this season as it is", path.display())
}

pub fn took_theirs(path: &Path, laid_aside: bool) -> String {
    let aside = if laid_aside { "; what was here stays among the earlier versions for 30 days" } else { "" };
    format!("Opened as it is now in {}{aside}", path.display())
}

pub fn version_opened(season: &str) -> String {
    format!("An earlier version of {season} is open; save it to keep it")
}

pub fn not_saved(why: impl Display) -> String {
    format!("Not saved: {why}")
}

pub fn no_program_for_folder(folder: &Path, why: impl Display) -> String {
    format!("No program showed the folder {}: {why}", path_text(folder))
}

/// One thing said behind another.
pub fn and_then(first: &str, then: &str) -> String {
    format!("{first}. {then}")
}

pub fn taken_back(what: &str) -> String {
    format!("Taken back: {what}")
}

pub fn done_again(what: &str) -> String {
    format!("Done again: {what}")
}
