//! Shelves of one size, and how many of one container stand on each.

use crate::season::{Season, ShelfId};
use crate::trade::{Capacity, Outline};
use crate::units::{Length, LengthUnit, Measure};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlikeShelves {
    /// From left to right and from the top down.
    pub first: ShelfId,
    pub number: usize,
    /// As the first one's was typed.
    pub width: Measure,
    pub depth: Measure,
    /// How far trays may stick out.
    pub overhang: Length,
}

/// By the first of each size.
pub fn alike_shelves(season: &Season) -> Vec<AlikeShelves> {
    let mut found: Vec<AlikeShelves> = Vec::new();
    for shelf in season.racks().iter().flat_map(|rack| season.shelves_of(rack.id)) {
        let size = (shelf.width.value(), shelf.depth.value(), shelf.overhang.value());
        match found.iter_mut().find(|one| (one.width.value(), one.depth.value(), one.overhang) == size) {
            Some(one) => one.number += 1,
            None => found.push(AlikeShelves {
                first: shelf.id,
                number: 1,
                width: shelf.width.clone(),
                depth: shelf.depth.clone(),
                overhang: shelf.overhang.value(),
            }),
        }
    }
    found
}

impl AlikeShelves {
    /// How many stand on each.
    pub fn hold(&self, outline: Outline, unit: LengthUnit) -> i64 {
        let (width, depth, allowed) = (self.width.value(), self.depth.value(), self.overhang);
        Capacity { outline, width, depth, allowed, unit }.with(allowed).fits
    }
}
