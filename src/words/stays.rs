//! What stands there, what it needs, and why not there.

use crate::forecast::{Inside, Phase, Shape, Stay};
use crate::outlook::Obstacle;
use crate::season::{PartOfDay, RimShape, Role};
use crate::units::Length;

use super::{Words, counted, plural, span};

impl Words<'_> {
    /// What it is: `18 pots, 83 mm square, in a flat`.
    pub fn what(&self, stay: &Stay) -> String {
        let number = stay.trays.len();
        match &stay.shape {
            Shape::Pots { rim, across, centres, .. } => {
                format!("{} loose pots, {}", centres.len(), self.rim(*rim, *across))
            }
            Shape::Tray { inside: Inside::Pots { number, rim, across, .. }, .. } => {
                let pots = u32::from(*number).min(stay.plants.max(1));
                format!("{pots} {}, {}, in a flat", plural(pots, "pot", "pots"), self.rim(*rim, *across))
            }
            Shape::Tray { inside: Inside::Cells { columns, rows }, .. } => {
                let cells = u32::from(*columns) * u32::from(*rows);
                if number > 1 {
                    format!("{number} trays of {cells} cells in a stack")
                } else {
                    format!("{} of {cells} cells filled", stay.plants.min(cells))
                }
            }
            Shape::Tray { width, depth, inside: Inside::Open } => {
                let size = format!("{} × {}", self.length(*width), self.length(*depth));
                if stay.phase == Phase::Guest { size } else { format!("{} plants, {size}", stay.plants) }
            }
        }
    }

    /// The same without measures: `18 pots in a flat`.
    pub fn what_briefly(&self, stay: &Stay) -> String {
        match &stay.shape {
            Shape::Tray { inside: Inside::Pots { number, .. }, .. } => {
                let pots = u32::from(*number).min(stay.plants.max(1));
                format!("{} in a flat", counted(pots, "pot", "pots"))
            }
            Shape::Pots { centres, .. } => format!("{} loose pots", centres.len()),
            Shape::Tray { .. } if stay.trays.len() > 1 => format!("{} trays in a stack", stay.trays.len()),
            Shape::Tray { .. } => self.what(stay),
        }
    }

    fn rim(&self, rim: RimShape, across: Length) -> String {
        match rim {
            RimShape::Square => format!("{} square", self.length(across)),
            RimShape::Round => format!("{} round", self.length(across)),
        }
    }

    /// What it needs, a line each: `a spot under lights, 12 Apr – 16 May`.
    pub fn needs(&self, stay: &Stay) -> Vec<String> {
        let spot = match (stay.needs.role, stay.needs.heat, stay.needs.light) {
            (_, true, _) => "a spot with bottom heat",
            (Role::Hardening, ..) => "a spot to harden off",
            (_, _, true) => "a spot under lights",
            (..) => "a spot, dark or lit",
        };
        let part = match stay.part {
            PartOfDay::Whole => "",
            PartOfDay::Days => ", by day",
            PartOfDay::Nights => ", by night",
        };
        let mut needs = vec![format!("{spot}{part}, {}", span(stay.span))];
        if stay.height > Length::ZERO {
            needs.push(format!("{} of clear height", self.length(stay.height)));
        }
        if stay.grams > 0 {
            needs.push(format!("about {} when watered", self.weight(u64::from(stay.grams))));
        }
        needs
    }

    /// Why not there.
    pub fn obstacle(&self, obstacle: &Obstacle) -> String {
        match obstacle {
            Obstacle::Tray(tray) => format!("{} is in the way", self.tray(*tray)),
            Obstacle::Edge { by } => format!("over the edge by {}", self.length(*by)),
            Obstacle::TooTall { missing } => format!("too tall here, {} missing", self.length(*missing)),
            Obstacle::NotForIt => "closed then, or not for this stage".to_owned(),
            Obstacle::NoHeat => "no heat mat here".to_owned(),
            Obstacle::Unlit => "dark here".to_owned(),
            Obstacle::Harms(harm) => self.obstacle_of(*harm),
        }
    }
}
