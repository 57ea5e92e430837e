//! What the trays of a step are like: how many plants to each, and their outer shape.

use crate::season::{Container, ContainerKind, Crop, Flat, Library, Plug, Pot, RimShape, Season, Sowing, Step};
use crate::trade;
use crate::units::{Length, Size};

use super::problem::Problem;
use super::stay::{Inside, Shape};

/// What a step's trays are like.
#[derive(Clone)]
pub(super) struct Holding {
    /// Plants, cells or pots to a tray.
    pub(super) per_tray: u32,
    pub(super) shape: Shape,
    pub(super) rim_height: Length,
    /// With its dome on; the rim's where it has none.
    pub(super) dome_height: Length,
    pub(super) pot_height: Option<Length>,
    pub(super) weight: trade::WetWeight,
    /// From middle to middle of its plants; `None` where seed is scattered.
    pub(super) apart: Option<Length>,
    pub(super) loose: Option<Loose>,
}

/// Pots that stand on the shelf itself.
#[derive(Clone, Copy)]
pub(super) struct Loose {
    pub(super) rim: RimShape,
    pub(super) across: Length,
    pub(super) pitch: Length,
    /// So many in one block.
    pub(super) together: Option<u32>,
}

/// How pots of a step stand.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// Rim to rim.
    Tight,
    /// So far apart, from middle to middle.
    Apart(Length),
    /// With room for leaves of that width: over a shelf's edge they would be in the aisle, and over a flat's in
    /// those of the next.
    Leaves(Length),
}

impl Standing {
    const fn pitch(self) -> Length {
        match self {
            Self::Tight => Length::ZERO,
            Self::Apart(pitch) | Self::Leaves(pitch) => pitch,
        }
    }
}

/// Finds out what the trays of a step are like; says why not where that cannot be.
pub(super) fn holding(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    step: &Step,
    standing: Standing,
    problems: &mut Vec<Problem>,
) -> Option<Holding> {
    let find = |key: &crate::season::ContainerKey, problems: &mut Vec<Problem>| {
        let found = season.container(library, key);
        if found.is_none() {
            problems.push(Problem::UnknownContainer { sowing: sowing.id, container: key.clone() });
        }
        found
    };
    let container = find(&step.container, problems)?;
    let carried = match &step.carried_in {
        Some(key) => Some(find(key, problems)?),
        None => None,
    };
    let moved_on = sowing.steps.last().is_some_and(|last| last.id != step.id);
    let in_open = |flat: &Flat| trade::plants_in_open_flat(crop, flat, moved_on);
    let holding = match (&container.kind, carried.map(|carried| (carried, &carried.kind))) {
        (ContainerKind::Plug(plug), None) => Some(of_plug(container, plug, step)),
        (ContainerKind::Plug(plug), Some((carried, ContainerKind::Flat(flat)))) => {
            let insert = of_plug(container, plug, step);
            Some(inserted(sowing, step, (container, &plug.outer.value), (carried, flat), &insert, problems))
        }
        (ContainerKind::Flat(own), Some((carried, ContainerKind::Flat(flat)))) => {
            let insert = of_flat(container, own, step, in_open(own));
            Some(inserted(sowing, step, (container, &own.outer.value), (carried, flat), &insert, problems))
        }
        (ContainerKind::Flat(flat), None) => Some(of_flat(container, flat, step, in_open(flat))),
        (ContainerKind::Pot(pot), Some((carried, ContainerKind::Flat(flat)))) => {
            in_flat(container, pot, carried, flat, step, standing)
        }
        (ContainerKind::Pot(pot), None) => Some(loose(container, pot, step, standing)),
        (_, Some(_)) | (ContainerKind::Class { .. }, _) => None,
    };
    if holding.is_none() {
        problems.push(Problem::NoRoomInside { sowing: sowing.id, container: step.container.clone() });
    }
    holding
}

/// A container by itself, as it is seen from above; `None` of a class, which has no size.
pub fn container_shape(container: &Container) -> Option<Shape> {
    match &container.kind {
        ContainerKind::Flat(flat) => Some(flat_shape(flat)),
        ContainerKind::Plug(plug) => {
            let (width, depth, columns, rows) = cells_of(plug);
            Some(Shape::Tray { width, depth, inside: Inside::Cells { columns, rows } })
        }
        ContainerKind::Pot(pot) => Some(one_pot(pot.rim, pot.top.value.value())),
        ContainerKind::Class { .. } => None,
    }
}

/// One of the trays or pots that a step fills, its pots rim to rim; `None` where it can't be.
pub fn step_shape(season: &Season, library: &Library, sowing: &Sowing, step: &Step) -> Option<Shape> {
    let crop = season.crop(library, &sowing.crop)?;
    let held = holding(season, library, crop, sowing, step, Standing::Tight, &mut Vec::new())?;
    Some(held.loose.map_or(held.shape, |loose| one_pot(loose.rim, loose.across)))
}

fn one_pot(rim: RimShape, across: Length) -> Shape {
    let middle = (across / 2, across / 2);
    Shape::Pots { width: across, depth: across, rim, across, pitch: across, centres: [middle].into() }
}

const fn flat_shape(flat: &Flat) -> Shape {
    let outer = &flat.outer.value;
    Shape::Tray { width: outer.width.value(), depth: outer.depth.value(), inside: Inside::Open }
}

/// Its size, with its cells along the width and along the depth.
fn cells_of(plug: &Plug) -> (Length, Length, u16, u16) {
    let outer = &plug.outer.value;
    let (width, depth) = (outer.width.value(), outer.depth.value());
    let (short, long) = plug.grid.unwrap_or_else(|| nearest_grid(plug.cells, width, depth));
    let (columns, rows) = if width >= depth { (long, short) } else { (short, long) };
    (width, depth, columns, rows)
}

