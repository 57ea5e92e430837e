//! How much the room carries: the most plants that every day can hold, of one crop or of the whole season scaled,
//! and what one more shelf, a lamp or a week of earlier hardening would add.
//!
//! A number *fits* only by a layout of the season with so many, and is *too many* only by a proof about one of its
//! days; numbers between the two are neither. It is taken that where so many are too many, more are too.

mod asked;
mod carried;
mod one_more;
mod search;

pub use asked::{NotAsked, Of};
pub use carried::{Carries, carries};
pub use one_more::{More, OneMore};
pub use search::{Fits, Most, TooMany};
