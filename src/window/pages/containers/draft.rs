//! A container as it is typed.

use crate::season::{
    Container, ContainerKey, ContainerKind, FieldId, Flat, Library, Op, Plug, Pot, RimShape, Season, Sourced,
};
use crate::units::{LengthUnit, Measure, Size, Typed, Volume, size_text};
use crate::window::kit::form::{Faults, Form, Reader, length_or_none};
use crate::window::pages::sowings::{whole, whole_or_none};
use crate::words;

pub(super) const NAME: &str = words::field(FieldId::ContainerName);
pub(super) const SIZE: &str = words::field(FieldId::ContainerWidth);
pub(super) const FLOOR: &str = words::field(FieldId::FloorWidth);
pub(super) const HEIGHT: &str = words::field(FieldId::ContainerHeight);
pub(super) const ROWS: &str = words::field(FieldId::CellRows);
pub(super) const IN_ROW: &str = "Cells in a row";
pub(super) const CELLS: &str = words::field(FieldId::Cells);
pub(super) const CELL_TOP: &str = words::field(FieldId::CellWidth);
pub(super) const VOLUME: &str = words::field(FieldId::CellVolume);
pub(super) const TOP: &str = words::field(FieldId::PotWidth);
pub(super) const BASE: &str = words::field(FieldId::PotBase);
pub(super) const PER_FLAT: &str = "Pots to a flat";
pub(super) const NOTE: &str = "Note";

/// What kinds can be made; a class of a standard has no size and can't be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Kind {
    #[default]
    Cells,
    Open,
    SquarePot,
    RoundPot,
}

pub(super) const KINDS: [(Kind, &str); 4] = [
    (Kind::Cells, "tray of cells"),
    (Kind::Open, "open flat or any rectangle"),
    (Kind::SquarePot, "square pot"),
    (Kind::RoundPot, "round pot"),
];

impl Kind {
    pub(super) const fn of(container: &Container) -> Option<Self> {
        match &container.kind {
            ContainerKind::Plug(_) => Some(Self::Cells),
            ContainerKind::Flat(_) => Some(Self::Open),
            ContainerKind::Pot(Pot { rim: RimShape::Square, .. }) => Some(Self::SquarePot),
            ContainerKind::Pot(_) => Some(Self::RoundPot),
            ContainerKind::Class { .. } => None,
        }
    }
}

/// What stands in the fields while nothing else is typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Shown {
    pub(super) name: String,
    pub(super) size: String,
    pub(super) floor: String,
    pub(super) height: String,
    pub(super) rows: String,
    pub(super) in_row: String,
    pub(super) cells: String,
    pub(super) cell_top: String,
    pub(super) volume: String,
    pub(super) top: String,
    pub(super) base: String,
    pub(super) per_flat: String,
    pub(super) note: String,
}

fn typed<T: Copy>(value: Option<&Typed<T>>) -> String {
    value.map_or_else(String::new, |value| value.typed().to_owned())
}

impl Shown {
    /// A form for a new one proposes no more than a size.
    pub(super) fn new(unit: LengthUnit) -> Self {
        let inches = unit == LengthUnit::Inch;
        let (size, top) = if inches { ("11 × 21 in", "3 1/2 in") } else { ("28 × 54 cm", "9 cm") };
        Self {
            size: size.to_owned(),
            top: top.to_owned(),
            rows: "6".to_owned(),
            in_row: "12".to_owned(),
            ..Self::default()
        }
    }

