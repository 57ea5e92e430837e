//! From version 1 to version 2: days away and records get numbers of their own, and the count behind
//! a germination rate becomes figures.

use super::format::VERSION;
use super::text::{DateText, DegreesText, LengthText, PlaceText, SizeText, SpanText, TemperatureText, VolumeText};
use super::v1::{
    AwayV1, BegunV1, ChillV1, ContainerV1, CropV1, FigureV1, FrostChanceV1, FrostMethodV1, FrostV1, GerminationV1,
    GrownV1, GuestV1, HardeningV1, HardinessV1, KindV1, LatestV1, LossV1, LotV1, MovingOnV1, NoteV1, ObservationV1,
    OutRuleV1, PartOfDayV1, PlaceV1, RackV1, ReachV1, RimShapeV1, RoleV1, RowsV1, RuleV1, SeasonV1, SeedLightV1,
    SeenV1, SettingDepthV1, SettingsV1, ShelfV1, SlackV1, SowingV1, SpacedV1, SpotV1, StackV1, StageV1, StepV1,
    TemperaturesV1, ThermalV1, TransplantsV1, TrayV1, TrustV1, WantedV1, WeekdayV1, WeeksV1, ZoneKindV1, ZoneV1,
};
use super::v2::{
    AwayV2, BegunV2, ChillV2, ContainerV2, CountedV2, CropV2, DelaysV2, FigureV2, FrostChanceV2, FrostMethodV2,
    FrostV2, GerminationV2, GrownV2, GuestV2, HardeningV2, HardinessV2, KindV2, LatestV2, LightV2, LossV2, LotV2,
    MattersV2, MovingOnV2, NoteV2, ObservationV2, OutRuleV2, PartOfDayV2, PlaceV2, PottingV2, RackV2, ReachV2,
    RimShapeV2, RoleV2, RowsV2, RuleV2, SeasonV2, SeedLightV2, SeenV2, SettingDepthV2, SettingsV2, ShelfV2, SlackV2,
    SowingV2, SpacedV2, SpotV2, StackV2, StageV2, StepV2, TemperaturesV2, ThermalV2, TransplantsV2, TrayV2, TrustV2,
    WantedV2, WeekdayV2, WeeksV2, ZoneKindV2, ZoneV2,
};

/// The same thing in the next version.
trait Next<T> {
    fn next(self) -> T;
}

impl<T: Next<U>, U> Next<Option<U>> for Option<T> {
    fn next(self) -> Option<U> {
        self.map(T::next)
    }
}

impl<T: Next<U>, U> Next<Vec<U>> for Vec<T> {
    fn next(self) -> Vec<U> {
        self.into_iter().map(T::next).collect()
    }
}

impl<T: Next<U>, U> Next<FigureV2<U>> for FigureV1<T> {
    fn next(self) -> FigureV2<U> {
        FigureV2 { value: self.value.next(), trust: self.trust.next(), source: self.source }
    }
}

macro_rules! as_it_is {
    ($($same:ty),* $(,)?) => {$(
        impl Next<Self> for $same {
            fn next(self) -> Self {
                self
            }
        }
    )*};
}

as_it_is! {
    bool, u8, u16, u32, i8, i16, f64, String, (u8, u8), (i8, i8), (u16, u16), (f64, f64), (u16, u16, u16),
    DateText, DegreesText, LengthText, PlaceText, SizeText, SpanText, TemperatureText, VolumeText,
}

macro_rules! field_by_field {
    ($($old:ident => $new:ident { $($field:ident),* $(; $($more:ident: $value:expr),+)? })*) => {$(
        impl Next<$new> for $old {
            fn next(self) -> $new {
                $new { $($field: self.$field.next(),)* $($($more: $value),+)? }
            }
        }
    )*};
}

macro_rules! one_for_one {
    ($($old:ident => $new:ident { $($choice:ident $(($one:ident))? $({ $($field:ident),* })?),* $(,)? })*) => {$(
        impl Next<$new> for $old {
            fn next(self) -> $new {
                match self {
                    $(Self::$choice $(($one))? $({ $($field),* })? => {
                        $new::$choice $(($one.next()))? $({ $($field: $field.next()),* })?
                    })*
                }
            }
        }
    )*};
}

/// Given once all that has a number already is there.
const UNNUMBERED: u32 = 0;

