use std::ffi::OsString;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{ArgGroup, Args, CommandFactory as _, Parser, Subcommand};

use crate::export::Scale;
use crate::season::FrostMethod;
use crate::store::sowings::{Assigned, Column};
use crate::store::{Sense, WeatherUnit};
use crate::units::{Temperature, Typed};
use crate::words::commands;

/// Shelf room for plants started indoors: when the shelves run out, and what stands where
#[derive(Debug, Parser)]
#[command(
    name = "flatwright",
    version,
    override_usage = commands::USAGE,
    after_help = commands::AFTER_HELP
)]
pub struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Say whether everything fits, week by week, and why not
    Check(Read),
    /// List what each week needs and what the shelves hold
    Weeks(Weeks),
    /// Give every tray a spot and save the season with them
    Place(Place),
    /// Say what can be changed so that everything fits, and what it costs
    MakeRoom(MakeRoom),
    /// Say how many days each sowing, moving on and going out can wait before the shelves run out of room
    CanWait(Read),
    /// Say how many plants every day can hold, what limits it, and what one more shelf or lamp would add
    Room(Room),
    /// Draw the shelves as they stand on a day, to scale
    Draw(Draw),
    /// Say how many trays or pots of one kind a shelf holds
    Holds(Holds),
    /// Take a station's last frost, or a table of frost dates, into a season
    Take(Take),
    /// Make next year's season from this one: rules move, records teach
    Next(Next),
    #[command(external_subcommand)]
    Other(Vec<OsString>),
}

