//! A container as it is typed.

use crate::season::{
    Container, ContainerKey, ContainerKind, FieldId, Flat, Library, Plug, Pot, RimShape, Season, Sourced,
};
use crate::units::{LengthUnit, Measure, ParseError, Size, Typed, Volume, size_text};
use crate::window::kit::{FIELD_PT, Field, Form, Owner, Reader, WIDE_PT, length_or_none, whole_or_none};
use crate::words::{containers as said, fields};

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
    (Kind::Cells, said::CELLS_KIND),
    (Kind::Open, said::OPEN_KIND),
    (Kind::SquarePot, said::SQUARE_KIND),
    (Kind::RoundPot, said::ROUND_KIND),
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

fn typed<T: Copy>(value: Option<&Typed<T>>) -> &str {
    value.map_or("", Typed::typed)
}

fn number(value: Option<u16>) -> String {
    value.map_or_else(String::new, |number| number.to_string())
}

/// The fields of that kind, as they are in `container`; a new one proposes no more than a size.
pub(super) fn form(kind: Kind, container: Option<&Container>, unit: LengthUnit) -> Form<'_> {
    let owner = container.map_or(Owner::Form("container"), |container| Owner::Container(container.key.clone()));
    // what `read` asks for and no field shows would be lost: every part of a container is one here
    let (name, height, dome, note) = container.map_or(("", None, None, ""), |container| {
        let Container { key: _, name, kind: _, height, dome, note } = container;
        (name, height.as_ref(), dome.as_ref(), note)
    });
    let mut all = vec![Field::new(said::NAME, name).hint(said::NAME_HINT).width(WIDE_PT).still_to_come()];
    match container.map(|container| &container.kind) {
        Some(ContainerKind::Plug(plug)) => all.extend(plug_fields(Some(plug), unit)),
        Some(ContainerKind::Flat(flat)) => all.extend(flat_fields(Some(flat), unit)),
        Some(ContainerKind::Pot(pot)) => all.extend(pot_fields(Some(pot), unit)),
        Some(ContainerKind::Class { .. }) => {}
        None => match kind {
            Kind::Cells => all.extend(plug_fields(None, unit)),
            Kind::Open => all.extend(flat_fields(None, unit)),
            Kind::SquarePot | Kind::RoundPot => all.extend(pot_fields(None, unit)),
        },
    }
    all.push(Field::new(said::HEIGHT, typed(height)).hint(fields::UNKNOWN));
    all.push(Field::new(said::DOME, typed(dome)).hint(said::DOME_HINT).is(FieldId::ContainerDome));
    all.push(Field::new(said::NOTE, note).width(WIDE_PT));
    Form::new(owner, all)
}

fn size_field<'a>(outer: Option<&Size>, unit: LengthUnit) -> Field<'a> {
    let shown = outer.map_or_else(|| said::usual_size(unit).to_owned(), size_text);
    Field::new(said::SIZE, shown).hint(said::usual_size(unit)).width(FIELD_PT * 1.5)
}

fn plug_fields(plug: Option<&Plug>, unit: LengthUnit) -> [Field<'_>; 6] {
    let (rows, in_row, cells) = match plug {
        None => (Some(6), Some(12), None),
        Some(Plug { grid: Some((rows, in_row)), .. }) => (Some(*rows), Some(*in_row), None),
        Some(plug) => (None, None, Some(plug.cells)),
    };
    let top = plug.and_then(|plug| plug.cell_top.as_ref());
    let volume = plug.and_then(|plug| plug.cell_volume.as_ref());
    [
        size_field(plug.map(|plug| &plug.outer.value), unit),
        Field::new(said::ROWS, number(rows)).hint(said::OFFSET_HINT),
        Field::new(said::IN_ROW, number(in_row)).hint(said::OFFSET_HINT),
        Field::new(said::CELLS, number(cells)).hint(said::CELLS_HINT),
        Field::new(said::CELL_TOP, typed(top)).hint(fields::UNKNOWN),
        Field::new(said::VOLUME, typed(volume.map(|volume| &volume.value))).hint(said::usual_volume(unit)),
    ]
}

fn flat_fields(flat: Option<&Flat>, unit: LengthUnit) -> [Field<'_>; 3] {
    let floor = flat.and_then(|flat| flat.floor.as_ref()).map_or_else(String::new, |floor| size_text(&floor.value));
    [
        size_field(flat.map(|flat| &flat.outer.value), unit),
        Field::new(said::FLOOR, floor).hint(said::FLOOR_HINT).width(FIELD_PT * 1.5),
        Field::new(said::POCKETS, number(flat.and_then(|flat| flat.pockets))).hint(said::PER_FLAT_HINT),
    ]
}

fn pot_fields(pot: Option<&Pot>, unit: LengthUnit) -> [Field<'_>; 5] {
    let base = pot.and_then(|pot| pot.bottom.as_ref()).map(|base| &base.value);
    let volume = pot.and_then(|pot| pot.volume.as_ref()).map(|volume| &volume.value);
    let brim = pot.and_then(|pot| pot.brim.as_ref()).map(|volume| &volume.value);
    [
        Field::new(said::TOP, pot.map_or(said::usual_rim(unit), |pot| pot.top.value.typed()))
            .hint(said::usual_rim(unit)),
        Field::new(said::BASE, typed(base)).hint(said::BASE_HINT),
        Field::new(said::VOLUME, typed(volume)).hint(said::FROM_SHAPE_HINT).is(FieldId::PotVolume),
        Field::new(said::BRIM, typed(brim)).hint(said::FROM_SHAPE_HINT),
        Field::new(said::PER_FLAT, number(pot.and_then(|pot| pot.per_flat))).hint(said::PER_FLAT_HINT),
    ]
}

