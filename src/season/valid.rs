//! What a value must be to enter a season; the season's file relies on the same rules.

use std::collections::BTreeSet;

use chrono::{Datelike as _, NaiveDate};

use crate::units::{DATE_YEARS, Length, LengthUnit, Measure, Size, Typed, Volume};

use super::{
    Container, ContainerKind, Crop, EditError, Frost, FrostChance, GrowthPoint, Observed, OutRule, ThermalTime,
};

pub(super) fn crop(crop: &Crop) -> Result<(), EditError> {
    named("a crop's name", &crop.name)?;
    range("germination", i64::from(crop.germination_percent.value), 1, 100)?;
    if let Some(legal) = crop.germination_legal_percent {
        range("the legal minimum", i64::from(legal), 0, 100)?;
    }
    for days in [crop.emergence.value, crop.moving_on.value.days] {
        in_order("days", "must be early, likely, late", &[days.early, days.likely, days.late])?;
    }
    let (low, high) = crop.weeks_to_planting_out.value;
    in_order("weeks to planting out", "must not fall", &[low, high])?;
    for warmth in [&crop.emergence_warmth, &crop.leaf_warmth].into_iter().flatten() {
        let ThermalTime { base, degree_days, low, high } = warmth.value;
        in_order("temperatures", "must be base, lowest, highest", &[base, low, high])?;
        if !(0.1..=10_000.0).contains(&degree_days) {
            return Err(not_in_order("degree-days", "must be from 0.1 to 10000", &degree_days.to_string()));
        }
    }
    if let Some(weeks) = &crop.planting_out_after_frost {
        in_order("weeks after the frost", "must not fall", &[weeks.value.0, weeks.value.1])?;
    }
    if let Some(light) = &crop.light {
        let (low, high) = light.value;
        if !(0.0 <= low && low <= high && high.is_finite()) {
            return Err(not_in_order("light", "must be two numbers from 0 up", &format!("{low} and {high}")));
        }
    }
    growth("a height", &crop.heights.value)?;
    growth("a spread", &crop.spreads.value)
}

pub(super) fn frost(frost: &Frost) -> Result<(), EditError> {
    year(frost.date)?;
    range("years in 10 with a later frost", i64::from(frost.later_in_ten), 0, 10)?;
    for (what, text) in [("a station's name", &frost.station), ("the years of a record", &frost.years)] {
        let found = text.chars().count();
        if found > 200 {
            return Err(EditError::TooLong { what, found });
        }
    }
    if let Some(springs) = frost.springs {
        range("the springs of a record", i64::from(springs), 1, 1_000)?;
    }
    frost_table(&frost.table)
}

/// Each chance once, and an earlier date where more years have a later frost.
fn frost_table(table: &[FrostChance]) -> Result<(), EditError> {
    for one in table {
        year(one.date)?;
        range("years in 10 in the frost table", i64::from(one.later_in_ten), 1, 9)?;
    }
    let mut sorted: Vec<&FrostChance> = table.iter().collect();
    sorted.sort_by_key(|one| (one.temperature.value(), one.later_in_ten));
    let pairs = sorted.iter().zip(sorted.iter().skip(1));
    for (one, next) in pairs.filter(|(one, next)| one.temperature.value() == next.temperature.value()) {
        let dates = [one, next].map(|chance| format!("{} for {}", chance.date, chance.later_in_ten));
        let found = format!("{} at {}", dates.join(" and "), one.temperature.typed());
        if one.later_in_ten == next.later_in_ten {
            return Err(not_in_order("years in 10 in the frost table", "must be written once", &found));
        }
        if next.date > one.date {
            let wanted = "must be earlier where more years in 10 have a later frost";
            return Err(not_in_order("dates in the frost table", wanted, &found));
        }
    }
    Ok(())
}

fn growth(what: &'static str, points: &[GrowthPoint]) -> Result<(), EditError> {
    let mut before = -1.0;
    for point in points {
        if !(point.week.is_finite() && point.week >= 0.0 && point.week > before) {
            return Err(not_in_order("weeks", "must rise from point to point, from 0 up", &point.week.to_string()));
        }
        if !(0.0..=10_000.0).contains(&point.mm) {
            return Err(not_in_order(what, "must be from 0 to 10000 mm", &point.mm.to_string()));
        }
        before = point.week;
    }
    Ok(())
}

/// Of whole seasons: nobody counts a hundred million, and nothing could be worked out from them.
pub(super) fn seen(what: Observed) -> Result<(), EditError> {
    match what {
        Observed::Sown { cells: Some(number) } => range("the number sown", i64::from(number), 1, 1_000_000),
        Observed::Up { plants: Some(number) } => range("the number up", i64::from(number), 0, 1_000_000),
        Observed::Lost { plants: number, .. } | Observed::PutOut(number) | Observed::Sold(number) => {
            range("the number of plants", i64::from(number), 1, 1_000_000)
        }
        Observed::TrueLeaves(leaves) => range("the number of true leaves", i64::from(leaves), 1, 50),
        Observed::Sown { cells: None }
        | Observed::Up { plants: None }
        | Observed::MovedOn(_)
        | Observed::GappedUp
        | Observed::Grown(_) => Ok(()),
    }
}

