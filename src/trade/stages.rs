use crate::season::{Container, ContainerKind, Crop, SeedLight, Stage};
use crate::units::Volume;

use super::cell_volume;

/// Sizes of cell by which the latest time to move on is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CellClass {
    /// Up to 15 ml: 512 to 200 cells to the flat.
    Small,
    /// Up to 50 ml: 128 to 72.
    Medium,
    /// Up to 300 ml: 50 to 18.
    Large,
    /// Up to 600 ml: pots about 9 or 10 cm wide.
    Pot,
    /// Up to 1.5 l: pots about 12 to 15 cm wide.
    Litre,
    /// A trade gallon, and larger.
    Gallon,
}

/// The class of a cell or pot by what it holds. The limits lie between the tray sizes that the
/// latest weeks were given for (common practice, no source).
pub fn cell_class(volume: Volume) -> CellClass {
    match volume.to_ml() {
        ml if ml <= 15.0 => CellClass::Small,
        ml if ml <= 50.0 => CellClass::Medium,
        ml if ml <= 300.0 => CellClass::Large,
        ml if ml <= 600.0 => CellClass::Pot,
        ml if ml <= 1_500.0 => CellClass::Litre,
        _ => CellClass::Gallon,
    }
}

/// Days from sowing after which that container holds the crop back; `None` where nobody says. In a pot of
/// which nothing is said the crop may stay as long as in the next smaller pot.
pub fn latest_days(crop: &Crop, container: &Container) -> Option<u16> {
    let class = match (cell_volume(container), &container.kind) {
        (Some(volume), _) => cell_class(volume),
        (None, ContainerKind::Pot(_)) => CellClass::Pot,
        (None, _) => return None,
    };
    let weeks = &crop.latest.value;
    let latest = match class {
        CellClass::Small => weeks.small,
        CellClass::Medium => weeks.medium,
        CellClass::Large => weeks.large,
        CellClass::Pot => weeks.pot,
        CellClass::Litre => weeks.litre.or(weeks.pot),
        CellClass::Gallon => weeks.gallon.or(weeks.litre).or(weeks.pot),
    };
    latest.map(|latest| u16::from(latest) * if weeks.in_days { 1 } else { 7 })
}

/// Days from sowing after which a crop is at that stage, by its own likely days.
///
/// Leaves come at an even pace, a usual simplification: none when it shows, as many as moving on
/// waits for after the days that moving on has. Where leaves say nothing, as in onions, four are
/// counted for those days (from memory).
pub fn days_to_stage(crop: &Crop, stage: Stage) -> u16 {
    let up = crop.emergence.value.likely;
    let moving_on = crop.moving_on.value;
    match stage {
        Stage::Sown => 0,
        Stage::Up => up,
        Stage::TrueLeaves(leaves) => {
            let due = u32::from(moving_on.true_leaves.unwrap_or(4).max(1));
            let growing = u32::from(moving_on.days.likely.saturating_sub(up));
            let days = u32::from(up) + (growing * u32::from(leaves) + due / 2) / due;
            u16::try_from(days).unwrap_or(u16::MAX)
        }
    }
}

/// Weeks from sowing until a crop is large enough to be planted out, least and most; to be sold in flower
/// if it `is_sold`, where that is known.
pub fn weeks_until_ready(crop: &Crop, is_sold: bool) -> (u8, u8) {
    let sale = crop.weeks_to_sale.as_ref().filter(|_| is_sold);
    sale.unwrap_or(&crop.weeks_to_planting_out).value
}

/// Weeks before it goes at which a crop is sown: the crop's longest course where it is moved on into a
/// pot, else the middle of its range, rounded up.
pub fn sowing_weeks_before_out(crop: &Crop, is_sold: bool, moved_on: bool) -> u8 {
    let (low, high) = weeks_until_ready(crop, is_sold);
    if moved_on { high } else { low + (high.saturating_sub(low)).div_ceil(2) }
}

/// Whether trays of a crop may stand in a stack until they show: seed that wants light to sprout gets none
/// there.
pub const fn may_be_stacked(crop: &Crop) -> bool {
    !matches!(crop.light_to_germinate, SeedLight::Light)
}
