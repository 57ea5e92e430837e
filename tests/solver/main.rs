//! The solver against answers that were known before it: published instances and measured
//! references (`data/`, each with its source), and truths that need no reference.

mod count;
mod seasons;
