//! Crops and containers of the grower's own, into their file structs and back.

use crate::season::{
    Chill, Container, ContainerKey, ContainerKind, Crop, CropKey, DayRange, Flat, GerminationTemperatures, GrowthPoint,
    Hardening, Hardiness, LatestWeeks, MovingOn, Plug, Pot, RimShape, SeedLight, SettingDepth, Sourced, ThermalTime,
    Transplants, Trust,
};
use crate::units::{Measure, Size, Temperature, Typed, Volume};

use super::text::{DegreesText, LengthText, SizeText, TemperatureText, VolumeText};
use super::v2::{
    ChillV2, ContainerV2, CropV2, FigureV2, GerminationV2, HardeningV2, HardinessV2, KindV2, LatestV2, MovingOnV2,
    RimShapeV2, SeedLightV2, SettingDepthV2, ThermalV2, TransplantsV2, TrustV2,
};

/// A value of the season as its file form.
trait Form<V> {
    fn of(value: &V) -> Self;
    fn read(self) -> V;
}

macro_rules! text_forms {
    ($($form:ident = $of:ty),*) => {$(
        impl Form<$of> for $form {
            fn of(value: &$of) -> Self {
                Self(value.clone())
            }

            fn read(self) -> $of {
                self.0
            }
        }
    )*};
}

text_forms!(DegreesText = Temperature, LengthText = Measure, SizeText = Size, TemperatureText = Typed<Temperature>, VolumeText = Typed<Volume>);

macro_rules! plain_forms {
    ($($of:ty),*) => {$(
        impl Form<Self> for $of {
            fn of(value: &Self) -> Self {
                value.clone()
            }

            fn read(self) -> Self {
                self
            }
        }
    )*};
}

plain_forms!(u8, u16, u32, f64, String, (u8, u8), (i8, i8), (f64, f64), (u16, u16));

impl Form<DayRange> for (u16, u16, u16) {
    fn of(days: &DayRange) -> Self {
        (days.early, days.likely, days.late)
    }

    fn read(self) -> DayRange {
        let (early, likely, late) = self;
        DayRange { early, likely, late }
    }
}

impl Form<Vec<GrowthPoint>> for Vec<(f64, f64)> {
    fn of(points: &Vec<GrowthPoint>) -> Self {
        points.iter().map(|point| (point.week, point.mm)).collect()
    }

    fn read(self) -> Vec<GrowthPoint> {
        self.into_iter().map(|(week, mm)| GrowthPoint { week, mm }).collect()
    }
}

impl<V, T: Form<V>> Form<Option<V>> for Option<T> {
    fn of(value: &Option<V>) -> Self {
        value.as_ref().map(T::of)
    }

    fn read(self) -> Option<V> {
        self.map(T::read)
    }
}

impl<V, T: Form<V>> Form<Sourced<V>> for FigureV2<T> {
    fn of(figure: &Sourced<V>) -> Self {
        Self {
            value: T::of(&figure.value),
            trust: TrustV2::of(&figure.trust),
            source: figure.source.as_ref().to_owned(),
        }
    }

    fn read(self) -> Sourced<V> {
        Sourced { value: self.value.read(), trust: self.trust.read(), source: self.source.into() }
    }
}

macro_rules! choices {
    ($($form:ident = $of:ident { $($choice:ident),* })*) => {$(
        impl Form<$of> for $form {
            fn of(choice: &$of) -> Self {
                match choice {
                    $($of::$choice => Self::$choice),*
                }
            }

            fn read(self) -> $of {
                match self {
                    $(Self::$choice => $of::$choice),*
                }
            }
        }
    )*};
}

choices! {
    TrustV2 = Trust { Published, Derived, CommonPractice, FromMemory, Own }
    SeedLightV2 = SeedLight { Light, Dark, Either }
    HardinessV2 = Hardiness { Hardy, HalfHardy, Tender, VeryTender }
    SettingDepthV2 = SettingDepth { Deep, Collar, Either }
    TransplantsV2 = Transplants { Easily, Moderately, Poorly }
    RimShapeV2 = RimShape { Square, Round }
}

macro_rules! field_by_field {
    ($($form:ident = $of:ident { $($field:ident),* })*) => {$(
        impl Form<$of> for $form {
            fn of(value: &$of) -> Self {
                Self { $($field: Form::of(&value.$field)),* }
            }

            fn read(self) -> $of {
                $of { $($field: self.$field.read()),* }
            }
        }
    )*};
}

field_by_field! {
    GerminationV2 = GerminationTemperatures { min, best_low, best_high, max }
    ThermalV2 = ThermalTime { base, degree_days, low, high }
    MovingOnV2 = MovingOn { true_leaves, days }
    LatestV2 = LatestWeeks { small, medium, large, pot }
    ChillV2 = Chill { below, days, words }
    HardeningV2 = Hardening { days, first_night_after }
}

