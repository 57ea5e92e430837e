//! From a season to the newest file structs, and to the text of its file.

use crate::season::{
    Away, Begun, Counted, Frost, FrostChance, FrostMethod, Guest, Light, Loss, Lot, Observation, Observed, OutRule,
    PartOfDay, Place, Rack, Reach, Role, Rule, Season, Settings, Shelf, Slack, Sowing, Spaced, Spacing, Spot, SpotFrom,
    Stack, Stage, Step, Temperatures, TrayKey, TrayNote, Verdict, Wanted, WeekLabels, Zone, ZoneKind,
};
use crate::units::Size;
use crate::words::files;

use super::format::{FORMAT, VERSION, options};
use super::layout::lay_out;
use super::text::{DateText, LengthText, PlaceText, SizeText, SpanText, TemperatureText};
use super::v2::{
    AwayV2, BegunV2, ContainerV2, CountedV2, CropV2, FloorV2, FrostChanceV2, FrostMethodV2, FrostV2, GuestV2, LeavesV2,
    LightV2, LotV2, NoteV2, ObservationV2, OutRuleV2, PartOfDayV2, PlaceV2, RackV2, ReachV2, RoleV2, RowsV2, RuleV2,
    SeasonV2, SeenV2, SettingsV2, ShelfV2, SlackV2, SowingV2, SpacedV2, SpotV2, StackV2, StageV2, StandsV2, StepV2,
    TemperaturesV2, TrayV2, UnwantedV2, VerdictV2, WantedV2, WeeksV2, WhatIfV2, ZoneKindV2, ZoneV2,
};

/// The season as a file in the newest version.
///
/// # Panics
/// Never: the names of the file's structs are all that could be wrong, and every test writes them.
pub fn to_text(season: &Season) -> String {
    let compact = options().to_string(&SeasonV2::from(season)).expect("every part of a season can be written");
    format!("// {}\n{}", files::OPENS_A_FILE, lay_out(&compact))
}

impl From<&Season> for SeasonV2 {
    fn from(season: &Season) -> Self {
        let mut file = Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            name: season.name().to_owned(),
            note: season.note().to_owned(),
            settings: season.settings().into(),
            next_id: None,
            away: season.away().into_iter().map(AwayV2::from).collect(),
            crops: season.own_crops().map(CropV2::from).collect(),
            containers: season.own_containers().map(ContainerV2::from).collect(),
            places: season.places().map(PlaceV2::from).collect(),
            racks: season.racks().into_iter().map(RackV2::from).collect(),
            shelves: season.shelves().map(ShelfV2::from).collect(),
            sowings: season.sowings().map(SowingV2::from).collect(),
            guests: season.guests().map(GuestV2::from).collect(),
            notes: season.notes().map(NoteV2::from).collect(),
            spots: season.spots().map(SpotV2::from).collect(),
        };
        file.next_id = Some(season.next_id()).filter(|&next| next != file.next_id_shown());
        file
    }
}

impl SeasonV2 {
    /// The next free number, as far as the entries tell.
    pub(super) fn next_id_shown(&self) -> u32 {
        let places = self.places.iter().map(|place| place.id);
        let racks = self.racks.iter().map(|rack| rack.id);
        let shelves = self.shelves.iter().map(|shelf| shelf.id);
        let guests = self.guests.iter().map(|guest| guest.id);
        let sowings = self.sowings.iter().flat_map(|sowing| {
            let lots = sowing.lots.iter().map(|lot| lot.id);
            let steps = sowing.steps.iter().map(|step| step.id);
            let records = sowing.seen.iter().map(|record| record.id);
            [sowing.id].into_iter().chain(lots).chain(steps).chain(records)
        });
        let shared = self.notes.iter().filter_map(|note| match note.tray {
            TrayV2::Shared(id) => Some(id),
            TrayV2::Own { .. } | TrayV2::Guest { .. } => None,
        });
        let away = self.away.iter().map(|away| away.id);
        let all = places.chain(away).chain(racks).chain(shelves).chain(guests).chain(sowings).chain(shared);
        all.max().map_or(1, |id| id.saturating_add(1))
    }
}

impl From<&Settings> for SettingsV2 {
    fn from(settings: &Settings) -> Self {
        Self {
            gap: LengthText(settings.gap.clone()),
            lamp_gap: LengthText(settings.lamp_gap.clone()),
            sure_percent: settings.sure_percent,
            weeks: match settings.weeks {
                WeekLabels::Iso => WeeksV2::Iso,
                WeekLabels::From(monday) => WeeksV2::From(DateText(monday)),
            },
            frost: settings.frost.as_ref().map(FrostV2::from),
            water_every: settings.water_every,
            potting: settings.potting.into(),
            matters: settings.matters.into(),
            unwanted: settings.unwanted.iter().copied().map(UnwantedV2::from).collect(),
            what_ifs: settings.what_ifs.iter().map(WhatIfV2::from).collect(),
        }
    }
}

