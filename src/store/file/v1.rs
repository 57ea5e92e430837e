//! Version 1 of the season file, as it was released: these structs are never edited. A later
//! version gets its own, and a `From` for the one before.
//!
//! What is usual may be left out, and is left out when written.

use serde::{Deserialize, Serialize};

use crate::season::Settings;
use crate::store::library::{ContainerFile, CropFile};
use crate::units::Measure;

use super::text::{DateText, LengthText, PlaceText, SizeText, SpanText, TemperatureText};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "season")]
pub(super) struct SeasonV1 {
    pub(super) format: String,
    pub(super) version: u32,
    pub(super) name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) note: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) settings: SettingsV1,
    /// Only where the numbers in the file do not say it: the last one given out is gone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) next_id: Option<u32>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) crops: Vec<CropFile>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) containers: Vec<ContainerFile>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) places: Vec<PlaceV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) racks: Vec<RackV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) shelves: Vec<ShelfV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) sowings: Vec<SowingV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) guests: Vec<GuestV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) notes: Vec<NoteV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) spots: Vec<SpotV1>,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "settings")]
pub(super) struct SettingsV1 {
    pub(super) gap: LengthText,
    pub(super) lamp_gap: LengthText,
    pub(super) sure_percent: u8,
    #[serde(skip_serializing_if = "is_default")]
    pub(super) weeks: WeeksV1,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) frost: Option<FrostV1>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) away: Vec<AwayV1>,
    #[serde(skip_serializing_if = "is_usual_watering")]
    pub(super) water_every: u8,
}

impl Default for SettingsV1 {
    fn default() -> Self {
        Self::from(&Settings::default())
    }
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "away")]
pub(super) struct AwayV1 {
    pub(super) name: String,
    pub(super) span: SpanText,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) waters: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) every_year: bool,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "weeks")]
pub(super) enum WeeksV1 {
    #[default]
    Iso,
    From(DateText),
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost")]
pub(super) struct FrostV1 {
    pub(super) date: DateText,
    pub(super) later_in_ten: u8,
    pub(super) temperature: TemperatureText,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) station: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) years: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) springs: Option<u16>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) method: FrostMethodV1,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) table: Vec<FrostChanceV1>,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "frost_method")]
pub(super) enum FrostMethodV1 {
    #[default]
    Given,
    Empirical,
    NormalLaw,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost_chance")]
pub(super) struct FrostChanceV1 {
    pub(super) temperature: TemperatureText,
    pub(super) later_in_ten: u8,
    pub(super) date: DateText,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "place")]
pub(super) struct PlaceV1 {
    pub(super) id: u32,
    pub(super) name: String,
    pub(super) role: RoleV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) part: PartOfDayV1,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) open: Vec<SpanText>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) temperatures: TemperaturesV1,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "role")]
pub(super) enum RoleV1 {
    Germinating,
    Growing,
    Hardening,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "part_of_day")]
pub(super) enum PartOfDayV1 {
    #[default]
    Whole,
    Days,
    Nights,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "temperatures")]
pub(super) struct TemperaturesV1 {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) day: Option<TemperatureText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) night: Option<TemperatureText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) mat: Option<TemperatureText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "rack")]
pub(super) struct RackV1 {
    pub(super) id: u32,
    pub(super) place: u32,
    pub(super) name: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) position: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "shelf")]
pub(super) struct ShelfV1 {
    pub(super) id: u32,
    pub(super) rack: u32,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(super) tier: u32,
    pub(super) size: SizeText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) clear_height: Option<LengthText>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) reach: ReachV1,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(super) overhang: LengthText,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) allowance_percent: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) load_grams: Option<u32>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) closed: Vec<SpanText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) zones: Vec<ZoneV1>,
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "reach")]
pub(super) enum ReachV1 {
    #[default]
    OneSide,
    BothSides,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "zone")]
pub(super) struct ZoneV1 {
    pub(super) kind: ZoneKindV1,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(super) x: LengthText,
    #[serde(default = "nothing", skip_serializing_if = "is_nothing")]
    pub(super) y: LengthText,
    pub(super) size: SizeText,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename = "zone_kind")]
pub(super) enum ZoneKindV1 {
    Lamp,
    Heat,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "sowing")]
