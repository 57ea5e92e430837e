//! Many days on the same shelves, each no more than so many of each kind: what fits, what cannot.
//!
//! For seasons drawn by the thousand, where a layout over time would be too dear. All that can be
//! known of kinds and shelves is worked out once; a day is then a few sums. What it says about a
//! demand hangs on that demand alone, never on those judged before.
//!
//! A demand *fits* only by a packing of that day which [`check()`](crate::fit::check()) accepts, and *cannot*
//! only by a bound; it may be neither. Not looked for: a packing that takes trays away again to find
//! room, and the proof shelf after shelf. Both would only settle more.

mod judge;
mod kinds;
mod lines;
mod priced;
mod stand;
#[cfg(test)]
mod tests;
mod whole;

pub use judge::{Judged, ManyDays};
pub use kinds::{Counted, Demand, DemandKind};
pub use priced::FoundPatterns;
