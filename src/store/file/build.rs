//! From the newest file structs to a season, through the same edits as everything else: what an
//! edit refuses, a file cannot smuggle in.

use crate::season::{
    Away, AwayId, Begun, Container, ContainerKey, Counted, Crop, CropKey, FieldId, Floor, Frost, FrostChance,
    FrostMethod, Guest, GuestId, Library, Light, Loss, Lot, LotId, Observation, Observed, Op, OutRule, PartOfDay,
    Place, PlaceId, Rack, RackId, Reach, RecordId, Role, Rule, Season, Settings, Shelf, ShelfId, Slack, Sowing,
    SowingId, Spaced, Spacing, Spot, SpotFrom, Stack, Stage, Stands, Step, StepId, Temperatures, TrayId, TrayKey,
    TrayNote, TrayRows, Unwanted, Verdict, Wanted, WeekLabels, WhatIf, Zone, ZoneKind,
};

use super::check::{Checks, apply};
use super::error::FileErrorKind;
use super::v2::{
    AwayV2, BegunV2, CountedV2, FrostChanceV2, FrostMethodV2, FrostV2, GuestV2, LeavesV2, LightV2, LotV2, NoteV2,
    ObservationV2, OutRuleV2, PartOfDayV2, PlaceV2, RackV2, ReachV2, RoleV2, RowsV2, RuleV2, SeasonV2, SeenV2,
    SettingsV2, ShelfV2, SlackV2, SowingV2, SpacedV2, SpotV2, StackV2, StageV2, StepV2, TemperaturesV2, TrayV2,
    VerdictV2, WantedV2, WeeksV2, ZoneKindV2, ZoneV2,
};

/// What is wrong, and where.
pub(super) struct Refused {
    pub(super) at: Where,
    pub(super) kind: FileErrorKind,
}

pub(super) enum Where {
    /// An entry of a list.
    Entry(&'static str, usize),
    /// A field, through those that it stands in.
    Field(&'static [&'static str]),
}

/// The season in `file`, each entry checked against those before it.
pub(super) fn build(file: SeasonV2, library: &Library) -> Result<Season, Refused> {
    let mut season = Season::new("");
    let whole = |op| apply(&mut season, op).map_err(|kind| Refused { at: Where::Field(field_of(&kind)), kind });
    let wholes = [Op::Rename(file.name), Op::SetNote(file.note), Op::SetSettings(file.settings.into())];
    wholes.into_iter().chain(file.next_id.map(Op::Reserve)).try_for_each(whole)?;
    let mut checks = Checks::new(season, library);
    each("away", file.away, |away| checks.put(Op::PutAway(away.into())))?;
    each("crops", file.crops, |crop| checks.put(Op::PutCrop(Box::new(Crop::from(crop)))))?;
    each("containers", file.containers, |container| checks.put(Op::PutContainer(Container::from(container))))?;
    each("places", file.places, |place| checks.put(Op::PutPlace(place.into())))?;
    each("racks", file.racks, |rack| checks.put(Op::PutRack(rack.into())))?;
    each("shelves", file.shelves, |shelf| checks.put(Op::PutShelf(shelf.into())))?;
    each("sowings", file.sowings, |sowing| checks.put(Op::PutSowing(sowing.into())))?;
    each("guests", file.guests, |guest| checks.put(Op::PutGuest(guest.into())))?;
    each("notes", file.notes, |note| checks.put(Op::PutNote(note.into())))?;
    each("spots", file.spots, |spot| checks.put(Op::PutSpot(spot.into())))?;
    Ok(checks.into_season())
}

