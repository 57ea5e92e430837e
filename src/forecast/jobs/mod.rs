//! The work of a season: which day it is due, how long it may wait, and whether it was written down.
//!
//! One job for each event of the forecast that hands are needed for; batches of a sowing that do the same on one day do
//! it together. Says nothing about room: how long that lets a work wait is for `outlook::slack`.

mod done;
mod job;
mod list;
mod stand;

pub use job::{Done, Job, Kind, UpThen, Written};
pub use list::{event_of, jobs, next_event, of_week, out_by_day, overdue};
