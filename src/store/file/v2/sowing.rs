//! Sowings and what was seen of them, as version V2 of the season file holds them.

use serde::{Deserialize, Serialize};

use crate::store::file::text::{DateText, LengthText};

use super::usual::{is_default, is_one, one};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "sowing")]
pub(in crate::store::file) struct SowingV2 {
    pub(in crate::store::file) id: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) series: Option<String>,
    pub(in crate::store::file) crop: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) variety: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) begun: Option<BegunV2>,
    pub(in crate::store::file) wanted: Vec<WantedV2>,
    pub(in crate::store::file) steps: Vec<StepV2>,
    pub(in crate::store::file) lots: Vec<LotV2>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) seen: Vec<ObservationV2>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(in crate::store::file) seeds_per_cell: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) germination_percent: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) germination_from: Option<CountedV2>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) losses_percent: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) stack: Option<StackV2>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) bottom_heat: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) harden_days: Option<u16>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) alone: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) again_of: Option<u32>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::store::file) verdicts: Vec<VerdictV2>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::store::file) note: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "verdict")]
pub(in crate::store::file) struct VerdictV2 {
    pub(in crate::store::file) grown: GrownV2,
    pub(in crate::store::file) days: u16,
    pub(in crate::store::file) year: i32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "counted")]
pub(in crate::store::file) struct CountedV2 {
    pub(in crate::store::file) up: u32,
    pub(in crate::store::file) sown: u32,
    pub(in crate::store::file) year: i32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "begun")]
pub(in crate::store::file) struct BegunV2 {
    pub(in crate::store::file) on: DateText,
    pub(in crate::store::file) stage: StageV2,
}

#[derive(Serialize, Deserialize)]
#[serde(rename = "stage")]
pub(in crate::store::file) enum StageV2 {
    Sown,
    Up,
    TrueLeaves(u8),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "number_wanted")]
pub(in crate::store::file) struct WantedV2 {
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) plants: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) rule: OutRuleV2,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) to_sell: bool,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "out_rule")]
pub(in crate::store::file) enum OutRuleV2 {
    #[default]
    Day,
    Frost {
        days: i16,
        #[serde(default, skip_serializing_if = "is_default")]
        waits: bool,
    },
    Nth {
        nth: i8,
        weekday: WeekdayV2,
        month: u8,
    },
    Week {
        week: i16,
        weekday: WeekdayV2,
    },
}

#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename = "weekday")]
pub(in crate::store::file) enum WeekdayV2 {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "step")]
pub(in crate::store::file) struct StepV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) container: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) carried_in: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) per_tray: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) start: RuleV2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) slack: Option<SlackV2>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) spaced: Option<SpacedV2>,
    /// Where no spacing of the grower's own is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) leaves: Option<LeavesV2>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename = "leaves")]
pub(in crate::store::file) enum LeavesV2 {
    MayMeet,
    Apart,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "start")]
pub(in crate::store::file) enum RuleV2 {
    #[default]
    WhenDue,
    On(DateText),
    DaysAfterSowing(u16),
    DaysBeforeOut(u16),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "slack")]
pub(in crate::store::file) struct SlackV2 {
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) early: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) late: u16,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "spacing")]
pub(in crate::store::file) struct SpacedV2 {
    pub(in crate::store::file) after_days: u16,
    pub(in crate::store::file) pitch: LengthText,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "lot")]
pub(in crate::store::file) struct LotV2 {
    pub(in crate::store::file) id: u32,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(in crate::store::file) share: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) later: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(in crate::store::file) delays: DelaysV2,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "delays")]
pub(in crate::store::file) enum DelaysV2 {
    Sowing,
    #[default]
    MovingOn,
    Out,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "stack")]
pub(in crate::store::file) struct StackV2 {
    pub(in crate::store::file) days: u16,
    pub(in crate::store::file) high: u16,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "observation")]
pub(in crate::store::file) struct ObservationV2 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) what: SeenV2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::store::file) lot: Option<u32>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "seen")]
pub(in crate::store::file) enum SeenV2 {
    Sown,
    SownCells(u32),
    Up {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        plants: Option<u32>,
    },
    TrueLeaves(u8),
    MovedOn(u32),
    Lost(u32),
    LostTo {
        plants: u32,
        why: LossV2,
    },
    PutOut(u32),
    Sold(u32),
    GappedUp,
    Prepared,
    Unstacked,
    SpacedOut,
    HardeningBegun,
    NightOut,
    Grown(GrownV2),
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "loss")]
pub(in crate::store::file) enum LossV2 {
    #[default]
    NotKnown,
    DampingOff,
    TooDry,
    TooWet,
    Cold,
    Heat,
    Pests,
    Handling,
    Surplus,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "grown")]
pub(in crate::store::file) enum GrownV2 {
    TooSmall,
    Right,
    TooBig,
}
