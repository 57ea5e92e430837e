//! Version 1 of the season file: closed, these structs are never edited. They are only read, and
//! become those of the next version.
//!
//! What is usual may be left out; what that means is spelt out here, and nothing live is asked.

use serde::Deserialize;

use crate::units::Measure;

use crate::store::file::text::{DateText, LengthText, PlaceText, SizeText, SpanText, TemperatureText};

mod own;

pub(in crate::store::file) use own::*;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "season")]
pub(in crate::store::file) struct SeasonV1 {
    pub(in crate::store::file) format: String,
    #[expect(dead_code, reason = "the header has told it already")]
    pub(in crate::store::file) version: u32,
    pub(in crate::store::file) name: String,
    #[serde(default)]
    pub(in crate::store::file) note: String,
    #[serde(default)]
    pub(in crate::store::file) settings: SettingsV1,
    /// Only where the numbers in the file do not say it: the last one given out is gone.
    #[serde(default)]
    pub(in crate::store::file) next_id: Option<u32>,
    #[serde(default)]
    pub(in crate::store::file) crops: Vec<CropV1>,
    #[serde(default)]
    pub(in crate::store::file) containers: Vec<ContainerV1>,
    #[serde(default)]
    pub(in crate::store::file) places: Vec<PlaceV1>,
    #[serde(default)]
    pub(in crate::store::file) racks: Vec<RackV1>,
    #[serde(default)]
    pub(in crate::store::file) shelves: Vec<ShelfV1>,
    #[serde(default)]
    pub(in crate::store::file) sowings: Vec<SowingV1>,
    #[serde(default)]
    pub(in crate::store::file) guests: Vec<GuestV1>,
    #[serde(default)]
    pub(in crate::store::file) notes: Vec<NoteV1>,
    #[serde(default)]
    pub(in crate::store::file) spots: Vec<SpotV1>,
}

#[derive(PartialEq, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "settings")]
pub(in crate::store::file) struct SettingsV1 {
    pub(in crate::store::file) gap: LengthText,
    pub(in crate::store::file) lamp_gap: LengthText,
    pub(in crate::store::file) sure_percent: u8,
    pub(in crate::store::file) weeks: WeeksV1,
    pub(in crate::store::file) frost: Option<FrostV1>,
    pub(in crate::store::file) away: Vec<AwayV1>,
    pub(in crate::store::file) water_every: u8,
}

impl Default for SettingsV1 {
    fn default() -> Self {
        Self {
            gap: LengthText(Measure::mm(3)),
            lamp_gap: LengthText(Measure::mm(50)),
            sure_percent: 90,
            weeks: WeeksV1::Iso,
            frost: None,
            away: Vec::new(),
            water_every: 2,
        }
    }
}

#[derive(PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "away")]
pub(in crate::store::file) struct AwayV1 {
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) span: SpanText,
    #[serde(default)]
    pub(in crate::store::file) waters: String,
    #[serde(default)]
    pub(in crate::store::file) every_year: bool,
}

#[derive(Default, PartialEq, Deserialize)]
#[serde(rename = "weeks")]
pub(in crate::store::file) enum WeeksV1 {
    #[default]
    Iso,
    From(DateText),
}

#[derive(PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost")]
pub(in crate::store::file) struct FrostV1 {
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) later_in_ten: u8,
    pub(in crate::store::file) temperature: TemperatureText,
    #[serde(default)]
    pub(in crate::store::file) station: String,
    #[serde(default)]
    pub(in crate::store::file) years: String,
    #[serde(default)]
    pub(in crate::store::file) springs: Option<u16>,
    #[serde(default)]
    pub(in crate::store::file) method: FrostMethodV1,
    #[serde(default)]
    pub(in crate::store::file) table: Vec<FrostChanceV1>,
}

#[derive(Clone, Copy, Default, PartialEq, Deserialize)]
#[serde(rename = "frost_method")]
pub(in crate::store::file) enum FrostMethodV1 {
    #[default]
    Given,
    Empirical,
    NormalLaw,
}

#[derive(PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "frost_chance")]
pub(in crate::store::file) struct FrostChanceV1 {
    pub(in crate::store::file) temperature: TemperatureText,
    pub(in crate::store::file) later_in_ten: u8,
    pub(in crate::store::file) date: DateText,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "place")]
pub(in crate::store::file) struct PlaceV1 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) role: RoleV1,
    #[serde(default)]
    pub(in crate::store::file) part: PartOfDayV1,
    #[serde(default)]
    pub(in crate::store::file) open: Vec<SpanText>,
    #[serde(default)]
    pub(in crate::store::file) temperatures: TemperaturesV1,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "role")]
