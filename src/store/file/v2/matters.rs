//! What the grower minds, and does not want at all, as the file says it.

use serde::{Deserialize, Serialize};

use super::is_default;

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "matters")]
pub(in crate::store::file) struct MattersV2 {
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) held: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) sown: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) out: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) outside: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) smaller: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) fewer: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) buying: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) dark: MatterV2,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "matter")]
pub(in crate::store::file) enum MatterV2 {
    Little,
    #[default]
    Fairly,
    Much,
}

/// The number is that of the sowing or place.
#[derive(PartialEq, Serialize, Deserialize)]
#[serde(rename = "unwanted")]
pub(in crate::store::file) enum UnwantedV2 {
    OfSowing(u32, SowingChangeV2),
    OfPlace(u32, PlaceChangeV2),
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(rename = "sowing_change")]
pub(in crate::store::file) enum SowingChangeV2 {
    Held,
    Sown,
    Out,
    Hardened,
    Container,
    Tight,
    Fewer,
    Shared,
    GappedUp,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(rename = "place_change")]
pub(in crate::store::file) enum PlaceChangeV2 {
    Shelves,
    Lamps,
    Edges,
    Open,
}
