//! Version 2 of the season file, the one that is written. Until it is released it may get more, each
//! with a default; then it is closed as version 1 is, and the next one stands beside it.
//!
//! What is usual may be left out, and is left out when written. What that means is spelt out here: a
//! default that changes elsewhere must not change what a file says.

use serde::{Deserialize, Serialize};

use crate::units::Measure;

use crate::store::file::text::{DateText, LengthText, SpanText, TemperatureText};

mod matters;
mod own;
mod room;
mod sowing;
mod tray;
mod usual;
mod what_if;

pub(in crate::store::file) use matters::{MatterV2, MattersV2, PlaceChangeV2, SowingChangeV2, UnwantedV2};
pub(in crate::store::file) use own::*;
pub(in crate::store::file) use room::{
    DoorV2, FloorV2, LightV2, PartOfDayV2, PlaceV2, RackV2, ReachV2, RoleV2, ShelfV2, StandsV2, TemperaturesV2, WallV2,
    ZoneKindV2, ZoneV2,
};
pub(in crate::store::file) use sowing::{
    BegunV2, CountedV2, DelaysV2, GrownV2, LeavesV2, LossV2, LotV2, ObservationV2, OutRuleV2, RuleV2, SeenV2, SlackV2,
    SowingV2, SpacedV2, StackV2, StageV2, StepV2, VerdictV2, WantedV2, WeekdayV2,
};
pub(in crate::store::file) use tray::{GuestV2, NoteV2, RowsV2, SpotV2, TrayV2};
use usual::{is_default, is_usual_watering};
pub(in crate::store::file) use what_if::{ShiftV2, ShiftingV2, WhatIfV2};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "season")]
pub(in crate::store::file) struct SeasonV2 {
    pub(in crate::store::file) format: String,
    pub(in crate::store::file) version: u32,
    pub(in crate::store::file) name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) note: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) settings: SettingsV2,
    /// Only where the numbers in the file do not say it: the last one given out is gone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) next_id: Option<u32>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) away: Vec<AwayV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) crops: Vec<CropV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) containers: Vec<ContainerV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) places: Vec<PlaceV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) racks: Vec<RackV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) shelves: Vec<ShelfV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) sowings: Vec<SowingV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) guests: Vec<GuestV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) notes: Vec<NoteV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) spots: Vec<SpotV2>,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "settings")]
pub(in crate::store::file) struct SettingsV2 {
    pub(in crate::store::file) gap: LengthText,
    pub(in crate::store::file) lamp_gap: LengthText,
    pub(in crate::store::file) sure_percent: u8,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) weeks: WeeksV2,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) frost: Option<FrostV2>,
    #[serde(skip_serializing_if = "is_usual_watering")]
    pub(in crate::store::file) water_every: u8,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) potting: PottingV2,
    #[serde(skip_serializing_if = "is_default")]
    pub(in crate::store::file) matters: MattersV2,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) unwanted: Vec<UnwantedV2>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) what_ifs: Vec<WhatIfV2>,
}

impl Default for SettingsV2 {
    fn default() -> Self {
        Self {
            gap: LengthText(Measure::mm(3)),
            lamp_gap: LengthText(Measure::mm(50)),
            sure_percent: 90,
            weeks: WeeksV2::Iso,
            frost: None,
            water_every: 2,
            potting: PottingV2::PotOn,
            matters: MattersV2::default(),
            unwanted: Vec::new(),
            what_ifs: Vec::new(),
        }
    }
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "potting")]
pub(in crate::store::file) enum PottingV2 {
    #[default]
    PotOn,
    PotUp,
    MoveOn,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "away")]
pub(in crate::store::file) struct AwayV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) span: SpanText,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) waters: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) every_year: bool,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "weeks")]
pub(in crate::store::file) enum WeeksV2 {
    #[default]
    Iso,
    From(DateText),
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost")]
pub(in crate::store::file) struct FrostV2 {
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) later_in_ten: u8,
    pub(in crate::store::file) temperature: TemperatureText,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) station: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) years: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) springs: Option<u16>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) method: FrostMethodV2,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) table: Vec<FrostChanceV2>,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "frost_method")]
pub(in crate::store::file) enum FrostMethodV2 {
    #[default]
    Given,
    Empirical,
    NormalLaw,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost_chance")]
pub(in crate::store::file) struct FrostChanceV2 {
    pub(in crate::store::file) temperature: TemperatureText,
    pub(in crate::store::file) later_in_ten: u8,
    pub(in crate::store::file) date: DateText,
}
