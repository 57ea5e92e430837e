//! How the season might go otherwise, as version V2 of the season file holds it.

use serde::{Deserialize, Serialize};

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "what_if")]
pub(in crate::store::file) struct WhatIfV2 {
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) shifts: Vec<ShiftV2>,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "shift")]
pub(in crate::store::file) struct ShiftV2 {
    pub(in crate::store::file) what: ShiftingV2,
    pub(in crate::store::file) days: i16,
}

/// A family of crops by its name, or all crops; a place by its number.
#[derive(PartialEq, Serialize, Deserialize)]
#[serde(rename = "shifting")]
pub(in crate::store::file) enum ShiftingV2 {
    LastFrost,
    Out(Option<String>),
    Sowing(Option<String>),
    Place(u32),
}
