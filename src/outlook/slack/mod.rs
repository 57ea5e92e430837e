//! What can't wait: how many days each sowing, moving on and going out may slip before a day overflows.
//!
//! A slip is an ordinary edit (`slips`), tried day after day (`found`): its days are held against the shelves one by one
//! (`on_days`), as whatever stands there may be moved about from day to day. The first slip that leaves a day worse than
//! it is, breaks a rule, or can't be settled ends it; a later one may fit again.

mod answer;
mod found;
mod on_days;
mod slips;

pub use answer::{CanWait, End, Overflow, Slack, Work};
pub use found::{can_wait, can_wait_of};
