//! Weights as people type them.

/// The most that is read, in grams: 10 t.
const MOST: f64 = 10_000_000.0;

/// Grams, from kilograms or, where it says so, pounds of 453.59237 g; `None` for what is no weight
/// from 0 to 10 t.
pub fn read_grams(text: &str) -> Option<u32> {
    let lower = text.to_lowercase();
    let (number, of_one) = match (lower.strip_suffix("kg"), lower.strip_suffix("lb")) {
        (Some(number), _) => (number, 1_000.0),
        (_, Some(number)) => (number, 453.592_37),
        _ => (lower.as_str(), 1_000.0),
    };
    let number: f64 = number.trim().replace(',', ".").parse().ok()?;
    let grams = (number * of_one).round();
    (0.0..=MOST).contains(&grams).then_some(grams as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kilograms_unless_it_says_pounds() {
        for (text, grams) in [("25", 25_000), ("2,5 kg", 2_500), ("55 lb", 24_948), ("0", 0), ("10000 KG", 10_000_000)]
        {
            assert_eq!(read_grams(text), Some(grams), "{text}");
        }
        for text in ["", "heavy", "-1", "10001", "nan", "inf", "5 stone"] {
            assert_eq!(read_grams(text), None, "{text}");
        }
    }
}
