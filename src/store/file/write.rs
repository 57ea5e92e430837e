//! From a season to the newest file structs.

use crate::season::{
    Away, Begun, Frost, FrostChance, FrostMethod, Guest, Loss, Observation, Observed, OutRule, PartOfDay, Place, Rack,
    Reach, Role, Rule, Season, Settings, Shelf, Slack, Sowing, Spaced, Spot, SpotFrom, Stack, Stage, Step,
    Temperatures, TrayKey, TrayNote, Wanted, WeekLabels, Zone, ZoneKind,
};
use crate::store::library::{ContainerFile, CropFile};
use crate::units::Size;

use super::text::{DateText, LengthText, PlaceText, SizeText, SpanText, TemperatureText};
use super::v1::{
    AwayV1, BegunV1, FrostChanceV1, FrostMethodV1, FrostV1, GuestV1, LotV1, NoteV1, ObservationV1, OutRuleV1,
    PartOfDayV1, PlaceV1, RackV1, ReachV1, RoleV1, RowsV1, RuleV1, SeasonV1, SeenV1, SettingsV1, ShelfV1, SlackV1,
    SowingV1, SpacedV1, SpotV1, StackV1, StageV1, StepV1, TemperaturesV1, TrayV1, WantedV1, WeeksV1, ZoneKindV1,
    ZoneV1,
};

impl From<&Season> for SeasonV1 {
    fn from(season: &Season) -> Self {
        let mut file = Self {
            format: super::FORMAT.to_owned(),
            version: 1,
            name: season.name().to_owned(),
            note: season.note().to_owned(),
            settings: season.settings().into(),
            next_id: None,
            crops: season.own_crops().map(CropFile::from).collect(),
            containers: season.own_containers().map(ContainerFile::from).collect(),
            places: season.places().map(PlaceV1::from).collect(),
            racks: season.racks().into_iter().map(RackV1::from).collect(),
            shelves: season.shelves().map(ShelfV1::from).collect(),
            sowings: season.sowings().map(SowingV1::from).collect(),
            guests: season.guests().map(GuestV1::from).collect(),
            notes: season.notes().map(NoteV1::from).collect(),
            spots: season.spots().map(SpotV1::from).collect(),
        };
        file.next_id = Some(season.next_id()).filter(|&next| next != file.next_id_shown());
        file
    }
}

impl SeasonV1 {
    /// The next free number, as far as the entries tell.
    fn next_id_shown(&self) -> u32 {
        let places = self.places.iter().map(|place| place.id);
        let racks = self.racks.iter().map(|rack| rack.id);
        let shelves = self.shelves.iter().map(|shelf| shelf.id);
        let guests = self.guests.iter().map(|guest| guest.id);
        let sowings = self.sowings.iter().flat_map(|sowing| {
            let lots = sowing.lots.iter().map(|lot| lot.id);
            let steps = sowing.steps.iter().map(|step| step.id);
            [sowing.id].into_iter().chain(lots).chain(steps)
        });
        let shared = self.notes.iter().filter_map(|note| match note.tray {
            TrayV1::Shared(id) => Some(id),
            TrayV1::Own { .. } | TrayV1::Guest { .. } => None,
        });
        let all = places.chain(racks).chain(shelves).chain(guests).chain(sowings).chain(shared);
        all.max().map_or(1, |id| id.saturating_add(1))
    }
}

impl From<&Settings> for SettingsV1 {
    fn from(settings: &Settings) -> Self {
        Self {
            gap: LengthText(settings.gap.clone()),
            lamp_gap: LengthText(settings.lamp_gap.clone()),
            sure_percent: settings.sure_percent,
            weeks: match settings.weeks {
                WeekLabels::Iso => WeeksV1::Iso,
                WeekLabels::From(monday) => WeeksV1::From(DateText(monday)),
            },
            frost: settings.frost.as_ref().map(FrostV1::from),
            away: settings
                .away
                .iter()
                .map(|Away { name, span, waters, every_year }| AwayV1 {
                    name: name.clone(),
                    span: SpanText(*span),
                    waters: waters.clone(),
                    every_year: *every_year,
                })
                .collect(),
            water_every: settings.water_every,
        }
    }
}

