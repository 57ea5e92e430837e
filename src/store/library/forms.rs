//! Figures, choices and checked values as a file writes them.

use std::fmt;
use std::sync::Arc;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::season::{DayRange, GrowthPoint, Hardiness, RimShape, SeedLight, SettingDepth, Sourced, Transplants, Trust};
use crate::units::{Length, Measure, ParseError, Size, Temperature, Typed, Volume};

use super::sources::{NoSuchSource, Sources};

/// A value beside its trust and source. `see` cites the table of sources; with a `source` as well,
/// that is added behind it.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Figure<T> {
    pub(super) value: T,
    pub(super) trust: TrustForm,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) source: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) see: String,
}

impl<T> Figure<T> {
    pub(super) fn of<V: Clone + Into<T>>(figure: &Sourced<V>) -> Self {
        Self {
            value: figure.value.clone().into(),
            trust: figure.trust.into(),
            source: figure.source.as_ref().to_owned(),
            see: String::new(),
        }
    }
}

/// Looks up the sources that the figures of one crop or container cite.
pub(super) struct Cited<'a> {
    pub(super) sources: &'a Sources,
    pub(super) of: &'static str,
    pub(super) key: &'a str,
}

impl Cited<'_> {
    pub(super) fn figure<T: Into<V>, V>(&self, figure: Figure<T>) -> Result<Sourced<V>, NoSuchSource> {
        let Figure { value, trust, source, see } = figure;
        let source = match (see.as_str(), self.sources.0.get(&see)) {
            ("", _) => source.into(),
            (_, Some(text)) if source.is_empty() => Arc::clone(text),
            (_, Some(text)) => format!("{text}; {source}").into(),
            (_, None) => return Err(NoSuchSource { of: format!("{} \"{}\"", self.of, self.key), see }),
        };
        Ok(Sourced { value: value.into(), trust: trust.into(), source })
    }

    pub(super) fn if_any<T: Into<V>, V>(&self, figure: Option<Figure<T>>) -> Result<Option<Sourced<V>>, NoSuchSource> {
        figure.map(|figure| self.figure(figure)).transpose()
    }
}

/// An optional field that stands bare or not at all, without `Some(..)`, whatever extensions the
/// reader of the file has switched on.
pub(super) mod present {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub(in crate::store::library) fn serialize<T: Serialize, S: Serializer>(
        value: &Option<T>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        match value {
            Some(value) => value.serialize(to),
            None => to.serialize_none(),
        }
    }

    pub(in crate::store::library) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<T>, D::Error> {
        T::deserialize(from).map(Some)
    }
}

macro_rules! choices {
    ($($form:ident = $of:ident { $($choice:ident),* $(,)? })*) => {$(
        #[derive(Clone, Copy, Debug, Serialize, Deserialize)]
        pub(super) enum $form {
            $($choice),*
        }

        impl From<$of> for $form {
            fn from(choice: $of) -> Self {
                match choice {
                    $($of::$choice => Self::$choice),*
                }
            }
        }

        impl From<$form> for $of {
            fn from(choice: $form) -> Self {
                match choice {
                    $($form::$choice => Self::$choice),*
                }
            }
        }
    )*};
}

choices! {
    TrustForm = Trust { Published, Derived, CommonPractice, FromMemory, Own }
    SeedLightForm = SeedLight { Light, Dark, Either }
    HardinessForm = Hardiness { Hardy, HalfHardy, Tender, VeryTender }
    SettingDepthForm = SettingDepth { Deep, Collar, Either }
    TransplantsForm = Transplants { Easily, Moderately, Poorly }
    RimShapeForm = RimShape { Square, Round }
}

/// Values written as plain text or numbers, checked as they are read.
macro_rules! plain {
    ($($form:ident = $of:ty as $plain:ty { $read:expr, $write:expr })*) => {$(
        #[derive(Clone, Debug)]
        pub(super) struct $form(pub(super) $of);

        impl<'de> Deserialize<'de> for $form {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let plain = <$plain>::deserialize(from)?;
                $read(plain).map(Self).map_err(D::Error::custom)
            }
        }

        impl Serialize for $form {
            fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                $write(&self.0).serialize(to)
            }
        }

        impl From<$of> for $form {
            fn from(value: $of) -> Self {
                Self(value)
            }
        }

        impl From<$form> for $of {
            fn from(form: $form) -> Self {
                form.0
            }
        }
    )*};
}

