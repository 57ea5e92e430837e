//! Ways out of a crunch: what can be changed, what it costs, and what comes of it.
//!
//! `dates`, `containers` and `room_made` draft changes; `rows` and the `ledger` reckon by counts which of them
//! promise most; the placement solver tries those, and what it doesn't bear out is not offered.

mod combined;
mod containers;
mod dates;
mod draft;
mod drafts;
mod found;
mod ledger;
mod model;
mod pairs;
mod room_made;
mod rows;
mod search;
mod together;
mod tried;
mod way;

pub use combined::Combined;
pub(super) use draft::Draft;
pub(super) use drafts::is_safe;
pub use found::{Found, find};
pub(super) use room_made::{RoomMade, lamp};
pub use tried::Standing;
pub use way::{Beyond, Change, Effect, Price, ShortOf, WayOut};
