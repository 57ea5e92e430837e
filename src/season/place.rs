use crate::units::{DateSpan, Length, Measure, Temperature, Typed};

use super::{PlaceId, RackId, ShelfId};

/// What the shelves of a place are for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Warm and maybe dark: a cabinet, an airing cupboard, a rack of mats.
    Germinating,
    /// Where plants grow on: lit shelves, a greenhouse.
    Growing,
    /// Where plants get used to the open: a cold frame, a porch, a lawn.
    Hardening,
}

/// When in the day a place can be used: a frame day and night, a lawn by day, a counter by night.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartOfDay {
    #[default]
    Whole,
    Days,
    Nights,
}

/// What plants have to grow by, as the grower says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Light {
    /// Lamps: those that are drawn, and where none is drawn in the whole place, lamps over all of it.
    #[default]
    Lamps,
    /// Daylight on all of it: a greenhouse, a frame, a lawn.
    Daylight,
    /// Neither: a chamber or cupboard in which seed comes up and nothing grows.
    Dark,
}

/// What of a shelf plants stand well lit on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lit {
    Whole,
    /// What its lamps reach.
    UnderLamps,
    /// Nothing of it: the lamps of the room hang over other shelves, whose light falls on it.
    Beside,
    /// Nothing of it, and nothing grows there.
    Dark,
}

/// A group of shelves with the same role.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    pub id: PlaceId,
    pub name: String,
    pub role: Role,
    /// Open between these dates; always, if there are none.
    pub open: Vec<DateSpan>,
    pub part: PartOfDay,
    pub temperatures: Temperatures,
    pub light: Light,
    /// Where its racks stand, if the grower drew that.
    pub floor: Option<Floor>,
}

/// The floor of a room, a house or a frame, from above. `x` runs along its back wall from the left, `y` from the
/// back wall to the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    pub width: Measure,
    pub depth: Measure,
    pub doors: Vec<Door>,
    /// How wide what is to get to the racks is: a barrow, a trolley.
    pub barrow: Option<Measure>,
}

/// As one stands at the front and looks to the back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wall {
    Back,
    Right,
    #[default]
    Front,
    Left,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Door {
    pub wall: Wall,
    /// From the left, or on a side wall from the back.
    pub along: Measure,
    pub width: Measure,
}

impl Floor {
    /// How long that wall is.
    pub const fn wall(&self, wall: Wall) -> &Measure {
        match wall {
            Wall::Back | Wall::Front => &self.width,
            Wall::Left | Wall::Right => &self.depth,
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Temperatures {
    pub day: Option<Typed<Temperature>>,
    pub night: Option<Typed<Temperature>>,
    pub mat: Option<Typed<Temperature>>,
}

/// Shelves one above the other; a bench is a rack with one tier.
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    pub id: RackId,
    pub place: PlaceId,
    pub name: String,
    /// From left to right as one stands before them.
    pub position: u32,
    /// On the floor of its place; `None` where it is not on the plan yet.
    pub stands: Option<Stands>,
}

/// Where a rack stands: the corner of its outline that is nearest to the back left of the room, as it is turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Stands {
    pub x: Measure,
    pub y: Measure,
    /// Its front faces the front wall; turned once, to the right about as seen from above, the left wall.
    pub quarter_turns: u8,
}

impl Stands {
    /// The wall that its front faces.
    pub const fn faces(&self) -> Wall {
        faces(self.quarter_turns)
    }
}

/// The wall that a front faces that is turned so often.
pub const fn faces(quarter_turns: u8) -> Wall {
    match quarter_turns % 4 {
        0 => Wall::Front,
        1 => Wall::Left,
        2 => Wall::Back,
        _ => Wall::Right,
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reach {
    #[default]
    OneSide,
    BothSides,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ZoneKind {
    /// What a lamp serves well.
    Lamp,
    /// A heat mat.
    Heat,
}

/// A part of a shelf, measured from its back left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    pub kind: ZoneKind,
    pub x: Measure,
    pub y: Measure,
    pub width: Measure,
    pub depth: Measure,
}

/// One rectangle to stand things on. `x` runs along the width from the left, `y` from the back to
/// the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelf {
    pub id: ShelfId,
    pub rack: RackId,
    /// From the top down, from 1.
    pub tier: u32,
    pub width: Measure,
    pub depth: Measure,
    /// Free height above the shelf, up to the lamp where one hangs; unknown is no limit.
    pub clear_height: Option<Measure>,
    pub reach: Reach,
    /// Shut between these dates.
    pub closed: Vec<DateSpan>,
    pub zones: Vec<Zone>,
    /// How far trays may stick out over the front edge.
    pub overhang: Measure,
    /// Part of the surface that the grower keeps free, in per cent.
    pub allowance_percent: u8,
    /// The maker's rating, in grams.
    pub load_grams: Option<u32>,
    /// Where it has other light than its place.
    pub light: Option<Light>,
}

impl Shelf {
    /// Depth on which a tray may stand, overhang included.
    pub fn usable_depth(&self) -> Length {
        self.depth.value() + self.overhang.value()
    }

    pub fn has(&self, kind: ZoneKind) -> bool {
        self.zones.iter().any(|zone| zone.kind == kind)
    }

    /// What of it is well lit, in that place; `lamps` says whether any shelf of the place has one drawn.
    pub fn lit(&self, place: &Place, lamps: bool) -> Lit {
        match (self.light, place.light) {
            (Some(Light::Dark), _) => Lit::Dark,
            (Some(Light::Daylight), _) | (None, Light::Daylight) => Lit::Whole,
            _ if self.has(ZoneKind::Lamp) => Lit::UnderLamps,
            (None, Light::Dark) => Lit::Dark,
            (None, Light::Lamps) if lamps => Lit::Beside,
            _ => Lit::Whole,
        }
    }
}
