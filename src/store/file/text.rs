//! Values that a season file holds as text, read through the checked types: what is wrong is
//! refused at its line, and what was typed comes back as it was typed.

use std::fmt::Write as _;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::store::library::temperature_text;
use crate::units::{DateSpan, Length, Measure, Size, Temperature, Typed, Volume};

macro_rules! text {
    ($($(#[$doc:meta])* $name:ident($of:ty): $read:ident, $write:expr;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub(super) struct $name(pub(super) $of);

        impl TryFrom<String> for $name {
            type Error = String;

            fn try_from(text: String) -> Result<Self, String> {
                $read(&text).map(Self)
            }
        }

        impl From<$name> for String {
            fn from($name(value): $name) -> Self {
                $write(&value)
            }
        }
    )*};
}

text! {
    /// `"2027-04-14"`.
    DateText(NaiveDate): date, NaiveDate::to_string;
    /// `"10 15/16 in"`.
    LengthText(Measure): measure, |value: &Measure| value.typed().to_owned();
    /// `"48 x 18 in"`.
    SizeText(Size): size, size_text;
    /// `"21 °C"`.
    TemperatureText(Typed<Temperature>): temperature, |value: &Typed<Temperature>| value.typed().to_owned();
    /// `"10 °C"`, of which only what it means is kept.
    DegreesText(Temperature): degrees, |value: &Temperature| temperature_text(*value);
    /// `"45 ml"`.
    VolumeText(Typed<Volume>): volume, |value: &Typed<Volume>| value.typed().to_owned();
    /// `"-12.7 mm"`: a place on a shelf, which may lie before its edge.
    PlaceText(Length): place, |value: &Length| place_text(*value);
}

fn date(text: &str) -> Result<NaiveDate, String> {
    let looks_like_one = text.len() == 10
        && text.bytes().enumerate().all(|(i, b)| if i == 4 || i == 7 { b == b'-' } else { b.is_ascii_digit() });
    match text.parse::<NaiveDate>() {
        // The calendar reads `2027-4-1` too, but then a file would not come back as it was.
        Ok(date) if date.to_string() == text => Ok(date),
        Err(_) if looks_like_one => Err(NoDate::NoSuchDay(text.to_owned()).to_string()),
        _ => Err(NoDate::Other(text.to_owned()).to_string()),
    }
}

#[derive(Debug, thiserror::Error)]
enum NoDate {
    #[error("found {0:?}; the calendar has no such day")]
    NoSuchDay(String),
    #[error("found {0:?}; write a date such as 2027-04-14")]
    Other(String),
}

fn measure(text: &str) -> Result<Measure, String> {
    Typed::parse_length(text, None).map_err(|why| why.to_string())
}

fn size(text: &str) -> Result<Size, String> {
    Size::parse(text, None).map_err(|why| {
        // The second side lends its unit to the first: where it is wrong itself, it is the one to blame.
        let depth = text.split_once(['x', '×', 'X', '*']).map(|(_, depth)| Length::parse(depth, None));
        depth.and_then(Result::err).unwrap_or(why).to_string()
    })
}

fn temperature(text: &str) -> Result<Typed<Temperature>, String> {
    Typed::parse_temperature(text).map_err(|why| why.to_string())
}

fn degrees(text: &str) -> Result<Temperature, String> {
    Temperature::parse(text).map_err(|why| why.to_string())
}

fn volume(text: &str) -> Result<Typed<Volume>, String> {
    Typed::parse_volume(text).map_err(|why| why.to_string())
}

fn place(text: &str) -> Result<Length, String> {
    let (negative, distance) = match text.trim_start().strip_prefix('-') {
        Some(distance) => (true, distance),
        None => (false, text),
    };
    let distance = Length::parse(distance, None).map_err(|why| why.to_string())?;
    Ok(if negative { -distance } else { distance })
}

/// The unit stands once where both sides have the same.
fn size_text(size: &Size) -> String {
    let (width, depth) = (size.width.typed(), size.depth.typed());
    ["mm", "cm", "m", "in", "ft"]
        .into_iter()
        .filter_map(|sign| width.strip_suffix(sign)?.strip_suffix(' '))
        .map(|number| format!("{number} x {depth}"))
        .find(|short| Size::parse(short, None).as_ref() == Ok(size))
        .unwrap_or_else(|| format!("{width} x {depth}"))
}

/// In millimetres; six decimals hold every 1/8000 mm.
fn place_text(place: Length) -> String {
    let units = place.units().unsigned_abs();
    let (whole, rest) = (units / 8_000, units % 8_000 * 125);
    let mut text = format!("{}{whole}", if place < Length::ZERO { "-" } else { "" });
    if rest != 0 {
        write!(text, ".{rest:06}").expect("writing to a string never fails");
        text.truncate(text.trim_end_matches('0').len());
    }
    text + " mm"
}

/// `(from: "2027-03-01", until: "2027-05-30")`; `until` is the first day that is outside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Ends", into = "Ends")]
pub(super) struct SpanText(pub(super) DateSpan);

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "span")]
struct Ends {
    from: DateText,
    until: DateText,
}

