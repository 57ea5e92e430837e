//! The program as it is called at a terminal: what it prints, what it writes, how it ends.

#![allow(clippy::unwrap_used, reason = "what a test cannot read is its failure")]

mod bad_input;
mod can_wait;
mod drawing;
mod holds;
mod hostile;
mod make_room;
mod next;
mod room;
mod seasons;
mod sowing_table;
mod take;
mod tools;
