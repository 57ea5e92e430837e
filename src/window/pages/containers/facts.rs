//! What a container says of itself: drawn to scale, its volume, how many stand on each shelf.

use egui::{Label, RichText, Ui};

use crate::season::{Container, ContainerKey, ContainerKind, Pot, RimShape, Season};
use crate::trade::{Capacity, Outline, cell_volume, pots_in_flat};
use crate::units::{Length, LengthUnit};
use crate::window::kit::drawn::{Body, Look, body_ui, measures};
use crate::window::scene::{Scene, counted};
use crate::window::theme;

/// How many stand on the season's shelves, kept while nothing changes.
#[derive(Clone, Debug, Default)]
pub(super) struct OnShelves {
    asked: Option<Asked>,
    lines: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Asked {
    outline: Outline,
    unit: LengthUnit,
    shelves: Vec<Alike>,
}

/// Shelves of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Alike {
    width: Length,
    depth: Length,
    overhang: Length,
    size: String,
    first: String,
    number: usize,
}

fn outline(container: &Container) -> Option<Outline> {
    match &container.kind {
        ContainerKind::Pot(pot) => {
            let across = pot.top.value.value();
            Some(match pot.rim {
                RimShape::Round => Outline::Round { across },
                RimShape::Square => Outline::Rectangle { width: across, depth: across },
            })
        }
        _ => container
            .tray_outer()
            .map(|size| Outline::Rectangle { width: size.width.value(), depth: size.depth.value() }),
    }
}

fn alike(scene: &Scene<'_>) -> Vec<Alike> {
    let season: &Season = scene.season;
    let mut found: Vec<Alike> = Vec::new();
    for shelf in season.racks().iter().flat_map(|rack| season.shelves_of(rack.id)) {
        let (width, depth, overhang) = (shelf.width.value(), shelf.depth.value(), shelf.overhang.value());
        match found.iter_mut().find(|one| (one.width, one.depth, one.overhang) == (width, depth, overhang)) {
            Some(one) => one.number += 1,
            None => found.push(Alike {
                width,
                depth,
                overhang,
                size: format!("{} × {}", shelf.width.typed(), shelf.depth.typed()),
                first: scene.words().shelf(shelf.id),
                number: 1,
            }),
        }
    }
    found
}

impl OnShelves {
    fn follow(&mut self, scene: &Scene<'_>, container: &Container) {
        let Some(outline) = outline(container) else {
            self.lines.clear();
            self.asked = None;
            return;
        };
        let asked = Asked { outline, unit: scene.unit, shelves: alike(scene) };
        if self.asked.as_ref() == Some(&asked) {
            return;
        }
        self.lines = asked.shelves.iter().map(|shelves| line(&asked, shelves)).collect();
        self.asked = Some(asked);
    }
}

/// `Rack 1, shelf 1, and 3 more of 48 × 18 in: 2 on each`.
fn line(asked: &Asked, shelves: &Alike) -> String {
    let Alike { width, depth, overhang: allowed, .. } = *shelves;
    let hold = Capacity { outline: asked.outline, width, depth, allowed, unit: asked.unit };
    let fits = hold.with(allowed).fits;
    let which = match shelves.number {
        1 => format!("{}, {}", shelves.first, shelves.size),
        n => format!("{} and {} more of {}", shelves.first, n - 1, shelves.size),
    };
    match (fits, shelves.number) {
        (0, _) => format!("{which}: none, it is larger than the shelf"),
        (fits, 1) => format!("{which}: {fits}"),
        (fits, n) => format!("{which}: {fits} on each, {} in all", fits.saturating_mul(i64::try_from(n).unwrap_or(1))),
    }
}

pub(super) fn told_ui(ui: &mut Ui, scene: &Scene<'_>, container: &Container, shelves: &mut OnShelves) {
    ui.add_space(8.0);
    drawing_ui(ui, container);
    ui.add_space(6.0);
    for said in facts(scene, container) {
        ui.add(Label::new(said).wrap());
    }
    shelves.follow(scene, container);
    if !shelves.lines.is_empty() {
        ui.add_space(6.0);
        ui.label(theme::bold("How many stand on the shelves"));
        for said in &shelves.lines {
            ui.add(Label::new(said).wrap());
        }
    }
}