pub(in crate::store::file) enum RoleV1 {
    Germinating,
    Growing,
    Hardening,
}

#[derive(Clone, Copy, Default, PartialEq, Deserialize)]
#[serde(rename = "part_of_day")]
pub(in crate::store::file) enum PartOfDayV1 {
    #[default]
    Whole,
    Days,
    Nights,
}

#[derive(Default, PartialEq, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "temperatures")]
pub(in crate::store::file) struct TemperaturesV1 {
    pub(in crate::store::file) day: Option<TemperatureText>,
    pub(in crate::store::file) night: Option<TemperatureText>,
    pub(in crate::store::file) mat: Option<TemperatureText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "rack")]
pub(in crate::store::file) struct RackV1 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) place: u32,
    pub(in crate::store::file) name: String,
    #[serde(default)]
    pub(in crate::store::file) position: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "shelf")]
pub(in crate::store::file) struct ShelfV1 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) rack: u32,
    #[serde(default = "one")]
    pub(in crate::store::file) tier: u32,
    pub(in crate::store::file) size: SizeText,
    #[serde(default)]
    pub(in crate::store::file) clear_height: Option<LengthText>,
    #[serde(default)]
    pub(in crate::store::file) reach: ReachV1,
    #[serde(default = "nothing")]
    pub(in crate::store::file) overhang: LengthText,
    #[serde(default)]
    pub(in crate::store::file) allowance_percent: u8,
    #[serde(default)]
    pub(in crate::store::file) load_grams: Option<u32>,
    #[serde(default)]
    pub(in crate::store::file) closed: Vec<SpanText>,
    #[serde(default)]
    pub(in crate::store::file) zones: Vec<ZoneV1>,
}

#[derive(Clone, Copy, Default, PartialEq, Deserialize)]
#[serde(rename = "reach")]
pub(in crate::store::file) enum ReachV1 {
    #[default]
    OneSide,
    BothSides,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "zone")]
pub(in crate::store::file) struct ZoneV1 {
    pub(in crate::store::file) kind: ZoneKindV1,
    #[serde(default = "nothing")]
    pub(in crate::store::file) x: LengthText,
    #[serde(default = "nothing")]
    pub(in crate::store::file) y: LengthText,
    pub(in crate::store::file) size: SizeText,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "zone_kind")]
pub(in crate::store::file) enum ZoneKindV1 {
    Lamp,
    Heat,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "sowing")]
pub(in crate::store::file) struct SowingV1 {
    pub(in crate::store::file) id: u32,
    #[serde(default)]
    pub(in crate::store::file) series: Option<String>,
    pub(in crate::store::file) crop: String,
    #[serde(default)]
    pub(in crate::store::file) variety: String,
    #[serde(default)]
    pub(in crate::store::file) begun: Option<BegunV1>,
    pub(in crate::store::file) wanted: Vec<WantedV1>,
    pub(in crate::store::file) steps: Vec<StepV1>,
    pub(in crate::store::file) lots: Vec<LotV1>,
    #[serde(default)]
    pub(in crate::store::file) seen: Vec<ObservationV1>,
    #[serde(default = "one")]
    pub(in crate::store::file) seeds_per_cell: u8,
    #[serde(default)]
    pub(in crate::store::file) germination_percent: Option<u8>,
    #[serde(default)]
    pub(in crate::store::file) germination_from: String,
    #[serde(default)]
    pub(in crate::store::file) losses_percent: u8,
    #[serde(default)]
    pub(in crate::store::file) stack: Option<StackV1>,
    #[serde(default)]
    pub(in crate::store::file) bottom_heat: Option<bool>,
    #[serde(default)]
    pub(in crate::store::file) note: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "begun")]
pub(in crate::store::file) struct BegunV1 {
    pub(in crate::store::file) on: DateText,
    pub(in crate::store::file) stage: StageV1,
}

#[derive(Deserialize)]
#[serde(rename = "stage")]
pub(in crate::store::file) enum StageV1 {
    Sown,
    Up,
    TrueLeaves(u8),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "number_wanted")]
pub(in crate::store::file) struct WantedV1 {
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) plants: u32,
    #[serde(default)]
    pub(in crate::store::file) rule: OutRuleV1,
}

