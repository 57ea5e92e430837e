//! What is shown in the middle of the places page.

use crate::season::{PlaceId, RackId, Season, ShelfId};

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) enum Chosen {
    #[default]
    NewRack,
    Place(PlaceId),
    Rack(RackId),
    Shelf(ShelfId),
}

impl Chosen {
    pub(super) fn is_there(self, season: &Season) -> bool {
        match self {
            Self::NewRack => true,
            Self::Place(id) => season.place(id).is_some(),
            Self::Rack(id) => season.rack(id).is_some(),
            Self::Shelf(id) => season.shelf(id).is_some(),
        }
    }
}
