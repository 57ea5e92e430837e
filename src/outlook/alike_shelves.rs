//! Shelves of one size, and how many of one container stand on each.

use crate::season::{Season, ShelfId};
use crate::trade::{Capacity, Outline, borne};
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
    /// The maker's rating, in grams.
    pub load: Option<u32>,
}

/// How many of one container stand on a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnEach {
    pub fits: i64,
    /// More would have room; the rating bears no more.
    pub by_weight: bool,
}

/// By the first of each size and rating.
pub fn alike_shelves(season: &Season) -> Vec<AlikeShelves> {
    let mut found: Vec<AlikeShelves> = Vec::new();
    for shelf in season.racks().iter().flat_map(|rack| season.shelves_of(rack.id)) {
        let size = (shelf.width.value(), shelf.depth.value(), shelf.overhang.value(), shelf.load_grams);
        match found.iter_mut().find(|one| (one.width.value(), one.depth.value(), one.overhang, one.load) == size) {
            Some(one) => one.number += 1,
            None => found.push(AlikeShelves {
                first: shelf.id,
                number: 1,
                width: shelf.width.clone(),
                depth: shelf.depth.clone(),
                overhang: shelf.overhang.value(),
                load: shelf.load_grams,
            }),
        }
    }
    found
}

impl AlikeShelves {
    /// How many stand on each, at so many grams apiece.
    pub fn hold(&self, outline: Outline, grams: u32, unit: LengthUnit) -> OnEach {
        let (width, depth, allowed) = (self.width.value(), self.depth.value(), self.overhang);
        let fits = Capacity { outline, width, depth, allowed, unit }.with(allowed).fits;
        let borne = borne(self.load, grams).unwrap_or(fits);
        OnEach { fits: fits.min(borne), by_weight: borne < fits }
    }
}
