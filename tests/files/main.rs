//! Season files from the outside: what they say when they are wrong, that nothing is lost in them,
//! and that a crash while saving leaves them whole.
#![expect(clippy::unwrap_used, reason = "what fails in a test's helper fails the test")]

mod edits;
mod killed;
mod messages;
mod refused;
mod round_trip;
mod versions;
mod weather;
