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

plain_forms!(bool, u8, u16, u32, f64, String, Vec<u16>, (u8, u8), (i8, i8), (f64, f64), (u16, u16));

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

impl Form<CropKey> for String {
    fn of(key: &CropKey) -> Self {
        key.to_string()
    }

    fn read(self) -> CropKey {
        CropKey::new(&self)
    }
}

impl Form<ContainerKey> for String {
    fn of(key: &ContainerKey) -> Self {
        key.to_string()
    }

    fn read(self) -> ContainerKey {
        ContainerKey::new(&self)
    }
}

/// A field of one side that the other lacks does not compile: none is lost in a file.
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
    LatestV2 = LatestWeeks { small, medium, large, pot, litre, gallon, in_days }
    ChillV2 = Chill { below, days, words }
    HardeningV2 = Hardening { days, first_night_after }
    CropV2 = Crop { key, name, latin, family, mark, germination_percent, germination_legal_percent, germination_temperatures, germination_row, light_to_germinate, emergence, emergence_warmth, emergence_row, leaf_warmth, moving_on, latest, weeks_to_planting_out, weeks_to_sale, planting_out_after_frost, hardiness, come_in, bolts, hardening, rooting_days, depth, transplants, usual_moves, usual_cells, in_open_flat, heights, spreads, spaced, light, seeds_per_gram, before_sowing }
    ContainerV2 = Container { key, name, kind, height, dome, note }
}

impl Form<ContainerKind> for KindV2 {
    fn of(kind: &ContainerKind) -> Self {
        match kind {
            ContainerKind::Flat(Flat { outer, floor, pockets }) => {
                Self::Flat { outer: Form::of(outer), floor: Form::of(floor), pockets: *pockets }
            }
            ContainerKind::Plug(Plug { outer, cells, grid, cell_top, cell_volume }) => Self::Plug {
                outer: Form::of(outer),
                cells: *cells,
                grid: *grid,
                cell_top: Form::of(cell_top),
                cell_volume: Form::of(cell_volume),
            },
            ContainerKind::Pot(Pot { rim, top, bottom, volume, brim, per_flat }) => Self::Pot {
                rim: Form::of(rim),
                top: Form::of(top),
                bottom: Form::of(bottom),
                volume: Form::of(volume),
                brim: Form::of(brim),
                per_flat: *per_flat,
            },
            ContainerKind::Class { low, high, source } => Self::Class {
                low: Form::of(low),
                high: Form::of(high),
                trust: Form::of(&source.trust),
                source: source.source.as_ref().to_owned(),
            },
        }
    }

    fn read(self) -> ContainerKind {
        match self {
            Self::Flat { outer, floor, pockets } => {
                ContainerKind::Flat(Flat { outer: outer.read(), floor: floor.read(), pockets })
            }
            Self::Plug { outer, cells, grid, cell_top, cell_volume } => ContainerKind::Plug(Plug {
                outer: outer.read(),
                cells,
                grid,
                cell_top: cell_top.read(),
                cell_volume: cell_volume.read(),
            }),
            Self::Pot { rim, top, bottom, volume, brim, per_flat } => ContainerKind::Pot(Pot {
                rim: rim.read(),
                top: top.read(),
                bottom: bottom.read(),
                volume: volume.read(),
                brim: brim.read(),
                per_flat,
            }),
            Self::Class { low, high, trust, source } => ContainerKind::Class {
                low: low.read(),
                high: high.read(),
                source: Sourced::new((), trust.read(), &source),
            },
        }
    }
}

impl From<CropV2> for Crop {
    fn from(file: CropV2) -> Self {
        file.read()
    }
}

impl From<&Crop> for CropV2 {
    fn from(crop: &Crop) -> Self {
        Self::of(crop)
    }
}

impl From<ContainerV2> for Container {
    fn from(file: ContainerV2) -> Self {
        file.read()
    }
}

impl From<&Container> for ContainerV2 {
    fn from(container: &Container) -> Self {
        Self::of(container)
    }
}
