//! The solver against answers that were known before it: published instances and measured
//! references (`data/`, each with its source), and truths that need no reference.

#![allow(clippy::unwrap_used, reason = "what a test cannot read is its failure")]

mod bins;
mod checker;
mod count;
mod edits;
mod full;
mod handful;
mod hostile;
mod level;
mod properties;
mod saw;
mod seasons;
mod small;
mod together;