    pub(super) fn of(container: &Container) -> Self {
        let mut shown = Self {
            name: container.name.clone(),
            height: typed(container.height.as_ref()),
            note: container.note.clone(),
            ..Self::default()
        };
        match &container.kind {
            ContainerKind::Flat(flat) => {
                shown.size = size_text(&flat.outer.value);
                shown.floor = flat.floor.as_ref().map_or_else(String::new, |floor| size_text(&floor.value));
            }
            ContainerKind::Plug(plug) => {
                shown.size = size_text(&plug.outer.value);
                match plug.grid {
                    Some((rows, in_row)) => (shown.rows, shown.in_row) = (rows.to_string(), in_row.to_string()),
                    None => shown.cells = plug.cells.to_string(),
                }
                shown.cell_top = typed(plug.cell_top.as_ref());
                shown.volume = typed(plug.cell_volume.as_ref().map(|volume| &volume.value));
            }
            ContainerKind::Pot(pot) => {
                pot.top.value.typed().clone_into(&mut shown.top);
                shown.base = typed(pot.bottom.as_ref().map(|base| &base.value));
                shown.volume = typed(pot.volume.as_ref().map(|volume| &volume.value));
                shown.per_flat = pot.per_flat.map_or_else(String::new, |number| number.to_string());
            }
            ContainerKind::Class { .. } => {}
        }
        shown
    }

    /// The container as it is typed, or what is wrong with each field. Figures that were not
    /// touched keep the source they have in `before`.
    pub(super) fn read(
        &self,
        form: &Form,
        key: ContainerKey,
        kind: Kind,
        before: Option<&Container>,
        (season, unit): (&Season, LengthUnit),
    ) -> Result<Container, Faults> {
        let mut reader = Reader::new(form);
        let name = reader.read(NAME, &self.name, |text| Ok(text.to_owned())).unwrap_or_default();
        let note = reader.read(NOTE, &self.note, |text| Ok(text.to_owned())).unwrap_or_default();
        let height = reader.read(HEIGHT, &self.height, |text| length_or_none(text, unit));
        let kind = match kind {
            Kind::Cells => self.plug(&mut reader, unit).map(ContainerKind::Plug),
            Kind::Open => self.flat(&mut reader, unit).map(ContainerKind::Flat),
            Kind::SquarePot => self.pot(&mut reader, RimShape::Square, unit).map(ContainerKind::Pot),
            Kind::RoundPot => self.pot(&mut reader, RimShape::Round, unit).map(ContainerKind::Pot),
        };
        let (Some(kind), Some(height)) = (kind, height) else { return Err(reader.faults) };
        let mut container = Container { key, name, kind, height, note };
        if let Some(before) = before {
            keep_sources(&mut container.kind, &before.kind);
        }
        if let Err(why) = season.may(&Op::PutContainer(container.clone()).into()) {
            reader.refused(&why);
        }
        if reader.faults.is_empty() { Ok(container) } else { Err(reader.faults) }
    }

    fn plug(&self, reader: &mut Reader<'_>, unit: LengthUnit) -> Option<Plug> {
        let outer = reader.read(SIZE, &self.size, |text| size(text, unit));
        let rows = reader.read(ROWS, &self.rows, whole_or_none::<u16>);
        let in_row = reader.read(IN_ROW, &self.in_row, whole_or_none::<u16>);
        let cells = reader.read(CELLS, &self.cells, whole_or_none::<u16>);
        let cell_top = reader.read(CELL_TOP, &self.cell_top, |text| length_or_none(text, unit));
        let volume = reader.read(VOLUME, &self.volume, volume_or_none);
        let (cells, grid) = match (rows?, in_row?, cells?) {
            (Some(rows), Some(in_row), cells) => {
                let all = u32::from(rows) * u32::from(in_row);
                let known = cells.map(u32::from).filter(|cells| *cells != all);
                if let Some(found) = known {
                    reader.fault(CELLS, &format!("{rows} rows of {in_row} are {all} cells, found {found}"));
                    return None;
                }
                let Ok(cells) = u16::try_from(all) else {
                    reader.fault(ROWS, &format!("found {all} cells, which is too many"));
                    return None;
                };
                (cells, Some((rows, in_row)))
            }
            (None, None, Some(cells)) => (cells, None),
            (None, None, None) => {
                reader.fault(CELLS, "write rows and cells in a row, or, where cells stand offset, how many there are");
                return None;
            }
            (rows, ..) => {
                let field = if rows.is_none() { ROWS } else { IN_ROW };
                reader.fault(field, "rows and cells in a row belong together; leave both empty for offset cells");
                return None;
            }
        };
        let (cell_volume, outer) = (volume?.map(Sourced::own), Sourced::own(outer?));
        Some(Plug { outer, cells, grid, cell_top: cell_top?, cell_volume })
    }

