use std::fmt;

use super::LengthUnit;
use super::number::{ParseError, Signs, Wanted, Within, parts};

/// A volume, counted in nanolitres (1 ml = 1,000,000), so that a cubic inch is a whole number.
///
/// 1 in³ = 16.387064 ml and 1 ft³ = 28.316846592 l follow exactly from the inch; the US dry quart
/// is 67.200625 in³ (NIST Handbook 44, appendix C), kept to the nearest nanolitre.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(i64);

impl Volume {
    /// Millilitres, to the nearest nanolitre; `None` below 0, beyond 1,000 m³, or for no number.
    pub fn try_from_ml(ml: f64) -> Option<Self> {
        let nanolitres = (ml * 1e6).round();
        (0.0..=1e15).contains(&nanolitres).then_some(Self(nanolitres as i64))
    }

    pub fn to_ml(self) -> f64 {
        self.0 as f64 / 1e6
    }

    pub const fn nanolitres(self) -> i64 {
        self.0
    }

    /// Reads a volume with its unit.
    ///
    /// # Errors
    /// Says what was found and what would be right.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let out_of_range = || ParseError::OutOfRange { found: text.trim().to_owned(), wanted: Within::Volume };
        let text = text.replace("in3", "in³").replace("in^3", "in³").replace("ft3", "ft³").replace("ft^3", "ft³");
        let mut found = parts(&text, Wanted::Volume)?;
        let (Some((number, word)), true) = (found.pop(), found.is_empty()) else {
            return Err(ParseError::NotANumber { found: text, wanted: Wanted::Volume });
        };
        let (factor, divisor) = match word.as_str() {
            "ml" | "cm³" | "cc" => (1_000_000, 1),
            "l" | "litre" | "litres" | "liter" | "liters" => (1_000_000_000, 1),
            "in³" | "cu in" => (16_387_064, 1),
            "ft³" | "cu ft" => (28_316_846_592, 1),
            "dry quart" | "dry quarts" | "dry qt" => (1_101_220_942_715, 1_000),
            "" => return Err(ParseError::NoUnit { found: text, allowed: Signs::Volume }),
            _ => return Err(ParseError::UnknownUnit { found: word, allowed: Signs::Volume }),
        };
        let scaled = super::number::Fraction { denominator: number.denominator * divisor, ..number };
        let nanolitres = scaled.times(factor).ok_or_else(out_of_range)?;
        if (0..=1_000_000_000_000_000).contains(&nanolitres) { Ok(Self(nanolitres)) } else { Err(out_of_range()) }
    }
}

impl Volume {
    /// `43 ml`, or `2.6 in³` beside inches.
    pub fn in_words(self, beside: LengthUnit) -> String {
        if !beside.is_of_inches() {
            return self.to_string();
        }
        let cubic_inches = self.to_ml() / 16.387_064;
        if cubic_inches >= 100.0 { format!("{cubic_inches:.0} in³") } else { format!("{cubic_inches:.1} in³") }
    }
}

impl fmt::Display for Volume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ml = self.to_ml();
        if ml >= 10_000.0 {
            write!(f, "{:.1} l", ml / 1000.0)
        } else if ml >= 100.0 || ml.fract() == 0.0 {
            write!(f, "{ml:.0} ml")
        } else {
            write!(f, "{ml:.1} ml")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, nanolitres: i64) {
        assert_eq!(Volume::parse(text), Ok(Volume(nanolitres)), "{text}");
    }

    #[test]
    fn volumes_follow_exactly_from_the_inch() {
        check("1 in³", 16_387_064);
        check("26.8 in3", 439_173_315);
        check("1 ft³", 28_316_846_592);
        check("43 ml", 43_000_000);
        check("2,5 l", 2_500_000_000);
        check("1 dry quart", 1_101_220_943);
    }

    #[test]
    fn what_is_no_volume_is_refused() {
        for text in ["", "3", "3 pints", "-1 ml", "1 l 2 ml", "1e9 l"] {
            assert!(Volume::parse(text).is_err(), "{text:?}");
        }
    }
}
