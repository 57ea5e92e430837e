use std::sync::Arc;

use super::{Length, LengthUnit, ParseError, Temperature, Volume};

/// A value beside the text it was typed as: `10 15/16 in` stays that.
///
/// Two are equal when both the value and the text are, so that retyping `7 cm` as `70 mm` is an
/// edit like any other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed<T> {
    value: T,
    typed: Arc<str>,
}

/// A length as typed.
pub type Measure = Typed<Length>;

impl<T: Copy> Typed<T> {
    pub const fn value(&self) -> T {
        self.value
    }

    pub fn typed(&self) -> &str {
        &self.typed
    }
}

impl Typed<Length> {
    /// Reads a length; a bare number gets the sign of `bare`, so that the text stands on its own.
    ///
    /// # Errors
    /// As [`Length::parse`].
    pub fn parse_length(text: &str, bare: Option<LengthUnit>) -> Result<Self, ParseError> {
        let text = text.trim();
        match (Length::parse(text, None), bare) {
            (Ok(value), _) => Ok(Self { value, typed: text.into() }),
            (Err(ParseError::NoUnit { .. }), Some(unit)) => {
                let value = Length::parse(text, bare)?;
                Ok(Self { value, typed: format!("{text} {}", unit.sign()).into() })
            }
            (Err(why), _) => Err(why),
        }
    }

    /// Whole millimetres, typed so.
    pub fn mm(mm: i64) -> Self {
        Self { value: Length::from_mm(mm), typed: format!("{mm} mm").into() }
    }

    /// A computed length, written in `unit` if two decimals hold it, else in 1/8000 mm.
    pub fn of(length: Length, unit: LengthUnit) -> Self {
        let text = length.in_words(unit);
        if Length::parse(&text, None) == Ok(length) {
            return Self { value: length, typed: text.into() };
        }
        Self { value: length, typed: format!("{}/8000 mm", length.units()).into() }
    }
}

impl Typed<Volume> {
    /// # Errors
    /// As [`Volume::parse`].
    pub fn parse_volume(text: &str) -> Result<Self, ParseError> {
        Volume::parse(text).map(|value| Self { value, typed: text.trim().into() })
    }
}

impl Typed<Temperature> {
    /// # Errors
    /// As [`Temperature::parse`].
    pub fn parse_temperature(text: &str) -> Result<Self, ParseError> {
        Temperature::parse(text).map(|value| Self { value, typed: text.trim().into() })
    }

    /// 0 °C, typed so.
    pub fn freezing() -> Self {
        Self { value: Temperature::default(), typed: "0 °C".into() }
    }
}
