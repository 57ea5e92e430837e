use crate::units::{Measure, Size, Typed, Volume};

use super::{ContainerKey, Sourced};

/// A tray, flat or pot as the grower has it: any rectangle, any round rim, any cell grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Container {
    pub key: ContainerKey,
    /// As the grower calls it, without the number: `72-cell plug tray`, `3.5 in square pot`.
    pub name: String,
    pub kind: ContainerKind,
    /// From the floor it stands on to its rim.
    pub height: Option<Measure>,
    /// The same with the dome that is over it from sowing until it is up.
    pub dome: Option<Measure>,
    pub note: String,
}

#[derive(Clone, Debug, PartialEq)]
pub enum ContainerKind {
    /// An open flat or carrying tray: seed is scattered or sown in rows in it, or pots stand in it.
    Flat(Flat),
    /// A tray of cells; one footprint, many plants.
    Plug(Plug),
    /// One pot: stands in a flat, or loose on the shelf.
    Pot(Pot),
    /// A class of a standard, known by its volumes alone. Nothing can be grown in it until the
    /// grower gives it a size.
    Class { low: Typed<Volume>, high: Typed<Volume>, source: Sourced<()> },
}

#[derive(Clone, Debug, PartialEq)]
pub struct Flat {
    pub outer: Sourced<Size>,
    /// Where bases of pots can stand; the outer size where nobody measured it.
    pub floor: Option<Sourced<Size>>,
    /// So many pots stand in it, each in a place of its own; `None` where any pot stands anywhere.
    pub pockets: Option<u16>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Plug {
    pub outer: Sourced<Size>,
    pub cells: u16,
    /// Rows across the short side and along the long side; `None` for offset cells.
    pub grid: Option<(u16, u16)>,
    pub cell_top: Option<Measure>,
    pub cell_volume: Option<Sourced<Typed<Volume>>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RimShape {
    Square,
    Round,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Pot {
    pub rim: RimShape,
    /// Width or diameter at the rim, outside.
    pub top: Sourced<Measure>,
    /// Width or diameter of the base.
    pub bottom: Option<Sourced<Measure>>,
    /// What it holds as it is filled, below the brim.
    pub volume: Option<Sourced<Typed<Volume>>>,
    /// What it holds to the brim, where that was stated.
    pub brim: Option<Sourced<Typed<Volume>>>,
    /// How many a maker says stand in one flat.
    pub per_flat: Option<u16>,
}

impl Container {
    /// The outer rectangle of a tray; `None` for pots and classes.
    pub const fn tray_outer(&self) -> Option<&Size> {
        match &self.kind {
            ContainerKind::Flat(flat) => Some(&flat.outer.value),
            ContainerKind::Plug(plug) => Some(&plug.outer.value),
            ContainerKind::Pot(_) | ContainerKind::Class { .. } => None,
        }
    }
}