/// Where the season itself says what was refused.
fn field_of(kind: &FileErrorKind) -> &'static [&'static str] {
    let FileErrorKind::Edit { why, .. } = kind else { return &[] };
    match why.field {
        FieldId::SeasonName => &["name"],
        FieldId::SeasonNote => &["note"],
        FieldId::Number => &["next_id"],
        FieldId::TrayGap => &["settings", "gap"],
        FieldId::LampGap => &["settings", "lamp_gap"],
        FieldId::Chance => &["settings", "sure_percent"],
        FieldId::FirstWeek => &["settings", "weeks"],
        FieldId::WaterEvery => &["settings", "water_every"],
        FieldId::FrostDate => &["settings", "frost", "date"],
        FieldId::FrostRisk => &["settings", "frost", "later_in_ten"],
        FieldId::FrostStation => &["settings", "frost", "station"],
        FieldId::FrostYears => &["settings", "frost", "years"],
        FieldId::FrostSprings => &["settings", "frost", "springs"],
        FieldId::FrostTableDate | FieldId::FrostTableRisk => &["settings", "frost", "table"],
        _ => &[],
    }
}

fn each<T>(
    list: &'static str,
    entries: Vec<T>,
    mut put: impl FnMut(T) -> Result<(), FileErrorKind>,
) -> Result<(), Refused> {
    for (index, entry) in entries.into_iter().enumerate() {
        put(entry).map_err(|kind| Refused { at: Where::Entry(list, index), kind })?;
    }
    Ok(())
}

impl From<SettingsV2> for Settings {
    fn from(file: SettingsV2) -> Self {
        Self {
            gap: file.gap.0,
            lamp_gap: file.lamp_gap.0,
            sure_percent: file.sure_percent,
            weeks: match file.weeks {
                WeeksV2::Iso => WeekLabels::Iso,
                WeeksV2::From(monday) => WeekLabels::From(monday.0),
            },
            frost: file.frost.map(Frost::from),
            water_every: file.water_every,
            potting: file.potting.into(),
            matters: file.matters.into(),
            unwanted: file.unwanted.into_iter().map(Unwanted::from).collect(),
            what_ifs: file.what_ifs.into_iter().map(WhatIf::from).collect(),
        }
    }
}

impl From<AwayV2> for Away {
    fn from(AwayV2 { id, name, span, waters, every_year }: AwayV2) -> Self {
        Self { id: AwayId(id), name, span: span.0, waters, every_year }
    }
}

impl From<FrostV2> for Frost {
    fn from(file: FrostV2) -> Self {
        Self {
            date: file.date.0,
            later_in_ten: file.later_in_ten,
            temperature: file.temperature.0,
            station: file.station,
            years: file.years,
            springs: file.springs,
            method: match file.method {
                FrostMethodV2::Given => FrostMethod::Given,
                FrostMethodV2::Empirical => FrostMethod::Empirical,
                FrostMethodV2::NormalLaw => FrostMethod::NormalLaw,
            },
            table: file.table.into_iter().map(FrostChance::from).collect(),
        }
    }
}

impl From<FrostChanceV2> for FrostChance {
    fn from(FrostChanceV2 { temperature, later_in_ten, date }: FrostChanceV2) -> Self {
        Self { temperature: temperature.0, later_in_ten, date: date.0 }
    }
}

impl From<PlaceV2> for Place {
    fn from(file: PlaceV2) -> Self {
        let TemperaturesV2 { day, night, mat } = file.temperatures;
        Self {
            id: PlaceId(file.id),
            name: file.name,
            role: file.role.into(),
            open: file.open.into_iter().map(|span| span.0).collect(),
            part: match file.part {
                PartOfDayV2::Whole => PartOfDay::Whole,
                PartOfDayV2::Days => PartOfDay::Days,
                PartOfDayV2::Nights => PartOfDay::Nights,
            },
            temperatures: Temperatures {
                day: day.map(|text| text.0),
                night: night.map(|text| text.0),
                mat: mat.map(|text| text.0),
            },
            light: file.light.into(),
            floor: file.floor.map(Floor::from),
        }
    }
}

impl From<LightV2> for Light {
    fn from(file: LightV2) -> Self {
        match file {
            LightV2::Lamps => Self::Lamps,
            LightV2::Daylight => Self::Daylight,
            LightV2::Dark => Self::Dark,
        }
    }
}

impl From<RoleV2> for Role {
    fn from(file: RoleV2) -> Self {
        match file {
            RoleV2::Germinating => Self::Germinating,
            RoleV2::Growing => Self::Growing,
            RoleV2::Hardening => Self::Hardening,
        }
    }
}

