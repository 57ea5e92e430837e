//! The floor of a place and where racks stand on it, into their file structs and back.

use crate::season::{Door, Floor, Stands};
use crate::units::Size;

use super::text::{LengthText, SizeText};
use super::v2::{DoorV2, FloorV2, StandsV2};

impl From<&Floor> for FloorV2 {
    fn from(Floor { width, depth, doors, barrow }: &Floor) -> Self {
        Self {
            size: SizeText(Size { width: width.clone(), depth: depth.clone() }),
            doors: doors.iter().map(DoorV2::from).collect(),
            barrow: barrow.clone().map(LengthText),
        }
    }
}

impl From<FloorV2> for Floor {
    fn from(FloorV2 { size: SizeText(Size { width, depth }), doors, barrow }: FloorV2) -> Self {
        Self { width, depth, doors: doors.into_iter().map(Door::from).collect(), barrow: barrow.map(|text| text.0) }
    }
}

impl From<&Door> for DoorV2 {
    fn from(Door { wall, along, width }: &Door) -> Self {
        Self { wall: (*wall).into(), along: LengthText(along.clone()), width: LengthText(width.clone()) }
    }
}

impl From<DoorV2> for Door {
    fn from(DoorV2 { wall, along, width }: DoorV2) -> Self {
        Self { wall: wall.into(), along: along.0, width: width.0 }
    }
}

impl From<&Stands> for StandsV2 {
    fn from(Stands { x, y, quarter_turns }: &Stands) -> Self {
        Self { x: LengthText(x.clone()), y: LengthText(y.clone()), quarter_turns: *quarter_turns }
    }
}

impl From<StandsV2> for Stands {
    fn from(StandsV2 { x, y, quarter_turns }: StandsV2) -> Self {
        Self { x: x.0, y: y.0, quarter_turns }
    }
}