plain! {
    MeasureForm = Measure as String {
        |text: String| measure(&text),
        |measure: &Measure| measure.typed().to_owned()
    }
    SizeForm = Size as String {
        |text: String| size(&text),
        |size: &Size| format!("{} x {}", size.width.typed(), size.depth.typed())
    }
    VolumeForm = Typed<Volume> as String {
        |text: String| volume(&text),
        |volume: &Typed<Volume>| volume.typed().to_owned()
    }
    TypedTemperatureForm = Typed<Temperature> as String {
        |text: String| Typed::parse_temperature(&text),
        |degrees: &Typed<Temperature>| degrees.typed().to_owned()
    }
    TemperatureForm = Temperature as String {
        |text: String| Temperature::parse(&text),
        |degrees: &Temperature| temperature_text(*degrees)
    }
    Percent = u8 as u8 { percent, |percent: &u8| *percent }
    DaysForm = DayRange as (u16, u16, u16) { days, |days: &DayRange| (days.early, days.likely, days.late) }
    WeeksForm = (u8, u8) as (u8, u8) { low_high, |weeks: &(u8, u8)| *weeks }
    FrostWeeksForm = (i8, i8) as (i8, i8) { low_high, |weeks: &(i8, i8)| *weeks }
    LightForm = (f64, f64) as (f64, f64) { light, |light: &(f64, f64)| *light }
    GrowthForm = Vec<GrowthPoint> as Vec<(f64, f64)> { growth, points }
}

/// Why a figure was refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub(super) enum FigureFault {
    #[error("{0}")]
    Unread(#[from] ParseError),
    #[error("found {0:?}; it must be more than nothing")]
    Nothing(String),
    #[error("found {0}; it must be from 0 to 100 per cent")]
    Percent(u8),
    #[error("days must be early, likely, late, found {early}, {likely}, {late}")]
    Days { early: u16, likely: u16, late: u16 },
    #[error("low must not be above high, found {low} and {high}")]
    LowAboveHigh { low: String, high: String },
    #[error("light must be a number from 0 up, found {low} and {high}")]
    Light { low: f64, high: f64 },
    #[error("weeks must rise from point to point, from 0 up, found {0}")]
    Weeks(f64),
    #[error("found {0} mm; a plant is from 0 to 10000 mm")]
    Plant(f64),
}

fn measure(text: &str) -> Result<Measure, FigureFault> {
    let measure = Typed::parse_length(text, None)?;
    if measure.value() > Length::ZERO { Ok(measure) } else { Err(nothing(text)) }
}

fn size(text: &str) -> Result<Size, FigureFault> {
    let size = Size::parse(text, None)?;
    if size.width.value() > Length::ZERO && size.depth.value() > Length::ZERO { Ok(size) } else { Err(nothing(text)) }
}

fn volume(text: &str) -> Result<Typed<Volume>, FigureFault> {
    let volume = Typed::parse_volume(text)?;
    if volume.value() > Volume::default() { Ok(volume) } else { Err(nothing(text)) }
}

fn nothing(found: &str) -> FigureFault {
    FigureFault::Nothing(found.to_owned())
}

/// In the scale that holds it in two decimals, so that 50.5 °F comes back as that.
pub(in crate::store) fn temperature_text(temperature: Temperature) -> String {
    let hundredths = |degrees: f64| (degrees * 100.0).round() / 100.0;
    let celsius = temperature.to_celsius();
    [format!("{} °C", hundredths(celsius)), format!("{} °F", hundredths(temperature.to_fahrenheit()))]
        .into_iter()
        .find(|text| Temperature::parse(text) == Ok(temperature))
        .unwrap_or_else(|| format!("{celsius:.6} °C"))
}

fn percent(percent: u8) -> Result<u8, FigureFault> {
    if percent <= 100 { Ok(percent) } else { Err(FigureFault::Percent(percent)) }
}

fn days((early, likely, late): (u16, u16, u16)) -> Result<DayRange, FigureFault> {
    if early <= likely && likely <= late {
        Ok(DayRange { early, likely, late })
    } else {
        Err(FigureFault::Days { early, likely, late })
    }
}

fn low_high<T: Copy + PartialOrd + fmt::Display>((low, high): (T, T)) -> Result<(T, T), FigureFault> {
    if low <= high {
        Ok((low, high))
    } else {
        Err(FigureFault::LowAboveHigh { low: low.to_string(), high: high.to_string() })
    }
}

fn light(light: (f64, f64)) -> Result<(f64, f64), FigureFault> {
    let (low, high) = low_high(light)?;
    if low >= 0.0 && high.is_finite() { Ok(light) } else { Err(FigureFault::Light { low, high }) }
}

fn growth(points: Vec<(f64, f64)>) -> Result<Vec<GrowthPoint>, FigureFault> {
    let mut growth: Vec<GrowthPoint> = Vec::with_capacity(points.len());
    for (week, mm) in points {
        let after = growth.last().map_or(-1.0, |point| point.week);
        if !(week.is_finite() && week >= 0.0 && week > after) {
            return Err(FigureFault::Weeks(week));
        }
        if !(0.0..=10_000.0).contains(&mm) {
            return Err(FigureFault::Plant(mm));
        }
        growth.push(GrowthPoint { week, mm });
    }
    Ok(growth)
}

fn points(growth: &[GrowthPoint]) -> Vec<(f64, f64)> {
    growth.iter().map(|point| (point.week, point.mm)).collect()
}