impl From<RackV2> for Rack {
    fn from(RackV2 { id, place, name, position, stands }: RackV2) -> Self {
        Self { id: RackId(id), place: PlaceId(place), name, position, stands: stands.map(Stands::from) }
    }
}

impl From<ShelfV2> for Shelf {
    fn from(file: ShelfV2) -> Self {
        Self {
            id: ShelfId(file.id),
            rack: RackId(file.rack),
            tier: file.tier,
            width: file.size.0.width,
            depth: file.size.0.depth,
            clear_height: file.clear_height.map(|text| text.0),
            reach: match file.reach {
                ReachV2::OneSide => Reach::OneSide,
                ReachV2::BothSides => Reach::BothSides,
            },
            closed: file.closed.into_iter().map(|span| span.0).collect(),
            zones: file.zones.into_iter().map(Zone::from).collect(),
            overhang: file.overhang.0,
            allowance_percent: file.allowance_percent,
            load_grams: file.load_grams,
            light: file.light.map(Light::from),
        }
    }
}

impl From<ZoneV2> for Zone {
    fn from(ZoneV2 { kind, x, y, size }: ZoneV2) -> Self {
        let kind = match kind {
            ZoneKindV2::Lamp => ZoneKind::Lamp,
            ZoneKindV2::Heat => ZoneKind::Heat,
        };
        Self { kind, x: x.0, y: y.0, width: size.0.width, depth: size.0.depth }
    }
}

impl From<SowingV2> for Sowing {
    fn from(file: SowingV2) -> Self {
        let wanted =
            |WantedV2 { date, plants, rule, to_sell }| Wanted { date: date.0, plants, rule: rule.into(), to_sell };
        let lot = |LotV2 { id, share, later, delays }| Lot { id: LotId(id), share, later, delays: delays.into() };
        let verdict = |VerdictV2 { grown, days, year }| Verdict { grown: grown.into(), days, year };
        Self {
            id: SowingId(file.id),
            series: file.series,
            crop: CropKey::new(&file.crop),
            variety: file.variety,
            begun: file.begun.map(|BegunV2 { on, stage }| Begun {
                on: on.0,
                stage: match stage {
                    StageV2::Sown => Stage::Sown,
                    StageV2::Up => Stage::Up,
                    StageV2::TrueLeaves(leaves) => Stage::TrueLeaves(leaves),
                },
            }),
            wanted: file.wanted.into_iter().map(wanted).collect(),
            steps: file.steps.into_iter().map(Step::from).collect(),
            lots: file.lots.into_iter().map(lot).collect(),
            seen: file.seen.into_iter().map(Observation::from).collect(),
            seeds_per_cell: file.seeds_per_cell,
            germination_percent: file.germination_percent,
            germination_from: file.germination_from.map(|CountedV2 { up, sown, year }| Counted { up, sown, year }),
            losses_percent: file.losses_percent,
            stack: file.stack.map(|StackV2 { days, high }| Stack { days, high }),
            bottom_heat: file.bottom_heat,
            harden_days: file.harden_days,
            alone: file.alone,
            again_of: file.again_of.map(SowingId),
            verdicts: file.verdicts.into_iter().map(verdict).collect(),
            note: file.note,
        }
    }
}

impl From<OutRuleV2> for OutRule {
    fn from(file: OutRuleV2) -> Self {
        match file {
            OutRuleV2::Day => Self::Day,
            OutRuleV2::Frost { days, waits } => Self::Frost { days, waits },
            OutRuleV2::Nth { nth, weekday, month } => Self::Nth { nth, weekday: weekday.into(), month },
            OutRuleV2::Week { week, weekday } => Self::Week { week, weekday: weekday.into() },
        }
    }
}

