use crate::season::{Crop, Flat};
use crate::units::{Area, Size};

/// Outside of the flat that crops' own figures are given for, in mm: a 1020.
const FLAT_MM: (f64, f64) = (545.0, 280.0);

/// Seedlings that are moved on from an open flat stand 3 × 3 cm each: about 1,100 to the square metre, as wax
/// begonias are pricked out (seed trade); taken for all crops, our choice.
const MOVED_ON_MM: f64 = 30.0;

/// Those that stay until they go out stand 5 × 5 cm each, as in blocks of 2 in: 50 to a flat (common practice,
/// no source).
const STAYS_MM: f64 = 50.0;

/// How many plants an open flat takes; one at least.
///
/// What is sown thick (onions, leeks, chives) by the crop's own figure, in proportion to the flat's outside, to the
/// nearest ten where that is 50 or more. Other crops by the room of one plant on the flat's floor, or its outside where
/// nobody measured that: more of it where it is not moved on.
pub fn plants_in_open_flat(crop: &Crop, flat: &Flat, moved_on: bool) -> u32 {
    let outer = &flat.outer.value;
    let floor = square_mm(flat.floor.as_ref().map_or(outer, |floor| &floor.value));
    let plants = match &crop.in_open_flat {
        Some(figure) => rounded(f64::from(figure.value) * square_mm(outer) / (FLAT_MM.0 * FLAT_MM.1)),
        None if moved_on => (floor / (MOVED_ON_MM * MOVED_ON_MM)).floor(),
        None => (floor / (STAYS_MM * STAYS_MM)).floor(),
    };
    plants.clamp(1.0, f64::from(u32::MAX)) as u32
}

fn rounded(plants: f64) -> f64 {
    if plants < 50.0 { plants.round() } else { (plants / 10.0).round() * 10.0 }
}

fn square_mm(size: &Size) -> f64 {
    Area::of(size.width.value(), size.depth.value()).units() as f64 / (8_000.0 * 8_000.0)
}
