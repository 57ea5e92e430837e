//! What the commands print beside the sentences that the window has too, and what they complain of.

use std::fmt::Display;
use std::path::Path;

use chrono::NaiveDate;

use crate::outlook::{Outlook, Verdict, Week};
use crate::season::FrostMethod;
use crate::units::{one_line, path_text};

use super::{
    Words, counted, full_day, fullest, last_frost_line, later_frost, listed, short, short_of, verdict_of, week,
    week_code,
};

/// The commands, as a sentence lists them.
fn named(commands: &[String]) -> String {
    format!("the commands {}", listed(commands))
}

pub const USAGE: &str =
    "flatwright [FILE]              open the window\n       flatwright COMMAND …           do one thing and exit";
pub const AFTER_HELP: &str = "Exit codes: 0 fits or done, 1 something does not fit, 2 bad input.

Take care: GFCI (RCD) where lamps and mats are near water, and look every day that it has not tripped; what burns for
hours takes 80 % of the breaker at most where the US code holds; shelves bear what their maker says, less on casters,
heavy trays low; gloves and mask for mix (Legionella); closed frames overheat in sun; a heater without a flue wants air
and a carbon monoxide alarm. Local codes, makers' ratings and licensed electricians or fitters come first.";

pub const ONE_SEASON: &str = "the window opens one season; give it one file and nothing else";
pub const BUILT_WITHOUT_WINDOW: &str = "this build has no window";
pub const A_METHOD: &str = "write normal or empirical";

/// What JSON calls the way a date was had.
pub const fn method(method: FrostMethod) -> &'static str {
    match method {
        FrostMethod::Given => "as given",
        FrostMethod::Empirical => "read from the springs in order",
        FrostMethod::NormalLaw => "by the normal law",
    }
}

pub const A_DRAWING: &str = "a drawing";
pub const A_SEASON_FILE: &str = "a season file";
pub const SAY_WHERE_TO_SAVE: &str = "say where to save the season: -o OUT";
pub const SAY_WHAT_TO_TAKE: &str = "say what to take: --weather, --frost-table or --sowings";
pub const SAY_THE_SENSE: &str = "say what the chances of the table are: --sense later (the chance that a later frost \
     comes) or over (that the last frost is over)";
pub const SAY_THE_YEAR: &str =
    "this season has no date yet that says which year’s frost is meant; add --year, such as --year 2027";
pub const FROST_NOT_KEPT: &str = "the season did not keep its last frost";
pub const OVERHANG: &str = "the overhang";

pub const NO_SPOT_FOR: &str = "No spot for";
pub const WHAT_MOVED: &str = "What moved, and what did not";
pub const SPRINGS_NOT_USED: &str = "Springs not used";
pub const ODD: &str = "Odd";
pub const PREVIEW: &str = "A preview: nothing is saved";
/// In a cell of a table.
pub const NONE: &str = "–";
pub const NO_DATE: &str = "none";

pub const HEADS_OF_CHECK: [&str; 8] = ["week", "from", "place", "verdict", "needed", "held", "room", "lit"];
pub const HEADS_OF_WEEKS: [&str; 12] =
    ["week", "from", "place", "needed", "held", "spare", "lit", "over", "trays", "plants", "verdict", "too full in"];
pub const HEADS_OF_SOWINGS: [&str; 6] = ["line", "sowing", "plants", "sow", "out", "out by"];

/// The temperature, then the dates with 5, 3 and 1 years in 10 after them.
pub fn heads_of_frost_dates(years_in_ten: [u8; 3]) -> [String; 4] {
    let [often, less, seldom] = years_in_ten.map(later_frost);
    ["nights as cold as".to_owned(), often, less, seldom]
}

pub fn no_such_command(word: &str, commands: &[String]) -> String {
    let word = one_line(word);
    format!("there is no command or file \"{word}\"; there are {}", named(commands))
}

pub fn only_these(commands: &[String]) -> String {
    format!("{} are the commands", named(commands))
}

/// The window won't open; the commands do.
pub fn no_window(why: &str, commands: &[String]) -> String {
    format!("{why}; {} need none", named(commands))
}

pub fn not_a_date(why: impl Display) -> String {
    format!("{why}; write year-month-day, such as 2027-04-14")
}

pub fn not_written(why: impl Display) -> String {
    format!("the answer could not be written: {why}")
}