fn of_flat(container: &Container, flat: &Flat, step: &Step, plants: u32) -> Holding {
    Holding {
        per_tray: step.per_tray.unwrap_or(plants),
        shape: flat_shape(flat),
        rim_height: trade::rim_height(container),
        dome_height: trade::dome_height(container),
        pot_height: None,
        weight: trade::WetWeight::of_flat(container, flat),
        apart: None,
        loose: None,
    }
}

/// Trays that stand in a carrying tray: as many as its floor holds, one at least.
fn inserted(
    sowing: &Sowing,
    step: &Step,
    (container, outer): (&Container, &Size),
    (carried, flat): (&Container, &Flat),
    insert: &Holding,
    problems: &mut Vec<Problem>,
) -> Holding {
    let standing = trade::trays_in_flat(outer, flat);
    if standing.too_large > Length::ZERO {
        problems.push(Problem::InsertTooLarge {
            sowing: sowing.id,
            insert: container.key.clone(),
            tray: carried.key.clone(),
            by: standing.too_large,
        });
    }
    let per_tray = step.per_tray.unwrap_or_else(|| insert.per_tray.saturating_mul(standing.number));
    let inside = match insert.shape {
        Shape::Tray { inside: Inside::Cells { columns, rows }, .. } if standing.number == 1 => {
            let (columns, rows) = (columns.max(rows), columns.min(rows));
            if standing.width >= standing.depth {
                Inside::Cells { columns, rows }
            } else {
                Inside::Cells { columns: rows, rows: columns }
            }
        }
        Shape::Tray { inside: Inside::Cells { columns, rows }, .. } => {
            let all = u32::from(columns) * u32::from(rows) * standing.number;
            let (columns, rows) = nearest_grid(u16::try_from(all).unwrap_or(u16::MAX), standing.width, standing.depth);
            if standing.width >= standing.depth {
                Inside::Cells { columns: rows, rows: columns }
            } else {
                Inside::Cells { columns, rows }
            }
        }
        _ => Inside::Open,
    };
    Holding {
        per_tray,
        shape: Shape::Tray { width: standing.width, depth: standing.depth, inside },
        rim_height: insert.rim_height.max(trade::rim_height(carried)),
        dome_height: insert.dome_height.max(trade::dome_height(carried)),
        pot_height: None,
        weight: insert.weight.carried(standing.number, standing.width, standing.depth),
        apart: insert.apart,
        loose: None,
    }
}

fn of_plug(container: &Container, plug: &Plug, step: &Step) -> Holding {
    let (width, depth, columns, rows) = cells_of(plug);
    Holding {
        per_tray: step.per_tray.unwrap_or(u32::from(plug.cells)),
        shape: Shape::Tray { width, depth, inside: Inside::Cells { columns, rows } },
        rim_height: trade::rim_height(container),
        dome_height: trade::dome_height(container),
        pot_height: None,
        weight: trade::WetWeight::of_cells(container, plug),
        apart: Some((width / i64::from(columns.max(1))).min(depth / i64::from(rows.max(1)))),
        loose: None,
    }
}

/// Rows and columns to draw where the cells stand offset and no grid is known.
fn nearest_grid(cells: u16, width: Length, depth: Length) -> (u16, u16) {
    let (long, short) = (width.max(depth).to_mm(), width.min(depth).to_mm());
    let across = (f64::from(cells) * short / long.max(1.0)).sqrt().round().max(1.0);
    let along = (f64::from(cells) / across).ceil();
    (across as u16, along as u16)
}

fn in_flat(
    container: &Container,
    pot: &Pot,
    carried: &Container,
    flat: &Flat,
    step: &Step,
    how: Standing,
) -> Option<Holding> {
    let across = pot.top.value.value();
    let pitch = how.pitch().max(across);
    let standing = match how {
        Standing::Leaves(wide) => trade::leaves_in_flat(pot, flat, wide)?,
        Standing::Tight | Standing::Apart(_) => trade::pots_in_flat(pot, flat, pitch)?,
    };
    // a number of the grower's own is for pots that touch
    let per_tray = step.per_tray.filter(|_| pitch <= across).unwrap_or(standing.number);
    let inside = Inside::Pots {
        columns: standing.columns,
        rows: standing.rows,
        rim: pot.rim,
        across,
        number: u16::try_from(per_tray).unwrap_or(u16::MAX),
    };
    Some(Holding {
        per_tray,
        shape: Shape::Tray { width: standing.width, depth: standing.depth, inside },
        rim_height: trade::rim_height(carried),
        dome_height: trade::dome_height(carried),
        pot_height: Some(trade::rim_height(container)),
        weight: trade::WetWeight::of_pots_in(container, pot, standing.width, standing.depth),
        apart: Some(pitch),
        loose: None,
    })
}

fn loose(container: &Container, pot: &Pot, step: &Step, how: Standing) -> Holding {
    let rim = pot.top.value.value();
    let pitch = how.pitch().max(rim);
    let across = if matches!(how, Standing::Leaves(_)) { pitch } else { rim };
    Holding {
        per_tray: step.per_tray.unwrap_or(1),
        shape: Shape::Tray { width: across, depth: across, inside: Inside::Open },
        rim_height: trade::rim_height(container),
        dome_height: trade::dome_height(container),
        pot_height: None,
        weight: trade::WetWeight::of_loose(container, pot),
        apart: Some(pitch),
        loose: Some(Loose { rim: pot.rim, across, pitch, together: step.per_tray }),
    }
}
