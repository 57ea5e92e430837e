//! Other plants, trays and their spots, as version V2 of the season file holds them.

use serde::{Deserialize, Serialize};

use crate::store::file::text::{DateText, LengthText, PlaceText, SizeText, SpanText};

use super::room::RoleV2;
use super::usual::{is_default, is_one, is_yes, one, yes};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "guest")]
pub(in crate::store::file) struct GuestV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) size: SizeText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) height: Option<LengthText>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(in crate::store::file) number: u16,
    pub(in crate::store::file) span: SpanText,
    pub(in crate::store::file) role: RoleV2,
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub(in crate::store::file) light: bool,
    /// By its size where it is missing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) grams: Option<u32>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "note")]
pub(in crate::store::file) struct NoteV2 {
    pub(in crate::store::file) tray: TrayV2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) mark: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) rows: Vec<RowsV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) parents: Vec<TrayV2>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "tray")]
pub(in crate::store::file) enum TrayV2 {
    Own { lot: u32, step: u32, n: u32 },
    Shared(u32),
    Guest { guest: u32, n: u32 },
}

/// `until` is the first row that is not among them; so is the second of the cells.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "rows")]
pub(in crate::store::file) struct RowsV2 {
    pub(in crate::store::file) from: u16,
    pub(in crate::store::file) until: u16,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) cells: Option<(u16, u16)>,
    pub(in crate::store::file) lot: u32,
    pub(in crate::store::file) step: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "spot")]
pub(in crate::store::file) struct SpotV2 {
    pub(in crate::store::file) tray: TrayV2,
    /// From the tray's start where nothing stands here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) from: Option<DateText>,
    /// Taken up then, with nowhere to go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) until: Option<DateText>,
    pub(in crate::store::file) shelf: u32,
    pub(in crate::store::file) x: PlaceText,
    pub(in crate::store::file) y: PlaceText,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) quarter_turns: u8,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) pinned: bool,
}
