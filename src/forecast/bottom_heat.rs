//! How warm seed lies, on a mat and without one, and which of the two it gets.

use crate::season::{Crop, Place, Role, Season, Sowing, ZoneKind};
use crate::trade;
use crate::units::Temperature;

/// What is known of where a season's seed comes up.
#[derive(Clone, Copy)]
pub(super) struct BottomHeat {
    /// Mean of the day without a mat.
    room: Option<Temperature>,
    mat: Option<Temperature>,
}

impl BottomHeat {
    /// Of several places with a mat, or without one, the first whose temperature is known.
    pub(super) fn of(season: &Season) -> Self {
        let mats = |place: &&Place| {
            place.role == Role::Germinating
                || season.shelves().any(|shelf| {
                    shelf.has(ZoneKind::Heat) && season.place_of(shelf).is_some_and(|of| of.id == place.id)
                })
        };
        let mat = season.places().filter(mats).find_map(|place| Some(place.temperatures.mat.as_ref()?.value()));
        let role = Role::Germinating;
        let role = if season.places().any(|place| place.role == role) { role } else { Role::Growing };
        Self { room: mean_in(season, role), mat }
    }

    /// Whether a sowing is to have bottom heat: as the grower says, else as its seed likes it.
    pub(super) fn wants_heat(self, crop: &Crop, sowing: &Sowing) -> bool {
        sowing.bottom_heat.unwrap_or_else(|| trade::wants_bottom_heat(crop, self.room, self.mat))
    }
}

/// The mean of the first place of that role whose temperature is known.
fn mean_in(season: &Season, role: Role) -> Option<Temperature> {
    let mut places = season.places().filter(|place| place.role == role);
    places.find_map(|place| trade::mean_temperature(&place.temperatures))
}
