use serde::{Deserialize, Serialize};

use crate::season::{Container, ContainerKey, ContainerKind, Flat, Plug, Pot};
use crate::units::Measure;

use super::forms::{Cited, Figure, MeasureForm, RimShapeForm, SizeForm, TrustForm, VolumeForm, present};
use super::sources::{NoSuchSource, Sources};

/// A container as the library holds it; see [`CropFile`](super::CropFile).
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Container")]
pub struct ContainerFile {
    key: String,
    name: String,
    kind: CheckedKind,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    height: Option<MeasureForm>,
    #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
    dome: Option<MeasureForm>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

impl ContainerFile {
    /// The container, with its citations looked up in `sources`.
    ///
    /// # Errors
    /// A figure cites a source that is not there.
    pub fn read(self, sources: &Sources) -> Result<Container, NoSuchSource> {
        let Self { key, name, kind, height, dome, note } = self;
        let cited = Cited { sources, of: "container", key: &key };
        let kind = match kind.0 {
            KindForm::Flat { outer, floor, pockets } => {
                ContainerKind::Flat(Flat { outer: cited.figure(outer)?, floor: cited.if_any(floor)?, pockets })
            }
            KindForm::Plug { outer, cells, grid, cell_top, cell_volume } => ContainerKind::Plug(Plug {
                outer: cited.figure(outer)?,
                cells,
                grid,
                cell_top: cell_top.map(Measure::from),
                cell_volume: cited.if_any(cell_volume)?,
            }),
            KindForm::Pot { rim, top, bottom, volume, brim, per_flat } => ContainerKind::Pot(Pot {
                rim: rim.into(),
                top: cited.figure(top)?,
                bottom: cited.if_any(bottom)?,
                volume: cited.if_any(volume)?,
                brim: cited.if_any(brim)?,
                per_flat,
            }),
            KindForm::Class { low, high, trust, source, see } => ContainerKind::Class {
                low: low.into(),
                high: high.into(),
                source: cited.figure(Figure { value: (), trust, source, see })?,
            },
        };
        let [height, dome] = [height, dome].map(|measure| measure.map(Measure::from));
        Ok(Container { key: ContainerKey::new(&key), name, kind, height, dome, note })
    }
}

impl TryFrom<ContainerFile> for Container {
    type Error = NoSuchSource;

    fn try_from(file: ContainerFile) -> Result<Self, NoSuchSource> {
        file.read(&Sources::default())
    }
}

impl From<&Container> for ContainerFile {
    fn from(container: &Container) -> Self {
        let Container { key, name, kind, height, dome, note } = container;
        let kind = match kind {
            ContainerKind::Flat(Flat { outer, floor, pockets }) => {
                KindForm::Flat { outer: Figure::of(outer), floor: floor.as_ref().map(Figure::of), pockets: *pockets }
            }
            ContainerKind::Plug(Plug { outer, cells, grid, cell_top, cell_volume }) => KindForm::Plug {
                outer: Figure::of(outer),
                cells: *cells,
                grid: *grid,
                cell_top: cell_top.clone().map(MeasureForm::from),
                cell_volume: cell_volume.as_ref().map(Figure::of),
            },
            ContainerKind::Pot(Pot { rim, top, bottom, volume, brim, per_flat }) => KindForm::Pot {
                rim: (*rim).into(),
                top: Figure::of(top),
                bottom: bottom.as_ref().map(Figure::of),
                volume: volume.as_ref().map(Figure::of),
                brim: brim.as_ref().map(Figure::of),
                per_flat: *per_flat,
            },
            ContainerKind::Class { low, high, source } => {
                let Figure { value: (), trust, source, see } = Figure::of(source);
                KindForm::Class { low: low.clone().into(), high: high.clone().into(), trust, source, see }
            }
        };
        Self {
            key: key.to_string(),
            name: name.clone(),
            kind: CheckedKind(kind),
            height: height.clone().map(MeasureForm::from),
            dome: dome.clone().map(MeasureForm::from),
            note: note.clone(),
        }
    }
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Kind")]
enum KindForm {
    Flat {
        outer: Figure<SizeForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        floor: Option<Figure<SizeForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        pockets: Option<u16>,
    },
    Plug {
        outer: Figure<SizeForm>,
        cells: u16,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        grid: Option<(u16, u16)>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        cell_top: Option<MeasureForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        cell_volume: Option<Figure<VolumeForm>>,
    },
    Pot {
        rim: RimShapeForm,
        top: Figure<MeasureForm>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        bottom: Option<Figure<MeasureForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        volume: Option<Figure<VolumeForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        brim: Option<Figure<VolumeForm>>,
        #[serde(default, with = "present", skip_serializing_if = "Option::is_none")]
        per_flat: Option<u16>,
    },
    Class {
        low: VolumeForm,
        high: VolumeForm,
        trust: TrustForm,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        source: String,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        see: String,
    },
}

/// A kind whose cells agree with its grid and whose volumes are in order.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(try_from = "KindForm", into = "KindForm")]
struct CheckedKind(KindForm);

/// What does not go together in a kind.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
enum KindFault {
    #[error("a plug tray has at least 1 cell, found 0")]
    NoCells,
    #[error("{rows} by {columns} cells are not {cells}; leave the grid out for offset cells")]
    Grid { rows: u16, columns: u16, cells: u16 },
    #[error("low must not be above high, found {low} and {high}")]
    LowAboveHigh { low: String, high: String },
}

impl TryFrom<KindForm> for CheckedKind {
    type Error = KindFault;

    fn try_from(kind: KindForm) -> Result<Self, KindFault> {
        match &kind {
            KindForm::Plug { cells: 0, .. } => return Err(KindFault::NoCells),
            &KindForm::Plug { cells, grid: Some((rows, columns)), .. }
                if u32::from(rows) * u32::from(columns) != u32::from(cells) =>
            {
                return Err(KindFault::Grid { rows, columns, cells });
            }
            KindForm::Class { low, high, .. } if low.0.value() > high.0.value() => {
                let [low, high] = [low, high].map(|volume| volume.0.typed().to_owned());
                return Err(KindFault::LowAboveHigh { low, high });
            }
            _ => {}
        }
        Ok(Self(kind))
    }
}

impl From<CheckedKind> for KindForm {
    fn from(kind: CheckedKind) -> Self {
        kind.0
    }
}
