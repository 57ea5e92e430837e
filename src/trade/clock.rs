//! The plants' clock by temperature: days to come up, days to a leaf.

use crate::season::{ComesUp, Crop, DayRange, EmergenceRow, Library, Temperatures, ThermalTime};
use crate::units::{Temperature, Typed};

/// Hours of the day temperature: lamps commonly burn so long (common practice, no source).
const DAY_HOURS: f64 = 16.0;

/// Days from sowing until a crop shows, and the rule they come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Emergence {
    pub days: DayRange,
    pub by: EmergenceBy,
}

/// Which rule said how long a crop takes to come up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EmergenceBy {
    /// Degree-days above a base, as published.
    Warmth { at: Temperature, base: Temperature },
    /// The table of days by temperature.
    Row { at: Temperature },
    /// The crop's own days, at whatever temperature.
    CropDays,
    /// It was tried at that temperature, and nothing came up: the crop's own days stand in.
    Never { at: Temperature },
}

/// Mean of the 24 hours, which growth goes by (Si and Heins 1996 for pepper, Grimstad and Frimanslund
/// 1993 for cucumber: leaves depend on the average of the day, not on its halves): 16 hours of the
/// day's, 8 of the night's; either alone where the other is not known.
pub fn mean_temperature(of: &Temperatures) -> Option<Temperature> {
    let (day, night) = (of.day.as_ref().map(Typed::value), of.night.as_ref().map(Typed::value));
    match (day, night) {
        (Some(day), Some(night)) => {
            let mean = (day.to_celsius() * DAY_HOURS + night.to_celsius() * (24.0 - DAY_HOURS)) / 24.0;
            Temperature::try_from_celsius(mean)
        }
        (one, other) => one.or(other),
    }
}

/// Days at a steady temperature: θ / (T − b), θ in °C·d, b the base; `None` outside the range for which the
/// figures were given, and at or below the base.
pub fn days_by_warmth(warmth: &ThermalTime, at: Temperature) -> Option<f64> {
    let above = at.to_celsius() - warmth.base.to_celsius();
    (warmth.low <= at && at <= warmth.high && above > 0.0).then(|| warmth.degree_days / above)
}

/// What a table of days says about a temperature, between its columns by the pace of growth (1 / days)
/// on a straight line; not tried where either neighbour was not, never where both came to nothing.
pub fn days_by_row(row: &EmergenceRow, at: Temperature) -> ComesUp {
    if let Some((_, exact)) = row.iter().find(|(t, _)| *t == at) {
        return *exact;
    }
    let between = row.iter().zip(row.iter().skip(1)).find(|((low, _), (high, _))| *low < at && at < *high);
    let Some(((low, colder), (high, warmer))) = between else { return ComesUp::NotTried };
    match (colder, warmer) {
        (ComesUp::After(cold), ComesUp::After(warm)) => {
            let share = (at.to_celsius() - low.to_celsius()) / (high.to_celsius() - low.to_celsius());
            ComesUp::After(1.0 / ((1.0 - share) / cold + share / warm))
        }
        (ComesUp::Never, ComesUp::Never) => ComesUp::Never,
        _ => ComesUp::NotTried,
    }
}

/// Days until a crop shows at that temperature of the mix: by thermal time where that is published for
/// it, by the table of days elsewhere, by the crop's own days where neither speaks.
///
/// Early and late keep the crop's own proportion to likely.
pub fn emergence(crop: &Crop, library: &Library, at: Option<Temperature>) -> Emergence {
    let usual = crop.emergence.value;
    let by_days = Emergence { days: usual, by: EmergenceBy::CropDays };
    let Some(at) = at else { return by_days };
    let warmth = crop.emergence_warmth.as_ref().map(|warmth| &warmth.value);
    if let Some((days, warmth)) = warmth.and_then(|warmth| Some((days_by_warmth(warmth, at)?, warmth))) {
        return Emergence { days: scaled(usual, days), by: EmergenceBy::Warmth { at, base: warmth.base } };
    }
    let row = crop.emergence_row.as_ref().and_then(|key| library.emergence.get(key));
    match row.map(|row| days_by_row(&row.value, at)) {
        Some(ComesUp::After(days)) => Emergence { days: scaled(usual, days), by: EmergenceBy::Row { at } },
        Some(ComesUp::Never) => Emergence { days: usual, by: EmergenceBy::Never { at } },
        Some(ComesUp::NotTried) | None => by_days,
    }
}

