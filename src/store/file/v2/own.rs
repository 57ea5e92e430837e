//! Crops and containers of the grower's own, as version V2 of the season file holds them: every
//! figure with its source in full.

use serde::{Deserialize, Serialize};

use crate::store::file::text::{DegreesText, LengthText, SizeText, TemperatureText, VolumeText};

/// A value beside its trust and source.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store::file) struct FigureV2<T> {
    pub(in crate::store::file) value: T,
    pub(in crate::store::file) trust: TrustV2,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) source: String,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "trust")]
pub(in crate::store::file) enum TrustV2 {
    Published,
    Derived,
    CommonPractice,
    FromMemory,
    Own,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Crop")]
pub(in crate::store::file) struct CropV2 {
    pub(in crate::store::file) key: String,
    pub(in crate::store::file) name: String,
    #[serde(default)]
    pub(in crate::store::file) latin: String,
    pub(in crate::store::file) family: String,
    pub(in crate::store::file) mark: String,
    pub(in crate::store::file) germination_percent: FigureV2<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) germination_legal_percent: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) germination_temperatures: Option<FigureV2<GerminationV2>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) germination_row: Option<String>,
    pub(in crate::store::file) light_to_germinate: SeedLightV2,
    pub(in crate::store::file) emergence: FigureV2<(u16, u16, u16)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) emergence_warmth: Option<FigureV2<ThermalV2>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) emergence_row: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) leaf_warmth: Option<FigureV2<ThermalV2>>,
    pub(in crate::store::file) moving_on: FigureV2<MovingOnV2>,
    pub(in crate::store::file) latest: FigureV2<LatestV2>,
    pub(in crate::store::file) weeks_to_planting_out: FigureV2<(u8, u8)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) weeks_to_sale: Option<FigureV2<(u8, u8)>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) planting_out_after_frost: Option<FigureV2<(i8, i8)>>,
    pub(in crate::store::file) hardiness: HardinessV2,
    pub(in crate::store::file) come_in: FigureV2<TemperatureText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) bolts: Option<FigureV2<ChillV2>>,
    pub(in crate::store::file) hardening: FigureV2<HardeningV2>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) rooting_days: Option<FigureV2<u16>>,
    pub(in crate::store::file) depth: FigureV2<SettingDepthV2>,
    pub(in crate::store::file) transplants: TransplantsV2,
    pub(in crate::store::file) usual_moves: u8,
    #[serde(default)]
    pub(in crate::store::file) usual_cells: Vec<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) in_open_flat: Option<FigureV2<u16>>,
    pub(in crate::store::file) heights: FigureV2<Vec<(f64, f64)>>,
    pub(in crate::store::file) spreads: FigureV2<Vec<(f64, f64)>>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(in crate::store::file) spaced: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) light: Option<FigureV2<(f64, f64)>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) seeds_per_gram: Option<u32>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) before_sowing: String,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "SeedLight")]
pub(in crate::store::file) enum SeedLightV2 {
    Light,
    Dark,
    Either,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "Hardiness")]
pub(in crate::store::file) enum HardinessV2 {
    Hardy,
    HalfHardy,
    Tender,
    VeryTender,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "SettingDepth")]
pub(in crate::store::file) enum SettingDepthV2 {
    Deep,
    Collar,
    Either,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "Transplants")]
pub(in crate::store::file) enum TransplantsV2 {
    Easily,
    Moderately,
    Poorly,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "GerminationTemperatures")]
pub(in crate::store::file) struct GerminationV2 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) min: Option<DegreesText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) best_low: Option<DegreesText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) best_high: Option<DegreesText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) max: Option<DegreesText>,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "ThermalTime")]
pub(in crate::store::file) struct ThermalV2 {
    pub(in crate::store::file) base: DegreesText,
    pub(in crate::store::file) degree_days: f64,
    pub(in crate::store::file) low: DegreesText,
    pub(in crate::store::file) high: DegreesText,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "MovingOn")]
pub(in crate::store::file) struct MovingOnV2 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) true_leaves: Option<u8>,
    pub(in crate::store::file) days: (u16, u16, u16),
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "LatestWeeks")]
pub(in crate::store::file) struct LatestV2 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) small: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) medium: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) large: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) pot: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) litre: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) gallon: Option<u8>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(in crate::store::file) in_days: bool,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Chill")]
pub(in crate::store::file) struct ChillV2 {
    pub(in crate::store::file) below: DegreesText,
    pub(in crate::store::file) days: u16,
    #[serde(default)]
    pub(in crate::store::file) words: String,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Hardening")]
pub(in crate::store::file) struct HardeningV2 {
    pub(in crate::store::file) days: u16,
    pub(in crate::store::file) first_night_after: u16,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Container")]
pub(in crate::store::file) struct ContainerV2 {
    pub(in crate::store::file) key: String,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) kind: KindV2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) height: Option<LengthText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) dome: Option<LengthText>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) note: String,
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Kind")]
pub(in crate::store::file) enum KindV2 {
    Flat {
        outer: FigureV2<SizeText>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        floor: Option<FigureV2<SizeText>>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pockets: Option<u16>,
    },
    Plug {
        outer: FigureV2<SizeText>,
        cells: u16,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        grid: Option<(u16, u16)>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cell_top: Option<LengthText>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cell_volume: Option<FigureV2<VolumeText>>,
    },
    Pot {
        rim: RimShapeV2,
        top: FigureV2<LengthText>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bottom: Option<FigureV2<LengthText>>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        volume: Option<FigureV2<VolumeText>>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        brim: Option<FigureV2<VolumeText>>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        per_flat: Option<u16>,
    },
    Class {
        low: VolumeText,
        high: VolumeText,
        trust: TrustV2,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        source: String,
    },
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "RimShape")]
pub(in crate::store::file) enum RimShapeV2 {
    Square,
    Round,
}
