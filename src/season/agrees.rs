//! Whether the figures of a crop or container of one's own go together: each may be right by itself
//! and contradict another. Said beside the field that is to be looked at first.

use std::f64::consts::FRAC_PI_4;

use crate::units::{Length, Measure, Size, Temperature, Typed, Volume, size_text};

use super::{Container, ContainerKind, Crop, EditError, FieldId, Flat, Plug, Pot, Refusal, RimShape};

type Checked = Result<(), EditError>;

/// Shapes are rounded to the millimetre and corners to the eye: so much more than a box may be stated of it.
const ROUNDED: f64 = 1.05;
/// Tops of neighbouring cells may share a lip, and are measured as roughly.
const SHARED_LIPS: f64 = 1.1;

pub(super) fn crop(crop: &Crop) -> Checked {
    germinates(crop)?;
    latest(crop)?;
    let due = crop.moving_on.value.days;
    let (up, out) = (crop.emergence.value.early, 7 * u16::from(crop.weeks_to_planting_out.value.1));
    if due.early < up {
        return Err(FieldId::CropMovingOn.refuse(Refusal::DueBeforeUp { up, due: due.early }));
    }
    if due.early > out {
        return Err(FieldId::CropMovingOn.refuse(Refusal::DueAfterOut { due: due.early, out }));
    }
    let hardening = crop.hardening.value;
    at_most(FieldId::CropHardening, hardening.days, out)?;
    at_most(FieldId::CropFirstNight, hardening.first_night_after, hardening.days)?;
    let size = crop.weeks_to_planting_out.value.0;
    match crop.weeks_to_sale.as_ref().map(|weeks| weeks.value.1) {
        Some(sale) if sale < size => Err(FieldId::CropWeeksToSale.refuse(Refusal::SaleTooSoon { sale, size })),
        _ => Ok(()),
    }
}

fn at_most(field: FieldId, found: u16, most: u16) -> Checked {
    if found <= most { Ok(()) } else { Err(field.refuse(Refusal::LongerThan { found, most })) }
}

/// Least, best from, best to, greatest: each as warm as those before it.
fn germinates(crop: &Crop) -> Checked {
    let Some(of) = crop.germination_temperatures.as_ref().map(|figure| figure.value) else { return Ok(()) };
    let mut before: Option<Temperature> = None;
    for (at, degrees) in [of.min, of.best_low, of.best_high, of.max].into_iter().enumerate() {
        let Some(degrees) = degrees else { continue };
        if let Some(before) = before.filter(|before| degrees < *before) {
            let [first, second] = [before, degrees].map(|degrees| degrees.to_string());
            return Err(FieldId::CropGerminates(at).refuse(Refusal::Falls { first, second }));
        }
        before = Some(degrees);
    }
    Ok(())
}

/// No shorter in a larger container; and in one of them long enough to be ready.
fn latest(crop: &Crop) -> Checked {
    let of = crop.latest.value;
    let held = || [of.small, of.medium, of.large, of.pot, of.litre, of.gallon].into_iter().flatten();
    if let Some((first, second)) = held().zip(held().skip(1)).find(|(first, second)| first > second) {
        let [first, second] = [first, second].map(|held| held.to_string());
        return Err(FieldId::CropLatest.refuse(Refusal::Falls { first, second }));
    }
    let days = |held: u8| u16::from(held) * if of.in_days { 1 } else { 7 };
    let ready = 7 * u16::from(crop.weeks_to_planting_out.value.0);
    match held().last().map(days) {
        Some(latest) if latest < ready => Err(FieldId::CropLatest.refuse(Refusal::ReadyAfterLatest { ready, latest })),
        _ => Ok(()),
    }
}

pub(super) fn container(container: &Container) -> Checked {
    match &container.kind {
        ContainerKind::Flat(flat) => self::flat(flat),
        ContainerKind::Plug(plug) => self::plug(plug, container.height.as_ref()),
        ContainerKind::Pot(pot) => self::pot(pot, container.height.as_ref()),
        ContainerKind::Class { .. } => Ok(()),
    }
}

/// Long and short side, whichever was typed first.
fn sides(size: &Size) -> [Length; 2] {
    let (width, depth) = (size.width.value(), size.depth.value());
    [width.max(depth), width.min(depth)]
}

fn flat(flat: &Flat) -> Checked {
    let Some(floor) = flat.floor.as_ref().map(|floor| &floor.value) else { return Ok(()) };
    let outer = &flat.outer.value;
    if sides(floor).iter().zip(sides(outer)).all(|(inside, around)| *inside <= around) {
        return Ok(());
    }
    let [found, around] = [floor, outer].map(size_text);
    Err(FieldId::FloorWidth.refuse(Refusal::LargerThan { found, around }))
}

fn plug(plug: &Plug, height: Option<&Measure>) -> Checked {
    let [long, short] = sides(&plug.outer.value);
    if let (Some(top), Some((rows, columns))) = (&plug.cell_top, plug.grid) {
        let (least, most) = (rows.min(columns), rows.max(columns));
        let wide = |cells: u16| top.value().to_mm() * f64::from(cells);
        if wide(most) > SHARED_LIPS * long.to_mm() || wide(least) > SHARED_LIPS * short.to_mm() {
            let found = format!("{} × {}", most.max(1), top.typed());
            let around = size_text(&plug.outer.value);
            return Err(FieldId::CellWidth.refuse(Refusal::LargerThan { found, around }));
        }
    }
    let (Some(volume), Some(height)) = (&plug.cell_volume, height) else { return Ok(()) };
    let box_ml = long.to_mm() * short.to_mm() * height.value().to_mm() / 1_000.0;
    holds(FieldId::CellVolume, &volume.value, box_ml / f64::from(plug.cells.max(1)))
}

fn pot(pot: &Pot, height: Option<&Measure>) -> Checked {
    let top = &pot.top.value;
    if let Some(bottom) = pot.bottom.as_ref().filter(|bottom| bottom.value.value() > top.value()) {
        let [found, around] = [&bottom.value, top].map(|measure| measure.typed().to_owned());
        return Err(FieldId::PotBase.refuse(Refusal::LargerThan { found, around }));
    }
    if let (Some(fill), Some(brim)) = (&pot.volume, &pot.brim)
        && fill.value.value() > brim.value.value()
    {
        let [found, around] = [fill, brim].map(|volume| volume.value.typed().to_owned());
        return Err(FieldId::PotVolume.refuse(Refusal::LargerThan { found, around }));
    }
    let Some(height) = height else { return Ok(()) };
    let shape = if pot.rim == RimShape::Round { FRAC_PI_4 } else { 1.0 };
    let box_ml = shape * top.value().to_mm() * top.value().to_mm() * height.value().to_mm() / 1_000.0;
    for volume in [&pot.volume, &pot.brim].into_iter().flatten() {
        holds(FieldId::PotVolume, &volume.value, box_ml)?;
    }
    Ok(())
}

fn holds(field: FieldId, found: &Typed<Volume>, box_ml: f64) -> Checked {
    if found.value().to_ml() <= ROUNDED * box_ml {
        return Ok(());
    }
    let room = format!("{box_ml:.0} ml");
    Err(field.refuse(Refusal::HoldsLess { found: found.typed().to_owned(), room }))
}
