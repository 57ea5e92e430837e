//! Places, racks and shelves, as version V2 of the season file holds them.

use serde::{Deserialize, Serialize};

use crate::store::file::text::{LengthText, SizeText, SpanText, TemperatureText};

use super::usual::{is_default, is_nothing, is_one, nothing, one};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "place")]
pub(in crate::store::file) struct PlaceV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) role: RoleV2,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) part: PartOfDayV2,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) open: Vec<SpanText>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) temperatures: TemperaturesV2,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) light: LightV2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) floor: Option<FloorV2>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "floor")]
pub(in crate::store::file) struct FloorV2 {
    pub(in crate::store::file) size: SizeText,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) doors: Vec<DoorV2>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) barrow: Option<LengthText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "door")]
pub(in crate::store::file) struct DoorV2 {
    pub(in crate::store::file) wall: WallV2,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) along: LengthText,
    pub(in crate::store::file) width: LengthText,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "wall")]
pub(in crate::store::file) enum WallV2 {
    Back,
    Right,
    Front,
    Left,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "stands")]
pub(in crate::store::file) struct StandsV2 {
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) x: LengthText,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) y: LengthText,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) quarter_turns: u8,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "light")]
pub(in crate::store::file) enum LightV2 {
    #[default]
    Lamps,
    Daylight,
    Dark,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "role")]
pub(in crate::store::file) enum RoleV2 {
    Germinating,
    Growing,
    Hardening,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "part_of_day")]
pub(in crate::store::file) enum PartOfDayV2 {
    #[default]
    Whole,
    Days,
    Nights,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "temperatures")]
pub(in crate::store::file) struct TemperaturesV2 {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) day: Option<TemperatureText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) night: Option<TemperatureText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) mat: Option<TemperatureText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "rack")]
pub(in crate::store::file) struct RackV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) place: u32,
    pub(in crate::store::file) name: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) position: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) stands: Option<StandsV2>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "shelf")]
pub(in crate::store::file) struct ShelfV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) rack: u32,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(in crate::store::file) tier: u32,
    pub(in crate::store::file) size: SizeText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) clear_height: Option<LengthText>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) reach: ReachV2,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) overhang: LengthText,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) allowance_percent: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) load_grams: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) light: Option<LightV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) closed: Vec<SpanText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) zones: Vec<ZoneV2>,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "reach")]
pub(in crate::store::file) enum ReachV2 {
    #[default]
    OneSide,
    BothSides,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "zone")]
pub(in crate::store::file) struct ZoneV2 {
    pub(in crate::store::file) kind: ZoneKindV2,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) x: LengthText,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(in crate::store::file) y: LengthText,
    pub(in crate::store::file) size: SizeText,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "zone_kind")]
pub(in crate::store::file) enum ZoneKindV2 {
    Lamp,
    Heat,
}
