use std::fmt;

use super::LengthUnit;
use super::number::{ParseError, Signs, Wanted, Within, parts};

/// A temperature, counted in 1/900 °C from 0 °C: a hundredth of a degree is whole in both scales.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(i32);

impl Temperature {
    /// Degrees Celsius, to the nearest 1/900; `None` outside −100 to 150 °C.
    pub fn try_from_celsius(degrees: f64) -> Option<Self> {
        (-100.0..=150.0).contains(&degrees).then(|| Self((degrees * 900.0).round() as i32))
    }

    pub fn to_celsius(self) -> f64 {
        f64::from(self.0) / 900.0
    }

    pub fn to_fahrenheit(self) -> f64 {
        f64::from(self.0) / 500.0 + 32.0
    }

    /// Reads a temperature with its scale.
    ///
    /// # Errors
    /// Says what was found and what would be right; the range is −100 to 150 °C.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let mut found = parts(text, Wanted::Temperature)?;
        let (Some((number, word)), true) = (found.pop(), found.is_empty()) else {
            return Err(ParseError::NotANumber { found: text.trim().to_owned(), wanted: Wanted::Temperature });
        };
        let units = match word.as_str() {
            "°c" | "c" => number.times(900),
            "°f" | "f" => number.times(500).map(|units| units - 16_000),
            "" => return Err(ParseError::NoUnit { found: text.trim().to_owned(), allowed: Signs::Temperature }),
            _ => return Err(ParseError::UnknownUnit { found: word, allowed: Signs::Temperature }),
        };
        units
            .and_then(|units| i32::try_from(units).ok())
            .filter(|units| (-90_000..=135_000).contains(units))
            .map(Self)
            .ok_or(ParseError::OutOfRange { found: text.trim().to_owned(), wanted: Within::Temperature })
    }
}

impl Temperature {
    /// To a tenth of a degree: `21 °C`, or `69.8 °F` beside inches.
    pub fn in_words(self, beside: LengthUnit) -> String {
        let tenths = |degrees: f64| (degrees * 10.0).round() / 10.0 + 0.0;
        if beside.is_of_inches() { format!("{} °F", tenths(self.to_fahrenheit())) } else { self.to_string() }
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let tenths = (self.to_celsius() * 10.0).round() / 10.0;
        write!(f, "{tenths} °C")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_scales_are_exact() {
        assert_eq!(Temperature::parse("28 °F").map(Temperature::to_fahrenheit), Ok(28.0));
        assert_eq!(Temperature::parse("32 F"), Ok(Temperature(0)));
        assert_eq!(Temperature::parse("-2,2 °C"), Ok(Temperature(-1_980)));
        assert_eq!(Temperature::parse("50 °F").map(|t| t.to_string()), Ok("10 °C".to_owned()));
        for text in ["", "10", "10 K", "900 °C", "warm"] {
            assert!(Temperature::parse(text).is_err(), "{text:?}");
        }
    }
}
