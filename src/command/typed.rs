//! The unit a season is answered in.

use crate::season::Season;
use crate::units::{LengthUnit, unit_of};

/// The unit of most shelves.
pub(super) fn unit_of_season(season: &Season) -> LengthUnit {
    let units = || season.shelves().map(|shelf| unit_of(shelf.width.typed()));
    let often = |unit| units().filter(|found| *found == unit).count();
    [LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Inch]
        .into_iter()
        .max_by_key(|unit| often(*unit))
        .unwrap_or_default()
}
