//! What trays, flats and pots weigh when the mix in them is wet.

use crate::season::{Container, ContainerKind, Flat, Plug, Pot, RimShape};
use crate::units::{Length, Size, Typed, Volume};

use super::{cell_volume, frustum_ml};

/// Grams to a millilitre of mix that holds all the water it can.
///
/// Derived: dry 0.12, water 0.60 to 0.85, range 0.65 to 1.0 (University of Arkansas greenhouse unit 7;
/// Bilderback and Fonteno 1987). A mix of 120 g/l with 10 to 18 % of air comes to 0.86 to 0.94 by the pore
/// space of 238 mixes (Acta Horticulturae 294); a page for gardeners has 0.64 to 0.96.
const WET: f64 = 0.85;
/// Grams to a square millimetre for tray, pots and plants: half a kilogram for a flat of 545 × 280 mm (common
/// practice, no source).
const BESIDE_MIX: f64 = 500.0 / (545.0 * 280.0);
/// A flat of 18 pots of a pint: about 8 kg on its 0.153 m² (worked from the two figures above, and a little for
/// plants).
const FLAT_OF_POTS: f64 = 8_000.0 / (545.0 * 280.0);
/// Mix ends so far below the rim of an open flat (common practice, no source).
const BELOW_RIM_MM: f64 = 10.0;
/// Of the box around a tray of cells, what its cells hold at most: 33 to 45 % in the Ontario table (24 to 288
/// cells).
const CELLS_OF_BOX: f64 = 0.45;
/// Of a pot's rim, its base; pots are about as tall as wide (measured pots of 9 to 20 cm in the container table).
const BASE_OF_RIM: f64 = 0.77;
/// Wider than this, something as wide as deep is a tray (our choice, no source).
const LARGEST_POT_MM: i64 = 250;

/// How tall a tray is taken to be where nobody measured it (from memory).
const USUAL_RIM: Length = Length::from_mm(60);

/// Wet weight of one tray, or of each of some loose pots; in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WetWeight {
    /// Tray, pots and plants; nothing for loose pots, which have it with them.
    pub tray: f64,
    /// The mix of an open flat, however many plants are in it.
    pub bed: f64,
    /// Of each cell or pot that takes room.
    pub each: f64,
}

impl WetWeight {
    /// A tray of cells as it stands by itself; cells whose volume nobody knows hold what such cells hold at most.
    pub fn of_cells(container: &Container, plug: &Plug) -> Self {
        let Size { width, depth, .. } = &plug.outer.value;
        let (width, depth) = (width.value(), depth.value());
        let each = cell_volume(container).map_or_else(
            || {
                mm2(width, depth) * rim_height(container).to_mm() * CELLS_OF_BOX
                    / 1_000.0
                    / f64::from(plug.cells.max(1))
            },
            Volume::to_ml,
        );
        Self { tray: beside_mix(width, depth), bed: 0.0, each: each * WET }
    }

    /// An open flat, filled to a centimetre below its rim.
    pub fn of_flat(container: &Container, flat: &Flat) -> Self {
        let outer = &flat.outer.value;
        let tray = beside_mix(outer.width.value(), outer.depth.value());
        Self { tray, bed: bed_ml(container, flat) * WET, each: 0.0 }
    }

    /// Pots in a flat of that outer size.
    pub fn of_pots_in(container: &Container, pot: &Pot, width: Length, depth: Length) -> Self {
        Self { tray: beside_mix(width, depth), bed: 0.0, each: pot_ml(container, pot) * WET }
    }

    /// Loose pots: each with what it weighs itself.
    pub fn of_loose(container: &Container, pot: &Pot) -> Self {
        let across = pot.top.value.value();
        let itself = beside_mix(across, across) * share_of_square(pot.rim);
        Self { tray: 0.0, bed: 0.0, each: pot_ml(container, pot) * WET + itself }
    }

    /// So many such trays in a carrying tray of that outer size.
    #[must_use]
    pub fn carried(self, number: u32, width: Length, depth: Length) -> Self {
        Self { tray: beside_mix(width, depth), bed: self.bed * f64::from(number), each: self.each }
    }

    /// With so many cells or pots in it.
    pub fn grams(self, places: u32) -> u32 {
        whole(self.tray + self.bed + self.each * f64::from(places))
    }

    /// Of that, what it weighs whoever stands in it.
    pub fn fixed(self) -> u32 {
        whole(self.tray + self.bed)
    }

