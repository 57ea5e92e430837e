use super::length::{Length, LengthUnit};
use super::number::{ParseError, Wanted, parts};
use super::typed::Typed;

/// Width by depth, as typed: `48 x 18 in`, `100 × 60 cm`, `4 ft x 18 in`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    pub width: Typed<Length>,
    pub depth: Typed<Length>,
}

impl Size {
    /// Reads two lengths with `x` or `×` between; a unit that stands only behind the second counts
    /// for both.
    ///
    /// # Errors
    /// As [`Length::parse`].
    pub fn parse(text: &str, bare: Option<LengthUnit>) -> Result<Self, ParseError> {
        let wanted = Wanted::Size;
        let (first, second) = text
            .split_once(['x', '×', 'X', '*'])
            .ok_or_else(|| ParseError::NotANumber { found: text.trim().to_owned(), wanted })?;
        let (first, second) = (first.trim(), second.trim());
        let last_unit = parts(second, wanted)?.pop().and_then(|(_, word)| LengthUnit::from_word(&word));
        let has_unit = parts(first, wanted)?.iter().any(|(_, word)| !word.is_empty());
        let first = match (has_unit, last_unit) {
            (false, Some(unit)) => format!("{first} {}", unit.sign()),
            _ => first.to_owned(),
        };
        Ok(Self { width: Typed::parse_length(&first, bare)?, depth: Typed::parse_length(second, bare)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trailing_unit_counts_for_both_sides_of_a_size() {
        let size = Size::parse("48 x 18 in", None).unwrap();
        assert_eq!(
            (size.width.value(), size.depth.value()),
            (Length::from_units(9_753_600), Length::from_units(3_657_600))
        );
        let size = Size::parse("100 × 60 cm", None).unwrap();
        assert_eq!((size.width.value(), size.depth.value()), (Length::from_mm(1000), Length::from_mm(600)));
        let size = Size::parse("4 ft x 18 in", None).unwrap();
        assert_eq!(size.width.value(), Length::from_units(9_753_600));
        assert!(Size::parse("48 18", Some(LengthUnit::Inch)).is_err());
    }
}