impl From<&Frost> for FrostV1 {
    fn from(frost: &Frost) -> Self {
        let entry = |FrostChance { temperature, later_in_ten, date }: &FrostChance| FrostChanceV1 {
            temperature: TemperatureText(temperature.clone()),
            later_in_ten: *later_in_ten,
            date: DateText(*date),
        };
        Self {
            date: DateText(frost.date),
            later_in_ten: frost.later_in_ten,
            temperature: TemperatureText(frost.temperature.clone()),
            station: frost.station.clone(),
            years: frost.years.clone(),
            springs: frost.springs,
            method: match frost.method {
                FrostMethod::Given => FrostMethodV1::Given,
                FrostMethod::Empirical => FrostMethodV1::Empirical,
                FrostMethod::NormalLaw => FrostMethodV1::NormalLaw,
            },
            table: frost.table.iter().map(entry).collect(),
        }
    }
}

impl From<&Place> for PlaceV1 {
    fn from(place: &Place) -> Self {
        let Temperatures { day, night, mat } = place.temperatures.clone();
        Self {
            id: place.id.0,
            name: place.name.clone(),
            role: place.role.into(),
            part: match place.part {
                PartOfDay::Whole => PartOfDayV1::Whole,
                PartOfDay::Days => PartOfDayV1::Days,
                PartOfDay::Nights => PartOfDayV1::Nights,
            },
            open: place.open.iter().copied().map(SpanText).collect(),
            temperatures: TemperaturesV1 {
                day: day.map(TemperatureText),
                night: night.map(TemperatureText),
                mat: mat.map(TemperatureText),
            },
        }
    }
}

impl From<Role> for RoleV1 {
    fn from(role: Role) -> Self {
        match role {
            Role::Germinating => Self::Germinating,
            Role::Growing => Self::Growing,
            Role::Hardening => Self::Hardening,
        }
    }
}

impl From<&Rack> for RackV1 {
    fn from(rack: &Rack) -> Self {
        Self { id: rack.id.0, place: rack.place.0, name: rack.name.clone(), position: rack.position }
    }
}

impl From<&Shelf> for ShelfV1 {
    fn from(shelf: &Shelf) -> Self {
        Self {
            id: shelf.id.0,
            rack: shelf.rack.0,
            tier: shelf.tier,
            size: SizeText(Size { width: shelf.width.clone(), depth: shelf.depth.clone() }),
            clear_height: shelf.clear_height.clone().map(LengthText),
            reach: match shelf.reach {
                Reach::OneSide => ReachV1::OneSide,
                Reach::BothSides => ReachV1::BothSides,
            },
            overhang: LengthText(shelf.overhang.clone()),
            allowance_percent: shelf.allowance_percent,
            load_grams: shelf.load_grams,
            closed: shelf.closed.iter().copied().map(SpanText).collect(),
            zones: shelf.zones.iter().map(ZoneV1::from).collect(),
        }
    }
}

impl From<&Zone> for ZoneV1 {
    fn from(zone: &Zone) -> Self {
        Self {
            kind: match zone.kind {
                ZoneKind::Lamp => ZoneKindV1::Lamp,
                ZoneKind::Heat => ZoneKindV1::Heat,
            },
            x: LengthText(zone.x.clone()),
            y: LengthText(zone.y.clone()),
            size: SizeText(Size { width: zone.width.clone(), depth: zone.depth.clone() }),
        }
    }
}

impl From<&Sowing> for SowingV1 {
    fn from(sowing: &Sowing) -> Self {
        let wanted =
            |&Wanted { date, plants, rule }: &Wanted| WantedV1 { date: DateText(date), plants, rule: rule.into() };
        let lot = |lot: &crate::season::Lot| LotV1 { id: lot.id.0, share: lot.share, later: lot.later };
        Self {
            id: sowing.id.0,
            series: sowing.series.clone(),
            crop: sowing.crop.to_string(),
            variety: sowing.variety.clone(),
            begun: sowing.begun.map(|Begun { on, stage }| BegunV1 {
                on: DateText(on),
                stage: match stage {
                    Stage::Sown => StageV1::Sown,
                    Stage::Up => StageV1::Up,
                    Stage::TrueLeaves(leaves) => StageV1::TrueLeaves(leaves),
                },
            }),
            wanted: sowing.wanted.iter().map(wanted).collect(),
            steps: sowing.steps.iter().map(StepV1::from).collect(),
            lots: sowing.lots.iter().map(lot).collect(),
            seen: sowing.seen.iter().map(ObservationV1::from).collect(),
            seeds_per_cell: sowing.seeds_per_cell,
            germination_percent: sowing.germination_percent,
            germination_from: sowing.germination_from.clone(),
            losses_percent: sowing.losses_percent,
            stack: sowing.stack.map(|Stack { days, high }| StackV1 { days, high }),
            bottom_heat: sowing.bottom_heat,
            note: sowing.note.clone(),
        }
    }
}

