//! The work of the program without its window: arguments, one function a command, exit codes.
//!
//! A command only returns what it would print; [`run`] prints it. Nothing here decides anything
//! about plants or shelves, and nothing asks what day it is.

mod arguments;
mod can_wait;
mod check;
mod draw;
mod holds;
mod make_room;
mod next;
mod opened;
mod output;
mod place;
mod report;
mod room;
mod table;
mod take;
mod weeks;

use std::io::{self, Write};

pub use arguments::{Arguments, Asked, Command, Draw, Holds, MakeRoom, Next, Place, Read, Room, Take, Weeks, names};

use crate::units::breaks_a_line;
use crate::words;

pub use report::Exit;
use report::Failure;

/// Runs a command: its answer goes to `out`, what is wrong to `err`.
pub fn run(command: &Command, out: &mut dyn Write, err: &mut dyn Write) -> Exit {
    let report = match command {
        Command::Check(args) => check::check(args),
        Command::Weeks(args) => weeks::weeks(args),
        Command::Place(args) => place::place(args),
        Command::MakeRoom(args) => make_room::make_room(args),
        Command::CanWait(args) => can_wait::can_wait(args),
        Command::Room(args) => room::room(args),
        Command::Draw(args) => draw::draw(args),
        Command::Holds(args) => holds::holds(args),
        Command::Take(args) => take::take(args),
        Command::Next(args) => next::next(args),
        Command::Other(_) => Err(Failure::Bad(words::commands::only_these(&arguments::names()))),
    };
    match report {
        Ok(report) => match out.write_all(printable(&report.text).as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => report.exit,
            // Whoever read has had enough: `flatwright check … | head`.
            Err(why) if why.kind() == io::ErrorKind::BrokenPipe => report.exit,
            Err(why) => complain(err, &words::commands::not_written(why)),
        },
        Err(why) => complain(err, &why.to_string()),
    }
}

fn complain(err: &mut dyn Write, why: &str) -> Exit {
    writeln!(err, "{}", printable(why)).ok(); // nobody is left to tell
    Exit::BadInput
}

/// Whatever a file holds, it neither steers the terminal nor turns a line round; the escapes are JSON's.
fn printable(text: &str) -> String {
    use std::fmt::Write as _;
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if breaks_a_line(c) && c != '\n' {
            write!(shown, "\\u{:04x}", u32::from(c)).ok(); // text takes all that it is given
        } else {
            shown.push(c);
        }
    }
    shown
}
