//! What a container says of itself: drawn to scale, its volume, how many stand on each shelf.

use egui::{Label, RichText, Ui};

use crate::season::{Container, ContainerKind, Pot, RimShape, Season};
use crate::trade::{Capacity, Outline};
use crate::units::{Length, LengthUnit};
use crate::window::kit::{Body, Look, body_ui};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::containers as said;

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
    let which = said::which_shelves(&shelves.first, &shelves.size, shelves.number);
    said::so_many_stand(&which, fits, shelves.number)
}

pub(super) fn told_ui(ui: &mut Ui, scene: &Scene<'_>, container: &Container, shelves: &mut OnShelves) {
    ui.add_space(8.0);
    drawing_ui(ui, container);
    ui.add_space(6.0);
    for fact in scene.words().container_facts(container) {
        ui.add(Label::new(fact).wrap());
    }
    shelves.follow(scene, container);
    if !shelves.lines.is_empty() {
        ui.add_space(6.0);
        ui.label(theme::bold(said::ON_SHELVES));
        for line in &shelves.lines {
            ui.add(Label::new(line).wrap());
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
                return body_ui(ui, &Body { width: &outer.width, depth: &outer.depth, height, look });
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
    body_ui(ui, &Body { width, depth, height, look });
}

pub(super) fn source(container: &Container) -> Option<RichText> {
    let source = match &container.kind {
        ContainerKind::Flat(flat) => &flat.outer.source,
        ContainerKind::Plug(plug) => &plug.outer.source,
        ContainerKind::Pot(pot) => &pot.top.source,
        ContainerKind::Class { source, .. } => &source.source,
    };
    (!source.is_empty()).then(|| RichText::new(said::size_from(source)).font(theme::small()))
}