#[derive(Default, PartialEq, Deserialize)]
#[serde(rename = "out_rule")]
pub(in crate::store::file) enum OutRuleV1 {
    #[default]
    Day,
    Frost {
        days: i16,
        #[serde(default)]
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

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename = "weekday")]
pub(in crate::store::file) enum WeekdayV1 {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "step")]
pub(in crate::store::file) struct StepV1 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) container: String,
    #[serde(default)]
    pub(in crate::store::file) carried_in: Option<String>,
    #[serde(default)]
    pub(in crate::store::file) per_tray: Option<u32>,
    #[serde(default)]
    pub(in crate::store::file) start: RuleV1,
    #[serde(default)]
    pub(in crate::store::file) slack: Option<SlackV1>,
    #[serde(default)]
    pub(in crate::store::file) spaced: Option<SpacedV1>,
}

#[derive(Default, PartialEq, Deserialize)]
#[serde(rename = "start")]
pub(in crate::store::file) enum RuleV1 {
    #[default]
    WhenDue,
    On(DateText),
    DaysAfterSowing(u16),
    DaysBeforeOut(u16),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "slack")]
pub(in crate::store::file) struct SlackV1 {
    #[serde(default)]
    pub(in crate::store::file) early: u16,
    #[serde(default)]
    pub(in crate::store::file) late: u16,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "spacing")]
pub(in crate::store::file) struct SpacedV1 {
    pub(in crate::store::file) after_days: u16,
    pub(in crate::store::file) pitch: LengthText,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "lot")]
pub(in crate::store::file) struct LotV1 {
    pub(in crate::store::file) id: u32,
    #[serde(default = "one")]
    pub(in crate::store::file) share: u32,
    #[serde(default)]
    pub(in crate::store::file) later: u16,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "stack")]
pub(in crate::store::file) struct StackV1 {
    pub(in crate::store::file) days: u16,
    pub(in crate::store::file) high: u16,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "observation")]
pub(in crate::store::file) struct ObservationV1 {
    pub(in crate::store::file) date: DateText,
    pub(in crate::store::file) what: SeenV1,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "seen")]
pub(in crate::store::file) enum SeenV1 {
    Sown,
    SownCells(u32),
    Up {
        #[serde(default)]
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

#[derive(Clone, Copy, Default, PartialEq, Deserialize)]
#[serde(rename = "loss")]
pub(in crate::store::file) enum LossV1 {
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

#[derive(Clone, Copy, Deserialize)]
#[serde(rename = "grown")]
pub(in crate::store::file) enum GrownV1 {
    TooSmall,
    Right,
    TooBig,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "guest")]
pub(in crate::store::file) struct GuestV1 {
    pub(in crate::store::file) id: u32,
    pub(in crate::store::file) name: String,
    pub(in crate::store::file) size: SizeText,
    #[serde(default)]
    pub(in crate::store::file) height: Option<LengthText>,
    #[serde(default = "one")]
    pub(in crate::store::file) number: u16,
    pub(in crate::store::file) span: SpanText,
    pub(in crate::store::file) role: RoleV1,
    #[serde(default = "yes")]
    pub(in crate::store::file) light: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "note")]
pub(in crate::store::file) struct NoteV1 {
    pub(in crate::store::file) tray: TrayV1,
    #[serde(default)]
    pub(in crate::store::file) mark: Option<String>,
    #[serde(default)]
    pub(in crate::store::file) rows: Vec<RowsV1>,
    #[serde(default)]
    pub(in crate::store::file) parents: Vec<TrayV1>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "tray")]
pub(in crate::store::file) enum TrayV1 {
    Own { lot: u32, step: u32, n: u32 },
    Shared(u32),
    Guest { guest: u32, n: u32 },
}

/// `until` is the first row that is not among them.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "rows")]
pub(in crate::store::file) struct RowsV1 {
    pub(in crate::store::file) from: u16,
    pub(in crate::store::file) until: u16,
    pub(in crate::store::file) lot: u32,
    pub(in crate::store::file) step: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "spot")]
pub(in crate::store::file) struct SpotV1 {
    pub(in crate::store::file) tray: TrayV1,
    /// From the tray's start where nothing stands here.
    #[serde(default)]
    pub(in crate::store::file) from: Option<DateText>,
    /// Taken up then, with nowhere to go.
    #[serde(default)]
    pub(in crate::store::file) until: Option<DateText>,
    pub(in crate::store::file) shelf: u32,
    pub(in crate::store::file) x: PlaceText,
    pub(in crate::store::file) y: PlaceText,
    #[serde(default)]
    pub(in crate::store::file) quarter_turns: u8,
    #[serde(default)]
    pub(in crate::store::file) pinned: bool,
}

fn one<T: From<u8>>() -> T {
    T::from(1)
}

const fn yes() -> bool {
    true
}

fn nothing() -> LengthText {
    LengthText(Measure::mm(0))
}
