//! The work of the program without its window: arguments, one function a command, exit codes.
//!
//! A command only returns what it would print; [`run`] prints it. Nothing here decides anything
//! about plants or shelves, and nothing asks what day it is.

mod arguments;
mod check;
mod draw;
mod holds;
mod next;
mod output;
mod place;
mod table;
mod take;
mod typed;
mod weeks;

use std::io::{self, Write};

pub use arguments::{Arguments, Asked, Command, Draw, Holds, Next, Place, Read, Take, Weeks};

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::forecast::{self, Forecast};
use crate::outlook::{self, Chance, Draws, Effort, Keep, Outlook};
use crate::season::{EditError, Library, Season};
use crate::store;
use crate::units::LengthUnit;
use crate::words::{self, Words};

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    Good,
    /// It did its work, but not everything fits.
    NotAll,
    BadInput,
}

impl Exit {
    pub const fn code(self) -> u8 {
        match self {
            Self::Good => 0,
            Self::NotAll => 1,
            Self::BadInput => 2,
        }
    }
}

/// What a command prints, whole, and how it ends.
#[derive(Debug)]
struct Report {
    text: String,
    exit: Exit,
}

#[derive(Debug, thiserror::Error)]
enum Failure {
    #[error(transparent)]
    File(Box<store::FileError>),
    #[error("{}", words::refusal(.0))]
    Edit(Box<EditError>),
    #[error(transparent)]
    Stopped(#[from] Cancelled),
    #[error("{}", words::commands::not_json(.0))]
    Json(#[from] serde_json::Error),
    #[error("{0}")]
    Bad(String),
}

impl From<EditError> for Failure {
    fn from(why: EditError) -> Self {
        Self::Edit(Box::new(why))
    }
}

impl From<store::FileError> for Failure {
    fn from(why: store::FileError) -> Self {
        Self::File(Box::new(why))
    }
}

/// Runs a command: its answer goes to `out`, what is wrong to `err`.
pub fn run(command: &Command, out: &mut dyn Write, err: &mut dyn Write) -> Exit {
    let report = match command {
        Command::Check(args) => check::check(args),
        Command::Weeks(args) => weeks::weeks(args),
        Command::Place(args) => place::place(args),
        Command::Draw(args) => draw::draw(args),
        Command::Holds(args) => holds::holds(args),
        Command::Take(args) => take::take(args),
        Command::Next(args) => next::next(args),
        Command::Other(_) => Err(Failure::Bad(words::commands::only_these())),
    };
    match report {
        Ok(report) => match out.write_all(report.text.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => report.exit,
            // Whoever read has had enough: `flatwright check … | head`.
            Err(why) if why.kind() == io::ErrorKind::BrokenPipe => report.exit,
            Err(why) => complain(err, &words::commands::not_written(why)),
        },
        Err(why) => complain(err, &why.to_string()),
    }
}

fn complain(err: &mut dyn Write, why: &str) -> Exit {
    writeln!(err, "{why}").ok(); // nobody is left to tell
    Exit::BadInput
}

fn bullet(text: &str) -> String {
    format!("- {text}\n")
}

/// The last frost that the dates rest on; empty where the season has none.
fn frost_line(words: &Words<'_>) -> String {
    words.frost_line().map_or_else(String::new, |line| line + "\n")
}

/// A season file and what follows from it.
struct Opened {
    season: Season,
    library: &'static Library,
    forecast: Forecast,
    unit: LengthUnit,
}

impl Opened {
    fn load(path: &std::path::Path) -> Result<Self, Failure> {
        let (season, library) = (store::load(path)?, store::library());
        let forecast = forecast::forecast(&season, library);
        let unit = typed::unit_of_season(&season);
        Ok(Self { season, library, forecast, unit })
    }

    fn look_ahead(&self, keep: Keep) -> Result<Outlook, Failure> {
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let effort = Effort::default();
        Ok(outlook::look_ahead(&self.season, &self.forecast, keep, effort, &mut Memory::default(), &progress, &cancel)?)
    }

    /// How often each week is too full, in seasons drawn between early and late; `None` where nothing
    /// varies.
    fn chance(&self, outlook: &Outlook, draws: Draws) -> Result<Option<Chance>, Failure> {
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let problem = outlook::chance_hash(&self.season, self.library, outlook.problem);
        let chance = outlook::chance(&self.season, self.library, draws, problem, &progress, &cancel)?;
        Ok(Some(chance).filter(|chance| chance.varies))
    }

    const fn words(&self) -> Words<'_> {
        Words { season: &self.season, library: self.library, forecast: &self.forecast, unit: self.unit }
    }
}