field_by_field! {
    AwayV1 => AwayV2 { name, span, waters, every_year; id: UNNUMBERED }
    FrostV1 => FrostV2 { date, later_in_ten, temperature, station, years, springs, method, table }
    FrostChanceV1 => FrostChanceV2 { temperature, later_in_ten, date }
    PlaceV1 => PlaceV2 { id, name, role, part, open, temperatures; light: LightV2::Lamps, floor: None }
    TemperaturesV1 => TemperaturesV2 { day, night, mat }
    RackV1 => RackV2 { id, place, name, position; stands: None }
    ShelfV1 => ShelfV2 { id, rack, tier, size, clear_height, reach, overhang, allowance_percent, load_grams, closed, zones; light: None }
    ZoneV1 => ZoneV2 { kind, x, y, size }
    BegunV1 => BegunV2 { on, stage }
    WantedV1 => WantedV2 { date, plants, rule; to_sell: false }
    StepV1 => StepV2 { id, container, carried_in, per_tray, start, slack, spaced; leaves: None }
    SlackV1 => SlackV2 { early, late }
    SpacedV1 => SpacedV2 { after_days, pitch }
    LotV1 => LotV2 { id, share, later; delays: DelaysV2::MovingOn }
    StackV1 => StackV2 { days, high }
    ObservationV1 => ObservationV2 { date, what; id: UNNUMBERED, lot: None }
    GuestV1 => GuestV2 { id, name, size, height, number, span, role, light; grams: None }
    NoteV1 => NoteV2 { tray, mark, rows, parents }
    RowsV1 => RowsV2 { from, until, lot, step; cells: None }
    SpotV1 => SpotV2 { tray, from, until, shelf, x, y, quarter_turns, pinned }
    CropV1 => CropV2 { key, name, latin, family, mark, germination_percent, germination_legal_percent, germination_temperatures, light_to_germinate, emergence, emergence_warmth, emergence_row, leaf_warmth, moving_on, latest, weeks_to_planting_out, planting_out_after_frost, hardiness, come_in, bolts, hardening, depth, transplants, usual_moves, usual_cells, heights, spreads, light, seeds_per_gram, before_sowing; in_open_flat: None, spaced: false, germination_row: None, weeks_to_sale: None, rooting_days: None }
    GerminationV1 => GerminationV2 { min, best_low, best_high, max }
    ThermalV1 => ThermalV2 { base, degree_days, low, high }
    MovingOnV1 => MovingOnV2 { true_leaves, days }
    LatestV1 => LatestV2 { small, medium, large, pot; litre: None, gallon: None, in_days: false }
    ChillV1 => ChillV2 { below, days, words }
    HardeningV1 => HardeningV2 { days, first_night_after }
    ContainerV1 => ContainerV2 { key, name, kind, height, note; dome: None }
}

one_for_one! {
    WeeksV1 => WeeksV2 { Iso, From(one) }
    FrostMethodV1 => FrostMethodV2 { Given, Empirical, NormalLaw }
    RoleV1 => RoleV2 { Germinating, Growing, Hardening }
    PartOfDayV1 => PartOfDayV2 { Whole, Days, Nights }
    ReachV1 => ReachV2 { OneSide, BothSides }
    ZoneKindV1 => ZoneKindV2 { Lamp, Heat }
    StageV1 => StageV2 { Sown, Up, TrueLeaves(one) }
    OutRuleV1 => OutRuleV2 { Day, Frost { days, waits }, Nth { nth, weekday, month }, Week { week, weekday } }
    WeekdayV1 => WeekdayV2 { Monday, Tuesday, Wednesday, Thursday, Friday, Saturday, Sunday }
    RuleV1 => RuleV2 { WhenDue, On(one), DaysAfterSowing(one), DaysBeforeOut(one) }
    SeenV1 => SeenV2 { Sown, SownCells(one), Up { plants }, TrueLeaves(one), MovedOn(one), Lost(one), LostTo { plants, why }, PutOut(one), Sold(one), GappedUp, Grown(one) }
    LossV1 => LossV2 { NotKnown, DampingOff, TooDry, TooWet, Cold, Heat, Pests, Handling, Surplus }
    GrownV1 => GrownV2 { TooSmall, Right, TooBig }
    TrayV1 => TrayV2 { Own { lot, step, n }, Shared(one), Guest { guest, n } }
    TrustV1 => TrustV2 { Published, Derived, CommonPractice, FromMemory, Own }
    SeedLightV1 => SeedLightV2 { Light, Dark, Either }
    HardinessV1 => HardinessV2 { Hardy, HalfHardy, Tender, VeryTender }
    SettingDepthV1 => SettingDepthV2 { Deep, Collar, Either }
    TransplantsV1 => TransplantsV2 { Easily, Moderately, Poorly }
    RimShapeV1 => RimShapeV2 { Square, Round }
}

