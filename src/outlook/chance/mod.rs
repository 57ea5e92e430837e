//! How likely each week is too full, from many seasons drawn between early and late.
//!
//! No season is solved: each drawn day is so many trays of each kind, and `fit::ManyDays` says whether a
//! bound proves it too full, whether a packing of that day shows that it fits, or neither. So what
//! is *proven* is never more often than the truth, and *at most* never less. A place counts as having
//! room on a day if all that shares shelves with it is packed; or if only places that are proven too
//! full by themselves have trays left over, after they had the first choice. Where places share
//! shelves and only together are too full, that is proven for the one with the most trays, and open
//! for the others: which of them goes short is the grower's choice.
//!
//! Draws are known by their number alone (`forecast::Scenario`): a season before and after an edit meets
//! the same springs, and the answer is the same on any number of threads.

mod count;
mod draw;
mod drawn;
mod kinds;
mod table;

pub use draw::{chance, chance_hash};
pub use drawn::{Chance, ChanceWeek, Draws};
pub(super) use table::side_by_side;
