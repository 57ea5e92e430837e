//! What a container says of itself: drawn to scale, its volume, how many stand on each shelf.

use egui::{Label, RichText, Ui};

use crate::outlook::{AlikeShelves, OnEach, alike_shelves};
use crate::season::{Container, ContainerKind, Pot, RimShape};
use crate::trade::{Outline, WetWeight};
use crate::units::LengthUnit;
use crate::window::kit::{Body, Look, body_ui, cautions_ui};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::cautions::Care;
use crate::words::containers as said;

/// How many stand on each shelf, kept while nothing changes.
#[derive(Clone, Debug, Default)]
pub(super) struct OnShelves {
    asked: Option<(Outline, u32, LengthUnit, Vec<AlikeShelves>)>,
    hold: Vec<OnEach>,
}

impl OnShelves {
    /// One line for each size of shelf; none for a container that has no outline.
    fn lines(&mut self, scene: &Scene<'_>, container: &Container) -> Vec<String> {
        let Some(outline) = Outline::of(container) else { return Vec::new() };
        let grams = WetWeight::full(container).unwrap_or(0);
        let asked = (outline, grams, scene.unit, alike_shelves(scene.season));
        if self.asked.as_ref() != Some(&asked) {
            self.hold = asked.3.iter().map(|shelves| shelves.hold(outline, grams, scene.unit)).collect();
        }
        let (.., shelves) = self.asked.insert(asked);
        shelves.iter().zip(&self.hold).map(|(shelves, hold)| line(scene, shelves, *hold, grams)).collect()
    }
}

/// `Rack 1, shelf 1, and 3 more of 48 × 18 in: 2 on each`.
fn line(scene: &Scene<'_>, shelves: &AlikeShelves, hold: OnEach, grams: u32) -> String {
    let size = format!("{} × {}", shelves.width.typed(), shelves.depth.typed());
    let which = said::which_shelves(&scene.words().shelf(shelves.first), &size, shelves.number);
    let stand = said::so_many_stand(&which, hold.fits, shelves.number, hold.by_weight);
    let rated = shelves.load.filter(|_| hold.by_weight).map(|rated| scene.words().no_more_borne(rated, grams));
    rated.map_or_else(|| stand.clone(), |rated| said::with_rating(&stand, &rated))
}

pub(super) fn told_ui(ui: &mut Ui, scene: &Scene<'_>, container: &Container, shelves: &mut OnShelves) {
    ui.add_space(8.0);
    let of_library = scene.library.containers.contains_key(&container.key);
    drawing_ui(ui, container, of_library.then_some(scene.unit));
    ui.add_space(6.0);
    for fact in scene.words().container_facts(container) {
        ui.add(Label::new(fact).wrap());
    }
    cautions_ui(ui, Care::Mix, scene.unit);
    let lines = shelves.lines(scene, container);
    if !lines.is_empty() {
        ui.add_space(6.0);
        ui.label(theme::bold(said::ON_SHELVES));
        for line in lines {
            ui.add(Label::new(line).wrap());
        }
    }
}

fn drawing_ui(ui: &mut Ui, container: &Container, unit: Option<LengthUnit>) {
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
                return body_ui(ui, &Body { width: &outer.width, depth: &outer.depth, height, look, unit });
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
    body_ui(ui, &Body { width, depth, height, look, unit });
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