impl Next<KindV2> for KindV1 {
    fn next(self) -> KindV2 {
        match self {
            Self::Flat { outer, floor } => KindV2::Flat { outer: outer.next(), floor: floor.next(), pockets: None },
            Self::Plug { outer, cells, grid, cell_top, cell_volume } => KindV2::Plug {
                outer: outer.next(),
                cells,
                grid,
                cell_top: cell_top.next(),
                cell_volume: cell_volume.next(),
            },
            Self::Pot { rim, top, bottom, volume, per_flat } => KindV2::Pot {
                rim: rim.next(),
                top: top.next(),
                bottom: bottom.next(),
                volume: volume.next(),
                brim: None,
                per_flat,
            },
            Self::Class { low, high, trust, source } => KindV2::Class { low, high, trust: trust.next(), source },
        }
    }
}

impl Next<SettingsV2> for SettingsV1 {
    fn next(self) -> SettingsV2 {
        let Self { gap, lamp_gap, sure_percent, weeks, frost, away: _, water_every } = self;
        let (weeks, frost) = (weeks.next(), frost.next());
        let (potting, matters) = (PottingV2::PotOn, MattersV2::default());
        let (unwanted, what_ifs) = (Vec::new(), Vec::new());
        SettingsV2 { gap, lamp_gap, sure_percent, weeks, frost, water_every, potting, matters, unwanted, what_ifs }
    }
}

impl Next<SowingV2> for SowingV1 {
    fn next(self) -> SowingV2 {
        let germination_from = counted(&self.germination_from);
        let mut note = self.note;
        // version 1 wrote nothing else there, but what somebody typed is not lost
        if germination_from.is_none() && !self.germination_from.is_empty() {
            let between = if note.is_empty() { "" } else { "\n" };
            note = format!("{note}{between}{}", self.germination_from);
        }
        SowingV2 {
            id: self.id,
            series: self.series,
            crop: self.crop,
            variety: self.variety,
            begun: self.begun.next(),
            wanted: self.wanted.next(),
            steps: self.steps.next(),
            lots: self.lots.next(),
            seen: self.seen.next(),
            seeds_per_cell: self.seeds_per_cell,
            germination_percent: self.germination_percent,
            germination_from,
            losses_percent: self.losses_percent,
            stack: self.stack.next(),
            bottom_heat: self.bottom_heat,
            harden_days: None,
            alone: false,
            again_of: None,
            verdicts: Vec::new(),
            note,
        }
    }
}

/// `1010 of 1152 came up in 2026`, with `, few` behind it where it were few.
fn counted(text: &str) -> Option<CountedV2> {
    let parts: Vec<&str> = text.split(' ').collect();
    let [up, "of", sown, "came", "up", "in", year] = parts.strip_suffix(&["few"]).unwrap_or(&parts) else {
        return None;
    };
    let year = year.trim_end_matches(',');
    Some(CountedV2 { up: up.parse().ok()?, sown: sown.parse().ok()?, year: year.parse().ok()? })
}

impl From<SeasonV1> for SeasonV2 {
    fn from(mut old: SeasonV1) -> Self {
        let away = std::mem::take(&mut old.settings.away);
        let mut new = Self {
            format: old.format,
            version: VERSION,
            name: old.name,
            note: old.note,
            settings: old.settings.next(),
            next_id: old.next_id,
            away: away.next(),
            crops: old.crops.next(),
            containers: old.containers.next(),
            places: old.places.next(),
            racks: old.racks.next(),
            shelves: old.shelves.next(),
            sowings: old.sowings.next(),
            guests: old.guests.next(),
            notes: old.notes.next(),
            spots: old.spots.next(),
        };
        let mut next = new.next_id_shown().max(new.next_id.unwrap_or_default());
        let away = new.away.iter_mut().map(|away| &mut away.id);
        let records = new.sowings.iter_mut().flat_map(|sowing| sowing.seen.iter_mut().map(|record| &mut record.id));
        for id in away.chain(records) {
            *id = next;
            next = next.saturating_add(1);
        }
        new.next_id = Some(next);
        new
    }
}