impl From<&Away> for AwayV2 {
    fn from(away: &Away) -> Self {
        Self {
            id: away.id.0,
            name: away.name.clone(),
            span: SpanText(away.span),
            waters: away.waters.clone(),
            every_year: away.every_year,
        }
    }
}

impl From<&Frost> for FrostV2 {
    fn from(frost: &Frost) -> Self {
        let entry = |FrostChance { temperature, later_in_ten, date }: &FrostChance| FrostChanceV2 {
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
                FrostMethod::Given => FrostMethodV2::Given,
                FrostMethod::Empirical => FrostMethodV2::Empirical,
                FrostMethod::NormalLaw => FrostMethodV2::NormalLaw,
            },
            table: frost.table.iter().map(entry).collect(),
        }
    }
}

impl From<&Place> for PlaceV2 {
    fn from(place: &Place) -> Self {
        let Temperatures { day, night, mat } = place.temperatures.clone();
        Self {
            id: place.id.0,
            name: place.name.clone(),
            role: place.role.into(),
            part: match place.part {
                PartOfDay::Whole => PartOfDayV2::Whole,
                PartOfDay::Days => PartOfDayV2::Days,
                PartOfDay::Nights => PartOfDayV2::Nights,
            },
            open: place.open.iter().copied().map(SpanText).collect(),
            temperatures: TemperaturesV2 {
                day: day.map(TemperatureText),
                night: night.map(TemperatureText),
                mat: mat.map(TemperatureText),
            },
            light: place.light.into(),
            floor: place.floor.as_ref().map(FloorV2::from),
        }
    }
}

impl From<Light> for LightV2 {
    fn from(light: Light) -> Self {
        match light {
            Light::Lamps => Self::Lamps,
            Light::Daylight => Self::Daylight,
            Light::Dark => Self::Dark,
        }
    }
}

impl From<Role> for RoleV2 {
    fn from(role: Role) -> Self {
        match role {
            Role::Germinating => Self::Germinating,
            Role::Growing => Self::Growing,
            Role::Hardening => Self::Hardening,
        }
    }
}

impl From<&Rack> for RackV2 {
    fn from(rack: &Rack) -> Self {
        let stands = rack.stands.as_ref().map(StandsV2::from);
        Self { id: rack.id.0, place: rack.place.0, name: rack.name.clone(), position: rack.position, stands }
    }
}

impl From<&Shelf> for ShelfV2 {
    fn from(shelf: &Shelf) -> Self {
        Self {
            id: shelf.id.0,
            rack: shelf.rack.0,
            tier: shelf.tier,
            size: SizeText(Size { width: shelf.width.clone(), depth: shelf.depth.clone() }),
            clear_height: shelf.clear_height.clone().map(LengthText),
            reach: match shelf.reach {
                Reach::OneSide => ReachV2::OneSide,
                Reach::BothSides => ReachV2::BothSides,
            },
            overhang: LengthText(shelf.overhang.clone()),
            allowance_percent: shelf.allowance_percent,
            load_grams: shelf.load_grams,
            light: shelf.light.map(LightV2::from),
            closed: shelf.closed.iter().copied().map(SpanText).collect(),
            zones: shelf.zones.iter().map(ZoneV2::from).collect(),
        }
    }
}

impl From<&Zone> for ZoneV2 {
    fn from(zone: &Zone) -> Self {
        Self {
            kind: match zone.kind {
                ZoneKind::Lamp => ZoneKindV2::Lamp,
                ZoneKind::Heat => ZoneKindV2::Heat,
            },
            x: LengthText(zone.x.clone()),
            y: LengthText(zone.y.clone()),
            size: SizeText(Size { width: zone.width.clone(), depth: zone.depth.clone() }),
        }
    }
}

impl From<&Sowing> for SowingV2 {
    fn from(sowing: &Sowing) -> Self {
        let wanted = |&Wanted { date, plants, rule, to_sell }: &Wanted| WantedV2 {
            date: DateText(date),
            plants,
            rule: rule.into(),
            to_sell,
        };
        let lot = |&Lot { id, share, later, delays }: &Lot| LotV2 { id: id.0, share, later, delays: delays.into() };
        let verdict = |&Verdict { grown, days, year }: &Verdict| VerdictV2 { grown: grown.into(), days, year };
        Self {
            id: sowing.id.0,
            series: sowing.series.clone(),
            crop: sowing.crop.to_string(),
            variety: sowing.variety.clone(),
            begun: sowing.begun.map(|Begun { on, stage }| BegunV2 {
                on: DateText(on),
                stage: match stage {
                    Stage::Sown => StageV2::Sown,
                    Stage::Up => StageV2::Up,
                    Stage::TrueLeaves(leaves) => StageV2::TrueLeaves(leaves),
                },
            }),
            wanted: sowing.wanted.iter().map(wanted).collect(),
            steps: sowing.steps.iter().map(StepV2::from).collect(),
            lots: sowing.lots.iter().map(lot).collect(),
            seen: sowing.seen.iter().map(ObservationV2::from).collect(),
            seeds_per_cell: sowing.seeds_per_cell,
            germination_percent: sowing.germination_percent,
            germination_from: sowing.germination_from.map(|Counted { up, sown, year }| CountedV2 { up, sown, year }),
            losses_percent: sowing.losses_percent,
            stack: sowing.stack.map(|Stack { days, high }| StackV2 { days, high }),
            bottom_heat: sowing.bottom_heat,
            harden_days: sowing.harden_days,
            alone: sowing.alone,
            again_of: sowing.again_of.map(|id| id.0),
            verdicts: sowing.verdicts.iter().map(verdict).collect(),
            note: sowing.note.clone(),
        }
    }
}

