//! What a value must be to enter a season; the season's file relies on the same rules.

use std::collections::BTreeSet;

use chrono::{Datelike as _, NaiveDate, Weekday};

use crate::units::{DATE_YEARS, DateSpan, Length, Measure, Size, Typed, Volume, breaks_a_line};

use super::agrees;
use super::limits::DOORS;
use super::{
    Away, Container, ContainerKind, Crop, DayRange, EditError, FieldId, Flat, Floor, Frost, FrostChance, GrowthPoint,
    Guest, Observed, OutRule, Place, Plug, Pot, Rack, RecordId, Refusal, Rule, Settings, Shelf, Shift, Sowing, Spacing,
    Stage, Stands, Step, ThermalTime, Wanted, WeekLabels, Zone,
};

type Checked = Result<(), EditError>;

pub(super) fn crop(crop: &Crop) -> Checked {
    named(FieldId::CropName, &crop.name)?;
    short(FieldId::CropMark, &crop.mark)?;
    range(FieldId::CropGermination, crop.germination_percent.value, 1, 100)?;
    if let Some(legal) = crop.germination_legal_percent {
        range(FieldId::CropLegalGermination, legal, 0, 100)?;
    }
    days(FieldId::CropEmergence, crop.emergence.value)?;
    days(FieldId::CropMovingOn, crop.moving_on.value.days)?;
    let (low, high) = crop.weeks_to_planting_out.value;
    rising(FieldId::CropWeeksOut, low, high)?;
    let warmths =
        [(FieldId::CropEmergenceWarmth, &crop.emergence_warmth), (FieldId::CropLeafWarmth, &crop.leaf_warmth)];
    for (field, warmth) in warmths {
        if let Some(warmth) = warmth {
            thermal_time(field, &warmth.value)?;
        }
    }
    if let Some(weeks) = &crop.planting_out_after_frost {
        rising(FieldId::CropWeeksFromFrost, weeks.value.0, weeks.value.1)?;
    }
    if let Some(plants) = &crop.in_open_flat {
        range(FieldId::CropInOpenFlat, plants.value, 1, 10_000)?;
    }
    if let Some(light) = &crop.light {
        let (low, high) = light.value;
        if !(0.0 <= low && low <= high && high.is_finite()) {
            return Err(FieldId::CropLight.refuse(Refusal::NotLowHigh { low, high }));
        }
    }
    growth(FieldId::HeightWeek, FieldId::HeightSize, &crop.heights.value)?;
    if let Some(weeks) = &crop.weeks_to_sale {
        rising(FieldId::CropWeeksToSale, weeks.value.0, weeks.value.1)?;
    }
    if let Some(seeds) = crop.seeds_per_gram {
        range(FieldId::CropSeedsPerGram, seeds, 1, 1_000_000)?;
    }
    growth(FieldId::SpreadWeek, FieldId::SpreadSize, &crop.spreads.value)?;
    agrees::crop(crop)
}

fn days(field: FieldId, days: DayRange) -> Checked {
    let DayRange { early, likely, late } = days;
    if early <= likely && likely <= late { Ok(()) } else { Err(field.refuse(Refusal::NotEarlyLikelyLate(days))) }
}

fn rising(field: FieldId, first: impl Into<i64>, second: impl Into<i64>) -> Checked {
    let (first, second) = (first.into(), second.into());
    if first <= second {
        return Ok(());
    }
    Err(field.refuse(Refusal::Falls { first: first.to_string(), second: second.to_string() }))
}

fn thermal_time(field: FieldId, warmth: &ThermalTime) -> Checked {
    let ThermalTime { base, degree_days, low, high } = *warmth;
    if !(base <= low && low <= high) {
        return Err(field.refuse(Refusal::NotBaseLowHigh([base, low, high])));
    }
    between(field, degree_days, 0.1, 10_000.0)
}

fn growth(week: fn(usize) -> FieldId, size: fn(usize) -> FieldId, points: &[GrowthPoint]) -> Checked {
    let mut before = -1.0;
    for (at, point) in points.iter().enumerate() {
        if !(point.week.is_finite() && point.week >= 0.0 && point.week > before) {
            return Err(week(at).refuse(Refusal::WeekNotLater { found: point.week }));
        }
        between(size(at), point.mm, 0.0, 10_000.0)?;
        before = point.week;
    }
    Ok(())
}

