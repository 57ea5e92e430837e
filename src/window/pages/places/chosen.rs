//! What is shown in the middle of the places page.

use crate::season::Season;
use crate::window::space::Space;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) enum Chosen {
    #[default]
    NewRack,
    Of(Space),
}

impl Chosen {
    pub(super) fn is_there(self, season: &Season) -> bool {
        match self {
            Self::NewRack => true,
            Self::Of(space) => space.is_there(season),
        }
    }
}
