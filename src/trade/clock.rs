//! The plants' clock by temperature: days to come up, days to a leaf.

use crate::season::{ComesUp, Crop, DayRange, EmergenceRow, GerminationRow, Library, Temperatures, ThermalTime, Trust};
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

/// Days until a crop shows at that temperature of the mix: by the table of days, by thermal time where
/// the table is silent, by the crop's own days where neither speaks.
///
/// The table counts seedlings out of soil; most thermal times count radicles, or a field. Early and late keep
/// the crop's own proportion to likely.
pub fn emergence(crop: &Crop, library: &Library, at: Option<Temperature>) -> Emergence {
    let usual = crop.emergence.value;
    let by_days = Emergence { days: usual, by: EmergenceBy::CropDays };
    let Some(at) = at else { return by_days };
    let row = crop.emergence_row.as_ref().and_then(|key| library.emergence.get(key));
    match row.map(|row| days_by_row(&row.value, at)) {
        Some(ComesUp::After(days)) => {
            return Emergence { days: scaled(usual, days), by: EmergenceBy::Row { at } };
        }
        Some(ComesUp::Never) => return Emergence { days: usual, by: EmergenceBy::Never { at } },
        Some(ComesUp::NotTried) | None => {}
    }
    let warmth = crop.emergence_warmth.as_ref().map(|warmth| &warmth.value);
    match warmth.and_then(|warmth| Some((days_by_warmth(warmth, at)?, warmth))) {
        Some((days, warmth)) => {
            Emergence { days: scaled(usual, days), by: EmergenceBy::Warmth { at, base: warmth.base } }
        }
        None => by_days,
    }
}

/// How many seeds in a hundred come up, and by what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Germination {
    /// From 1 to 100.
    pub percent: u8,
    /// By the table, at that temperature of the mix; `None` by the crop's own figure.
    pub at: Option<Temperature>,
}

/// Of fewer in a hundred nobody sows: that it does not come up there is said instead (our choice, no source).
const FEWEST_SOWN: f64 = 5.0;

/// What a table of normal seedlings says about a temperature, in per cent; on a straight line between two
/// that were tried, `None` outside of them.
pub fn percent_by_row(row: &GerminationRow, at: Temperature) -> Option<f64> {
    if let Some((_, exact)) = row.iter().find(|(t, _)| *t == at) {
        return Some(f64::from(*exact));
    }
    let ((low, colder), (high, warmer)) =
        row.iter().zip(row.iter().skip(1)).find(|((low, _), (high, _))| *low < at && at < *high)?;
    let share = (at.to_celsius() - low.to_celsius()) / (high.to_celsius() - low.to_celsius());
    Some(f64::from(*colder) + share * (f64::from(*warmer) - f64::from(*colder)))
}

/// Germination of the crop at that temperature of the mix: the per cent that a published trial came to; where
/// even at its best the seed of that trial came up worse than the crop's figure, in proportion to that. The
/// crop's own figure where no temperature is known, the trial is silent, or the figure is the grower's.
pub fn germination(crop: &Crop, library: &Library, at: Option<Temperature>) -> Germination {
    let figure = &crop.germination_percent;
    let own = Germination { percent: figure.value, at: None };
    let row = crop.germination_row.as_ref().and_then(|key| library.germination.get(key));
    let (Some(at), Some(row)) = (at, row.filter(|_| figure.trust != Trust::Own)) else { return own };
    let best = row.value.iter().map(|(_, percent)| *percent).max().unwrap_or(0);
    let Some(percent) = percent_by_row(&row.value, at) else { return own };
    let percent = percent * (f64::from(figure.value) / f64::from(best.max(1))).max(1.0);
    if percent < FEWEST_SOWN {
        return own;
    }
    Germination { percent: percent.round().clamp(1.0, 100.0) as u8, at: Some(at) }
}

/// The temperature at which the trial came to most, and how many per cent come up there.
pub fn germinates_best(crop: &Crop, library: &Library) -> Option<(Temperature, u8)> {
    let row = library.germination.get(crop.germination_row.as_ref()?)?;
    let best = row.value.iter().max_by_key(|(_, percent)| *percent)?;
    Some((best.0, germination(crop, library, Some(best.0)).percent))
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
    fn between_columns_the_per_cent_is_on_a_line() {
        let row = vec![(at(20.0), 38), (at(25.0), 94)];
        for (degrees, percent) in
            [(20.0, Some(38.0)), (22.5, Some(66.0)), (25.0, Some(94.0)), (19.0, None), (30.0, None)]
        {
            assert_eq!(percent_by_row(&row, at(degrees)), percent, "{degrees} °C");
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