    /// One of the container as it stands on a shelf, every cell filled; `None` for a class of a standard.
    pub fn full(container: &Container) -> Option<u32> {
        Some(match &container.kind {
            ContainerKind::Plug(plug) => Self::of_cells(container, plug).grams(u32::from(plug.cells)),
            ContainerKind::Flat(flat) => Self::of_flat(container, flat).grams(0),
            ContainerKind::Pot(pot) => Self::of_loose(container, pot).grams(1),
            ContainerKind::Class { .. } => return None,
        })
    }
}

/// What something of that size weighs where nobody says: as a pot of its own if it is about as wide as deep, 25 cm
/// at most, else as a flat of pots. In grams (our choice, no source).
pub fn grams_by_size(size: &Size) -> u32 {
    let (width, depth) = (size.width.value(), size.depth.value());
    let (short, long) = (width.min(depth), width.max(depth));
    if long <= Length::from_mm(LARGEST_POT_MM) && long.to_mm() <= short.to_mm() * 1.1 {
        whole(pot_like_ml(RimShape::Square, short) * WET + beside_mix(width, depth))
    } else {
        whole(FLAT_OF_POTS * mm2(width, depth))
    }
}

/// How many of so many grams a shelf bears by its rating; `None` without one, or for what weighs nothing.
pub fn borne(rated: Option<u32>, grams: u32) -> Option<i64> {
    rated?.checked_div(grams).map(i64::from)
}

fn whole(grams: f64) -> u32 {
    grams.round().clamp(0.0, 1e9) as u32
}

fn mm2(width: Length, depth: Length) -> f64 {
    width.to_mm() * depth.to_mm()
}

fn beside_mix(width: Length, depth: Length) -> f64 {
    BESIDE_MIX * mm2(width, depth)
}

const fn share_of_square(rim: RimShape) -> f64 {
    match rim {
        RimShape::Square => 1.0,
        RimShape::Round => std::f64::consts::FRAC_PI_4,
    }
}

/// Height of a tray's rim.
pub fn rim_height(container: &Container) -> Length {
    container.height.as_ref().map_or(USUAL_RIM, Typed::value)
}

/// Height of a tray with its dome on; its rim's where it has none, or stands out of it.
pub fn dome_height(container: &Container) -> Length {
    container.dome.as_ref().map_or(Length::ZERO, Typed::value).max(rim_height(container))
}

/// What an open flat holds up to a centimetre below its rim, in ml: h/3 (A₁ + A₂ + √(A₁A₂)), with the areas
/// of floor and outline (Euclid, Elements XII).
fn bed_ml(container: &Container, flat: &Flat) -> f64 {
    let area = |size: &Size| mm2(size.width.value(), size.depth.value());
    let outer = area(&flat.outer.value);
    let floor = flat.floor.as_ref().map_or(outer, |floor| area(&floor.value));
    let depth = (rim_height(container).to_mm() - BELOW_RIM_MM).max(0.0);
    depth / 3.0 * (outer + floor + (outer * floor).sqrt()) / 1_000.0
}

fn pot_ml(container: &Container, pot: &Pot) -> f64 {
    cell_volume(container).map_or_else(|| pot_like_ml(pot.rim, pot.top.value.value()), Volume::to_ml)
}

fn pot_like_ml(rim: RimShape, across: Length) -> f64 {
    let base = Length::try_from_mm(across.to_mm() * BASE_OF_RIM).unwrap_or(across);
    frustum_ml(rim, across, base, across)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_of_18_pints_weighs_about_8_kilograms() {
        // 8.5 l at 0.85 kg/l is 7.2 kg, plus pots, tray and plants: worked in the mix table
        let pint = Volume::try_from_ml(473.0).unwrap().to_ml() * WET;
        let flat = WetWeight { tray: beside_mix(Length::from_mm(545), Length::from_mm(280)), bed: 0.0, each: pint };
        // 18 × 473 ml × 0.85 = 7236.9 g, and 500 g
        assert_eq!((flat.grams(18), flat.fixed()), (7_737, 500));
    }

    #[test]
    fn what_nobody_weighed_goes_by_its_size() {
        let grams = |text: &str| grams_by_size(&Size::parse(text, None).unwrap());
        // the ground of a whole flat: 8 kg, and half of it half
        assert_eq!((grams("545 x 280 mm"), grams("280 x 272.5 mm")), (8_000, 4_000));
        // a pot of 20 cm: 8000 cm³ × (1 + 0.77² + 0.77) / 3 = 6.301 l; × 0.85 = 5356 g, and 131 g
        assert_eq!(grams("20 x 20 cm"), 5_487);
    }
}