pub(super) fn settings(settings: &Settings) -> Checked {
    length(FieldId::TrayGap, &settings.gap, Length::ZERO, Length::from_mm(200))?;
    length(FieldId::LampGap, &settings.lamp_gap, Length::ZERO, Length::from_mm(2_000))?;
    range(FieldId::Chance, settings.sure_percent, 1, 99)?;
    if let WeekLabels::From(date) = settings.weeks {
        year(FieldId::FirstWeek, date)?;
        if date.weekday() != Weekday::Mon {
            return Err(FieldId::FirstWeek.refuse(Refusal::NotAMonday(date)));
        }
    }
    if let Some(frost) = &settings.frost {
        self::frost(frost)?;
    }
    for what_if in &settings.what_ifs {
        named(FieldId::WhatIfName, &what_if.name)?;
        for shift in &what_if.shifts {
            range(FieldId::WhatIfDays, shift.days, (-Shift::MOST_DAYS).into(), Shift::MOST_DAYS.into())?;
        }
    }
    range(FieldId::WaterEvery, settings.water_every, 1, 60)
}

pub(super) fn place(place: &Place) -> Checked {
    named(FieldId::PlaceName, &place.name)?;
    apart(FieldId::PlaceOpen, &place.open)?;
    place.floor.as_ref().map_or(Ok(()), floor)
}

/// A field, a glasshouse of a nursery: no floor is longer.
const FLOOR: Length = Length::from_mm(500_000);

fn floor(floor: &Floor) -> Checked {
    let Floor { width, depth, doors, barrow } = floor;
    length(FieldId::RoomWidth, width, Length::from_mm(100), FLOOR)?;
    length(FieldId::RoomDepth, depth, Length::from_mm(100), FLOOR)?;
    if let Some(barrow) = barrow {
        length(FieldId::Barrow, barrow, Length::from_mm(10), Length::from_mm(10_000))?;
    }
    if doors.len() > DOORS {
        return Err(FieldId::Doors.refuse(Refusal::TooManyOfOne { most: DOORS, found: doors.len() }));
    }
    doors.iter().enumerate().try_for_each(|(at, door)| {
        length(FieldId::DoorAlong(at), &door.along, Length::ZERO, FLOOR)?;
        length(FieldId::DoorWidth(at), &door.width, Length::from_mm(50), FLOOR)?;
        let wall = floor.wall(door.wall);
        if door.along.value() + door.width.value() <= wall.value() {
            return Ok(());
        }
        let (along, width, wall) = (door.along.clone(), door.width.clone(), wall.clone());
        Err(FieldId::DoorAlong(at).refuse(Refusal::PastItsWall { along, width, wall }))
    })
}

pub(super) fn rack(rack: &Rack) -> Checked {
    let Rack { id: _, place: _, name, position: _, stands } = rack;
    named(FieldId::RackName, name)?;
    stands.as_ref().map_or(Ok(()), |Stands { x, y, quarter_turns: _ }| {
        length(FieldId::RackX, x, Length::ZERO, FLOOR)?;
        length(FieldId::RackY, y, Length::ZERO, FLOOR)
    })
}

/// Spans may touch, and stand in whatever order.
fn apart(field: FieldId, spans: &[DateSpan]) -> Checked {
    let mut sorted = spans.to_vec();
    sorted.sort_unstable();
    let both = sorted.iter().zip(sorted.iter().skip(1)).find(|(one, next)| one.overlaps(**next));
    both.map_or(Ok(()), |(one, next)| Err(field.refuse(Refusal::InTwoSpans([*one, *next]))))
}

pub(super) fn away(away: &Away) -> Checked {
    short(FieldId::AwayName, &away.name)?;
    span(FieldId::AwayFirst, FieldId::AwayLast, away.span)
}

fn frost(frost: &Frost) -> Checked {
    year(FieldId::FrostDate, frost.date)?;
    range(FieldId::FrostRisk, frost.later_in_ten, 0, 10)?;
    short(FieldId::FrostStation, &frost.station)?;
    short(FieldId::FrostYears, &frost.years)?;
    if let Some(springs) = frost.springs {
        range(FieldId::FrostSprings, springs, 1, 1_000)?;
    }
    frost_table(&frost.table)
}

