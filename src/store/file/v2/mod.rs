//! Version 2 of the season file, the one that is written. Until it is released it may get more, each
//! with a default; then it is closed as version 1 is, and the next one stands beside it.
//!
//! What is usual may be left out, and is left out when written. What that means is spelt out here: a
//! default that changes elsewhere must not change what a file says.

use serde::{Deserialize, Serialize};

use crate::units::Measure;

use crate::store::file::text::{DateText, LengthText, PlaceText, SizeText, SpanText, TemperatureText};

mod own;

pub(in crate::store::file) use own::*;

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

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
fn is_usual_watering(days: &u8) -> bool {
    *days == 2
}

fn one<T: From<u8>>() -> T {
    T::from(1)
}

fn is_one<T: From<u8> + PartialEq>(value: &T) -> bool {
    *value == T::from(1)
}

const fn yes() -> bool {
    true
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
const fn is_yes(value: &bool) -> bool {
    *value
}

fn nothing() -> LengthText {
    LengthText(Measure::mm(0))
}

/// As typed: `0 in` is written.
fn is_nothing(value: &LengthText) -> bool {
    *value == nothing()
}