impl From<OutRule> for OutRuleV2 {
    fn from(rule: OutRule) -> Self {
        match rule {
            OutRule::Day => Self::Day,
            OutRule::Frost { days, waits } => Self::Frost { days, waits },
            OutRule::Nth { nth, weekday, month } => Self::Nth { nth, weekday: weekday.into(), month },
            OutRule::Week { week, weekday } => Self::Week { week, weekday: weekday.into() },
        }
    }
}

impl From<&Step> for StepV2 {
    fn from(step: &Step) -> Self {
        Self {
            id: step.id.0,
            container: step.container.to_string(),
            carried_in: step.carried_in.as_ref().map(ToString::to_string),
            per_tray: step.per_tray,
            start: match step.start {
                Rule::WhenDue => RuleV2::WhenDue,
                Rule::On(date) => RuleV2::On(DateText(date)),
                Rule::DaysAfterSowing(days) => RuleV2::DaysAfterSowing(days),
                Rule::DaysBeforeOut(days) => RuleV2::DaysBeforeOut(days),
            },
            slack: step.slack.map(|Slack { early, late }| SlackV2 { early, late }),
            spaced: match &step.spaced {
                Some(Spacing::At(Spaced { after_days, pitch })) => {
                    Some(SpacedV2 { after_days: *after_days, pitch: LengthText(pitch.clone()) })
                }
                _ => None,
            },
            leaves: match step.spaced {
                Some(Spacing::Never) => Some(LeavesV2::MayMeet),
                Some(Spacing::WhenLeavesMeet) => Some(LeavesV2::Apart),
                _ => None,
            },
        }
    }
}

impl From<&Observation> for ObservationV2 {
    fn from(observation: &Observation) -> Self {
        Self {
            id: observation.id.0,
            date: DateText(observation.date),
            what: match observation.what {
                Observed::Sown { cells } => cells.map_or(SeenV2::Sown, SeenV2::SownCells),
                Observed::Up { plants } => SeenV2::Up { plants },
                Observed::TrueLeaves(leaves) => SeenV2::TrueLeaves(leaves),
                Observed::MovedOn(step) => SeenV2::MovedOn(step.0),
                Observed::Lost { plants, why: Loss::NotKnown } => SeenV2::Lost(plants),
                Observed::Lost { plants, why } => SeenV2::LostTo { plants, why: why.into() },
                Observed::PutOut(plants) => SeenV2::PutOut(plants),
                Observed::Sold(plants) => SeenV2::Sold(plants),
                Observed::GappedUp => SeenV2::GappedUp,
                Observed::Prepared => SeenV2::Prepared,
                Observed::Unstacked => SeenV2::Unstacked,
                Observed::SpacedOut => SeenV2::SpacedOut,
                Observed::HardeningBegun => SeenV2::HardeningBegun,
                Observed::NightOut => SeenV2::NightOut,
                Observed::Grown(grown) => SeenV2::Grown(grown.into()),
            },
            lot: observation.lot.map(|lot| lot.0),
        }
    }
}

impl From<&Guest> for GuestV2 {
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
            grams: guest.grams,
        }
    }
}

impl From<TrayKey> for TrayV2 {
    fn from(tray: TrayKey) -> Self {
        match tray {
            TrayKey::Own { lot, step, n } => Self::Own { lot: lot.0, step: step.0, n },
            TrayKey::Shared(id) => Self::Shared(id.0),
            TrayKey::Guest { guest, n } => Self::Guest { guest: guest.0, n },
        }
    }
}

impl From<&TrayNote> for NoteV2 {
    fn from(note: &TrayNote) -> Self {
        Self {
            tray: note.key.into(),
            mark: note.mark.clone(),
            rows: note
                .rows
                .iter()
                .map(|rows| RowsV2 {
                    from: rows.rows.start,
                    until: rows.rows.end,
                    cells: rows.cells.as_ref().map(|cells| (cells.start, cells.end)),
                    lot: rows.lot.0,
                    step: rows.step.0,
                })
                .collect(),
            parents: note.parents.iter().copied().map(TrayV2::from).collect(),
        }
    }
}

impl From<&Spot> for SpotV2 {
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
