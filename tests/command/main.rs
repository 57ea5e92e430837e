//! The program as it is called at a terminal: what it prints, what it writes, how it ends.

mod bad_input;
mod drawing;
mod holds;
mod seasons;
mod tools;