impl From<CropV2> for Crop {
    fn from(file: CropV2) -> Self {
        Self {
            key: CropKey::new(&file.key),
            name: file.name,
            latin: file.latin,
            family: file.family,
            mark: file.mark,
            germination_percent: file.germination_percent.read(),
            germination_legal_percent: file.germination_legal_percent.read(),
            germination_temperatures: file.germination_temperatures.read(),
            light_to_germinate: file.light_to_germinate.read(),
            emergence: file.emergence.read(),
            emergence_warmth: file.emergence_warmth.read(),
            emergence_row: file.emergence_row.read(),
            leaf_warmth: file.leaf_warmth.read(),
            moving_on: file.moving_on.read(),
            latest: file.latest.read(),
            weeks_to_planting_out: file.weeks_to_planting_out.read(),
            planting_out_after_frost: file.planting_out_after_frost.read(),
            hardiness: file.hardiness.read(),
            come_in: file.come_in.read(),
            bolts: file.bolts.read(),
            hardening: file.hardening.read(),
            depth: file.depth.read(),
            transplants: file.transplants.read(),
            usual_moves: file.usual_moves,
            usual_cells: file.usual_cells,
            heights: file.heights.read(),
            spreads: file.spreads.read(),
            light: file.light.read(),
            seeds_per_gram: file.seeds_per_gram.read(),
            before_sowing: file.before_sowing,
        }
    }
}

impl From<&Crop> for CropV2 {
    fn from(crop: &Crop) -> Self {
        Self {
            key: crop.key.to_string(),
            name: crop.name.clone(),
            latin: crop.latin.clone(),
            family: crop.family.clone(),
            mark: crop.mark.clone(),
            germination_percent: Form::of(&crop.germination_percent),
            germination_legal_percent: Form::of(&crop.germination_legal_percent),
            germination_temperatures: Form::of(&crop.germination_temperatures),
            light_to_germinate: Form::of(&crop.light_to_germinate),
            emergence: Form::of(&crop.emergence),
            emergence_warmth: Form::of(&crop.emergence_warmth),
            emergence_row: Form::of(&crop.emergence_row),
            leaf_warmth: Form::of(&crop.leaf_warmth),
            moving_on: Form::of(&crop.moving_on),
            latest: Form::of(&crop.latest),
            weeks_to_planting_out: Form::of(&crop.weeks_to_planting_out),
            planting_out_after_frost: Form::of(&crop.planting_out_after_frost),
            hardiness: Form::of(&crop.hardiness),
            come_in: Form::of(&crop.come_in),
            bolts: Form::of(&crop.bolts),
            hardening: Form::of(&crop.hardening),
            depth: Form::of(&crop.depth),
            transplants: Form::of(&crop.transplants),
            usual_moves: crop.usual_moves,
            usual_cells: crop.usual_cells.clone(),
            heights: Form::of(&crop.heights),
            spreads: Form::of(&crop.spreads),
            light: Form::of(&crop.light),
            seeds_per_gram: Form::of(&crop.seeds_per_gram),
            before_sowing: crop.before_sowing.clone(),
        }
    }
}

impl From<ContainerV2> for Container {
    fn from(file: ContainerV2) -> Self {
        let kind = match file.kind {
            KindV2::Flat { outer, floor } => ContainerKind::Flat(Flat { outer: outer.read(), floor: floor.read() }),
            KindV2::Plug { outer, cells, grid, cell_top, cell_volume } => ContainerKind::Plug(Plug {
                outer: outer.read(),
                cells,
                grid,
                cell_top: cell_top.read(),
                cell_volume: cell_volume.read(),
            }),
            KindV2::Pot { rim, top, bottom, volume, per_flat } => ContainerKind::Pot(Pot {
                rim: rim.read(),
                top: top.read(),
                bottom: bottom.read(),
                volume: volume.read(),
                per_flat,
            }),
            KindV2::Class { low, high, trust, source } => ContainerKind::Class {
                low: low.read(),
                high: high.read(),
                source: Sourced::new((), trust.read(), &source),
            },
        };
        Self { key: ContainerKey::new(&file.key), name: file.name, kind, height: file.height.read(), note: file.note }
    }
}

impl From<&Container> for ContainerV2 {
    fn from(container: &Container) -> Self {
        let kind = match &container.kind {
            ContainerKind::Flat(Flat { outer, floor }) => {
                KindV2::Flat { outer: Form::of(outer), floor: Form::of(floor) }
            }
            ContainerKind::Plug(Plug { outer, cells, grid, cell_top, cell_volume }) => KindV2::Plug {
                outer: Form::of(outer),
                cells: *cells,
                grid: *grid,
                cell_top: Form::of(cell_top),
                cell_volume: Form::of(cell_volume),
            },
            ContainerKind::Pot(Pot { rim, top, bottom, volume, per_flat }) => KindV2::Pot {
                rim: Form::of(rim),
                top: Form::of(top),
                bottom: Form::of(bottom),
                volume: Form::of(volume),
                per_flat: *per_flat,
            },
            ContainerKind::Class { low, high, source } => KindV2::Class {
                low: Form::of(low),
                high: Form::of(high),
                trust: Form::of(&source.trust),
                source: source.source.as_ref().to_owned(),
            },
        };
        Self {
            key: container.key.to_string(),
            name: container.name.clone(),
            kind,
            height: Form::of(&container.height),
            note: container.note.clone(),
        }
    }
}
