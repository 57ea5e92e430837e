//! What of the room is looked at to be changed.

use crate::season::{PlaceId, RackId, Season, ShelfId};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(in crate::window) enum Space {
    Place(PlaceId),
    Rack(RackId),
    Shelf(ShelfId),
}

impl Space {
    pub(in crate::window) fn is_there(self, season: &Season) -> bool {
        match self {
            Self::Place(id) => season.place(id).is_some(),
            Self::Rack(id) => season.rack(id).is_some(),
            Self::Shelf(id) => season.shelf(id).is_some(),
        }
    }
}
