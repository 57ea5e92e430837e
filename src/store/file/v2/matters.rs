//! What the grower minds, as the file says it.

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
    pub(in crate::store::file) smaller: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) fewer: MatterV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) buying: MatterV2,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "matter")]
pub(in crate::store::file) enum MatterV2 {
    Little,
    #[default]
    Fairly,
    Much,
}
