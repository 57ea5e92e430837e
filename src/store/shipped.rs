//! What comes with the program.

use std::path::Path;
use std::sync::LazyLock;

use crate::season::{Library, Season};

use super::file;

/// The crops and containers that come with the program.
pub fn library() -> &'static Library {
    static LIBRARY: LazyLock<Library> =
        LazyLock::new(|| super::library::shipped().expect("the shipped library is read in every test run"));
    &LIBRARY
}

/// The season that the program opens with.
///
/// # Panics
/// If it cannot be read, which every test run would show.
pub fn sample() -> Season {
    let text = include_str!("../../examples/community-room.ron");
    let path = Path::new("examples/community-room.ron");
    file::read(text.as_bytes(), path, library()).expect("the sample season is read in every test run")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_with_the_program_can_be_read() {
        assert!(!library().crops.is_empty());
        assert!(sample().sowings().next().is_some());
    }
}
