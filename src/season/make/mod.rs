//! Racks and shelves as edits that touch more than one of them; each is one step of undo.

mod racks;
mod shelves;
#[cfg(test)]
mod tests;

pub use racks::{InPlace, MOST_TIERS, NewRack, copy_rack, free_name};
pub use shelves::{
    ShelfPart, copy_below, covered, every_shelf, given, new_shelf, overwritten, remove, resized, whole, with_tiers,
};
