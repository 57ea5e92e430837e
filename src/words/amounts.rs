//! Numbers with what they count, lists, weights and temperatures.

use std::fmt::Display;

use crate::units::{LengthUnit, Measure, Temperature, Typed, Volume, unit_of};

/// The right form of a word for a number.
pub fn plural<N: Copy + PartialEq + From<u8>>(number: N, one: &'static str, many: &'static str) -> &'static str {
    if number == N::from(1) { one } else { many }
}

/// `1 tray`, `4 trays`.
pub fn counted<N: Copy + Display + PartialEq + From<u8>>(number: N, one: &'static str, many: &'static str) -> String {
    format!("{number} {}", plural(number, one, many))
}

/// As a heading or a sentence begins.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `a, b and c`.
pub fn listed<S: AsRef<str>>(all: &[S]) -> String {
    last_after(all, "and")
}

/// `a, b or c`.
pub fn one_of<S: AsRef<str>>(all: &[S]) -> String {
    last_after(all, "or")
}

fn last_after<S: AsRef<str>>(all: &[S], word: &str) -> String {
    let all: Vec<&str> = all.iter().map(AsRef::as_ref).collect();
    match all.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} {word} {last}", before.join(", ")),
    }
}

/// The temperature as typed where that is in the scale of the lengths beside it, else in that.
pub fn temperature(at: &Typed<Temperature>, unit: LengthUnit) -> String {
    let in_fahrenheit = at.typed().to_lowercase().ends_with('f');
    if in_fahrenheit == unit.is_of_inches() { at.typed().to_owned() } else { at.value().in_words(unit) }
}

/// A length as typed where that is in the units shown, else in those.
pub fn measure(of: &Measure, unit: LengthUnit) -> String {
    let alike = unit_of(of.typed()).is_of_inches() == unit.is_of_inches();
    if alike { of.typed().to_owned() } else { of.value().in_words(unit) }
}

/// A length in its field: as typed. A zero that nobody wrote, which a file leaves out, has no unit of its own and takes the
/// one shown.
pub fn in_field(of: &Measure, unit: LengthUnit) -> String {
    if *of == Measure::mm(0) { of.value().in_words(unit) } else { of.typed().to_owned() }
}

/// What a volume was typed as where that is in the units of the lengths beside it, else in those.
pub fn volume(typed: &Typed<Volume>, unit: LengthUnit) -> String {
    let text = typed.typed().to_lowercase();
    let metric = ["ml", "l", "cm³", "cc", "litre", "litres", "liter", "liters"].iter().any(|sign| text.ends_with(sign));
    if metric == unit.is_of_inches() { typed.value().in_words(unit) } else { typed.typed().to_owned() }
}

/// The temperature as typed, and in the other scale.
pub fn both_scales(temperature: &Typed<Temperature>) -> String {
    let typed = temperature.typed();
    let tenths = |degrees: f64| (degrees * 10.0).round() / 10.0;
    if typed.to_lowercase().ends_with('f') {
        format!("{typed} ({})", temperature.value())
    } else {
        format!("{typed} ({} °F)", tenths(temperature.value().to_fahrenheit()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_many() {
        assert_eq!(counted(0_usize, "tray", "trays"), "0 trays");
        assert_eq!(counted(1_u8, "tray", "trays"), "1 tray");
        assert_eq!(counted(2_i64, "leaf", "leaves"), "2 leaves");
    }

    #[test]
    fn the_last_of_a_list_is_told_apart() {
        assert_eq!(listed(&["To 1"]), "To 1");
        assert_eq!(listed(&["To 1", "To 2", "To 3"]), "To 1, To 2 and To 3");
        assert_eq!(one_of(&[".svg".to_owned(), ".pdf".to_owned()]), ".svg or .pdf");
        assert_eq!(listed::<&str>(&[]), "");
    }
}
