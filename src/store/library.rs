//! The written form of crops and containers, and the library of them that comes with the program.
//!
//! A season file holds the grower's own crops and containers in the same form. Lengths, volumes and
//! temperatures stand as text with their unit and are read through the checked types, so what is
//! wrong is refused with its line and column, and what was typed comes back as it was typed.
//!
//! Says nothing about whether a figure is right: it carries its source and its trust along.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use serde::de::{DeserializeOwned, Error as _};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::season::{
    Chill, Container, ContainerKey, ContainerKind, Crop, CropKey, DayRange, Flat, GerminationTemperatures, GrowthPoint,
    Hardening, Hardiness, LatestWeeks, Library, MovingOn, Plug, Pot, RimShape, SeedLight, SettingDepth, Sourced,
    Transplants, Trust,
};
use crate::units::{Length, Measure, Size, Temperature, Typed, Volume};

const CROPS: &str = "assets/crops.ron";
const CONTAINERS: &str = "assets/containers.ron";

/// The crops and containers that come with the program.
pub fn shipped() -> Result<Library, LibraryError> {
    Ok(Library {
        crops: crops(CROPS, include_str!("../../assets/crops.ron"))?,
        containers: containers(CONTAINERS, include_str!("../../assets/containers.ron"))?,
    })
}

/// A place in a text, counted from 1; columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCol {
    pub line: usize,
    pub col: usize,
}

/// Why a file of the library was refused: `assets/crops.ron:12:8: found "wide"; write …`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct LibraryError {
    pub file: &'static str,
    /// `None` for a reference to something that is nowhere.
    pub at: Option<LineCol>,
    pub message: String,
}

impl fmt::Display for LibraryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{}:{line}:{col}: {}", self.file, self.message),
            None => write!(f, "{}: {}", self.file, self.message),
        }
    }
}

/// A figure names a source that the table of sources does not hold.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{of} names the source {see:?}, which is not in the table of sources")]
pub struct NoSuchSource {
    /// The crop or container: `crop "tomato"`.
    pub of: String,
    pub see: String,
}

/// Texts of sources by the name under which figures cite them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(from = "BTreeMap<String, String>")]
pub struct Sources(BTreeMap<String, Arc<str>>);