    fn flat(&self, reader: &mut Reader<'_>, unit: LengthUnit) -> Option<Flat> {
        let outer = reader.read(SIZE, &self.size, |text| size(text, unit));
        let floor =
            reader.read(FLOOR, &self.floor, |text| if text.is_empty() { Ok(None) } else { size(text, unit).map(Some) });
        Some(Flat { outer: Sourced::own(outer?), floor: floor?.map(Sourced::own) })
    }

    fn pot(&self, reader: &mut Reader<'_>, rim: RimShape, unit: LengthUnit) -> Option<Pot> {
        let top =
            reader.read(TOP, &self.top, |text| Measure::parse_length(text, Some(unit)).map_err(|why| why.to_string()));
        let bottom = reader.read(BASE, &self.base, |text| length_or_none(text, unit));
        let volume = reader.read(VOLUME, &self.volume, volume_or_none);
        let per_flat = reader.read(PER_FLAT, &self.per_flat, |text| {
            if text.is_empty() { Ok(None) } else { whole::<u16>(text).map(Some) }
        });
        Some(Pot {
            rim,
            top: Sourced::own(top?),
            bottom: bottom?.map(Sourced::own),
            volume: volume?.map(Sourced::own),
            per_flat: per_flat?,
        })
    }
}

fn size(text: &str, unit: LengthUnit) -> Result<Size, String> {
    Size::parse(text, Some(unit)).map_err(|why| why.to_string())
}

/// A bare number is in millilitres.
fn volume_or_none(text: &str) -> Result<Option<Typed<Volume>>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let bare = text.chars().all(|c| c.is_ascii_digit() || ".,/ ½¼¾".contains(c));
    let text = if bare { format!("{text} ml") } else { text.to_owned() };
    Typed::parse_volume(&text).map(Some).map_err(|why| why.to_string())
}

fn keep<T: PartialEq + Clone>(new: &mut Sourced<T>, before: &Sourced<T>) {
    if new.value == before.value {
        *new = before.clone();
    }
}

fn keep_some<T: PartialEq + Clone>(new: &mut Option<Sourced<T>>, before: Option<&Sourced<T>>) {
    if let (Some(new), Some(before)) = (new, before) {
        keep(new, before);
    }
}

fn keep_sources(new: &mut ContainerKind, before: &ContainerKind) {
    match (new, before) {
        (ContainerKind::Flat(new), ContainerKind::Flat(before)) => {
            keep_size(&mut new.outer, &before.outer);
            if let (Some(new), Some(before)) = (&mut new.floor, &before.floor) {
                keep_size(new, before);
            }
        }
        (ContainerKind::Plug(new), ContainerKind::Plug(before)) => {
            keep_size(&mut new.outer, &before.outer);
            keep_some(&mut new.cell_volume, before.cell_volume.as_ref());
        }
        (ContainerKind::Pot(new), ContainerKind::Pot(before)) => {
            keep(&mut new.top, &before.top);
            keep_some(&mut new.bottom, before.bottom.as_ref());
            keep_some(&mut new.volume, before.volume.as_ref());
        }
        _ => {}
    }
}

/// Width and depth may be shown with one unit for both: the same lengths are the same size.
fn keep_size(new: &mut Sourced<Size>, before: &Sourced<Size>) {
    if size_text(&new.value) == size_text(&before.value) {
        *new = before.clone();
    }
}

/// A key that no container has, from what it is called.
pub(super) fn free_key(season: &Season, library: &Library, name: &str) -> ContainerKey {
    let slug: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '_' }).take(40).collect();
    let slug = slug.trim_matches('_');
    let stem = if slug.is_empty() { "own" } else { slug };
    let free = |key: &ContainerKey| season.container(library, key).is_none();
    let first = std::iter::once(ContainerKey::new(stem));
    let numbered = (2..100_000_u32).map(|n| ContainerKey::new(&format!("{stem}_{n}")));
    first.chain(numbered).find(free).unwrap_or_else(|| ContainerKey::new(stem))
}
