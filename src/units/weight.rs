//! Weights as people type them.

use super::LengthUnit;

/// The most that is read, in grams: 10 t.
const MOST: f64 = 10_000_000.0;

/// The pound of 1959, in grams, exactly.
const POUND: f64 = 453.592_37;

/// Grams, from kilograms, grams, pounds or ounces, as it says; a bare number is in kilograms, or in
/// pounds beside inches. `None` for what is no weight from 0 to 10 t.
pub fn read_grams(text: &str, beside: LengthUnit) -> Option<u32> {
    let lower = text.to_lowercase();
    let signs = [("kg", 1_000.0), ("lb", POUND), ("oz", POUND / 16.0), ("g", 1.0)];
    let signed = signs.into_iter().find_map(|(sign, of_one)| Some((lower.strip_suffix(sign)?, of_one)));
    let bare = if beside.is_of_inches() { POUND } else { 1_000.0 };
    let (number, of_one) = signed.unwrap_or((lower.as_str(), bare));
    let number: f64 = number.trim().replace(',', ".").parse().ok()?;
    let grams = (number * of_one).round();
    (0.0..=MOST).contains(&grams).then_some(grams as u32)
}

/// `7.3 kg`, or `16.1 lb` beside inches and `12 oz` of less than a pound; to that many decimals.
pub fn weight_in_words(grams: u64, beside: LengthUnit, decimals: i32) -> String {
    let tens = 10_f64.powi(decimals);
    let rounded = |number: f64| (number * tens).round() / tens;
    let pounds = grams as f64 / POUND;
    if !beside.is_of_inches() {
        format!("{} kg", rounded(grams as f64 / 1_000.0))
    } else if grams > 0 && rounded(pounds) < 1.0 {
        format!("{} oz", rounded(pounds * 16.0))
    } else {
        format!("{} lb", rounded(pounds))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weight_is_said_beside_inches_in_pounds_and_read_back_so() {
        use LengthUnit::{Inch, Millimetre};
        for (grams, unit, decimals, said) in [
            (7_300, Millimetre, 1, "7.3 kg"),
            (7_300, Inch, 1, "16.1 lb"),
            (340, Inch, 1, "12 oz"),
            (0, Inch, 1, "0 lb"),
            (24_948, Inch, 2, "55 lb"),
            (25_000, Inch, 2, "55.12 lb"),
            (24_948, Millimetre, 3, "24.948 kg"),
        ] {
            assert_eq!(weight_in_words(grams, unit, decimals), said);
        }
        for (text, unit, grams) in
            [("60", Inch, 27_216), ("60", Millimetre, 60_000), ("12 oz", Millimetre, 340), ("900 g", Inch, 900)]
        {
            assert_eq!(read_grams(text, unit), Some(grams), "{text}");
        }
    }

    #[test]
    fn kilograms_unless_it_says_pounds() {
        for (text, grams) in [("25", 25_000), ("2,5 kg", 2_500), ("55 lb", 24_948), ("0", 0), ("10000 KG", 10_000_000)]
        {
            assert_eq!(read_grams(text, LengthUnit::Millimetre), Some(grams), "{text}");
        }
        for text in ["", "heavy", "-1", "10001", "nan", "inf", "5 stone"] {
            assert_eq!(read_grams(text, LengthUnit::Millimetre), None, "{text}");
        }
    }
}