impl From<StepV2> for Step {
    fn from(file: StepV2) -> Self {
        Self {
            id: StepId(file.id),
            container: ContainerKey::new(&file.container),
            carried_in: file.carried_in.as_deref().map(ContainerKey::new),
            per_tray: file.per_tray,
            start: match file.start {
                RuleV2::WhenDue => Rule::WhenDue,
                RuleV2::On(date) => Rule::On(date.0),
                RuleV2::DaysAfterSowing(days) => Rule::DaysAfterSowing(days),
                RuleV2::DaysBeforeOut(days) => Rule::DaysBeforeOut(days),
            },
            slack: file.slack.map(|SlackV2 { early, late }| Slack { early, late }),
            spaced: match (file.spaced, file.leaves) {
                (Some(SpacedV2 { after_days, pitch }), _) => Some(Spacing::At(Spaced { after_days, pitch: pitch.0 })),
                (None, Some(LeavesV2::MayMeet)) => Some(Spacing::Never),
                (None, Some(LeavesV2::Apart)) => Some(Spacing::WhenLeavesMeet),
                (None, None) => None,
            },
        }
    }
}

impl From<ObservationV2> for Observation {
    fn from(file: ObservationV2) -> Self {
        let what = match file.what {
            SeenV2::Sown => Observed::Sown { cells: None },
            SeenV2::SownCells(cells) => Observed::Sown { cells: Some(cells) },
            SeenV2::Up { plants } => Observed::Up { plants },
            SeenV2::TrueLeaves(leaves) => Observed::TrueLeaves(leaves),
            SeenV2::MovedOn(step) => Observed::MovedOn(StepId(step)),
            SeenV2::Lost(plants) => Observed::Lost { plants, why: Loss::NotKnown },
            SeenV2::LostTo { plants, why } => Observed::Lost { plants, why: why.into() },
            SeenV2::PutOut(plants) => Observed::PutOut(plants),
            SeenV2::Sold(plants) => Observed::Sold(plants),
            SeenV2::GappedUp => Observed::GappedUp,
            SeenV2::Prepared => Observed::Prepared,
            SeenV2::Unstacked => Observed::Unstacked,
            SeenV2::SpacedOut => Observed::SpacedOut,
            SeenV2::HardeningBegun => Observed::HardeningBegun,
            SeenV2::NightOut => Observed::NightOut,
            SeenV2::Grown(grown) => Observed::Grown(grown.into()),
        };
        Self { id: RecordId(file.id), date: file.date.0, what, lot: file.lot.map(LotId) }
    }
}

impl From<GuestV2> for Guest {
    fn from(file: GuestV2) -> Self {
        Self {
            id: GuestId(file.id),
            name: file.name,
            size: file.size.0,
            height: file.height.map(|text| text.0),
            number: file.number,
            span: file.span.0,
            role: file.role.into(),
            light: file.light,
            grams: file.grams,
        }
    }
}

impl From<TrayV2> for TrayKey {
    fn from(file: TrayV2) -> Self {
        match file {
            TrayV2::Own { lot, step, n } => Self::Own { lot: LotId(lot), step: StepId(step), n },
            TrayV2::Shared(id) => Self::Shared(TrayId(id)),
            TrayV2::Guest { guest, n } => Self::Guest { guest: GuestId(guest), n },
        }
    }
}

impl From<NoteV2> for TrayNote {
    fn from(file: NoteV2) -> Self {
        let rows = |RowsV2 { from, until, cells, lot, step }| TrayRows {
            rows: from..until,
            cells: cells.map(|(first, end)| first..end),
            lot: LotId(lot),
            step: StepId(step),
        };
        Self {
            key: file.tray.into(),
            mark: file.mark,
            rows: file.rows.into_iter().map(rows).collect(),
            parents: file.parents.into_iter().map(TrayKey::from).collect(),
        }
    }
}

impl From<SpotV2> for Spot {
    fn from(file: SpotV2) -> Self {
        Self {
            tray: file.tray.into(),
            from: file.from.map_or(SpotFrom::Start, |date| SpotFrom::On(date.0)),
            until: file.until.map(|date| date.0),
            shelf: ShelfId(file.shelf),
            x: file.x.0,
            y: file.y.0,
            quarter_turns: file.quarter_turns,
            pinned: file.pinned,
        }
    }
}
