//! Lengths said again in the unit that was typed, no finer than anyone measures.

use super::{Length, LengthUnit, Size};

/// Inches where the text is in inches or feet, else millimetres or centimetres.
pub fn unit_of(text: &str) -> LengthUnit {
    let text = text.trim().trim_end_matches('.').to_lowercase();
    let ends = |signs: &[&str]| signs.iter().any(|sign| text.ends_with(sign));
    if ends(&["in", "inch", "inches", "\"", "″", "”", "''", "ft", "foot", "feet", "'", "′", "’"]) {
        LengthUnit::Inch
    } else if ends(&["mm"]) {
        LengthUnit::Millimetre
    } else {
        LengthUnit::Centimetre
    }
}

/// `48 × 18 in`: one unit where both sides have the same.
pub fn size_text(size: &Size) -> String {
    let (width, depth) = (size.width.typed(), size.depth.typed());
    let unit = unit_of(depth).sign();
    match (width.strip_suffix(unit), depth.ends_with(unit)) {
        (Some(number), true) => format!("{} × {depth}", number.trim_end()),
        _ => format!("{width} × {depth}"),
    }
}

/// Rounded up to a hundredth of the unit, so that the figure is never too small.
pub fn exact_up(length: Length, unit: LengthUnit) -> String {
    round_up(length, hundredth(unit)).in_words(unit)
}

/// Rounded up to what a ruler shows: `1¼ in`, `3 7/16 in` to a sixteenth, `32 mm`, `3.2 cm`.
pub fn measured_up(length: Length, unit: LengthUnit) -> String {
    if !unit.is_of_inches() {
        return round_up(length, Length::from_mm(1)).in_words(unit);
    }
    let sixteenths = round_up(length, SIXTEENTH).units() / SIXTEENTH.units();
    let (whole, mut above, mut below) = (sixteenths / 16, sixteenths % 16, 16);
    while above > 0 && above % 2 == 0 {
        (above, below) = (above / 2, below / 2);
    }
    let quarters = match (above, below) {
        (1, 4) => "¼",
        (1, 2) => "½",
        (3, 4) => "¾",
        _ => "",
    };
    match (whole, above) {
        (whole, 0) => format!("{whole} in"),
        (0, _) if !quarters.is_empty() => format!("{quarters} in"),
        (whole, _) if !quarters.is_empty() => format!("{whole}{quarters} in"),
        (0, above) => format!("{above}/{below} in"),
        (whole, above) => format!("{whole} {above}/{below} in"),
    }
}

/// Rounded up to the next half inch or 5 mm: as far as anyone measures by eye.
pub const fn about(length: Length, unit: LengthUnit) -> Length {
    round_up(length, if unit.is_of_inches() { HALF_INCH } else { Length::from_mm(5) })
}

/// `3½ in`, `9 cm`.
pub fn rounded(length: Length, unit: LengthUnit) -> String {
    let (halves, rest) = (length.units() / HALF_INCH.units(), length.units() % HALF_INCH.units());
    match (halves / 2, halves % 2) {
        _ if rest != 0 || !unit.is_of_inches() => length.in_words(unit),
        (0, 1) => "½ in".to_owned(),
        (whole, 1) => format!("{whole}½ in"),
        (whole, _) => format!("{whole} in"),
    }
}

pub const fn hundredth(unit: LengthUnit) -> Length {
    Length::from_units(match unit {
        LengthUnit::Millimetre => 80,
        LengthUnit::Centimetre => 800,
        LengthUnit::Metre => 80_000,
        LengthUnit::Inch => 2_032,
        LengthUnit::Foot => 24_384,
    })
}

const HALF_INCH: Length = Length::from_units(101_600);
const SIXTEENTH: Length = Length::from_units(12_700);

const fn round_up(length: Length, step: Length) -> Length {
    Length::from_units((length.units() + step.units() - 1).div_euclid(step.units()) * step.units())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_sticks_out_is_never_said_too_small() {
        let inch = |hundredths: i64| Length::from_units(hundredths * 2_032);
        let about_up = |length, unit| rounded(about(length, unit), unit);
        assert_eq!(about_up(inch(344), LengthUnit::Inch), "3½ in");
        assert_eq!(about_up(inch(351), LengthUnit::Inch), "4 in");
        assert_eq!(about_up(inch(1), LengthUnit::Inch), "½ in");
        assert_eq!(about_up(inch(400), LengthUnit::Inch), "4 in");
        assert_eq!(about_up(Length::from_units(8_000 * 87 + 1), LengthUnit::Millimetre), "90 mm");
        assert_eq!(about_up(Length::from_mm(30), LengthUnit::Centimetre), "3 cm");
        assert_eq!(exact_up(Length::from_units(2_032 * 344 + 1), LengthUnit::Inch), "3.45 in");
    }

    #[test]
    fn what_misses_is_said_as_a_ruler_shows_it() {
        let inch = |hundredths: i64| Length::from_units(hundredths * 2_032);
        for (hundredths, text) in
            [(125, "1¼ in"), (344, "3½ in"), (75, "¾ in"), (343, "3 7/16 in"), (6, "1/16 in"), (200, "2 in")]
        {
            assert_eq!(measured_up(inch(hundredths), LengthUnit::Inch), text);
        }
        assert_eq!(measured_up(Length::from_units(8_000 * 31 + 1), LengthUnit::Millimetre), "32 mm");
        assert_eq!(measured_up(Length::from_mm(32), LengthUnit::Centimetre), "3.2 cm");
    }

    #[test]
    fn an_answer_comes_in_the_unit_that_was_typed() {
        for (text, unit) in [
            ("48 x 18 in", LengthUnit::Inch),
            ("4 ft", LengthUnit::Inch),
            ("10 15/16\"", LengthUnit::Inch),
            ("100 x 60 cm", LengthUnit::Centimetre),
            ("1219.2 mm", LengthUnit::Millimetre),
            ("1.2 m", LengthUnit::Centimetre),
        ] {
            assert_eq!(unit_of(text), unit, "{text}");
        }
    }
}
