//! The shipped library against figures printed elsewhere, each beside the publication it is from.
//!
//! Run with `--nocapture` to read the list of checks and sources.

mod cells;
mod clock;
mod containers;
mod counted;
mod crops;
mod flats;
mod forecasts;
mod frost;
mod heat;
mod published;
mod units;

use std::sync::LazyLock;

use flatwright::season::{Container, ContainerKey, Crop, CropKey, Library};
use flatwright::store::library;

static LIBRARY: LazyLock<Library> = LazyLock::new(|| library::shipped().expect("the shipped library reads"));

#[track_caller]
fn crop(key: &str) -> &'static Crop {
    LIBRARY.crops.get(&CropKey::new(key)).unwrap_or_else(|| panic!("no crop {key}"))
}

#[track_caller]
fn container(key: &str) -> &'static Container {
    LIBRARY.containers.get(&ContainerKey::new(key)).unwrap_or_else(|| panic!("no container {key}"))
}

#[expect(clippy::print_stdout, reason = "a reader of the checks wants to see where each figure is from")]
fn check(what: &str, source: &str) {
    println!("{what} [{source}]");
}

/// Equal to within half of the last printed digit.
#[track_caller]
fn close(found: f64, printed: f64, within: f64) {
    assert!((found - printed).abs() <= within, "found {found}, printed {printed}");
}
