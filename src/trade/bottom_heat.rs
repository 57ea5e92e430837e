use crate::season::{Crop, Hardiness};
use crate::units::Temperature;

/// A room that nobody measured: commonly heated to so much (common practice, no source).
const ROOM_CELSIUS: f64 = 20.0;

/// Whether a crop wants bottom heat to come up where the grower says nothing: where `room`, the mean of the day
/// without a mat, is colder than its seed likes best, and a mat of that temperature is not further above that.
///
/// The crop's own best temperatures are published or marked in the library. Tender crops are given heat where
/// they have none (common practice, no source).
pub fn wants_bottom_heat(crop: &Crop, room: Option<Temperature>, mat: Option<Temperature>) -> bool {
    let best = crop.germination_temperatures.as_ref().map(|figure| figure.value);
    let Some((best, low)) = best.and_then(|best| Some((best, best.best_low?.to_celsius()))) else {
        return matches!(crop.hardiness, Hardiness::Tender | Hardiness::VeryTender);
    };
    let cold = low - room.map_or(ROOM_CELSIUS, Temperature::to_celsius);
    let hot = mat.zip(best.best_high.or(best.max)).map_or(0.0, |(mat, high)| mat.to_celsius() - high.to_celsius());
    cold > 0.0 && hot < cold
}
