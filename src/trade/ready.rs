//! Whether a plant is ready to go: old enough, rooted through, and safe at night.

use chrono::NaiveDate;

use crate::season::{Crop, Frost, Hardening, Sowing};
use crate::units::Temperature;

use super::{is_tender, weeks_until_ready};

/// Days from potting until the roots hold the ball together: common practice, no source. A nursery's
/// note has tomatoes 2 to 3 weeks in the larger container (farm magazine, 2014), a trial has basil 3
/// weeks in its 4 in pot.
const USUAL_ROOTING_DAYS: u16 = 14;

/// Days that a crop wants in a container before it leaves it: its own, else two weeks.
pub fn rooting_days(crop: &Crop) -> u16 {
    crop.rooting_days.as_ref().map_or(USUAL_ROOTING_DAYS, |days| days.value)
}

/// Days from sowing before which a crop is too young to go: the least of its weeks to planting out, or to
/// sale in flower.
pub fn least_days_to_out(crop: &Crop, is_sold: bool) -> u16 {
    7 * u16::from(weeks_until_ready(crop, is_sold).0)
}

/// The same where it is moved on so often when its leaves are there, as early as they may be, and roots
/// through in the last container.
pub fn least_days_through(crop: &Crop, is_sold: bool, moves: u16) -> u16 {
    let potted = match moves {
        0 => 0,
        moves => moves.saturating_mul(crop.moving_on.value.days.early).saturating_add(rooting_days(crop)),
    };
    least_days_to_out(crop, is_sold).max(potted)
}

/// Days that a sowing hardens off before it goes, and those of them after which it stays out at night: the
/// grower's own number, else the crop's.
pub fn hardening_days(crop: &Crop, sowing: &Sowing) -> Hardening {
    let usual = crop.hardening.value;
    let days = sowing.harden_days.unwrap_or(usual.days);
    Hardening { days, first_night_after: usual.first_night_after.min(days) }
}

/// A night colder than this and the crop is taken in.
///
/// Its own figure; cucumbers, melons and squashes stay out at 13 °C and more, which is from memory:
/// the Univ. of Maryland Extension prints 50 °F (10 °C) as the least, and the safer one is taken.
pub fn safe_night(crop: &Crop) -> Temperature {
    let own = crop.come_in.value.value();
    if crop.family == CUCURBITS { Temperature::try_from_celsius(13.0).map_or(own, |least| own.max(least)) } else { own }
}

const CUCURBITS: &str = "cucurbit";

/// The first night on which the last frost lets a crop stay out; `None` where it bears a frost as
/// cold as any that the season has a date for.
///
/// A tender crop waits for the date whose risk the grower takes. So does what comes in at a warmer
/// night than that date is for; a colder frost of the table counts at the same risk.
pub fn nights_from(crop: &Crop, frost: &Frost) -> Option<NaiveDate> {
    let safe = safe_night(crop);
    let table =
        frost.table.iter().filter(|one| one.later_in_ten == frost.later_in_ten && one.temperature.value() < safe);
    let own = (is_tender(crop) || frost.temperature.value() < safe).then_some(frost.date);
    table.map(|one| one.date).chain(own).max()
}
