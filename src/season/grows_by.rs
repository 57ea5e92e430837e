//! What light there is where plants grow on, in a season without lamps.

use super::{Light, Role, Season, ZoneKind};

/// The best light that any shelf for growing has, where none has a lamp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoLamps {
    Daylight,
    Dark,
}

impl Season {
    /// `None` where a shelf for growing has a lamp, or none is for growing.
    pub fn grows_without_lamps(&self) -> Option<NoLamps> {
        let mut found = None;
        for shelf in self.shelves() {
            let Some(place) = self.place_of(shelf).filter(|place| place.role == Role::Growing) else { continue };
            match shelf.light.unwrap_or(place.light) {
                _ if shelf.has(ZoneKind::Lamp) => return None,
                Light::Lamps => return None,
                Light::Daylight => found = Some(NoLamps::Daylight),
                Light::Dark => found = found.or(Some(NoLamps::Dark)),
            }
        }
        found
    }
}