impl From<BTreeMap<String, String>> for Sources {
    fn from(texts: BTreeMap<String, String>) -> Self {
        Self(texts.into_iter().map(|(key, text)| (key, text.into())).collect())
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Crops")]
struct CropsFile {
    #[serde(default)]
    sources: Sources,
    crops: Vec<CropFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Containers")]
struct ContainersFile {
    #[serde(default)]
    sources: Sources,
    containers: Vec<ContainerFile>,
}

fn crops(file: &'static str, text: &str) -> Result<BTreeMap<CropKey, Crop>, LibraryError> {
    let CropsFile { sources, crops } = read(file, text)?;
    let crops = crops.into_iter().map(|crop| {
        let crop = crop.read(&sources)?;
        Ok((crop.key.clone(), crop))
    });
    by_key(file, crops)
}

fn containers(file: &'static str, text: &str) -> Result<BTreeMap<ContainerKey, Container>, LibraryError> {
    let ContainersFile { sources, containers } = read(file, text)?;
    let containers = containers.into_iter().map(|container| {
        let container = container.read(&sources)?;
        Ok((container.key.clone(), container))
    });
    by_key(file, containers)
}

fn read<T: DeserializeOwned>(file: &'static str, text: &str) -> Result<T, LibraryError> {
    ron::from_str(text).map_err(|why| LibraryError {
        file,
        at: Some(LineCol { line: why.span.start.line, col: why.span.start.col }),
        message: why.code.to_string(),
    })
}

fn by_key<K: Ord + fmt::Display, V>(
    file: &'static str,
    items: impl Iterator<Item = Result<(K, V), NoSuchSource>>,
) -> Result<BTreeMap<K, V>, LibraryError> {
    let mut all = BTreeMap::new();
    for item in items {
        let (key, value) = item.map_err(|why| LibraryError { file, at: None, message: why.to_string() })?;
        if all.contains_key(&key) {
            return Err(LibraryError { file, at: None, message: format!("two entries have the key \"{key}\"") });
        }
        all.insert(key, value);
    }
    Ok(all)
}

/// A crop as a file holds it; own crops of a season stand in the season's file like this.
///
/// Written, every figure has its source in full. Read, it may cite the file's table of [`Sources`].
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Crop")]
pub struct CropFile {
    key: String,
    name: String,
    #[serde(default)]
    latin: String,
    family: String,
    mark: String,
    germination_percent: Figure<Percent>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    germination_legal_percent: Option<Percent>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    germination_temperatures: Option<Figure<GerminationForm>>,
    light_to_germinate: SeedLightForm,
    emergence: Figure<DaysForm>,
    moving_on: Figure<MovingOnForm>,
    latest: Figure<LatestForm>,
    weeks_to_planting_out: Figure<WeeksForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    planting_out_after_frost: Option<Figure<FrostWeeksForm>>,
    hardiness: HardinessForm,
    come_in: Figure<TemperatureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    bolts: Option<Figure<ChillForm>>,
    hardening: Figure<HardeningForm>,
    depth: Figure<SettingDepthForm>,
    transplants: TransplantsForm,
    usual_moves: u8,
    #[serde(default)]
    usual_cells: Vec<u16>,
    heights: Figure<GrowthForm>,
    spreads: Figure<GrowthForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    light: Option<Figure<LightForm>>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    seeds_per_gram: Option<u32>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    before_sowing: String,
}

impl CropFile {
    /// The crop, with its citations looked up in `sources`.
    ///
    /// # Errors
    /// A figure cites a source that is not there.
    pub fn read(self, sources: &Sources) -> Result<Crop, NoSuchSource> {
        let cited = Cited { sources, of: "crop", key: &self.key };
        Ok(Crop {
            key: CropKey::new(&self.key),
            name: self.name,
            latin: self.latin,
            family: self.family,
            mark: self.mark,
            germination_percent: cited.figure(self.germination_percent)?,
            germination_legal_percent: self.germination_legal_percent.map(u8::from),
            germination_temperatures: cited.if_any(self.germination_temperatures)?,
            light_to_germinate: self.light_to_germinate.into(),
            emergence: cited.figure(self.emergence)?,
            moving_on: cited.figure(self.moving_on)?,
            latest: cited.figure(self.latest)?,
            weeks_to_planting_out: cited.figure(self.weeks_to_planting_out)?,
            planting_out_after_frost: cited.if_any(self.planting_out_after_frost)?,
            hardiness: self.hardiness.into(),
            come_in: cited.figure(self.come_in)?,
            bolts: cited.if_any(self.bolts)?,
            hardening: cited.figure(self.hardening)?,
            depth: cited.figure(self.depth)?,
            transplants: self.transplants.into(),
            usual_moves: self.usual_moves,
            usual_cells: self.usual_cells,
            heights: cited.figure(self.heights)?,
            spreads: cited.figure(self.spreads)?,
            light: cited.if_any(self.light)?,
            seeds_per_gram: self.seeds_per_gram,
            before_sowing: self.before_sowing,
        })
    }
}

impl TryFrom<CropFile> for Crop {
    type Error = NoSuchSource;

    fn try_from(file: CropFile) -> Result<Self, NoSuchSource> {
        file.read(&Sources::default())
    }
}

impl From<&Crop> for CropFile {
    fn from(crop: &Crop) -> Self {
        Self {
            key: crop.key.to_string(),
            name: crop.name.clone(),
            latin: crop.latin.clone(),
            family: crop.family.clone(),
            mark: crop.mark.clone(),
            germination_percent: Figure::of(&crop.germination_percent),
            germination_legal_percent: crop.germination_legal_percent.map(Percent::from),
            germination_temperatures: crop.germination_temperatures.as_ref().map(Figure::of),
            light_to_germinate: crop.light_to_germinate.into(),
            emergence: Figure::of(&crop.emergence),
            moving_on: Figure::of(&crop.moving_on),
            latest: Figure::of(&crop.latest),
            weeks_to_planting_out: Figure::of(&crop.weeks_to_planting_out),
            planting_out_after_frost: crop.planting_out_after_frost.as_ref().map(Figure::of),
            hardiness: crop.hardiness.into(),
            come_in: Figure::of(&crop.come_in),
            bolts: crop.bolts.as_ref().map(Figure::of),
            hardening: Figure::of(&crop.hardening),
            depth: Figure::of(&crop.depth),
            transplants: crop.transplants.into(),
            usual_moves: crop.usual_moves,
            usual_cells: crop.usual_cells.clone(),
            heights: Figure::of(&crop.heights),
            spreads: Figure::of(&crop.spreads),
            light: crop.light.as_ref().map(Figure::of),
            seeds_per_gram: crop.seeds_per_gram,
            before_sowing: crop.before_sowing.clone(),
        }
    }
}

/// A container as a file holds it; see [`CropFile`].
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Container")]
pub struct ContainerFile {
    key: String,
    name: String,
    kind: CheckedKind,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    height: Option<MeasureForm>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

impl ContainerFile {
    /// The container, with its citations looked up in `sources`.
    ///
    /// # Errors
    /// A figure cites a source that is not there.
    pub fn read(self, sources: &Sources) -> Result<Container, NoSuchSource> {
        let cited = Cited { sources, of: "container", key: &self.key };
        let kind = match self.kind.0 {
            KindForm::Flat { outer, floor } => {
                ContainerKind::Flat(Flat { outer: cited.figure(outer)?, floor: cited.if_any(floor)? })
            }
            KindForm::Plug { outer, cells, grid, cell_top, cell_volume } => ContainerKind::Plug(Plug {
                outer: cited.figure(outer)?,
                cells,
                grid,
                cell_top: cell_top.map(Measure::from),
                cell_volume: cited.if_any(cell_volume)?,
            }),
            KindForm::Pot { rim, top, bottom, volume, per_flat } => ContainerKind::Pot(Pot {
                rim: rim.into(),
                top: cited.figure(top)?,
                bottom: cited.if_any(bottom)?,
                volume: cited.if_any(volume)?,
                per_flat,
            }),
            KindForm::Class { low, high, trust, source, see } => ContainerKind::Class {
                low: low.into(),
                high: high.into(),
                source: cited.figure(Figure { value: (), trust, source, see })?,
            },
        };
        Ok(Container {
            key: ContainerKey::new(&self.key),
            name: self.name,
            kind,
            height: self.height.map(Measure::from),
            note: self.note,
        })
    }
}

impl TryFrom<ContainerFile> for Container {
    type Error = NoSuchSource;

    fn try_from(file: ContainerFile) -> Result<Self, NoSuchSource> {
        file.read(&Sources::default())
    }
}

impl From<&Container> for ContainerFile {
    fn from(container: &Container) -> Self {
        let kind = match &container.kind {
            ContainerKind::Flat(Flat { outer, floor }) => {
                KindForm::Flat { outer: Figure::of(outer), floor: floor.as_ref().map(Figure::of) }
            }
            ContainerKind::Plug(Plug { outer, cells, grid, cell_top, cell_volume }) => KindForm::Plug {
                outer: Figure::of(outer),
                cells: *cells,
                grid: *grid,
                cell_top: cell_top.clone().map(MeasureForm::from),
                cell_volume: cell_volume.as_ref().map(Figure::of),
            },
            ContainerKind::Pot(Pot { rim, top, bottom, volume, per_flat }) => KindForm::Pot {
                rim: (*rim).into(),
                top: Figure::of(top),
                bottom: bottom.as_ref().map(Figure::of),
                volume: volume.as_ref().map(Figure::of),
                per_flat: *per_flat,
            },
            ContainerKind::Class { low, high, source } => {
                let Figure { value: (), trust, source, see } = Figure::of(source);
                KindForm::Class { low: low.clone().into(), high: high.clone().into(), trust, source, see }
            }
        };
        Self {
            key: container.key.to_string(),
            name: container.name.clone(),
            kind: CheckedKind(kind),
            height: container.height.clone().map(MeasureForm::from),
            note: container.note.clone(),
        }
    }
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Kind")]
enum KindForm {
    Flat {
        outer: Figure<SizeForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        floor: Option<Figure<SizeForm>>,
    },
    Plug {
        outer: Figure<SizeForm>,
        cells: u16,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        grid: Option<(u16, u16)>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        cell_top: Option<MeasureForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        cell_volume: Option<Figure<VolumeForm>>,
    },
    Pot {
        rim: RimShapeForm,
        top: Figure<MeasureForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        bottom: Option<Figure<MeasureForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        volume: Option<Figure<VolumeForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        per_flat: Option<u16>,
    },
    Class {
        low: VolumeForm,
        high: VolumeForm,
        trust: TrustForm,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        source: String,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        see: String,
    },
}

/// A kind whose cells agree with its grid and whose volumes are in order.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(try_from = "KindForm", into = "KindForm")]
struct CheckedKind(KindForm);

impl TryFrom<KindForm> for CheckedKind {
    type Error = String;

    fn try_from(kind: KindForm) -> Result<Self, String> {
        match &kind {
            KindForm::Plug { cells: 0, .. } => return Err("a plug tray has at least 1 cell, found 0".to_owned()),
            KindForm::Plug { cells, grid: Some((rows, columns)), .. }
                if u32::from(*rows) * u32::from(*columns) != u32::from(*cells) =>
            {
                return Err(format!("{rows} by {columns} cells are not {cells}; leave the grid out for offset cells"));
            }
            KindForm::Class { low, high, .. } if low.0.value() > high.0.value() => {
                return Err(format!("low must not be above high, found {} and {}", low.0.typed(), high.0.typed()));
            }
            _ => {}
        }
        Ok(Self(kind))
    }
}

impl From<CheckedKind> for KindForm {
    fn from(kind: CheckedKind) -> Self {
        kind.0
    }
}

/// A value beside its trust and source. `see` cites the table of sources; with a `source` as well,
/// that is added behind it.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Figure<T> {
    value: T,
    trust: TrustForm,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    source: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    see: String,
}

impl<T> Figure<T> {
    fn of<V: Clone + Into<T>>(figure: &Sourced<V>) -> Self {
        Self {
            value: figure.value.clone().into(),
            trust: figure.trust.into(),
            source: figure.source.as_ref().to_owned(),
            see: String::new(),
        }
    }
}

/// Looks up the sources that the figures of one crop or container cite.
struct Cited<'a> {
    sources: &'a Sources,
    of: &'static str,
    key: &'a str,
}

impl Cited<'_> {
    fn figure<T: Into<V>, V>(&self, figure: Figure<T>) -> Result<Sourced<V>, NoSuchSource> {
        let Figure { value, trust, source, see } = figure;
        let source = match (see.as_str(), self.sources.0.get(&see)) {
            ("", _) => source.into(),
            (_, Some(text)) if source.is_empty() => Arc::clone(text),
            (_, Some(text)) => format!("{text}; {source}").into(),
            (_, None) => return Err(NoSuchSource { of: format!("{} \"{}\"", self.of, self.key), see }),
        };
        Ok(Sourced { value: value.into(), trust: trust.into(), source })
    }

    fn if_any<T: Into<V>, V>(&self, figure: Option<Figure<T>>) -> Result<Option<Sourced<V>>, NoSuchSource> {
        figure.map(|figure| self.figure(figure)).transpose()
    }
}

/// An optional field that stands bare or not at all, without `Some(..)`, whatever extensions the
/// reader of the file has switched on.
mod present {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub(super) fn serialize<T: Serialize, S: Serializer>(value: &Option<T>, to: S) -> Result<S::Ok, S::Error> {
        match value {
            Some(value) => value.serialize(to),
            None => to.serialize_none(),
        }
    }

    pub(super) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(from: D) -> Result<Option<T>, D::Error> {
        T::deserialize(from).map(Some)
    }
}

macro_rules! choices {
    ($($form:ident = $of:ident { $($choice:ident),* $(,)? })*) => {$(
        #[derive(Clone, Copy, Debug, Serialize, Deserialize)]
        enum $form {
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
        struct $form($of);

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
    TemperatureForm = Temperature as String {
        |text: String| temperature(&text),
        |degrees: &Temperature| temperature_text(*degrees)
    }
    Percent = u8 as u8 { percent, |percent: &u8| *percent }
    DaysForm = DayRange as (u16, u16, u16) { days, |days: &DayRange| (days.early, days.likely, days.late) }
    WeeksForm = (u8, u8) as (u8, u8) { low_high, |weeks: &(u8, u8)| *weeks }
    FrostWeeksForm = (i8, i8) as (i8, i8) { low_high, |weeks: &(i8, i8)| *weeks }
    LightForm = (f64, f64) as (f64, f64) { light, |light: &(f64, f64)| *light }
    GrowthForm = Vec<GrowthPoint> as Vec<(f64, f64)> { growth, points }
}

fn measure(text: &str) -> Result<Measure, String> {
    let measure = Typed::parse_length(text, None).map_err(|why| why.to_string())?;
    if measure.value() > Length::ZERO { Ok(measure) } else { Err(nothing(text)) }
}

fn size(text: &str) -> Result<Size, String> {
    let size = Size::parse(text, None).map_err(|why| why.to_string())?;
    if size.width.value() > Length::ZERO && size.depth.value() > Length::ZERO { Ok(size) } else { Err(nothing(text)) }
}

fn volume(text: &str) -> Result<Typed<Volume>, String> {
    let volume = Typed::parse_volume(text).map_err(|why| why.to_string())?;
    if volume.value() > Volume::default() { Ok(volume) } else { Err(nothing(text)) }
}

fn nothing(found: &str) -> String {
    format!("found {found:?}; it must be more than nothing")
}

fn temperature(text: &str) -> Result<Temperature, String> {
    Temperature::parse(text).map_err(|why| why.to_string())
}

/// In the scale that holds it in two decimals, so that 50.5 °F comes back as that.
fn temperature_text(temperature: Temperature) -> String {
    let hundredths = |degrees: f64| (degrees * 100.0).round() / 100.0;
    let celsius = temperature.to_celsius();
    [format!("{} °C", hundredths(celsius)), format!("{} °F", hundredths(temperature.to_fahrenheit()))]
        .into_iter()
        .find(|text| Temperature::parse(text) == Ok(temperature))
        .unwrap_or_else(|| format!("{celsius:.6} °C"))
}

fn percent(percent: u8) -> Result<u8, String> {
    if percent <= 100 { Ok(percent) } else { Err(format!("found {percent}; it must be from 0 to 100 per cent")) }
}

fn days((early, likely, late): (u16, u16, u16)) -> Result<DayRange, String> {
    if early <= likely && likely <= late {
        Ok(DayRange { early, likely, late })
    } else {
        Err(format!("days must be early, likely, late, found {early}, {likely}, {late}"))
    }
}

fn low_high<T: Copy + PartialOrd + fmt::Display>((low, high): (T, T)) -> Result<(T, T), String> {
    if low <= high { Ok((low, high)) } else { Err(format!("low must not be above high, found {low} and {high}")) }
}

fn light(light: (f64, f64)) -> Result<(f64, f64), String> {
    let (low, high) = low_high(light)?;
    if low >= 0.0 && high.is_finite() {
        Ok(light)
    } else {
        Err(format!("light must be a number from 0 up, found {low} and {high}"))
    }
}

fn growth(points: Vec<(f64, f64)>) -> Result<Vec<GrowthPoint>, String> {
    let mut growth: Vec<GrowthPoint> = Vec::with_capacity(points.len());
    for (week, mm) in points {
        let after = growth.last().map_or(-1.0, |point| point.week);
        if !(week.is_finite() && week >= 0.0 && week > after) {
            return Err(format!("weeks must rise from point to point, from 0 up, found {week}"));
        }
        if !(0.0..=10_000.0).contains(&mm) {
            return Err(format!("found {mm} mm; a plant is from 0 to 10000 mm"));
        }
        growth.push(GrowthPoint { week, mm });
    }
    Ok(growth)
}

fn points(growth: &[GrowthPoint]) -> Vec<(f64, f64)> {
    growth.iter().map(|point| (point.week, point.mm)).collect()
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "GerminationTemperatures")]
struct GerminationForm {
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    min: Option<TemperatureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    best_low: Option<TemperatureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    best_high: Option<TemperatureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    max: Option<TemperatureForm>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "MovingOn")]
struct MovingOnForm {
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    true_leaves: Option<u8>,
    days: DaysForm,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "LatestWeeks")]
struct LatestForm {
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    small: Option<u8>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    medium: Option<u8>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    large: Option<u8>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    pot: Option<u8>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Chill")]
struct ChillForm {
    below: TemperatureForm,
    days: u16,
    #[serde(default)]
    words: String,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Hardening")]
struct HardeningForm {
    days: u16,
    first_night_after: u16,
}

macro_rules! field_by_field {
    ($($form:ident = $of:ident { $($field:ident $($optional:ident)?),* })*) => {$(
        impl From<$of> for $form {
            fn from(value: $of) -> Self {
                Self { $($field: field_by_field!(value.$field $($optional)?)),* }
            }
        }

        impl From<$form> for $of {
            fn from(form: $form) -> Self {
                Self { $($field: field_by_field!(form.$field $($optional)?)),* }
            }
        }
    )*};
    ($value:ident.$field:ident if_any) => { $value.$field.map(Into::into) };
    ($value:ident.$field:ident as_is) => { $value.$field };
    ($value:ident.$field:ident) => { $value.$field.into() };
}

field_by_field! {
    GerminationForm = GerminationTemperatures { min if_any, best_low if_any, best_high if_any, max if_any }
    MovingOnForm = MovingOn { true_leaves as_is, days }
    LatestForm = LatestWeeks { small as_is, medium as_is, large as_is, pot as_is }
    ChillForm = Chill { below, days as_is, words as_is }
    HardeningForm = Hardening { days as_is, first_night_after as_is }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;
    use ron::ser::PrettyConfig;

    use super::*;

    fn library() -> Library {
        shipped().expect("the shipped library reads")
    }

    fn written<T: Serialize>(file: &T) -> String {
        ron::ser::to_string_pretty(file, PrettyConfig::new().depth_limit(2)).expect("it can be written")
    }

    fn mark<T>(figure: &Sourced<T>) -> (Trust, Arc<str>) {
        (figure.trust, Arc::clone(&figure.source))
    }

    fn marks(crop: &Crop) -> Vec<(Trust, Arc<str>)> {
        let mut marks = vec![
            mark(&crop.germination_percent),
            mark(&crop.emergence),
            mark(&crop.moving_on),
            mark(&crop.latest),
            mark(&crop.weeks_to_planting_out),
            mark(&crop.come_in),
            mark(&crop.hardening),
            mark(&crop.depth),
            mark(&crop.heights),
            mark(&crop.spreads),
        ];
        marks.extend(crop.germination_temperatures.as_ref().map(mark));
        marks.extend(crop.planting_out_after_frost.as_ref().map(mark));
        marks.extend(crop.bolts.as_ref().map(mark));
        marks.extend(crop.light.as_ref().map(mark));
        marks
    }

    fn container_marks(container: &Container) -> Vec<(Trust, Arc<str>)> {
        match &container.kind {
            ContainerKind::Flat(Flat { outer, floor }) => {
                [mark(outer)].into_iter().chain(floor.as_ref().map(mark)).collect()
            }
            ContainerKind::Plug(Plug { outer, cell_volume, .. }) => {
                [mark(outer)].into_iter().chain(cell_volume.as_ref().map(mark)).collect()
            }
            ContainerKind::Pot(Pot { top, bottom, volume, .. }) => {
                [mark(top)].into_iter().chain(bottom.as_ref().map(mark)).chain(volume.as_ref().map(mark)).collect()
            }
            ContainerKind::Class { source, .. } => vec![mark(source)],
        }
    }

    #[test]
    fn every_crop_and_container_of_the_tables_is_there() {
        let library = library();
        assert_eq!((library.crops.len(), library.containers.len()), (58, 51));
    }

    #[test]
    fn every_figure_says_where_it_comes_from() {
        let library = library();
        let crops = library.crops.iter().map(|(key, crop)| (key.to_string(), marks(crop)));
        let containers =
            library.containers.iter().map(|(key, container)| (key.to_string(), container_marks(container)));
        for (key, marks) in crops.chain(containers) {
            assert!(!marks.is_empty(), "{key}");
            for (trust, source) in marks {
                assert_ne!(trust, Trust::Own, "{key}: nothing shipped is the grower's own");
                assert!(!source.trim().is_empty(), "{key}");
                let remembered = source.contains("from memory") && !source.contains("author");
                assert!(trust != Trust::Published || !remembered, "{key}: {source}");
            }
        }
    }

    #[test]
    fn marks_of_crops_are_two_latin_letters_and_differ_even_in_lower_case() {
        let mut seen = BTreeSet::new();
        for crop in library().crops.values() {
            assert!(crop.mark.len() == 2 && crop.mark.bytes().all(|b| b.is_ascii_alphabetic()), "{}", crop.key);
            assert!(seen.insert(crop.mark.to_lowercase()), "{} is used twice", crop.mark);
        }
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let library = library();
        for crop in library.crops.values() {
            let text = written(&CropFile::from(crop));
            let back: CropFile = ron::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}\n{text}", crop.key));
            assert_eq!(Crop::try_from(back).as_ref(), Ok(crop));
        }
        for container in library.containers.values() {
            let text = written(&ContainerFile::from(container));
            let back: ContainerFile =
                ron::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}\n{text}", container.key));
            assert_eq!(Container::try_from(back).as_ref(), Ok(container));
        }
    }

    #[test]
    fn optional_fields_stand_bare_with_and_without_implicit_some() {
        let library = library();
        let tomato = &library.crops[&CropKey::new("tomato")];
        let text = written(&CropFile::from(tomato));
        assert!(!text.contains("Some(") && !text.contains("None"), "{text}");
        let back: CropFile = ron::from_str(&format!("#![enable(implicit_some)]\n{text}")).unwrap();
        assert_eq!(Crop::try_from(back).as_ref(), Ok(tomato));
    }

    #[test]
    fn the_growers_own_figures_need_no_source() {
        let own = r#"(key: "cup", name: "3.2 in cup", height: "10 cm",
            kind: Pot(rim: Round, top: (value: "3.2 in", trust: Own)))"#;
        let cup = Container::try_from(ron::from_str::<ContainerFile>(own).unwrap()).unwrap();
        let ContainerKind::Pot(pot) = &cup.kind else { panic!("{cup:?}") };
        assert_eq!((pot.top.trust, pot.top.value.typed()), (Trust::Own, "3.2 in"));
        let text = written(&ContainerFile::from(&cup));
        assert!(!text.contains("source") && !text.contains("see"), "{text}");
    }

    #[test]
    fn a_source_can_be_cited_and_added_to() {
        let flat = |see: &str| {
            format!(
                r#"(sources: {{"bench": "measured at the bench"}}, containers: [(key: "a", name: "a",
                    kind: Flat(outer: (value: "5 x 6 in", trust: Published, see: "{see}", source: "rim only")))])"#
            )
        };
        let read = containers("t", &flat("bench")).unwrap();
        let ContainerKind::Flat(a) = &read[&ContainerKey::new("a")].kind else { panic!("{read:?}") };
        assert_eq!(a.outer.source.as_ref(), "measured at the bench; rim only");
        let refused = containers("t", &flat("shed")).unwrap_err();
        assert_eq!(
            refused.to_string(),
            r#"t: container "a" names the source "shed", which is not in the table of sources"#
        );
    }

    #[track_caller]
    fn refused(kind: &str, expected: &str) {
        let text = format!("(\n containers: [\n  (key: \"a\", name: \"a\",\n   kind: {kind}),\n ],\n)");
        assert_eq!(containers("c.ron", &text).unwrap_err().to_string(), expected);
    }

    #[test]
    fn what_is_wrong_is_refused_with_line_and_column() {
        refused(
            r#"Flat(outer: (value: "wide", trust: Own))"#,
            r#"c.ron:4:31: found "wide"; write a size such as 48 x 18 in"#,
        );
        refused(
            r#"Flat(outer: (value: "5 x 6 in", trust: Own), colour: 3)"#,
            "c.ron:4:55: Unexpected field named `colour` in `Flat`, expected either `outer` or `floor` instead",
        );
        refused(
            r#"Flat(outer: (value: "5 x 0 in", trust: Own))"#,
            r#"c.ron:4:31: found "5 x 0 in"; it must be more than nothing"#,
        );
        refused(
            r#"Flat(outer: (value: "5 x 6", trust: Own))"#,
            r#"c.ron:4:31: found "5" without a unit; add one of mm, cm, m, in, ft"#,
        );
        refused(
            r#"Plug(outer: (value: "5 x 6 in", trust: Own), cells: 72, grid: (6, 10))"#,
            "c.ron:4:79: 6 by 10 cells are not 72; leave the grid out for offset cells",
        );
        refused(
            r#"Class(low: "3 l", high: "2 l", trust: Own)"#,
            "c.ron:4:51: low must not be above high, found 3 l and 2 l",
        );
        refused("Flat(", "c.ron:4:15: Unexpected missing field named `outer` in `Flat`");
    }

    #[test]
    fn figures_that_nothing_can_be_computed_with_are_refused() {
        for text in ["(7, 6, 8)", "(6, 9, 8)", "(6, 7)", "(-1, 7, 8)"] {
            assert!(ron::from_str::<DaysForm>(text).is_err(), "{text}");
        }
        for text in ["[(4, 10), (2, 20)]", "[(2, 10), (2, 20)]", "[(NaN, 10)]", "[(2, NaN)]", "[(2, -1)]", "[(2, inf)]"]
        {
            assert!(ron::from_str::<GrowthForm>(text).is_err(), "{text}");
        }
        for text in ["(8, inf)", "(NaN, 9)", "(9, 8)", "(-1, 8)"] {
            assert!(ron::from_str::<LightForm>(text).is_err(), "{text}");
        }
        assert!(ron::from_str::<Percent>("101").is_err());
        assert!(ron::from_str::<WeeksForm>("(7, 5)").is_err());
        assert!(ron::from_str::<FrostWeeksForm>("(-4, -2)").is_ok());
    }

    #[test]
    fn a_key_used_twice_is_refused() {
        let flat = r#"(key: "a", name: "a", kind: Flat(outer: (value: "5 x 6 in", trust: Own)))"#;
        let refused = containers("t", &format!("(containers: [{flat}, {flat}])")).unwrap_err();
        assert_eq!(refused.to_string(), r#"t: two entries have the key "a""#);
    }

    proptest! {
        #[test]
        fn any_temperature_reads_back_exactly(hundredths in -9_000_i32..13_500, fahrenheit: bool) {
            let text = format!("{} °{}", f64::from(hundredths) / 100.0, if fahrenheit { 'F' } else { 'C' });
            let temperature = Temperature::parse(&text).unwrap();
            prop_assert_eq!(Temperature::parse(&temperature_text(temperature)), Ok(temperature));
        }
    }
}
