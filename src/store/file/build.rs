//! From the newest file structs to a season, through the same edits as everything else: what an
//! edit refuses, a file cannot smuggle in.

use crate::season::{
    Away, Begun, Container, ContainerKey, Crop, CropKey, EditError, Frost, FrostChance, FrostMethod, Guest, GuestId,
    Library, Loss, Lot, LotId, Observation, Observed, Op, OutRule, PartOfDay, Place, PlaceId, Rack, RackId, Reach,
    Role, Rule, Season, Settings, Shelf, ShelfId, Slack, Sowing, SowingId, Spaced, Spot, SpotFrom, Stack, Stage, Step,
    StepId, Temperatures, TrayId, TrayKey, TrayNote, TrayRows, Wanted, WeekLabels, Zone, ZoneKind,
};

use super::FileErrorKind;
use super::check::Checks;
use super::v1::{
    AwayV1, BegunV1, FrostChanceV1, FrostMethodV1, FrostV1, GuestV1, LotV1, NoteV1, ObservationV1, OutRuleV1,
    PartOfDayV1, PlaceV1, RackV1, ReachV1, RoleV1, RowsV1, RuleV1, SeasonV1, SeenV1, SettingsV1, ShelfV1, SlackV1,
    SowingV1, SpacedV1, SpotV1, StackV1, StageV1, StepV1, TemperaturesV1, TrayV1, WantedV1, WeeksV1, ZoneKindV1,
    ZoneV1,
};