pub(super) fn out_rule(rule: OutRule) -> Result<(), EditError> {
    match rule {
        OutRule::Day => Ok(()),
        OutRule::Frost { days, .. } => range("days from the frost", i64::from(days), -366, 366),
        OutRule::Nth { nth, month, .. } => {
            range("a month", i64::from(month), 1, 12)?;
            range("which of its weekdays", i64::from(nth), -5, 5)?;
            if nth == 0 { Err(not_in_order("which of its weekdays", "must not be 0", "0")) } else { Ok(()) }
        }
        OutRule::Week { week: 0, .. } => Err(not_in_order("a week", "must not be 0", "0")),
        OutRule::Week { week, .. } => range("a week", i64::from(week), -60, 120),
    }
}

pub(super) fn container(container: &Container) -> Result<(), EditError> {
    named("a container's name", &container.name)?;
    if let Some(height) = &container.height {
        outer_size("a container's height", height)?;
    }
    match &container.kind {
        ContainerKind::Flat(flat) => {
            both_sides(&flat.outer.value)?;
            flat.floor.as_ref().map_or(Ok(()), |floor| both_sides(&floor.value))
        }
        ContainerKind::Plug(plug) => {
            both_sides(&plug.outer.value)?;
            range("the number of cells", i64::from(plug.cells), 1, 5_000)?;
            if let Some((rows, columns)) = plug.grid {
                let cells = u32::from(rows) * u32::from(columns);
                if cells != u32::from(plug.cells) {
                    let found = format!("{rows} by {columns} for {}", plug.cells);
                    return Err(not_in_order("rows and columns", "must make up the cells", &found));
                }
            }
            if let Some(top) = &plug.cell_top {
                length("a cell's width", top, Length::from_mm(1), Length::from_mm(5_000))?;
            }
            plug.cell_volume.as_ref().map_or(Ok(()), |volume| some_volume(&volume.value))
        }
        ContainerKind::Pot(pot) => {
            outer_size("a pot's width", &pot.top.value)?;
            if let Some(bottom) = &pot.bottom {
                outer_size("a pot's base", &bottom.value)?;
            }
            pot.volume.as_ref().map_or(Ok(()), |volume| some_volume(&volume.value))
        }
        ContainerKind::Class { low, high, .. } => {
            some_volume(low)?;
            in_order("the volumes of a class", "must not fall", &[low.value(), high.value()])
        }
    }
}

fn both_sides(size: &Size) -> Result<(), EditError> {
    outer_size("a container's width", &size.width)?;
    outer_size("a container's depth", &size.depth)
}

fn some_volume(volume: &Typed<Volume>) -> Result<(), EditError> {
    if volume.value() > Volume::default() {
        return Ok(());
    }
    Err(not_in_order("a volume", "must be more than nothing", volume.typed()))
}

fn not_in_order(what: &'static str, wanted: &'static str, found: &str) -> EditError {
    EditError::NotInOrder { what, wanted, found: found.to_owned() }
}

fn in_order<T: PartialOrd + std::fmt::Debug>(
    what: &'static str,
    wanted: &'static str,
    values: &[T],
) -> Result<(), EditError> {
    if values.is_sorted() { Ok(()) } else { Err(not_in_order(what, wanted, &format!("{values:?}"))) }
}

/// Each id once.
pub(super) fn unlike(what: &'static str, ids: impl Iterator<Item = u32>) -> Result<(), EditError> {
    let mut seen = BTreeSet::new();
    for id in ids {
        if !seen.insert(id) {
            return Err(EditError::IdTaken { what, id });
        }
    }
    Ok(())
}

/// A year in which a grower alive today might sow.
pub(super) fn year(date: NaiveDate) -> Result<(), EditError> {
    range("a year", i64::from(date.year()), i64::from(*DATE_YEARS.start()), i64::from(*DATE_YEARS.end()))
}

pub(super) fn named(what: &'static str, name: &str) -> Result<(), EditError> {
    let found = name.chars().count();
    if name.trim().is_empty() {
        Err(EditError::NoName)
    } else if found > 200 {
        Err(EditError::TooLong { what, found })
    } else {
        Ok(())
    }
}

pub(super) fn range(what: &'static str, found: i64, least: i64, most: i64) -> Result<(), EditError> {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    Err(EditError::OutOfRange { what, least: least.to_string(), most: most.to_string(), found: found.to_string() })
}

pub(super) fn length(what: &'static str, found: &Measure, least: Length, most: Length) -> Result<(), EditError> {
    if (least..=most).contains(&found.value()) {
        return Ok(());
    }
    let unit = if most >= Length::from_mm(10_000) { LengthUnit::Metre } else { LengthUnit::Millimetre };
    Err(EditError::OutOfRange {
        what,
        least: least.to_string(),
        most: most.in_words(unit),
        found: found.typed().to_owned(),
    })
}

pub(super) fn shelf_side(what: &'static str, found: &Measure) -> Result<(), EditError> {
    length(what, found, Length::from_mm(50), Length::from_mm(100_000))
}

pub(super) fn outer_size(what: &'static str, found: &Measure) -> Result<(), EditError> {
    length(what, found, Length::from_mm(5), Length::from_mm(5_000))
}