pub fn not_json(why: impl Display) -> String {
    format!("the answer could not be written as JSON: {why}")
}

pub fn of_file(path: &Path, why: impl Display) -> String {
    format!("{}: {why}", path_text(path))
}

/// The reader of a table gives line and column with a colon of their own.
pub fn of_line(path: &Path, why: impl Display) -> String {
    format!("{}:{why}", path_text(path))
}

/// `map.png: a drawing ends with .svg`.
pub fn wrong_ending(path: &Path, what: &str, endings: &[&str]) -> String {
    let wanted: Vec<String> = endings.iter().map(|ending| format!(".{ending}")).collect();
    of_file(path, format_args!("{what} ends with {}", wanted.join(" or ")))
}

pub fn out_of_range(what: &str, least: impl Display, most: impl Display, typed: &str) -> String {
    format!("{what} must be from {least} to {most}, found {typed:?}")
}

pub fn about(what: &str, why: impl Display) -> String {
    format!("{what}: {why}")
}

pub fn saved_as(path: &Path) -> String {
    format!("Saved as {}", path_text(path))
}

impl Words<'_> {
    /// The last frost that the dates rest on; empty where the season has none.
    pub fn frost_line(&self) -> Option<String> {
        self.season.settings().frost.as_ref().map(|frost| last_frost_line(frost, self.unit))
    }

    /// The verdict, and the week or day that decides it.
    pub fn headline(&self, outlook: &Outlook) -> String {
        let detail = match outlook.verdict {
            Verdict::Fits => fullest(outlook).map(|fullest| {
                let spare =
                    if fullest.spare == 0 { "no room left".to_owned() } else { format!("{} spare", fullest.spare) };
                format!("; fullest is {}, {}: {spare}", week(fullest.label), self.pool(&fullest.pool))
            }),
            Verdict::Unsettled => None,
            Verdict::Crunch => outlook.worst().map(|(_, crunch)| {
                format!("; worst on {}, {}: {}", full_day(crunch.worst_day), self.pools(&crunch.pools), short(crunch))
            }),
        };
        format!("{}{}", verdict_of(outlook), detail.unwrap_or_default())
    }
}

/// `2027-W16 to 2027-W18`.
pub fn from_week_to_week(first: &Week, last: Option<&Week>) -> String {
    match last {
        Some(last) => format!("{} to {}", week_code(first.label), week_code(last.label)),
        None => week_code(first.label),
    }
}

/// `6 short`, `2 not sure`, `25 spare`, `full`; nothing where nothing stands.
pub fn room(week: &Week) -> String {
    match (week.verdict, week.spare) {
        (Verdict::Crunch, _) => short_of(week.short, week.short_at_most),
        (Verdict::Unsettled, _) => format!("{} not sure", week.short_at_most),
        (Verdict::Fits, _) if week.needed == 0 => String::new(),
        (Verdict::Fits, 0) => "full".to_owned(),
        (Verdict::Fits, spare) => format!("{spare} spare"),
    }
}

/// How many of them are well lit, and how many more are not.
pub fn lit(week: &Week) -> String {
    match (week.lit, week.over_lit) {
        (None, _) => String::new(),
        (Some(lit), 0) => lit.to_string(),
        (Some(lit), over) => format!("{lit}, {over} over"),
    }
}

pub fn nothing_stands(season: &str) -> String {
    format!("{season}: nothing stands on the shelves in any week")
}

pub fn placed(season: &str, placed: usize, all: usize, moves: usize, output: &Path) -> String {
    let moves = match moves {
        0 => "and none moves but from one step to the next".to_owned(),
        moves => format!("with {}", counted(moves, "move", "moves")),
    };
    format!("{season}: {placed} of {all} have a spot on all their days, {moves}; saved as {}", path_text(output))
}

pub fn drawn(output: &Path, on: NaiveDate, scale: impl Display, placed: usize) -> String {
    let on = full_day(on);
    format!("Drawn as {}: the shelves on {on} at {scale}, with {placed} in their spots", path_text(output))
}

pub fn made_from(season: &str, before: &str) -> String {
    format!("{season}, from {before}")
}

pub fn rows_taken_in(season: &str, rows: usize) -> String {
    format!("{season}: {}", counted(rows, "row taken in", "rows taken in"))
}

pub fn column_taken_as(heading: &str, name: Option<&str>) -> String {
    format!("{}: {}", one_line(heading), name.unwrap_or("not used"))
}