impl From<OutRule> for OutRuleV1 {
    fn from(rule: OutRule) -> Self {
        match rule {
            OutRule::Day => Self::Day,
            OutRule::Frost { days, waits } => Self::Frost { days, waits },
            OutRule::Nth { nth, weekday, month } => Self::Nth { nth, weekday: weekday.into(), month },
            OutRule::Week { week, weekday } => Self::Week { week, weekday: weekday.into() },
        }
    }
}

impl From<&Step> for StepV1 {
    fn from(step: &Step) -> Self {
        Self {
            id: step.id.0,
            container: step.container.to_string(),
            carried_in: step.carried_in.as_ref().map(ToString::to_string),
            per_tray: step.per_tray,
            start: match step.start {
                Rule::WhenDue => RuleV1::WhenDue,
                Rule::On(date) => RuleV1::On(DateText(date)),
                Rule::DaysAfterSowing(days) => RuleV1::DaysAfterSowing(days),
                Rule::DaysBeforeOut(days) => RuleV1::DaysBeforeOut(days),
            },
            slack: step.slack.map(|Slack { early, late }| SlackV1 { early, late }),
            spaced: step.spaced.as_ref().map(|Spaced { after_days, pitch }| SpacedV1 {
                after_days: *after_days,
                pitch: LengthText(pitch.clone()),
            }),
        }
    }
}

impl From<&Observation> for ObservationV1 {
    fn from(observation: &Observation) -> Self {
        Self {
            date: DateText(observation.date),
            what: match observation.what {
                Observed::Sown { cells } => cells.map_or(SeenV1::Sown, SeenV1::SownCells),
                Observed::Up { plants } => SeenV1::Up { plants },
                Observed::TrueLeaves(leaves) => SeenV1::TrueLeaves(leaves),
                Observed::MovedOn(step) => SeenV1::MovedOn(step.0),
                Observed::Lost { plants, why: Loss::NotKnown } => SeenV1::Lost(plants),
                Observed::Lost { plants, why } => SeenV1::LostTo { plants, why: why.into() },
                Observed::PutOut(plants) => SeenV1::PutOut(plants),
                Observed::Sold(plants) => SeenV1::Sold(plants),
                Observed::GappedUp => SeenV1::GappedUp,
                Observed::Grown(grown) => SeenV1::Grown(grown.into()),
            },
        }
    }
}

impl From<&Guest> for GuestV1 {
    fn from(guest: &Guest) -> Self {
        Self {
            id: guest.id.0,
            name: guest.name.clone(),
            size: SizeText(guest.size.clone()),
            height: guest.height.clone().map(LengthText),
            number: guest.number,
            span: SpanText(guest.span),
            role: guest.role.into(),
            light: guest.light,
        }
    }
}

impl From<TrayKey> for TrayV1 {
    fn from(tray: TrayKey) -> Self {
        match tray {
            TrayKey::Own { lot, step, n } => Self::Own { lot: lot.0, step: step.0, n },
            TrayKey::Shared(id) => Self::Shared(id.0),
            TrayKey::Guest { guest, n } => Self::Guest { guest: guest.0, n },
        }
    }
}

impl From<&TrayNote> for NoteV1 {
    fn from(note: &TrayNote) -> Self {
        Self {
            tray: note.key.into(),
            mark: note.mark.clone(),
            rows: note
                .rows
                .iter()
                .map(|rows| RowsV1 { from: rows.rows.start, until: rows.rows.end, lot: rows.lot.0, step: rows.step.0 })
                .collect(),
            parents: note.parents.iter().copied().map(TrayV1::from).collect(),
        }
    }
}

impl From<&Spot> for SpotV1 {
    fn from(spot: &Spot) -> Self {
        Self {
            tray: spot.tray.into(),
            from: match spot.from {
                SpotFrom::Start => None,
                SpotFrom::On(date) => Some(DateText(date)),
            },
            until: spot.until.map(DateText),
            shelf: spot.shelf.0,
            x: PlaceText(spot.x),
            y: PlaceText(spot.y),
            quarter_turns: spot.quarter_turns,
            pinned: spot.pinned,
        }
    }
}
