use crate::season::{Crop, Flat};
use crate::units::Area;

/// Floor of the flat that crops' own figures are given for, in mm: what is free inside a 1020.
const FLOOR_MM: (f64, f64) = (521.0, 267.0);

/// Seedlings that are moved on from an open flat stand 3 × 3 cm each: about 1,100 to the square metre, as wax
/// begonias are pricked out (seed trade); taken for all crops, our choice.
const MOVED_ON_MM: f64 = 30.0;

/// Those that stay until they go out stand 5 × 5 cm each, as in blocks of 2 in: 50 to a flat (common practice,
/// no source).
const STAYS_MM: f64 = 50.0;

/// How many plants an open flat takes; one at least.
///
/// What is sown thick (onions, leeks, chives) by the crop's own figure, in proportion to the flat's floor, or to its
/// outside where nobody measured that. Other crops by the room of one plant: more of it where it is not moved on.
pub fn plants_in_open_flat(crop: &Crop, flat: &Flat, moved_on: bool) -> u32 {
    let floor = flat.floor.as_ref().map_or(&flat.outer.value, |floor| &floor.value);
    let floor = square_mm(Area::of(floor.width.value(), floor.depth.value()));
    let plants = match &crop.in_open_flat {
        Some(figure) => f64::from(figure.value) * floor / (FLOOR_MM.0 * FLOOR_MM.1),
        None if moved_on => floor / (MOVED_ON_MM * MOVED_ON_MM),
        None => floor / (STAYS_MM * STAYS_MM),
    };
    // a hair off, so that 300 of a whole flat is 300 and not 299
    (plants + 1e-6).floor().clamp(1.0, f64::from(u32::MAX)) as u32
}

fn square_mm(area: Area) -> f64 {
    area.units() as f64 / (8_000.0 * 8_000.0)
}
