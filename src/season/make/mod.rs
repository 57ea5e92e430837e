//! Racks and shelves as edits that touch more than one of them; each is one step of undo.

mod racks;
mod shelves;
#[cfg(test)]
mod tests;

pub use racks::{InPlace, NewRack, copy_rack, free_name};
pub use shelves::{all_like, copy_below, new_shelf, remove, resized, unlike, whole};
