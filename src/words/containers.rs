//! Trays, flats and pots.

use crate::season::{Container, ContainerKey, ContainerKind, FieldId, Pot, RimShape};
use crate::trade::{WetWeight, cell_volume, pots_in_flat};
use crate::units::{Length, LengthUnit};

use super::refusal::field;
use super::{Words, plural};

pub const PAGE: &str = "Containers";
pub const ADD_TITLE: &str = "Add a container";
pub const ADD: &str = "Add container";
pub const HOW_MEASURED: &str = "Measured outside; a length without a unit is taken as the units shown";
pub const START_FROM: &str = super::fields::START_FROM;
pub const REMOVE: &str = "Remove container";
pub const OF_THE_LIBRARY: &str = "From the library; a copy of your own can be changed";
pub const YOUR_OWN: &str = super::fields::YOUR_OWN;
pub const FIND: &str = "Find a container";
pub const NONE_OF_THAT_NAME: &str = "No container of that name";
pub const ON_SHELVES: &str = "How many stand on the shelves";
pub const KIND: &str = "It is a";
pub const CELLS_KIND: &str = "tray of cells";
pub const OPEN_KIND: &str = "open flat or any rectangle";
pub const SQUARE_KIND: &str = "square pot";
pub const ROUND_KIND: &str = "round pot";

pub const NAME: &str = field(FieldId::ContainerName);
pub const SIZE: &str = field(FieldId::ContainerWidth);
pub const FLOOR: &str = field(FieldId::FloorWidth);
pub const HEIGHT: &str = field(FieldId::ContainerHeight);
pub const DOME: &str = field(FieldId::ContainerDome);
pub const DOME_HINT: &str = "no dome";
pub const ROWS: &str = field(FieldId::CellRows);
pub const IN_ROW: &str = "Cells in a row";
pub const CELLS: &str = field(FieldId::Cells);
pub const CELL_TOP: &str = field(FieldId::CellWidth);
pub const VOLUME: &str = field(FieldId::CellVolume);
pub const TOP: &str = field(FieldId::PotWidth);
pub const BASE: &str = field(FieldId::PotBase);
pub const BRIM: &str = "To the brim";
pub const POCKETS: &str = field(FieldId::Pockets);
pub const PER_FLAT: &str = "Pots to a flat";
pub const NOTE: &str = super::fields::NOTE;

pub const NAME_HINT: &str = "50-cell tray of mine";
pub const OFFSET_HINT: &str = "offset";
pub const CELLS_HINT: &str = "rows times cells";
pub const FLOOR_HINT: &str = "as the outer size";
pub const BASE_HINT: &str = "as the rim";
pub const FROM_SHAPE_HINT: &str = "from its shape";
pub const PER_FLAT_HINT: &str = "as many as fit";

pub const NO_CELLS: &str = "write rows and cells in a row, or, where cells stand offset, how many there are";
pub const ROWS_AND_CELLS: &str = "rows and cells in a row belong together; leave both empty for offset cells";

/// What a form for a new one proposes.
pub fn usual_size(unit: LengthUnit) -> &'static str {
    if unit == LengthUnit::Inch { "11 × 21 in" } else { "28 × 54 cm" }
}

pub const fn usual_volume(unit: LengthUnit) -> &'static str {
    if unit.is_of_inches() { "2 in³" } else { "30 ml" }
}

pub fn usual_rim(unit: LengthUnit) -> &'static str {
    if unit == LengthUnit::Inch { "3 1/2 in" } else { "9 cm" }
}

pub fn other_number(rows: u16, in_row: u16, all: u32, found: u32) -> String {
    format!("{rows} rows of {in_row} are {all} cells, found {found}")
}

pub fn too_many_cells(found: u32) -> String {
    format!("found {found} cells, which is too many")
}

/// Of a copy for the grower to change.
pub fn own_name(name: &str) -> String {
    format!("{}, own", name.trim_end_matches(", own")).chars().take(200).collect()
}

