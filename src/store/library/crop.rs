use serde::{Deserialize, Serialize};

use crate::season::{Chill, Crop, CropKey, GerminationTemperatures, Hardening, LatestWeeks, MovingOn, ThermalTime};

use super::forms::{
    Cited, DaysForm, Figure, FrostWeeksForm, GrowthForm, HardinessForm, LightForm, Percent, SeedLightForm,
    SettingDepthForm, TemperatureForm, TransplantsForm, TypedTemperatureForm, WeeksForm, present,
};
use super::sources::{NoSuchSource, Sources};

/// A crop as the library holds it.
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
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    germination_row: Option<String>,
    light_to_germinate: SeedLightForm,
    emergence: Figure<DaysForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    emergence_warmth: Option<Figure<ThermalForm>>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    emergence_row: Option<String>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    leaf_warmth: Option<Figure<ThermalForm>>,
    moving_on: Figure<MovingOnForm>,
    latest: Figure<LatestForm>,
    weeks_to_planting_out: Figure<WeeksForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    weeks_to_sale: Option<Figure<WeeksForm>>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    planting_out_after_frost: Option<Figure<FrostWeeksForm>>,
    hardiness: HardinessForm,
    come_in: Figure<TypedTemperatureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    bolts: Option<Figure<ChillForm>>,
    hardening: Figure<HardeningForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    rooting_days: Option<Figure<u16>>,
    depth: Figure<SettingDepthForm>,
    transplants: TransplantsForm,
    usual_moves: u8,
    #[serde(default)]
    usual_cells: Vec<u16>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    in_open_flat: Option<Figure<u16>>,
    heights: Figure<GrowthForm>,
    spreads: Figure<GrowthForm>,
    /// Its pots are spaced out when leaves meet.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    spaced: bool,
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
            germination_row: self.germination_row,
            light_to_germinate: self.light_to_germinate.into(),
            emergence: cited.figure(self.emergence)?,
            emergence_warmth: cited.if_any(self.emergence_warmth)?,
            emergence_row: self.emergence_row,
            leaf_warmth: cited.if_any(self.leaf_warmth)?,
            moving_on: cited.figure(self.moving_on)?,
            latest: cited.figure(self.latest)?,
            weeks_to_planting_out: cited.figure(self.weeks_to_planting_out)?,
            weeks_to_sale: cited.if_any(self.weeks_to_sale)?,
            planting_out_after_frost: cited.if_any(self.planting_out_after_frost)?,
            hardiness: self.hardiness.into(),
            come_in: cited.figure(self.come_in)?,
            bolts: cited.if_any(self.bolts)?,
            hardening: cited.figure(self.hardening)?,
            rooting_days: cited.if_any(self.rooting_days)?,
            depth: cited.figure(self.depth)?,
            transplants: self.transplants.into(),
            usual_moves: self.usual_moves,
            usual_cells: self.usual_cells,
            in_open_flat: cited.if_any(self.in_open_flat)?,
            heights: cited.figure(self.heights)?,
            spreads: cited.figure(self.spreads)?,
            spaced: self.spaced,
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
            germination_row: crop.germination_row.clone(),
            light_to_germinate: crop.light_to_germinate.into(),
            emergence: Figure::of(&crop.emergence),
            emergence_warmth: crop.emergence_warmth.as_ref().map(Figure::of),
            emergence_row: crop.emergence_row.clone(),
            leaf_warmth: crop.leaf_warmth.as_ref().map(Figure::of),
            moving_on: Figure::of(&crop.moving_on),
            latest: Figure::of(&crop.latest),
            weeks_to_planting_out: Figure::of(&crop.weeks_to_planting_out),
            weeks_to_sale: crop.weeks_to_sale.as_ref().map(Figure::of),
            planting_out_after_frost: crop.planting_out_after_frost.as_ref().map(Figure::of),
            hardiness: crop.hardiness.into(),
            come_in: Figure::of(&crop.come_in),
            bolts: crop.bolts.as_ref().map(Figure::of),
            hardening: Figure::of(&crop.hardening),
            rooting_days: crop.rooting_days.as_ref().map(Figure::of),
            depth: Figure::of(&crop.depth),
            transplants: crop.transplants.into(),
            usual_moves: crop.usual_moves,
            usual_cells: crop.usual_cells.clone(),
            in_open_flat: crop.in_open_flat.as_ref().map(Figure::of),
            heights: Figure::of(&crop.heights),
            spreads: Figure::of(&crop.spreads),
            spaced: crop.spaced,
            light: crop.light.as_ref().map(Figure::of),
            seeds_per_gram: crop.seeds_per_gram,
            before_sowing: crop.before_sowing.clone(),
        }
    }
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
#[serde(deny_unknown_fields, rename = "ThermalTime")]
struct ThermalForm {
    base: TemperatureForm,
    degree_days: f64,
    low: TemperatureForm,
    high: TemperatureForm,
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
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    litre: Option<u8>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    gallon: Option<u8>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    in_days: bool,
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
    ThermalForm = ThermalTime { base, degree_days as_is, low, high }
    MovingOnForm = MovingOn { true_leaves as_is, days }
    LatestForm = LatestWeeks { small as_is, medium as_is, large as_is, pot as_is, litre as_is, gallon as_is, in_days as_is }
    ChillForm = Chill { below, days as_is, words as_is }
    HardeningForm = Hardening { days as_is, first_night_after as_is }
}
