//! Chance held against probabilities known in closed form, and against the solver's own answers.

mod exact;
mod never_wrong;
mod same;
mod seasons;