#[derive(Clone, Debug, Args)]
pub struct Read {
    /// A season file
    pub file: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Weeks {
    /// A season file
    pub file: PathBuf,
    /// How many seasons to draw between early and late days, for how often a week is too full
    #[arg(long, value_name = "N", default_value_t = 1_000, value_parser = clap::value_parser!(u32).range(1..=20_000))]
    pub draws: u32,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Place {
    /// A season file
    pub file: PathBuf,
    /// The season file to write; may be the same
    #[arg(short = 'o', long = "output", value_name = "OUT")]
    pub output: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct MakeRoom {
    /// A season file
    pub file: PathBuf,
    /// The season file to write, with the cheapest changes made; may be the same
    #[arg(short = 'o', long = "output", value_name = "OUT")]
    pub output: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Room {
    /// A season file
    pub file: PathBuf,
    /// The crop, by name; the whole season if not given, all sowings in proportion
    #[arg(long, value_name = "CROP", allow_hyphen_values = true)]
    pub crop: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Draw {
    /// A season file
    pub file: PathBuf,
    /// The day to draw, such as 2027-04-14
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub on: NaiveDate,
    /// The drawing to write; its ending says how: .svg
    #[arg(short = 'o', long = "output", value_name = "OUT")]
    pub output: PathBuf,
    /// Printed size, such as 1:10; the largest round one that fits A4 if not given
    #[arg(long, value_name = "1:N", value_parser = Scale::parse)]
    pub scale: Option<Scale>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Holds {
    /// Width and depth, such as "48 x 18 in" or "100 x 60 cm"; with --in, also a shelf by name: "Rack 1, shelf 2"
    #[arg(allow_hyphen_values = true)] // what is wrong with "-7 cm" says the length
    pub shelf: String,
    /// A tray or pot by name ("flat", "72"), or a size: "7 cm", "7 cm round", "11 x 21 in"
    #[arg(allow_hyphen_values = true)]
    pub container: String,
    /// How far something may stick out over the front edge, such as "4 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub overhang: Option<String>,
    /// A season file whose own trays and pots are known by name too
    #[arg(long = "in", value_name = "FILE")]
    pub season: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
#[command(group(ArgGroup::new("from_outside").required(true).args(["weather", "frost_table", "sowings"])))]
pub struct Take {
    /// A season file
    pub file: PathBuf,
    /// A record of daily lows: GHCN-Daily as .csv or .dly
    #[arg(long, value_name = "RECORD")]
    pub weather: Option<PathBuf>,
    /// Lines such as "32 F: 50% 10 Mar, 10% 22 Apr", or a table of temperatures and chances
    #[arg(long, value_name = "TABLE", requires = "sense")]
    pub frost_table: Option<PathBuf>,
    /// A table of sowings (CSV) with a heading over each column
    #[arg(long, value_name = "TABLE")]
    pub sowings: Option<PathBuf>,
    /// What a column of it is, where its heading doesn't say: "out=Set out on"; "none=HEADING" leaves it out
    #[arg(long = "column", value_name = "NAME=HEADING", value_parser = Column::assign, requires = "sowings")]
    pub columns: Vec<Assigned>,
    /// Say what would be taken in, and save nothing
    #[arg(long, requires = "sowings")]
    pub preview: bool,
    /// What the table's chances are: later (a later frost comes) or over (the last frost is over)
    #[arg(long, value_name = "SENSE", value_parser = Sense::parse, conflicts_with = "weather")]
    pub sense: Option<Sense>,
    /// The season file to write; may be the same
    #[arg(short = 'o', long = "output", value_name = "OUT", required_unless_present = "preview")]
    pub output: Option<PathBuf>,
    /// What counts as a frost, such as 0C or 36F
    #[arg(long, value_name = "TEMPERATURE", value_parser = Typed::<Temperature>::parse_temperature,
        default_value = "0 °C", allow_hyphen_values = true)]
    pub at: Typed<Temperature>,
    /// The risk: years in 10 that may have a later frost, 1 to 9
    #[arg(long, value_name = "YEARS", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=9))]
    pub later_in_ten: u8,
    /// How dates are had from a record: normal (the normal law) or empirical (its springs in order)
    #[arg(long, value_name = "METHOD", default_value = "normal", value_parser = method)]
    pub method: FrostMethod,
    /// The unit of the lows where the file doesn't say it: F, C or tenths (of a degree Celsius)
    #[arg(long, value_name = "UNIT", value_parser = WeatherUnit::parse)]
    pub unit: Option<WeatherUnit>,
    /// The station to take of several, or the name of a table's
    #[arg(long, value_name = "STATION")]
    pub station: Option<String>,
    /// The year of the frost, for a season that has no dates yet
    #[arg(long, value_name = "YEAR", value_parser = clap::value_parser!(i32).range(1951..=2149))]
    pub year: Option<i32>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Clone, Debug, Args)]
pub struct Next {
    /// A season file
    pub file: PathBuf,
    /// The year of the new season
    #[arg(long, value_name = "YEAR", value_parser = clap::value_parser!(i32).range(1951..=2149))]
    pub year: i32,
    /// The season file to write
    #[arg(short = 'o', long = "output", value_name = "OUT")]
    pub output: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// What the arguments ask for.
#[derive(Debug)]
pub enum Asked {
    Command(Command),
    /// The window, with that season in it.
    Window(Option<PathBuf>),
}

impl Asked {
    /// What is asked for by words of which the first is no text: it can be a file, and nothing else.
    /// `None` where it is text, or where there is none.
    ///
    /// # Errors
    /// There are more words behind it.
    pub fn by_odd_name(words: &[OsString]) -> Option<Result<Self, String>> {
        let (file, rest) = words.split_first()?;
        let odd = file.to_str().is_none();
        let asked =
            || if rest.is_empty() { Ok(Self::Window(Some(file.into()))) } else { Err(commands::ONE_SEASON.to_owned()) };
        odd.then(asked)
    }
}

impl Arguments {
    /// # Errors
    /// Says what the first word could have been where it is neither a command nor a file.
    pub fn asked(self) -> Result<Asked, String> {
        let words = match self.command {
            None => return Ok(Asked::Window(None)),
            Some(Command::Other(words)) => words,
            Some(command) => return Ok(Asked::Command(command)),
        };
        match words.as_slice() {
            [file] if is_file_name(Path::new(file)) => Ok(Asked::Window(Some(file.into()))),
            [file, ..] if is_file_name(Path::new(file)) => Err(commands::ONE_SEASON.to_owned()),
            [word, ..] => Err(commands::no_such_command(&word.to_string_lossy(), &names())),
            [] => Ok(Asked::Window(None)),
        }
    }
}

/// What the commands are called, in the order of the help.
pub fn names() -> Vec<String> {
    Arguments::command().get_subcommands().map(|command| command.get_name().to_owned()).collect()
}

/// A lone word that is no file is a mistyped command.
fn is_file_name(path: &Path) -> bool {
    path.extension().is_some() || path.components().count() > 1 || path.exists()
}

fn method(text: &str) -> Result<FrostMethod, String> {
    match text {
        "normal" => Ok(FrostMethod::NormalLaw),
        "empirical" => Ok(FrostMethod::Empirical),
        _ => Err(commands::A_METHOD.to_owned()),
    }
}

fn date(text: &str) -> Result<NaiveDate, String> {
    NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d").map_err(commands::not_a_date)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The parser refuses such a name before it is asked what it is.
    #[cfg(unix)]
    #[test]
    fn a_file_whose_name_is_no_text_opens_in_the_window() {
        use std::os::unix::ffi::OsStrExt as _;
        let odd: OsString = std::ffi::OsStr::from_bytes(b"fr\xfchling.ron").into();
        let asked = Asked::by_odd_name(std::slice::from_ref(&odd));
        assert!(matches!(asked, Some(Ok(Asked::Window(Some(path)))) if path.as_os_str() == odd));
        assert_eq!(
            Asked::by_odd_name(&[odd, "more".into()]).and_then(Result::err),
            Some(commands::ONE_SEASON.to_owned())
        );
        assert!(Asked::by_odd_name(&["spring.ron".into()]).is_none());
        assert!(Asked::by_odd_name(&[]).is_none());
    }
}
