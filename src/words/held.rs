//! How many fit, in words.

use crate::trade::{Capacity, NamedTray, Outline};
use crate::units::{about, rounded};

/// `2 flats; 4 if 3½ in may stick out`.
pub fn held(hold: &Capacity, meant: &NamedTray) -> String {
    let fits = hold.with(hold.allowed).fits;
    let more = hold.more().map(|needed| {
        // What is said must be true of the rounded figure too.
        let most = about(needed, hold.unit);
        format!("{} if {} may stick out", hold.with(most).fits, rounded(most, hold.unit))
    });
    match (fits, more) {
        (0, None) => "None: one is larger than the shelf, turned either way".to_owned(),
        (0, Some(more)) => format!("None; {more}"),
        (fits, None) => number_held(meant, fits),
        (fits, Some(more)) => format!("{}; {more}", number_held(meant, fits)),
    }
}

/// `2 flats`, `3 × 72-cell plug tray`.
pub fn number_held(meant: &NamedTray, fits: i64) -> String {
    match meant.name.as_deref() {
        Some(name) if name != "flat" => format!("{fits} × {name}"),
        _ if fits == 1 => format!("1 {}", kind_held(meant)),
        _ => format!("{fits} {}s", kind_held(meant)),
    }
}

pub fn kind_held(meant: &NamedTray) -> &'static str {
    match (meant.name.as_deref(), meant.outline) {
        (Some("flat"), _) => "flat",
        (Some(_), _) => "outside",
        (None, Outline::Round { .. }) => "round pot",
        (None, Outline::Rectangle { width, depth }) if width == depth => "square pot",
        (None, Outline::Rectangle { .. }) => "tray",
    }
}