impl TryFrom<Ends> for SpanText {
    type Error = String;

    fn try_from(Ends { from, until }: Ends) -> Result<Self, String> {
        DateSpan::new(from.0, until.0).map(Self).map_err(|why| why.to_string())
    }
}

impl From<SpanText> for Ends {
    fn from(SpanText(span): SpanText) -> Self {
        Self { from: DateText(span.from()), until: DateText(span.until()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_place(units: i64, text: &str) {
        let length = Length::from_units(units);
        assert_eq!(place_text(length), text, "{units}");
        assert_eq!(place(text), Ok(length), "{text}");
    }

    #[test]
    fn places_are_written_exactly_in_millimetres() {
        check_place(0, "0 mm");
        check_place(8_000, "1 mm");
        check_place(2_235_200, "279.4 mm");
        check_place(3_175, "0.396875 mm");
        check_place(1, "0.000125 mm");
        check_place(-4_000, "-0.5 mm");
        check_place(-800_000_000, "-100000 mm");
    }

    #[test]
    fn a_place_may_be_typed_in_any_unit() {
        assert_eq!(place("11 in"), Ok(Length::from_units(2_235_200)));
        assert_eq!(place("-1/2 in"), Ok(Length::from_units(-101_600)));
        assert!(place("11").is_err());
    }

    #[track_caller]
    fn check_size(text: &str, back: &str) {
        assert_eq!(size(text).map(|size| size_text(&size)).as_deref(), Ok(back));
        assert_eq!(size(back), size(text));
    }

    #[test]
    fn a_size_keeps_what_was_typed() {
        check_size("48 x 18 in", "48 x 18 in");
        check_size("48 in x 18 in", "48 x 18 in");
        check_size("100 × 60 cm", "100 x 60 cm");
        check_size("4 ft x 18 in", "4 ft x 18 in");
        check_size("10 15/16 x 21 7/32 in", "10 15/16 x 21 7/32 in");
        check_size("48\" x 18\"", "48\" x 18\"");
        check_size("4 ft 6 in x 18 in", "4 ft 6 in x 18 in");
    }

    #[test]
    fn only_whole_dates_of_the_calendar_are_read() {
        assert_eq!(date("2027-04-14"), Ok(NaiveDate::from_ymd_opt(2027, 4, 14).unwrap()));
        for day in [NaiveDate::MAX, NaiveDate::MIN] {
            assert_eq!(date(&day.to_string()), Ok(day));
        }
        assert_eq!(date("2027-02-30"), Err("found \"2027-02-30\"; the calendar has no such day".to_owned()));
        for text in ["2027-4-14", " 2027-04-14", "14.4.2027", "", "20270414", "20277-04-14"] {
            assert_eq!(date(text), Err(format!("found {text:?}; write a date such as 2027-04-14")));
        }
    }
}
