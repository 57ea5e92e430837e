//! The floor of a place from above, and what is wrong there.

use crate::forecast::Cramped;
use crate::season::{Door, FieldId, PlaceId, Rack, RackId, Stands, Wall};
use crate::units::{Area, Length, LengthUnit, Measure};

use super::refusal::field;
use super::{Words, counted, listed};

impl Words<'_> {
    pub(super) fn rack(&self, id: RackId) -> String {
        self.season.rack(id).map_or_else(|| format!("rack {id}"), |rack| rack.name.clone())
    }

    pub(super) fn cramped(&self, place: PlaceId, what: Cramped) -> String {
        let place = self.place(place);
        match what {
            Cramped::Overlap { one, other } => {
                format!("{} and {} overlap on the floor of {place}", self.rack(one), self.rack(other))
            }
            Cramped::Outside { rack, by } => {
                format!("{} sticks out of the floor of {place} by {}", self.rack(rack), self.length(by))
            }
            Cramped::NoDoor { barrow, widest: Some(widest) } => format!(
                "No door of {place} is as wide as the barrow, {}: the widest is {}",
                self.length(barrow),
                self.length(widest)
            ),
            Cramped::NoDoor { barrow, widest: None } => format!(
                "{place} has no door on its plan: whether a barrow {} wide gets to its racks can’t be told",
                self.length(barrow)
            ),
            Cramped::Barred { rack, barrow, widest: Some(widest) } => format!(
                "A barrow {} wide doesn’t get to {}: the way to it is {} at the narrowest",
                self.length(barrow),
                self.rack(rack),
                self.length(widest)
            ),
            Cramped::Barred { rack, barrow, widest: None } => format!(
                "A barrow {} wide doesn’t get to {}: no way leads to its front at all",
                self.length(barrow),
                self.rack(rack)
            ),
            Cramped::ManyBarred { barrow, racks, reached, for_all, one } => {
                let barrow = self.length(barrow);
                let few = if reached == 0 { "none".to_owned() } else { reached.to_string() };
                let instead = match for_all {
                    Some(widest) => format!("one {} wide gets to all", self.length(widest)),
                    None => format!("no way leads to the front of {} at all", self.rack(one)),
                };
                format!("A barrow {barrow} wide gets to {few} of the {racks} racks on the floor of {place}: {instead}")
            }
        }
    }
}

pub const BUTTON: &str = "Floor…";
pub const WHAT_IT_SHOWS: &str = "Where the racks stand in their room, and which of them a barrow gets to";
pub const OPEN: &str = "The floor, from above…";
pub const ITS_FLOOR: &str = "Its floor, from above…";
pub const WHICH: &str = "Floor of";
pub const NO_PLACE: &str = "There is no place in this season yet";
pub const NOT_DRAWN: &str = "Its floor isn’t drawn yet";
pub const DRAW: &str = "Draw its floor";
pub const FORGET: &str = "Forget this floor";
pub const ON_IT: &str = "On the floor";
pub const NOT_YET: &str = "Not on the floor yet";
pub const NO_RACKS: &str = "No rack of this place has a shelf yet";
pub const TAKE_OFF: &str = "Take off the floor";
pub const TURN: &str = "Turn (R)";
pub const FACES: &str = "Its front faces the";
pub const DOORS: &str = field(FieldId::Doors);
pub const ADD_DOOR: &str = "Add a door";
pub const BARROW: &str = field(FieldId::Barrow);
pub const NO_BARROW: &str = "none";
pub const WIDTH: &str = field(FieldId::RoomWidth);
pub const DEPTH: &str = field(FieldId::RoomDepth);
pub const FROM_LEFT: &str = field(FieldId::RackX);
pub const FROM_BACK: &str = field(FieldId::RackY);
pub const HOW: &str = "Drag racks, or nudge them by arrow keys; R turns, Delete takes off, Page Down goes on";
pub const MODEL: &str = "A barrow is taken as a square that never turns, and may touch on both sides; leave more for \
                         hands, for turning and for what is long (common practice, no source)";