fn drawing_ui(ui: &mut Ui, container: &Container) {
    let height = container.height.as_ref();
    let (width, depth, look) = match &container.kind {
        ContainerKind::Flat(flat) => {
            let outer = &flat.outer.value;
            let floor = flat.floor.as_ref().map(|floor| (&floor.value.width, &floor.value.depth));
            (&outer.width, &outer.depth, Look::Open { floor })
        }
        ContainerKind::Plug(plug) => {
            let outer = &plug.outer.value;
            let Some((rows, in_row)) = plug.grid else {
                let look = Look::Open { floor: None };
                let name = format!("Drawing: {}", measures(&outer.width, &outer.depth, height));
                return body_ui(ui, &Body { name: &name, width: &outer.width, depth: &outer.depth, height, look });
            };
            let (rows, in_row) = (u32::from(rows), u32::from(in_row));
            // Rows lie across the short side.
            let long = outer.width.value() >= outer.depth.value();
            let (columns, rows) = if long { (in_row, rows) } else { (rows, in_row) };
            (&outer.width, &outer.depth, Look::Cells { columns, rows })
        }
        ContainerKind::Pot(Pot { rim, top, bottom, .. }) => {
            let base = bottom.as_ref().map(|base| &base.value);
            let look = match rim {
                RimShape::Square => Look::Square { base },
                RimShape::Round => Look::Round { base },
            };
            (&top.value, &top.value, look)
        }
        ContainerKind::Class { .. } => return,
    };
    let name = format!("Drawing: {}", measures(width, depth, height));
    body_ui(ui, &Body { name: &name, width, depth, height, look });
}

/// One sentence each.
fn facts(scene: &Scene<'_>, container: &Container) -> Vec<String> {
    let mut facts = Vec::new();
    let volume = cell_volume(container);
    match &container.kind {
        ContainerKind::Plug(plug) => {
            let cells = counted(usize::from(plug.cells), "cell");
            facts.push(match plug.grid {
                Some((rows, in_row)) => format!("{cells}: {rows} rows of {in_row}"),
                None => format!("{cells}, offset"),
            });
            facts.push(match volume {
                Some(volume) => format!("{volume} to a cell, as stated"),
                None => "What a cell holds is not known".to_owned(),
            });
        }
        ContainerKind::Flat(_) => facts.push("Open: pots stand in it, or seed is sown in it".to_owned()),
        ContainerKind::Pot(pot) => {
            facts.push(match (volume, &pot.volume) {
                (Some(volume), Some(_)) => format!("{volume} to a pot, as stated"),
                (Some(volume), None) => format!("{volume} to a pot, worked out from its shape, to the brim"),
                (None, _) => "What it holds is not known; with a height it can be worked out".to_owned(),
            });
            facts.extend(in_flat(scene, pot));
        }
        ContainerKind::Class { low, high, .. } => {
            facts.push(format!("A class known by its volume alone, {} to {}", low.typed(), high.typed()));
        }
    }
    facts
}

fn in_flat(scene: &Scene<'_>, pot: &Pot) -> Option<String> {
    let container = scene.season.container(scene.library, &ContainerKey::new("flat_1020"))?;
    let ContainerKind::Flat(flat) = &container.kind else { return None };
    Some(match pots_in_flat(pot, flat, Length::ZERO) {
        Some(pots) => format!("{} stand in one {}", pots.number, container.name),
        None => format!("None stands in one {}", container.name),
    })
}

/// `rows of 12 · 30 ml`, beside its name in the list.
pub(super) fn briefly(container: &Container) -> String {
    match &container.kind {
        ContainerKind::Plug(plug) => counted(usize::from(plug.cells), "cell"),
        ContainerKind::Flat(_) => "open".to_owned(),
        ContainerKind::Pot(Pot { rim: RimShape::Round, .. }) => "round pot".to_owned(),
        ContainerKind::Pot(_) => "square pot".to_owned(),
        ContainerKind::Class { .. } => "class".to_owned(),
    }
}

pub(super) fn source(container: &Container) -> Option<RichText> {
    let source = match &container.kind {
        ContainerKind::Flat(flat) => &flat.outer.source,
        ContainerKind::Plug(plug) => &plug.outer.source,
        ContainerKind::Pot(pot) => &pot.top.source,
        ContainerKind::Class { source, .. } => &source.source,
    };
    (!source.is_empty()).then(|| RichText::new(format!("Size from: {source}")).font(theme::small()))
}
