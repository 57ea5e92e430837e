use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use super::number::{ParseError, Signs, Wanted, Within, parts};

/// A distance, counted in 1/8000 mm.
///
/// Integers keep packing exact: two trays that touch never overlap by a rounding error, and a
/// length can be a map key. 0.01 mm, 0.01 in and 1/64 in are whole numbers, so fifteen 3.2 in cups
/// fit 48 in. The international inch is 25.4 mm exactly (1959 agreement, ISO 31-1).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// The units in which lengths are shown and typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthUnit {
    #[default]
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

impl LengthUnit {
    const fn in_length(self) -> i128 {
        match self {
            Self::Millimetre => 8_000,
            Self::Centimetre => 80_000,
            Self::Metre => 8_000_000,
            Self::Inch => 203_200,
            Self::Foot => 2_438_400,
        }
    }

    /// Whoever measures in inches weighs in pounds and reads degrees Fahrenheit.
    pub const fn is_of_inches(self) -> bool {
        matches!(self, Self::Inch | Self::Foot)
    }

    /// The unit's sign, as printed behind a number.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
        }
    }

    pub(super) fn from_word(word: &str) -> Option<Self> {
        Some(match word.trim_end_matches('.') {
            "mm" => Self::Millimetre,
            "cm" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "in" | "inch" | "inches" | "\"" | "″" | "”" | "“" | "''" => Self::Inch,
            "ft" | "foot" | "feet" | "'" | "′" | "’" => Self::Foot,
            _ => return None,
        })
    }
}

impl Length {
    pub const ZERO: Self = Self(0);
    /// The largest length that can be typed: 1 km.
    pub const MAX_TYPED: Self = Self(8_000_000_000);

    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// The count of 1/8000 mm.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Whole millimetres.
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm * 8_000)
    }

    /// Millimetres, to the nearest 1/8000 mm; `None` for what is not a number or beyond 1 km.
    pub fn try_from_mm(mm: f64) -> Option<Self> {
        let units = (mm * 8_000.0).round();
        (units.abs() <= Self::MAX_TYPED.0 as f64).then_some(Self(units as i64))
    }

    pub fn to_mm(self) -> f64 {
        self.0 as f64 / 8_000.0
    }

    /// Reads a length; a number without a unit is taken in `bare`, or refused where that is `None`.
    ///
    /// # Errors
    /// Says what was found and what would be right; a length is at most 1 km and never negative.
    pub fn parse(text: &str, bare: Option<LengthUnit>) -> Result<Self, ParseError> {
        let mut total = 0_i64;
        let out_of_range = || ParseError::OutOfRange { found: text.trim().to_owned(), wanted: Within::Length };
        for (number, word) in parts(text, Wanted::Length)? {
            let unit = if word.is_empty() {
                bare.ok_or_else(|| ParseError::NoUnit { found: text.trim().to_owned(), allowed: Signs::Length })?
            } else {
                LengthUnit::from_word(&word)
                    .ok_or_else(|| ParseError::UnknownUnit { found: word.clone(), allowed: Signs::Length })?
            };
            let part = number.times(unit.in_length()).ok_or_else(out_of_range)?;
            total = total.checked_add(part).ok_or_else(out_of_range)?;
        }
        if (0..=Self::MAX_TYPED.0).contains(&total) { Ok(Self(total)) } else { Err(out_of_range()) }
    }

    /// The length in `unit` to at most two decimals, with its sign: `1219.2 mm`, `48 in`.
    pub fn in_words(self, unit: LengthUnit) -> String {
        format!("{} {}", self.number(unit), unit.sign())
    }

    /// The length in `unit` to at most two decimals, no sign.
    pub fn number(self, unit: LengthUnit) -> String {
        let of_unit = unit.in_length();
        let half = i128::from(self.0.signum()) * of_unit / 2;
        let hundredths = (i128::from(self.0) * 100 + half) / of_unit;
        let (whole, rest) = (hundredths / 100, hundredths.abs() % 100);
        let sign = if hundredths < 0 && whole == 0 { "-" } else { "" };
        match rest {
            0 => format!("{sign}{whole}"),
            r if r % 10 == 0 => format!("{sign}{whole}.{}", r / 10),
            r => format!("{sign}{whole}.{r:02}"),
        }
    }

    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_words(LengthUnit::Millimetre))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Div<i64> for Length {
    type Output = Self;
    fn div(self, by: i64) -> Self {
        Self(self.0 / by)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, units: i64) {
        assert_eq!(Length::parse(text, Some(LengthUnit::Inch)), Ok(Length(units)), "{text}");
    }

    #[test]
    fn every_usual_way_to_write_a_length_is_read_exactly() {
        check("7 cm", 560_000);
        check("2,5", 508_000);
        check("2.5", 508_000);
        check("2,5 cm", 200_000);
        check("1 1/2 in", 304_800);
        check("1½ in", 304_800);
        check("½\"", 101_600);
        check("10 15/16\"", 2_222_500);
        check("10 15/16 in", 2_222_500);
        check("4 ft", 9_753_600);
        check("4' 6\"", 10_972_800);
        check("4 ft 6 in", 10_972_800);
        check("1219.2 mm", 9_753_600);
        check(".75 in", 152_400);
        check("0.01 mm", 80);
        check("1/64 in", 3_175);
        check("0.01 in", 2_032);
    }

    #[test]
    fn what_is_no_length_is_refused_with_a_reason() {
        for text in
            ["", "wide", "1,219.2 mm", "3 apples", "-4 in", "1/0 in", "2 km", "1.2.3", "1 2 in", "9999999999999999 m"]
        {
            let refused = Length::parse(text, Some(LengthUnit::Inch));
            assert!(refused.is_err(), "{text:?} gave {refused:?}");
        }
        assert!(matches!(Length::parse("12", None), Err(ParseError::NoUnit { .. })));
    }

    #[test]
    fn lengths_are_shown_to_two_decimals_at_most() {
        assert_eq!(Length::from_units(9_753_600).in_words(LengthUnit::Millimetre), "1219.2 mm");
        assert_eq!(Length::from_units(2_222_500).in_words(LengthUnit::Inch), "10.94 in");
        assert_eq!(Length::from_mm(-3).in_words(LengthUnit::Millimetre), "-3 mm");
        assert_eq!(Length::from_units(-4_000).in_words(LengthUnit::Millimetre), "-0.5 mm");
    }
}
