//! The unit of a record's numbers: said, written in it, or told by the numbers themselves.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate};

use super::reading::Reading;

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WeatherUnit {
    #[error("°F")]
    Fahrenheit,
    #[error("°C")]
    Celsius,
    #[error("tenths of °C")]
    TenthsCelsius,
}

/// A word for none of them.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("found {0:?}; write F, C or tenths (of a degree Celsius)")]
pub struct NoUnit(String);

/// How the unit is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum UnitKnown {
    /// By the grower.
    #[error("as you said")]
    Said,
    /// The layout has no other.
    #[error("as this layout always has them")]
    Layout,
    #[error("as the header says")]
    Header,
    /// No other makes sense of the numbers.
    #[error("told by the numbers")]
    Numbers,
}

impl WeatherUnit {
    /// Reads `F`, `C` or `tenths`.
    ///
    /// # Errors
    /// Lists these three.
    pub fn parse(text: &str) -> Result<Self, NoUnit> {
        match text.trim().to_lowercase().trim_start_matches('°') {
            "f" | "fahrenheit" => Ok(Self::Fahrenheit),
            "c" | "celsius" => Ok(Self::Celsius),
            "tenths" => Ok(Self::TenthsCelsius),
            _ => Err(NoUnit(text.to_owned())),
        }
    }

    /// In tenths of a degree Celsius.
    pub(super) fn tenths(self, number: f64) -> f64 {
        match self {
            Self::Fahrenheit => (number - 32.0) / 0.18,
            Self::Celsius => number * 10.0,
            Self::TenthsCelsius => number,
        }
    }
}

/// No low of a night is above this in degrees of either scale.
const WARMEST_F: f64 = 110.0;
/// Nor any below this.
const COLDEST: f64 = -95.0;
/// A summer in which no night is warmer than this is one of the highest mountains or of the far
/// north, if the numbers are °F; one of a cold place if they are °C.
const COLD_SUMMER_F: f64 = 30.0;
/// And no night anywhere is warmer than this in °C.
const HOT_C: f64 = 45.0;
/// Nights differ from the one before by 2 to 3 °C in the middle, by 4 to 5 °F, by 20 to 30 tenths
/// (our own count on the records the tests use; a sea coast has half of that).
const BIG_STEP: f64 = 10.0;
/// So many steps tell.
const ENOUGH_STEPS: usize = 30;

/// The one unit in which the numbers can be the lows of nights, if there is one.
pub(super) fn found(lows: &BTreeMap<NaiveDate, Reading>, decimals: bool) -> Option<WeatherUnit> {
    let (least, most) = ends(lows);
    let tenths = !decimals && (most > WARMEST_F || least < COLDEST || big_steps(lows).unwrap_or(least <= -50.0));
    if tenths {
        return Some(WeatherUnit::TenthsCelsius);
    }
    if most > HOT_C {
        return Some(WeatherUnit::Fahrenheit);
    }
    let all_year = (1..=12).all(|month| lows.keys().any(|date| date.month() == month));
    (all_year && most <= COLD_SUMMER_F && most > 0.0).then_some(WeatherUnit::Celsius)
}

/// The least and the greatest number.
pub(super) fn ends(lows: &BTreeMap<NaiveDate, Reading>) -> (f64, f64) {
    let numbers = lows.values().map(|reading| reading.number);
    numbers.fold((f64::MAX, f64::MIN), |(least, most), number| (least.min(number), most.max(number)))
}

/// Whether the middle step from a night to the next is too big for whole degrees; `None` for too
/// few steps.
fn big_steps(lows: &BTreeMap<NaiveDate, Reading>) -> Option<bool> {
    let pairs = lows.iter().zip(lows.iter().skip(1));
    let nights = pairs.filter(|((one, _), (next, _))| one.succ_opt() == Some(**next));
    let mut steps: Vec<f64> = nights.map(|((_, one), (_, next))| (next.number - one.number).abs()).collect();
    steps.sort_by(f64::total_cmp);
    let middle = steps.get(steps.len() / 2)?;
    (steps.len() >= ENOUGH_STEPS).then_some(*middle >= BIG_STEP)
}