pub const ALL_IN_ORDER: &str = "Nothing on this floor is in the way";
pub const NOT_ON_FLOOR: &str = "it goes back: this is not on the floor";

pub const WALLS: [(Wall, &str); 4] =
    [(Wall::Front, "front wall"), (Wall::Back, "back wall"), (Wall::Left, "left wall"), (Wall::Right, "right wall")];

const fn wall(of: Wall) -> &'static str {
    match of {
        Wall::Front => "front wall",
        Wall::Back => "back wall",
        Wall::Left => "left wall",
        Wall::Right => "right wall",
    }
}

/// What a floor is taken to measure until the grower says: its width, its depth, and a door.
pub const fn usual_floor(unit: LengthUnit) -> [&'static str; 3] {
    if unit.is_of_inches() { ["12 ft", "10 ft", "3 ft"] } else { ["4 m", "3 m", "90 cm"] }
}

pub fn put_on(rack: &str) -> String {
    format!("Put {rack} on the floor")
}

/// The first is at 0.
pub fn door(at: usize) -> String {
    format!("Door {}", at + 1)
}

/// `Door 1: width`.
pub fn door_field(at: usize, what: &str) -> String {
    format!("{}: {what}", door(at))
}

/// What the choice of its wall is called.
pub fn door_in(at: usize) -> String {
    format!("{}: in the", door(at))
}

pub fn remove_door(at: usize) -> String {
    format!("Remove door {}", at + 1)
}

/// `Door 1 in the front wall, 3 ft wide`.
pub fn door_said(at: usize, one: &Door) -> String {
    format!("{} in the {}, {} wide", door(at), wall(one.wall), one.width.typed())
}

/// `Bench 3 on the floor, 6 ft from the left, 5 ft from the back, front to the left wall`.
pub fn rack_said(rack: &Rack, stands: &Stands) -> String {
    let (x, y) = (stands.x.typed(), stands.y.typed());
    format!("{} on the floor, {x} from the left, {y} from the back, front to the {}", rack.name, wall(stands.faces()))
}

/// Of what is not on it yet, as it is dragged.
pub fn drag_on(rack: &str) -> String {
    format!("Drag {rack} onto the floor")
}

/// What a screen reader says of the drawing.
pub fn floor_said(place: &str, width: &Measure, depth: &Measure, racks: usize) -> String {
    let racks = counted(racks, "rack", "racks");
    format!("Floor of {place}, from above, {} × {}, {racks}", width.typed(), depth.typed())
}

impl Words<'_> {
    /// `1140 sq ft of 2280 sq ft is bench: 50 %`.
    pub fn share_of_bench(&self, bench: Area, floor: Area, percent: u32) -> String {
        format!("{} of {} is bench: {percent} %", self.area(bench), self.area(floor))
    }

    pub fn hatched(&self, barrow: Length) -> String {
        format!("Hatched: no part of a barrow {} wide comes there", self.length(barrow))
    }

    /// What is before a rack; `widest` of the barrows that get to it, if any does.
    pub fn way_to(&self, before: Length, widest: Option<Length>) -> String {
        let before = self.length(before);
        match widest {
            Some(widest) => {
                format!("{before} of floor before it; a barrow up to {} wide gets to it", self.length(widest))
            }
            None => format!("{before} of floor before it; no way from a door leads to it"),
        }
    }

    /// Of a rack in the hand: where it would stand, and what it would stand in.
    pub fn would_stand(&self, x: Length, y: Length, over: &[RackId]) -> String {
        let at = format!("{} from the left, {} from the back", self.length(x), self.length(y));
        if over.is_empty() {
            return at;
        }
        let over: Vec<String> = over.iter().map(|rack| self.rack(*rack)).collect();
        format!("{at}; in the way of {}", listed(&over))
    }
}