/// Each chance once, and an earlier date where more years have a later frost.
fn frost_table(table: &[FrostChance]) -> Checked {
    for one in table {
        year(FieldId::FrostTableDate, one.date)?;
        range(FieldId::FrostTableRisk, one.later_in_ten, 1, 9)?;
    }
    let mut sorted: Vec<&FrostChance> = table.iter().collect();
    sorted.sort_by_key(|one| (one.temperature.value(), one.later_in_ten));
    let pairs = sorted.iter().zip(sorted.iter().skip(1));
    for (one, next) in pairs.filter(|(one, next)| one.temperature.value() == next.temperature.value()) {
        let both = || Box::new([one, next].map(|chance| FrostChance::clone(chance)));
        if one.later_in_ten == next.later_in_ten {
            return Err(FieldId::FrostTableRisk.refuse(Refusal::ChanceTwice(both())));
        }
        if next.date > one.date {
            return Err(FieldId::FrostTableDate.refuse(Refusal::ChanceRises(both())));
        }
    }
    Ok(())
}

pub(super) fn shelf(shelf: &Shelf) -> Checked {
    shelf_side(FieldId::ShelfWidth, &shelf.width)?;
    shelf_side(FieldId::ShelfDepth, &shelf.depth)?;
    if let Some(height) = &shelf.clear_height {
        length(FieldId::ShelfHeight, height, Length::from_mm(10), Length::from_mm(20_000))?;
    }
    length(FieldId::ShelfOverhang, &shelf.overhang, Length::ZERO, Length::from_mm(1_000))?;
    range(FieldId::ShelfAllowance, shelf.allowance_percent, 0, 95)?;
    apart(FieldId::ShelfClosed, &shelf.closed)?;
    shelf.zones.iter().enumerate().try_for_each(|(at, one)| zone(at, one))
}

fn zone(at: usize, zone: &Zone) -> Checked {
    let most = Length::from_mm(100_000);
    length(FieldId::ZoneX(at), &zone.x, Length::ZERO, most)?;
    length(FieldId::ZoneY(at), &zone.y, Length::ZERO, most)?;
    length(FieldId::ZoneWidth(at), &zone.width, Length::from_mm(10), most)?;
    length(FieldId::ZoneDepth(at), &zone.depth, Length::from_mm(10), most)
}

fn shelf_side(field: FieldId, found: &Measure) -> Checked {
    length(field, found, Length::from_mm(50), Length::from_mm(100_000))
}

pub(super) fn sowing(sowing: &Sowing) -> Checked {
    short(FieldId::Variety, &sowing.variety)?;
    note(FieldId::SowingNote, &sowing.note)?;
    let lists = [
        (FieldId::OutDays, sowing.wanted.is_empty()),
        (FieldId::Steps, sowing.steps.is_empty()),
        (FieldId::Lots, sowing.lots.is_empty()),
    ];
    if let Some((field, _)) = lists.into_iter().find(|(_, empty)| *empty) {
        return Err(field.refuse(Refusal::NoneLeft));
    }
    sowing.wanted.iter().enumerate().try_for_each(|(at, one)| wanted(at, one))?;
    let plants = sowing.wanted.iter().map(|wanted| i64::from(wanted.plants)).sum::<i64>();
    range(FieldId::SowingPlants, plants, 1, 1_000_000)?;
    range(FieldId::SeedsPerCell, sowing.seeds_per_cell, 1, 50)?;
    range(FieldId::SowingLosses, sowing.losses_percent, 0, 95)?;
    if let Some(days) = sowing.harden_days {
        range(FieldId::HardenDays, days, 0, 100)?;
    }
    if let Some(germination) = sowing.germination_percent {
        range(FieldId::SowingGermination, germination, 1, 100)?;
    }
    if let Some(begun) = sowing.begun {
        year(FieldId::BegunOn, begun.on)?;
        if let Stage::TrueLeaves(leaves) = begun.stage {
            range(FieldId::BegunLeaves, leaves, 1, 50)?;
        }
    }
    if let Some(stack) = sowing.stack {
        range(FieldId::StackDays, stack.days, 1, 60)?;
        range(FieldId::StackHigh, stack.high, 1, 100)?;
    }
    for record in &sowing.seen {
        year(FieldId::RecordDate(record.id), record.date)?;
        seen(record.id, record.what)?;
    }
    unlike(sowing.seen.iter().map(|record| (FieldId::Record(record.id), record.id.0)))?;
    sowing.steps.iter().try_for_each(step)?;
    for lot in &sowing.lots {
        range(FieldId::LotShare(lot.id), lot.share, 1, 1_000_000)?;
    }
    unlike(sowing.lots.iter().map(|lot| (FieldId::Lot(lot.id), lot.id.0)))?;
    unlike(sowing.steps.iter().map(|step| (FieldId::Step(step.id), step.id.0)))
}