pub(super) struct SowingV1 {
    pub(super) id: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) series: Option<String>,
    pub(super) crop: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) variety: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) begun: Option<BegunV1>,
    pub(super) wanted: Vec<WantedV1>,
    pub(super) steps: Vec<StepV1>,
    pub(super) lots: Vec<LotV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) seen: Vec<ObservationV1>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(super) seeds_per_cell: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) germination_percent: Option<u8>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) germination_from: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) losses_percent: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) stack: Option<StackV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) bottom_heat: Option<bool>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) note: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "begun")]
pub(super) struct BegunV1 {
    pub(super) on: DateText,
    pub(super) stage: StageV1,
}

#[derive(Serialize, Deserialize)]
#[serde(rename = "stage")]
pub(super) enum StageV1 {
    Sown,
    Up,
    TrueLeaves(u8),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "number_wanted")]
pub(super) struct WantedV1 {
    pub(super) date: DateText,
    pub(super) plants: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) rule: OutRuleV1,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "out_rule")]
pub(super) enum OutRuleV1 {
    #[default]
    Day,
    Frost {
        days: i16,
        #[serde(default, skip_serializing_if = "is_default")]
        waits: bool,
    },
    Nth {
        nth: i8,
        weekday: WeekdayV1,
        month: u8,
    },
    Week {
        week: i16,
        weekday: WeekdayV1,
    },
}

#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename = "weekday")]
pub(super) enum WeekdayV1 {
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
pub(super) struct StepV1 {
    pub(super) id: u32,
    pub(super) container: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) carried_in: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) per_tray: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) start: RuleV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) slack: Option<SlackV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) spaced: Option<SpacedV1>,
}

#[derive(Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "start")]
pub(super) enum RuleV1 {
    #[default]
    WhenDue,
    On(DateText),
    DaysAfterSowing(u16),
    DaysBeforeOut(u16),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "slack")]
pub(super) struct SlackV1 {
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) early: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) late: u16,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "spacing")]
pub(super) struct SpacedV1 {
    pub(super) after_days: u16,
    pub(super) pitch: LengthText,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "lot")]
pub(super) struct LotV1 {
    pub(super) id: u32,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(super) share: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) later: u16,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "stack")]
pub(super) struct StackV1 {
    pub(super) days: u16,
    pub(super) high: u16,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "observation")]
pub(super) struct ObservationV1 {
    pub(super) date: DateText,
    pub(super) what: SeenV1,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "seen")]
pub(super) enum SeenV1 {
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
        why: LossV1,
    },
    PutOut(u32),
    Sold(u32),
    GappedUp,
    Grown(GrownV1),
}

#[derive(Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename = "loss")]
pub(super) enum LossV1 {
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
pub(super) enum GrownV1 {
    TooSmall,
    Right,
    TooBig,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "guest")]
pub(super) struct GuestV1 {
    pub(super) id: u32,
    pub(super) name: String,
    pub(super) size: SizeText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) height: Option<LengthText>,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(super) number: u16,
    pub(super) span: SpanText,
    pub(super) role: RoleV1,
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub(super) light: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "note")]
pub(super) struct NoteV1 {
    pub(super) tray: TrayV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) mark: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) rows: Vec<RowsV1>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) parents: Vec<TrayV1>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "tray")]
pub(super) enum TrayV1 {
    Own { lot: u32, step: u32, n: u32 },
    Shared(u32),
    Guest { guest: u32, n: u32 },
}

/// `until` is the first row that is not among them.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "rows")]
pub(super) struct RowsV1 {
    pub(super) from: u16,
    pub(super) until: u16,
    pub(super) lot: u32,
    pub(super) step: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "spot")]
pub(super) struct SpotV1 {
    pub(super) tray: TrayV1,
    /// From the tray's start where nothing stands here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) from: Option<DateText>,
    /// Taken up then, with nowhere to go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) until: Option<DateText>,
    pub(super) shelf: u32,
    pub(super) x: PlaceText,
    pub(super) y: PlaceText,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) quarter_turns: u8,
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) pinned: bool,
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
fn is_usual_watering(days: &u8) -> bool {
    *days == Settings::default().water_every
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