/// Days from coming up until so many true leaves, at a mean temperature: leaves × θ / (T − b);
/// `None` where no rate is published for the crop, or not for that temperature.
pub fn days_to_leaves(crop: &Crop, leaves: u8, at: Temperature) -> Option<f64> {
    let warmth = &crop.leaf_warmth.as_ref()?.value;
    Some(f64::from(leaves) * days_by_warmth(warmth, at)?)
}

/// The range stretched until its likely day is `likely`, each to the nearest day, one at least.
pub fn scaled(range: DayRange, likely: f64) -> DayRange {
    let by = likely / f64::from(range.likely.max(1));
    let day = |days: f64| days.round().clamp(1.0, f64::from(u16::MAX)) as u16;
    let likely = day(likely);
    DayRange {
        early: day(f64::from(range.early) * by).min(likely),
        likely,
        late: day(f64::from(range.late) * by).max(likely),
    }
}

/// Whether seed of the crop comes up at all at that temperature of the mix; the limit that it passes
/// where not.
pub fn germination_limit(crop: &Crop, at: Temperature) -> Option<Temperature> {
    let limits = crop.germination_temperatures.as_ref()?.value;
    limits.min.filter(|min| at < *min).or_else(|| limits.max.filter(|max| at > *max))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(celsius: f64) -> Temperature {
        Temperature::try_from_celsius(celsius).unwrap_or_default()
    }

    #[test]
    fn the_mean_of_a_day() {
        let typed = |text: &str| Typed::parse_temperature(text).ok();
        let both = Temperatures { day: typed("24 °C"), night: typed("18 °C"), mat: None };
        assert_eq!(mean_temperature(&both), Some(at(22.0)));
        assert_eq!(mean_temperature(&Temperatures { day: None, ..both }), Some(at(18.0)));
        assert_eq!(mean_temperature(&Temperatures::default()), None);
    }

    #[test]
    fn between_columns_the_pace_is_on_a_line() {
        let row = vec![
            (at(5.0), ComesUp::Never),
            (at(10.0), ComesUp::After(20.0)),
            (at(20.0), ComesUp::After(5.0)),
            (at(30.0), ComesUp::NotTried),
        ];
        // 1/20 and 1/5 in the middle: 1/8
        assert!(matches!(days_by_row(&row, at(15.0)), ComesUp::After(days) if (days - 8.0).abs() < 1e-9));
        assert_eq!(days_by_row(&row, at(10.0)), ComesUp::After(20.0));
        assert_eq!(days_by_row(&row, at(5.0)), ComesUp::Never);
        for unknown in [7.0, 25.0, 35.0, -3.0] {
            assert_eq!(days_by_row(&row, at(unknown)), ComesUp::NotTried, "{unknown} °C");
        }
    }

    #[test]
    fn a_range_is_stretched_as_a_whole() {
        let usual = DayRange { early: 6, likely: 8, late: 12 };
        assert_eq!(scaled(usual, 16.0), DayRange { early: 12, likely: 16, late: 24 });
        assert_eq!(scaled(usual, 0.2), DayRange { early: 1, likely: 1, late: 1 });
        assert_eq!(scaled(DayRange { early: 0, likely: 0, late: 0 }, 3.0), DayRange { early: 1, likely: 3, late: 3 });
    }

    #[test]
    fn warmth_speaks_only_where_it_was_measured() {
        let warmth = ThermalTime { base: at(2.5), degree_days: 80.0, low: at(5.0), high: at(25.0) };
        assert_eq!(days_by_warmth(&warmth, at(22.5)), Some(4.0));
        assert_eq!(days_by_warmth(&warmth, at(30.0)), None);
        assert_eq!(days_by_warmth(&warmth, at(2.0)), None);
    }
}