fn wanted(at: usize, wanted: &Wanted) -> Checked {
    year(FieldId::OutDate(at), wanted.date)?;
    range(FieldId::OutPlants(at), wanted.plants, 1, 1_000_000)?;
    match wanted.rule {
        OutRule::Day => Ok(()),
        OutRule::Frost { days, .. } => range(FieldId::OutFrostDays(at), days, -366, 366),
        OutRule::Nth { nth, month, .. } => {
            range(FieldId::OutMonth(at), month, 1, 12)?;
            range(FieldId::OutNth(at), nth, -5, 5)?;
            if nth == 0 { Err(FieldId::OutNth(at).refuse(Refusal::Zero)) } else { Ok(()) }
        }
        OutRule::Week { week: 0, .. } => Err(FieldId::OutWeek(at).refuse(Refusal::Zero)),
        OutRule::Week { week, .. } => range(FieldId::OutWeek(at), week, -60, 120),
    }
}

fn step(step: &Step) -> Checked {
    if let Rule::On(date) = step.start {
        year(FieldId::StepDate(step.id), date)?;
    }
    if let Some(slack) = step.slack {
        range(FieldId::StepEarly(step.id), slack.early, 0, 200)?;
        range(FieldId::StepLate(step.id), slack.late, 0, 200)?;
    }
    if let Some(Spacing::At(spaced)) = &step.spaced {
        outer_size(FieldId::StepPitch(step.id), &spaced.pitch)?;
    }
    if let Some(per_tray) = step.per_tray {
        range(FieldId::StepPerTray(step.id), per_tray, 1, 100_000)?;
    }
    Ok(())
}

/// Of whole seasons: nobody counts a hundred million, and nothing could be worked out from them.
fn seen(at: RecordId, what: Observed) -> Checked {
    match what {
        Observed::Sown { cells: Some(number) } => range(FieldId::RecordSown(at), number, 1, 1_000_000),
        Observed::Up { plants: Some(number) } => range(FieldId::RecordUp(at), number, 0, 1_000_000),
        Observed::Lost { plants: number, .. } | Observed::PutOut(number) | Observed::Sold(number) => {
            range(FieldId::RecordPlants(at), number, 1, 1_000_000)
        }
        Observed::TrueLeaves(leaves) => range(FieldId::RecordLeaves(at), leaves, 1, 50),
        Observed::Sown { cells: None }
        | Observed::Up { plants: None }
        | Observed::MovedOn(_)
        | Observed::GappedUp
        | Observed::Prepared
        | Observed::Unstacked
        | Observed::SpacedOut
        | Observed::HardeningBegun
        | Observed::NightOut
        | Observed::Grown(_) => Ok(()),
    }
}

pub(super) fn guest(guest: &Guest) -> Checked {
    let Guest { id: _, name, size, height: _, number, span: here, role: _, light: _, grams: _ } = guest;
    named(FieldId::GuestName, name)?;
    both_sides(FieldId::GuestWidth, FieldId::GuestDepth, size)?;
    span(FieldId::GuestFrom, FieldId::GuestUntil, *here)?;
    range(FieldId::GuestNumber, *number, 1, 10_000)
}

pub(super) fn container(container: &Container) -> Checked {
    // a new field is a question here too: what may it be?
    let Container { key: _, name, kind, height, dome, note } = container;
    named(FieldId::ContainerName, name)?;
    self::note(FieldId::ContainerNote, note)?;
    if let Some(height) = height {
        outer_size(FieldId::ContainerHeight, height)?;
    }
    if let Some(dome) = dome {
        let least = height.as_ref().map_or(Length::from_mm(5), Measure::value);
        length(FieldId::ContainerDome, dome, least, Length::from_mm(5_000))?;
    }
    match kind {
        ContainerKind::Flat(Flat { outer, floor, pockets }) => {
            both_sides(FieldId::ContainerWidth, FieldId::ContainerDepth, &outer.value)?;
            if let Some(pockets) = pockets {
                range(FieldId::Pockets, *pockets, 1, 1_000)?;
            }
            if let Some(floor) = floor {
                both_sides(FieldId::FloorWidth, FieldId::FloorDepth, &floor.value)?;
            }
        }
        ContainerKind::Plug(plug) => self::plug(plug)?,
        ContainerKind::Pot(pot) => self::pot(pot)?,
        ContainerKind::Class { low, high, .. } => {
            some_volume(FieldId::ClassVolumes, low)?;
            if low.value() > high.value() {
                let (first, second) = (low.typed().to_owned(), high.typed().to_owned());
                return Err(FieldId::ClassVolumes.refuse(Refusal::Falls { first, second }));
            }
        }
    }
    agrees::container(container)
}