/// `72 cells`, beside its name in the list.
pub fn brief(container: &Container) -> String {
    match &container.kind {
        ContainerKind::Plug(plug) => cells(plug.cells),
        ContainerKind::Flat(_) => "open".to_owned(),
        ContainerKind::Pot(Pot { rim: RimShape::Round, .. }) => ROUND_KIND.to_owned(),
        ContainerKind::Pot(_) => SQUARE_KIND.to_owned(),
        ContainerKind::Class { .. } => "class".to_owned(),
    }
}

/// The same of one that is the grower's own.
pub fn own_brief(container: &Container) -> String {
    format!("your own · {}", brief(container))
}

fn cells(number: u16) -> String {
    format!("{number} {}", plural(u64::from(number), "cell", "cells"))
}

pub fn size_from(source: &str) -> String {
    format!("Size from: {source}")
}

/// `Rack 1, shelf 1, 48 × 18 in`; with others of its size, how many.
pub fn which_shelves(first: &str, size: &str, number: usize) -> String {
    match number {
        1 => format!("{first}, {size}"),
        n => format!("{first} and {} more of {size}", n - 1),
    }
}

/// `Rack 1, shelf 1, and 3 more of 48 × 18 in: 2 on each, 8 in all`.
pub fn so_many_stand(which: &str, fits: i64, shelves: usize, by_weight: bool) -> String {
    match (fits, shelves) {
        (0, _) if by_weight => format!("{which}: none"),
        (0, _) => format!("{which}: none, it is larger than the shelf"),
        (fits, 1) => format!("{which}: {fits}"),
        (fits, n) => format!("{which}: {fits} on each, {} in all", fits.saturating_mul(i64::try_from(n).unwrap_or(1))),
    }
}

/// The same with what the rating says.
pub fn with_rating(stand: &str, rated: &str) -> String {
    format!("{stand} ({rated})")
}

impl Words<'_> {
    /// What is known of it, one sentence each.
    pub fn container_facts(&self, container: &Container) -> Vec<String> {
        let mut facts = Vec::new();
        let volume = cell_volume(container);
        match &container.kind {
            ContainerKind::Plug(plug) => {
                let cells = cells(plug.cells);
                facts.push(match plug.grid {
                    Some((rows, in_row)) => format!("{cells}: {rows} rows of {in_row}"),
                    None => format!("{cells}, offset"),
                });
                facts.push(match volume {
                    Some(volume) => format!("{} to a cell, as stated", volume.in_words(self.unit)),
                    None => "What a cell holds is not known".to_owned(),
                });
            }
            ContainerKind::Flat(_) => facts.push("Open: pots stand in it, or seed is sown in it".to_owned()),
            ContainerKind::Pot(pot) => {
                facts.push(match (volume, &pot.volume) {
                    (Some(volume), Some(_)) => format!("{} to a pot, as stated", volume.in_words(self.unit)),
                    (Some(volume), None) => {
                        format!("{} to a pot as it is filled, worked out from its brim", volume.in_words(self.unit))
                    }
                    (None, _) => "What it holds is not known; with a height it can be worked out".to_owned(),
                });
                facts.extend(self.in_flat(pot));
            }
            ContainerKind::Class { low, high, .. } => {
                facts.push(format!(
                    "A class known by its volume alone, {} to {}",
                    super::volume(low, self.unit),
                    super::volume(high, self.unit)
                ));
            }
        }
        if let Some(grams) = WetWeight::full(container) {
            facts.push(format!("About {} full, when watered", self.weight(u64::from(grams))));
        }
        facts
    }

    fn in_flat(&self, pot: &Pot) -> Option<String> {
        let container = self.season.container(self.library, &ContainerKey::new("flat_1020"))?;
        let ContainerKind::Flat(flat) = &container.kind else { return None };
        Some(match pots_in_flat(pot, flat, Length::ZERO) {
            Some(pots) => format!("{} stand in one {}", pots.number, container.name),
            None => format!("None stands in one {}", container.name),
        })
    }
}
