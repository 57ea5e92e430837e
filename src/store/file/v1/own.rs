//! Crops and containers of the grower's own, as version V1 of the season file holds them: every
//! figure with its source in full.

use serde::Deserialize;

use crate::store::file::text::{DegreesText, LengthText, SizeText, TemperatureText, VolumeText};

/// A value beside its trust and source.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store::file) struct FigureV1<T> {
    pub(in crate::store::file) value: T,
    pub(in crate::store::file) trust: TrustV1,
    #[serde(default)]
    pub(in crate::store::file) source: String,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "trust")]
pub(in crate::store::file) enum TrustV1 {
    Published,
    Derived,
    CommonPractice,
    FromMemory,
    Own,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Crop")]
pub(in crate::store::file) struct CropV1 {
    pub(in crate::store::file) key: String,
    pub(in crate::store::file) name: String,
    #[serde(default)]
    pub(in crate::store::file) latin: String,
    pub(in crate::store::file) family: String,
    pub(in crate::store::file) mark: String,
    pub(in crate::store::file) germination_percent: FigureV1<u8>,
    #[serde(default)]
    pub(in crate::store::file) germination_legal_percent: Option<u8>,
    #[serde(default)]
    pub(in crate::store::file) germination_temperatures: Option<FigureV1<GerminationV1>>,
    pub(in crate::store::file) light_to_germinate: SeedLightV1,
    pub(in crate::store::file) emergence: FigureV1<(u16, u16, u16)>,
    #[serde(default)]
    pub(in crate::store::file) emergence_warmth: Option<FigureV1<ThermalV1>>,
    #[serde(default)]
    pub(in crate::store::file) emergence_row: Option<String>,
    #[serde(default)]
    pub(in crate::store::file) leaf_warmth: Option<FigureV1<ThermalV1>>,
    pub(in crate::store::file) moving_on: FigureV1<MovingOnV1>,
    pub(in crate::store::file) latest: FigureV1<LatestV1>,
    pub(in crate::store::file) weeks_to_planting_out: FigureV1<(u8, u8)>,
    #[serde(default)]
    pub(in crate::store::file) planting_out_after_frost: Option<FigureV1<(i8, i8)>>,
    pub(in crate::store::file) hardiness: HardinessV1,
    pub(in crate::store::file) come_in: FigureV1<TemperatureText>,
    #[serde(default)]
    pub(in crate::store::file) bolts: Option<FigureV1<ChillV1>>,
    pub(in crate::store::file) hardening: FigureV1<HardeningV1>,
    pub(in crate::store::file) depth: FigureV1<SettingDepthV1>,
    pub(in crate::store::file) transplants: TransplantsV1,
    pub(in crate::store::file) usual_moves: u8,
    #[serde(default)]
    pub(in crate::store::file) usual_cells: Vec<u16>,
    pub(in crate::store::file) heights: FigureV1<Vec<(f64, f64)>>,
    pub(in crate::store::file) spreads: FigureV1<Vec<(f64, f64)>>,
    #[serde(default)]
    pub(in crate::store::file) light: Option<FigureV1<(f64, f64)>>,
    #[serde(default)]
    pub(in crate::store::file) seeds_per_gram: Option<u32>,
    #[serde(default)]
    pub(in crate::store::file) before_sowing: String,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "SeedLight")]
pub(in crate::store::file) enum SeedLightV1 {
    Light,
    Dark,
    Either,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "Hardiness")]
pub(in crate::store::file) enum HardinessV1 {
    Hardy,
    HalfHardy,
    Tender,
    VeryTender,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "SettingDepth")]
pub(in crate::store::file) enum SettingDepthV1 {
    Deep,
    Collar,
    Either,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "Transplants")]
pub(in crate::store::file) enum TransplantsV1 {
    Easily,
    Moderately,
    Poorly,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "GerminationTemperatures")]
pub(in crate::store::file) struct GerminationV1 {
    #[serde(default)]
    pub(in crate::store::file) min: Option<DegreesText>,
    #[serde(default)]
    pub(in crate::store::file) best_low: Option<DegreesText>,
    #[serde(default)]
    pub(in crate::store::file) best_high: Option<DegreesText>,
    #[serde(default)]
    pub(in crate::store::file) max: Option<DegreesText>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "ThermalTime")]
pub(in crate::store::file) struct ThermalV1 {
    pub(in crate::store::file) base: DegreesText,
    pub(in crate::store::file) degree_days: f64,
    pub(in crate::store::file) low: DegreesText,
    pub(in crate::store::file) high: DegreesText,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "MovingOn")]
pub(in crate::store::file) struct MovingOnV1 {
    #[serde(default)]
    pub(in crate::store::file) true_leaves: Option<u8>,
    pub(in crate::store::file) days: (u16, u16, u16),
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "LatestWeeks")]
pub(in crate::store::file) struct LatestV1 {
    #[serde(default)]
    pub(in crate::store::file) small: Option<u8>,
    #[serde(default)]
    pub(in crate::store::file) medium: Option<u8>,
    #[serde(default)]
    pub(in crate::store::file) large: Option<u8>,
    #[serde(default)]
    pub(in crate::store::file) pot: Option<u8>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Chill")]
pub(in crate::store::file) struct ChillV1 {
    pub(in crate::store::file) below: DegreesText,
    pub(in crate::store::file) days: u16,
    #[serde(default)]
    pub(in crate::store::file) words: String,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Hardening")]
pub(in crate::store::file) struct HardeningV1 {
    pub(in crate::store::file) days: u16,
    pub(in crate::store::file) first_night_after: u16,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Container")]
pub(in crate::store::file) struct ContainerV1 {
    pub(in crate::store::file) key: String,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) kind: KindV1,
    #[serde(default)]
    pub(in crate::store::file) height: Option<LengthText>,
    #[serde(default)]
    pub(in crate::store::file) note: String,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Kind")]
pub(in crate::store::file) enum KindV1 {
    Flat {
        outer: FigureV1<SizeText>,
        #[serde(default)]
        floor: Option<FigureV1<SizeText>>,
    },
    Plug {
        outer: FigureV1<SizeText>,
        cells: u16,
        #[serde(default)]
        grid: Option<(u16, u16)>,
        #[serde(default)]
        cell_top: Option<LengthText>,
        #[serde(default)]
        cell_volume: Option<FigureV1<VolumeText>>,
    },
    Pot {
        rim: RimShapeV1,
        top: FigureV1<LengthText>,
        #[serde(default)]
        bottom: Option<FigureV1<LengthText>>,
        #[serde(default)]
        volume: Option<FigureV1<VolumeText>>,
        #[serde(default)]
        per_flat: Option<u16>,
    },
    Class {
        low: VolumeText,
        high: VolumeText,
        trust: TrustV1,
        #[serde(default)]
        source: String,
    },
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "RimShape")]
pub(in crate::store::file) enum RimShapeV1 {
    Square,
    Round,
}
