//! Reads the arguments: a command runs and exits, anything else opens the window.

use std::ffi::OsString;
use std::io::{self, Write as _};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser as _;
use flatwright::command::{self, Arguments, Asked, Exit};
use flatwright::words::commands;

fn main() -> ExitCode {
    let words: Vec<OsString> = std::env::args_os().skip(1).collect();
    // leaves with 2 where the arguments make no sense
    let asked = Asked::by_odd_name(&words).unwrap_or_else(|| Arguments::parse().asked());
    let exit = match asked {
        Ok(Asked::Command(command)) => command::run(&command, &mut io::stdout().lock(), &mut io::stderr().lock()),
        Ok(Asked::Window(file)) => window(file),
        Err(why) => complain(&why, Exit::BadInput),
    };
    ExitCode::from(exit.code())
}

fn window(file: Option<PathBuf>) -> Exit {
    match open_window(file) {
        Ok(()) => Exit::Good,
        Err(why) => complain(&commands::no_window(&why, &command::names()), Exit::NotAll),
    }
}

#[cfg(feature = "window")]
fn open_window(file: Option<PathBuf>) -> Result<(), String> {
    #[expect(clippy::disallowed_methods, reason = "the one place that asks what day it is")]
    let today = chrono::Local::now().date_naive();
    flatwright::window::run(file, today).map_err(|why| why.to_string())
}

#[cfg(not(feature = "window"))]
fn open_window(_: Option<PathBuf>) -> Result<(), String> {
    Err(commands::BUILT_WITHOUT_WINDOW.to_owned())
}

fn complain(why: &str, exit: Exit) -> Exit {
    writeln!(io::stderr(), "{why}").ok(); // nobody is left to tell
    exit
}