/// What is wrong, and in which entry of which list.
pub(super) struct Refused {
    pub(super) entry: Option<(&'static str, usize)>,
    pub(super) kind: FileErrorKind,
}

/// The season in `file`, each entry checked against those before it.
pub(super) fn build(file: SeasonV1, library: &Library) -> Result<Season, Refused> {
    let mut season = Season::new("");
    let whole =
        |of: &str, why| Refused { entry: None, kind: FileErrorKind::Edit { of: of.to_owned(), why: Box::new(why) } };
    season.apply(&Op::Rename(file.name).into()).map_err(|why| whole("the season", why))?;
    season.apply(&Op::SetNote(file.note).into()).map_err(|why| whole("the season", why))?;
    season.apply(&Op::SetSettings(file.settings.into()).into()).map_err(|why| whole("the settings", why))?;
    if let Some(next) = file.next_id {
        reserve(&mut season, next).map_err(|why| whole("next_id", why))?;
    }
    let mut checks = Checks::new(season, library);
    each("crops", file.crops, |crop| {
        let crop = Crop::try_from(crop).map_err(FileErrorKind::NoSuchSource)?;
        checks.put(Op::PutCrop(Box::new(crop)))
    })?;
    each("containers", file.containers, |container| {
        let container = Container::try_from(container).map_err(FileErrorKind::NoSuchSource)?;
        checks.put(Op::PutContainer(container))
    })?;
    each("places", file.places, |place| checks.put(Op::PutPlace(place.into())))?;
    each("racks", file.racks, |rack| checks.put(Op::PutRack(rack.into())))?;
    each("shelves", file.shelves, |shelf| checks.put(Op::PutShelf(shelf.into())))?;
    each("sowings", file.sowings, |sowing| checks.put(Op::PutSowing(sowing.into())))?;
    each("guests", file.guests, |guest| checks.put(Op::PutGuest(guest.into())))?;
    each("notes", file.notes, |note| checks.put(Op::PutNote(note.into())))?;
    each("spots", file.spots, |spot| checks.put(Op::PutSpot(spot.into())))?;
    Ok(checks.into_season())
}

fn each<T>(
    list: &'static str,
    entries: Vec<T>,
    mut put: impl FnMut(T) -> Result<(), FileErrorKind>,
) -> Result<(), Refused> {
    for (index, entry) in entries.into_iter().enumerate() {
        put(entry).map_err(|kind| Refused { entry: Some((list, index)), kind })?;
    }
    Ok(())
}

/// Lets the season go on counting at `next`: an entry with the number before it comes and goes.
fn reserve(season: &mut Season, next: u32) -> Result<(), EditError> {
    let Some(last) = next.checked_sub(1).filter(|&last| last > 0) else { return Ok(()) };
    let id = PlaceId(last);
    let place = Place {
        id,
        name: "reserved".to_owned(),
        role: Role::Growing,
        open: Vec::new(),
        part: PartOfDay::Whole,
        temperatures: Temperatures::default(),
    };
    season.apply(&Op::PutPlace(place).into())?;
    season.apply(&Op::RemovePlace(id).into())
}

impl From<SettingsV1> for Settings {
    fn from(file: SettingsV1) -> Self {
        Self {
            gap: file.gap.0,
            lamp_gap: file.lamp_gap.0,
            sure_percent: file.sure_percent,
            weeks: match file.weeks {
                WeeksV1::Iso => WeekLabels::Iso,
                WeeksV1::From(monday) => WeekLabels::From(monday.0),
            },
            frost: file.frost.map(Frost::from),
            away: file
                .away
                .into_iter()
                .map(|AwayV1 { name, span, waters, every_year }| Away { name, span: span.0, waters, every_year })
                .collect(),
            water_every: file.water_every,
        }
    }
}

impl From<FrostV1> for Frost {
    fn from(file: FrostV1) -> Self {
        Self {
            date: file.date.0,
            later_in_ten: file.later_in_ten,
            temperature: file.temperature.0,
            station: file.station,
            years: file.years,
            springs: file.springs,
            method: match file.method {
                FrostMethodV1::Given => FrostMethod::Given,
                FrostMethodV1::Empirical => FrostMethod::Empirical,
                FrostMethodV1::NormalLaw => FrostMethod::NormalLaw,
            },
            table: file.table.into_iter().map(FrostChance::from).collect(),
        }
    }
}

impl From<FrostChanceV1> for FrostChance {
    fn from(FrostChanceV1 { temperature, later_in_ten, date }: FrostChanceV1) -> Self {
        Self { temperature: temperature.0, later_in_ten, date: date.0 }
    }
}

impl From<PlaceV1> for Place {
    fn from(file: PlaceV1) -> Self {
        let TemperaturesV1 { day, night, mat } = file.temperatures;
        Self {
            id: PlaceId(file.id),
            name: file.name,
            role: file.role.into(),
            open: file.open.into_iter().map(|span| span.0).collect(),
            part: match file.part {
                PartOfDayV1::Whole => PartOfDay::Whole,
                PartOfDayV1::Days => PartOfDay::Days,
                PartOfDayV1::Nights => PartOfDay::Nights,
            },
            temperatures: Temperatures {
                day: day.map(|text| text.0),
                night: night.map(|text| text.0),
                mat: mat.map(|text| text.0),
            },
        }
    }
}

impl From<RoleV1> for Role {
    fn from(file: RoleV1) -> Self {
        match file {
            RoleV1::Germinating => Self::Germinating,
            RoleV1::Growing => Self::Growing,
            RoleV1::Hardening => Self::Hardening,
        }
    }
}

impl From<RackV1> for Rack {
    fn from(RackV1 { id, place, name, position }: RackV1) -> Self {
        Self { id: RackId(id), place: PlaceId(place), name, position }
    }
}

impl From<ShelfV1> for Shelf {
    fn from(file: ShelfV1) -> Self {
        Self {
            id: ShelfId(file.id),
            rack: RackId(file.rack),
            tier: file.tier,
            width: file.size.0.width,
            depth: file.size.0.depth,
            clear_height: file.clear_height.map(|text| text.0),
            reach: match file.reach {
                ReachV1::OneSide => Reach::OneSide,
                ReachV1::BothSides => Reach::BothSides,
            },
            closed: file.closed.into_iter().map(|span| span.0).collect(),
            zones: file.zones.into_iter().map(Zone::from).collect(),
            overhang: file.overhang.0,
            allowance_percent: file.allowance_percent,
            load_grams: file.load_grams,
        }
    }
}

impl From<ZoneV1> for Zone {
    fn from(ZoneV1 { kind, x, y, size }: ZoneV1) -> Self {
        let kind = match kind {
            ZoneKindV1::Lamp => ZoneKind::Lamp,
            ZoneKindV1::Heat => ZoneKind::Heat,
        };
        Self { kind, x: x.0, y: y.0, width: size.0.width, depth: size.0.depth }
    }
}

impl From<SowingV1> for Sowing {
    fn from(file: SowingV1) -> Self {
        let wanted = |WantedV1 { date, plants, rule }| Wanted { date: date.0, plants, rule: rule.into() };
        let lot = |LotV1 { id, share, later }| Lot { id: LotId(id), share, later };
        Self {
            id: SowingId(file.id),
            series: file.series,
            crop: CropKey::new(&file.crop),
            variety: file.variety,
            begun: file.begun.map(|BegunV1 { on, stage }| Begun {
                on: on.0,
                stage: match stage {
                    StageV1::Sown => Stage::Sown,
                    StageV1::Up => Stage::Up,
                    StageV1::TrueLeaves(leaves) => Stage::TrueLeaves(leaves),
                },
            }),
            wanted: file.wanted.into_iter().map(wanted).collect(),
            steps: file.steps.into_iter().map(Step::from).collect(),
            lots: file.lots.into_iter().map(lot).collect(),
            seen: file.seen.into_iter().map(Observation::from).collect(),
            seeds_per_cell: file.seeds_per_cell,
            germination_percent: file.germination_percent,
            germination_from: file.germination_from,
            losses_percent: file.losses_percent,
            stack: file.stack.map(|StackV1 { days, high }| Stack { days, high }),
            bottom_heat: file.bottom_heat,
            note: file.note,
        }
    }
}

impl From<OutRuleV1> for OutRule {
    fn from(file: OutRuleV1) -> Self {
        match file {
            OutRuleV1::Day => Self::Day,
            OutRuleV1::Frost { days, waits } => Self::Frost { days, waits },
            OutRuleV1::Nth { nth, weekday, month } => Self::Nth { nth, weekday: weekday.into(), month },
            OutRuleV1::Week { week, weekday } => Self::Week { week, weekday: weekday.into() },
        }
    }
}

impl From<StepV1> for Step {
    fn from(file: StepV1) -> Self {
        Self {
            id: StepId(file.id),
            container: ContainerKey::new(&file.container),
            carried_in: file.carried_in.as_deref().map(ContainerKey::new),
            per_tray: file.per_tray,
            start: match file.start {
                RuleV1::WhenDue => Rule::WhenDue,
                RuleV1::On(date) => Rule::On(date.0),
                RuleV1::DaysAfterSowing(days) => Rule::DaysAfterSowing(days),
                RuleV1::DaysBeforeOut(days) => Rule::DaysBeforeOut(days),
            },
            slack: file.slack.map(|SlackV1 { early, late }| Slack { early, late }),
            spaced: file.spaced.map(|SpacedV1 { after_days, pitch }| Spaced { after_days, pitch: pitch.0 }),
        }
    }
}

impl From<ObservationV1> for Observation {
    fn from(file: ObservationV1) -> Self {
        let what = match file.what {
            SeenV1::Sown => Observed::Sown { cells: None },
            SeenV1::SownCells(cells) => Observed::Sown { cells: Some(cells) },
            SeenV1::Up { plants } => Observed::Up { plants },
            SeenV1::TrueLeaves(leaves) => Observed::TrueLeaves(leaves),
            SeenV1::MovedOn(step) => Observed::MovedOn(StepId(step)),
            SeenV1::Lost(plants) => Observed::Lost { plants, why: Loss::NotKnown },
            SeenV1::LostTo { plants, why } => Observed::Lost { plants, why: why.into() },
            SeenV1::PutOut(plants) => Observed::PutOut(plants),
            SeenV1::Sold(plants) => Observed::Sold(plants),
            SeenV1::GappedUp => Observed::GappedUp,
            SeenV1::Grown(grown) => Observed::Grown(grown.into()),
        };
        Self { date: file.date.0, what }
    }
}

impl From<GuestV1> for Guest {
    fn from(file: GuestV1) -> Self {
        Self {
            id: GuestId(file.id),
            name: file.name,
            size: file.size.0,
            height: file.height.map(|text| text.0),
            number: file.number,
            span: file.span.0,
            role: file.role.into(),
            light: file.light,
        }
    }
}

impl From<TrayV1> for TrayKey {
    fn from(file: TrayV1) -> Self {
        match file {
            TrayV1::Own { lot, step, n } => Self::Own { lot: LotId(lot), step: StepId(step), n },
            TrayV1::Shared(id) => Self::Shared(TrayId(id)),
            TrayV1::Guest { guest, n } => Self::Guest { guest: GuestId(guest), n },
        }
    }
}

impl From<NoteV1> for TrayNote {
    fn from(file: NoteV1) -> Self {
        let rows =
            |RowsV1 { from, until, lot, step }| TrayRows { rows: from..until, lot: LotId(lot), step: StepId(step) };
        Self {
            key: file.tray.into(),
            mark: file.mark,
            rows: file.rows.into_iter().map(rows).collect(),
            parents: file.parents.into_iter().map(TrayKey::from).collect(),
        }
    }
}

impl From<SpotV1> for Spot {
    fn from(file: SpotV1) -> Self {
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