fn plug(plug: &Plug) -> Checked {
    let Plug { outer, cells, grid, cell_top, cell_volume } = plug;
    both_sides(FieldId::ContainerWidth, FieldId::ContainerDepth, &outer.value)?;
    range(FieldId::Cells, *cells, 1, 5_000)?;
    if let Some((rows, columns)) = *grid
        && u32::from(rows) * u32::from(columns) != u32::from(*cells)
    {
        return Err(FieldId::CellRows.refuse(Refusal::NotTheCells { rows, columns, cells: *cells }));
    }
    if let Some(top) = cell_top {
        length(FieldId::CellWidth, top, Length::from_mm(1), Length::from_mm(5_000))?;
    }
    cell_volume.as_ref().map_or(Ok(()), |volume| some_volume(FieldId::CellVolume, &volume.value))
}

fn pot(pot: &Pot) -> Checked {
    let Pot { rim: _, top, bottom, volume, brim, per_flat: _ } = pot;
    outer_size(FieldId::PotWidth, &top.value)?;
    if let Some(bottom) = bottom {
        outer_size(FieldId::PotBase, &bottom.value)?;
    }
    let mut volumes = [volume, brim].into_iter().flatten();
    volumes.try_for_each(|volume| some_volume(FieldId::PotVolume, &volume.value))
}

fn both_sides(width: FieldId, depth: FieldId, size: &Size) -> Checked {
    outer_size(width, &size.width)?;
    outer_size(depth, &size.depth)
}

fn outer_size(field: FieldId, found: &Measure) -> Checked {
    length(field, found, Length::from_mm(5), Length::from_mm(5_000))
}

fn some_volume(field: FieldId, volume: &Typed<Volume>) -> Checked {
    if volume.value() > Volume::default() {
        return Ok(());
    }
    Err(field.refuse(Refusal::Nothing(volume.typed().to_owned())))
}

/// Each number once.
fn unlike(numbers: impl Iterator<Item = (FieldId, u32)>) -> Checked {
    let mut seen = BTreeSet::new();
    for (field, number) in numbers {
        if !seen.insert(number) {
            return Err(field.refuse(Refusal::NumberTaken(number)));
        }
    }
    Ok(())
}

fn span(from: FieldId, until: FieldId, span: DateSpan) -> Checked {
    year(from, span.from())?;
    year(until, span.until())
}

/// A year in which a grower alive today might sow.
pub(super) fn year(field: FieldId, date: NaiveDate) -> Checked {
    range(field, date.year(), i64::from(*DATE_YEARS.start()), i64::from(*DATE_YEARS.end()))
}

pub(super) fn named(field: FieldId, name: &str) -> Checked {
    if name.trim().is_empty() { Err(field.refuse(Refusal::NoName)) } else { short(field, name) }
}

/// Within a line, also of a terminal.
pub(super) fn short(field: FieldId, text: &str) -> Checked {
    if let Some(found) = text.chars().find(|c| breaks_a_line(*c)) {
        return Err(field.refuse(Refusal::BreaksTheLine(found)));
    }
    at_most(field, text, 200)
}

/// Several lines.
pub(super) fn note(field: FieldId, text: &str) -> Checked {
    if let Some(found) = text.chars().find(|c| breaks_a_line(*c) && !matches!(c, '\n' | '\t')) {
        return Err(field.refuse(Refusal::Unprintable(found)));
    }
    at_most(field, text, 100_000)
}

fn at_most(field: FieldId, text: &str, most: usize) -> Checked {
    let found = text.chars().count();
    if found > most { Err(field.refuse(Refusal::TooLong { most, found })) } else { Ok(()) }
}

pub(super) fn range(field: FieldId, found: impl Into<i64>, least: i64, most: i64) -> Checked {
    let found = found.into();
    if (least..=most).contains(&found) {
        return Ok(());
    }
    Err(field.refuse(Refusal::OutOfRange { least, most, found }))
}

fn between(field: FieldId, found: f64, least: f64, most: f64) -> Checked {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    Err(field.refuse(Refusal::NotBetween { least, most, found }))
}

fn length(field: FieldId, found: &Measure, least: Length, most: Length) -> Checked {
    if (least..=most).contains(&found.value()) {
        return Ok(());
    }
    Err(field.refuse(Refusal::LengthOutOfRange { least, most, found: found.clone() }))
}