/// The container as it is typed. Figures that were not touched keep the source they have in `before`.
pub(super) fn read(
    reader: &mut Reader<'_>,
    key: ContainerKey,
    kind: Kind,
    before: Option<&Container>,
    unit: LengthUnit,
) -> Option<Container> {
    let (name, note) = (reader.text(said::NAME).to_owned(), reader.text(said::NOTE).to_owned());
    let [height, dome] = [said::HEIGHT, said::DOME].map(|field| reader.read(field, |text| length_or_none(text, unit)));
    let mut kind = match kind {
        Kind::Cells => ContainerKind::Plug(plug(reader, unit)?),
        Kind::Open => ContainerKind::Flat(flat(reader, unit)?),
        Kind::SquarePot => ContainerKind::Pot(pot(reader, RimShape::Square, unit)?),
        Kind::RoundPot => ContainerKind::Pot(pot(reader, RimShape::Round, unit)?),
    };
    if let Some(before) = before {
        keep_sources(&mut kind, &before.kind);
    }
    Some(Container { key, name, kind, height: height?, dome: dome?, note })
}

fn plug(reader: &mut Reader<'_>, unit: LengthUnit) -> Option<Plug> {
    let outer = reader.read(said::SIZE, |text| Size::parse(text, Some(unit)));
    let cell_top = reader.read(said::CELL_TOP, |text| length_or_none(text, unit));
    let volume = reader.read(said::VOLUME, |text| volume_or_none(text, unit));
    let rows = reader.read(said::ROWS, whole_or_none::<u16>);
    let in_row = reader.read(said::IN_ROW, whole_or_none::<u16>);
    let cells = reader.read(said::CELLS, whole_or_none::<u16>);
    let (cells, grid) = cells_of(reader, rows?, in_row?, cells?)?;
    let (cell_volume, outer) = (volume?.map(Sourced::own), Sourced::own(outer?));
    Some(Plug { outer, cells, grid, cell_top: cell_top?, cell_volume })
}

/// How many cells, and how they stand.
fn cells_of(
    reader: &mut Reader<'_>,
    rows: Option<u16>,
    in_row: Option<u16>,
    cells: Option<u16>,
) -> Option<(u16, Option<(u16, u16)>)> {
    match (rows, in_row, cells) {
        (Some(rows), Some(in_row), cells) => {
            let all = u32::from(rows) * u32::from(in_row);
            if let Some(found) = cells.map(u32::from).filter(|cells| *cells != all) {
                reader.fault(said::CELLS, said::other_number(rows, in_row, all, found));
                return None;
            }
            let Ok(cells) = u16::try_from(all) else {
                reader.fault(said::ROWS, said::too_many_cells(all));
                return None;
            };
            Some((cells, Some((rows, in_row))))
        }
        (None, None, Some(cells)) => Some((cells, None)),
        (None, None, None) => {
            reader.fault(said::CELLS, said::NO_CELLS);
            None
        }
        (rows, ..) => {
            reader.fault(if rows.is_none() { said::ROWS } else { said::IN_ROW }, said::ROWS_AND_CELLS);
            None
        }
    }
}

fn flat(reader: &mut Reader<'_>, unit: LengthUnit) -> Option<Flat> {
    let outer = reader.read(said::SIZE, |text| Size::parse(text, Some(unit)));
    let some = |text: &str| if text.is_empty() { Ok(None) } else { Size::parse(text, Some(unit)).map(Some) };
    let floor = reader.read(said::FLOOR, some);
    let pockets = reader.read(said::POCKETS, whole_or_none::<u16>);
    Some(Flat { outer: Sourced::own(outer?), floor: floor?.map(Sourced::own), pockets: pockets? })
}

fn pot(reader: &mut Reader<'_>, rim: RimShape, unit: LengthUnit) -> Option<Pot> {
    let top = reader.read(said::TOP, |text| Measure::parse_length(text, Some(unit)));
    let bottom = reader.read(said::BASE, |text| length_or_none(text, unit));
    let volume = reader.read(said::VOLUME, |text| volume_or_none(text, unit));
    let brim = reader.read(said::BRIM, |text| volume_or_none(text, unit));
    let per_flat = reader.read(said::PER_FLAT, whole_or_none::<u16>);
    Some(Pot {
        rim,
        top: Sourced::own(top?),
        bottom: bottom?.map(Sourced::own),
        volume: volume?.map(Sourced::own),
        brim: brim?.map(Sourced::own),
        per_flat: per_flat?,
    })
}

/// A bare number is in millilitres, or in cubic inches beside inches.
fn volume_or_none(text: &str, unit: LengthUnit) -> Result<Option<Typed<Volume>>, ParseError> {
    if text.is_empty() {
        return Ok(None);
    }
    let bare = text.chars().all(|c| c.is_ascii_digit() || ".,/ ½¼¾".contains(c));
    let sign = if unit.is_of_inches() { "in³" } else { "ml" };
    let text = if bare { format!("{text} {sign}") } else { text.to_owned() };
    Typed::parse_volume(&text).map(Some)
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
            keep_some(&mut new.brim, before.brim.as_ref());
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
