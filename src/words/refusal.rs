//! What each field is called on screen, and why an edit was refused.

use chrono::NaiveDate;

use crate::season::{EditError, FieldId, FrostChance, LotName, Observed, Refusal};
use crate::units::{DateSpan, Length, LengthUnit, Measure, unit_of};

use super::days::{full_day, span};
use super::names::with_variety;

/// The label that stands before the field.
pub const fn field(field: FieldId) -> &'static str {
    names(field).0
}

/// One sentence, lower case: `a shelf's width must be from 50 mm to 100 m, found 1 mm`.
pub fn refusal(error: &EditError) -> String {
    refusal_in(error, LengthUnit::Millimetre)
}

/// The same for a season that shows its lengths in that unit; a length that was typed is answered in
/// its own.
#[expect(clippy::too_many_lines, reason = "a table, one arm a kind")]
pub fn refusal_in(error: &EditError, unit: LengthUnit) -> String {
    let what = names(error.field).1;
    match &error.why {
        Refusal::NoName => "a name is missing".to_owned(),
        Refusal::TooLong { most, found } => format!("{what} is {found} characters long; {most} at most"),
        Refusal::BreaksTheLine(found) => format!("{what} must be one line of plain text, found {found:?}"),
        Refusal::Unprintable(found) => format!("{what} must be plain text, found {found:?}"),
        Refusal::OutOfRange { least, most, found } => format!("{what} must be from {least} to {most}, found {found}"),
        Refusal::NotBetween { least, most, found } => not_between((what, error.field), [*least, *most, *found], unit),
        Refusal::LengthOutOfRange { least, most, found } => length_out_of_range(what, *least, *most, found),
        Refusal::Zero => format!("{what} must not be 0, found 0"),
        Refusal::Nothing(typed) => format!("{what} must be more than nothing, found {typed}"),
        Refusal::NoneLeft => format!("a sowing needs at least one {what}"),
        Refusal::Falls { first, second } => format!("{what} must not fall, found {first} to {second}"),
        Refusal::NotEarlyLikelyLate(days) => {
            format!("{what} must be early, likely, late, found {}, {}, {}", days.early, days.likely, days.late)
        }
        Refusal::NotBaseLowHigh(degrees) => not_base_low_high(what, degrees.map(|one| one.in_words(unit))),
        Refusal::NotLowHigh { low, high } => format!("{what} must be two numbers from 0 up, found {low} and {high}"),
        Refusal::WeekNotLater { found } => format!("{what} must rise from point to point, from 0 up, found {found}"),
        Refusal::NotTheCells { rows, columns, cells } => {
            format!("{what} must make up the cells, found {rows} by {columns} for {cells}")
        }
        Refusal::ReadyAfterLatest { ready, latest } => {
            format!("ready after {ready} days at the earliest, but no container holds it longer than {latest}")
        }
        Refusal::DueBeforeUp { up, due } => format!("moved on after {due} days, before it is up after {up}"),
        Refusal::DueAfterOut { due, out } => format!("moved on after {due} days, when it went out after {out}"),
        Refusal::LongerThan { found, most } => format!("{what} must be {most} at most, found {found}"),
        Refusal::SaleTooSoon { sale, size } => {
            format!("sold after {sale} weeks, before it has the size for planting out after {size}")
        }
        Refusal::LargerThan { found, around } => format!("{what} must fit into {around}, found {found}"),
        Refusal::HoldsLess { found, room } => format!("{what} must fit into its outer size ({room}), found {found}"),
        Refusal::NotAMonday(date) => format!("{what} must start on a Monday, found {}", full_day(*date)),
        Refusal::NotAfter { from, found } => {
            let [from, found] = [from, found].map(|date| full_day(*date));
            format!("{what} must come after the day it is put there, found {from} to {found}")
        }
        Refusal::InTwoSpans(both) => in_two_spans(what, *both),
        Refusal::ChanceTwice(both) => format!("{what} must be written once, found {}", chances(both)),
        Refusal::ChanceRises(both) => {
            format!("{what} must be earlier where more years in 10 have a later frost, found {}", chances(both))
        }
        Refusal::NoRows(rows) => format!("{what} must be one at least, found {} to {}", rows.start, rows.end),
        Refusal::RowTaken { row, lots } => row_twice(*row, lots),
        Refusal::NotBefore { what, on, found } => out_of_order(*what, "first", *on, *found),
        Refusal::NotPast { what, on, found } => out_of_order(*what, "later", *on, *found),
        Refusal::Once(on) => format!("this is written down for {} already; change that day", full_day(*on)),
        Refusal::AwayAlready(days) => format!("{} is away already; change that, or take other days", span(*days)),
        Refusal::ToCome { today, found } => {
            format!("{} is still to come: write down what was so by today, {}", full_day(*found), full_day(*today))
        }
        Refusal::BeforeSown { sown, found } => format!(
            "sowing comes first, and is planned for {}; found {}. Write down first when it was sown",
            full_day(*sown),
            full_day(*found)
        ),
        Refusal::MoreThanSown { most, found } => {
            format!("only {most} are sown by the plan, found {found}; write down first how many were")
        }
        Refusal::OnlySoMany { most, found } => format!("there were only {most}, found {found}"),
        Refusal::SoManyAtLeast { least, found } => {
            format!("more than that came up: it must be {least} at least, found {found}")
        }
        Refusal::NumberTaken(number) => format!("{what} {number} is there already"),
        Refusal::InUse(name) => format!("{what} {name:?} is used by a sowing; change that first"),
        Refusal::NotThere(number) => format!("there is no {what} {number} in this season"),
        Refusal::TooMany { most, found } => format!("{what}: a season may have {most} in all, found {found}"),
        Refusal::TooManyOfOne { most, found } => format!("{what}: {most} at most, found {found}"),
        Refusal::PastItsWall { along, width, wall } => {
            let [along, width, wall] = [along, width, wall].map(Measure::typed);
            format!("{what} must end within its wall of {wall}, found {along} along it and {width} wide")
        }
        Refusal::NoKey(key) => format!("there is no {what} {key:?} of your own in this season"),
        Refusal::NoTray(_) => "there is no such tray in this season".to_owned(),
        Refusal::NoSpot(..) => "that tray has no spot from that day".to_owned(),
    }
}

fn in_two_spans(what: &str, both: [DateSpan; 2]) -> String {
    let [one, other] = both.map(|span| format!("{} to {}", full_day(span.from()), full_day(span.until())));
    format!("{what} must not overlap, found {one} and {other}; make one of the two")
}

fn not_between((what, field): (&str, FieldId), numbers: [f64; 3], unit: LengthUnit) -> String {
    let [least, most, found] = numbers.map(|number| match field {
        FieldId::HeightSize(_) | FieldId::SpreadSize(_) => in_unit(number, unit),
        _ => number.to_string(),
    });
    format!("{what} must be from {least} to {most}, found {found}")
}

fn not_base_low_high(what: &str, [base, low, high]: [String; 3]) -> String {
    format!("{what} must be base, lowest, highest, found {base}, {low}, {high}")
}

fn length_out_of_range(what: &str, least: Length, most: Length, found: &Measure) -> String {
    let (small, large) = match unit_of(found.typed()) {
        unit if unit.is_of_inches() => (LengthUnit::Inch, LengthUnit::Foot),
        _ => (LengthUnit::Millimetre, LengthUnit::Metre),
    };
    let unit = if most >= Length::from_mm(5_000) { large } else { small };
    format!("{what} must be from {} to {}, found {}", least.in_words(small), most.in_words(unit), found.typed())
}

fn row_twice(row: u16, lots: &[LotName; 2]) -> String {
    let [one, other] = lots.each_ref().map(|lot| of_lot(lot, lots));
    format!("row {} is given twice: to {one} and to {other}", row + 1)
}

fn out_of_order(what: Observed, comes: &str, on: NaiveDate, found: NaiveDate) -> String {
    format!("{} comes {comes}, and that was on {}; found {}", first_of(what), full_day(on), full_day(found))
}

/// `tomato ‘Early Red’`; with the lot's number where both go by the same.
fn of_lot(lot: &LotName, both: &[LotName; 2]) -> String {
    let [one, other] = both;
    let name = with_variety(&lot.crop, &lot.variety);
    let alike = (&one.crop, &one.variety) == (&other.crop, &other.variety);
    if alike || name.is_empty() { format!("{name} (batch {})", lot.lot).trim().to_owned() } else { name }
}

/// What was seen, as the subject of a sentence.
const fn first_of(what: Observed) -> &'static str {
    match what {
        Observed::Sown { .. } => "sowing",
        Observed::Up { .. } => "coming up",
        Observed::TrueLeaves(_) => "the true leaves",
        Observed::MovedOn(_) => "moving on",
        Observed::Lost { .. } => "what was lost",
        Observed::PutOut(_) => "planting out",
        Observed::Sold(_) => "selling",
        Observed::GappedUp => "gapping up",
        Observed::Prepared => "what is done to the seed",
        Observed::Unstacked => "taking the stack apart",
        Observed::SpacedOut => "spacing out",
        Observed::HardeningBegun => "hardening off",
        Observed::NightOut => "the first night out",
        Observed::Grown(_) => "how they turned out",
    }
}

/// Millimetres, as that unit says them.
fn in_unit(mm: f64, unit: LengthUnit) -> String {
    Length::try_from_mm(mm).map_or_else(|| format!("{mm} mm"), |length| length.in_words(unit))
}

fn chances(both: &[FrostChance; 2]) -> String {
    let [one, next] = both.each_ref().map(|chance| format!("{} for {}", full_day(chance.date), chance.later_in_ten));
    format!("{one} and {next} at {}", both[0].temperature.typed())
}

/// The label before the field, and what a sentence calls it.
#[expect(clippy::too_many_lines, clippy::match_same_arms, reason = "a table, one line a field")]
const fn names(field: FieldId) -> (&'static str, &'static str) {
    match field {
        FieldId::SeasonName => ("Name of the season", "the season's name"),
        FieldId::SeasonNote => ("Note", "the season's note"),
        FieldId::TrayGap => ("Gap beside a tray", "the gap beside a tray"),
        FieldId::LampGap => ("Gap to the lamp", "the gap to the lamp"),
        FieldId::Chance => ("How sure, in %", "the chance"),
        FieldId::FirstWeek => ("Week 1 starts on", "week 1"),
        FieldId::WaterEvery => ("Days between waterings", "days between waterings"),
        FieldId::Away => ("Days away", "absence"),
        FieldId::AwayName => ("What for", "what the days away are called"),
        FieldId::AwayFirst => ("First day", "a year"),
        FieldId::AwayLast => ("Last day", "a year"),
        FieldId::FrostDate => ("Last frost", "a year"),
        FieldId::FrostRisk => ("Years in 10 with a later one", "years in 10 with a later frost"),
        FieldId::FrostStation => ("Station", "a station's name"),
        FieldId::FrostYears => ("Years", "the years of a record"),
        FieldId::FrostSprings => ("Springs", "the springs of a record"),
        FieldId::FrostTableDate => ("Dates known", "dates in the frost table"),
        FieldId::FrostTableRisk => ("Years in 10", "years in 10 in the frost table"),
        FieldId::Place => ("Place", "place"),
        FieldId::PlaceName => ("Name of the place", "a place's name"),
        FieldId::PlaceOpen => ("Open between these dates only", "open days"),
        FieldId::RoomWidth => ("Width of the floor", "a floor's width"),
        FieldId::RoomDepth => ("Depth of the floor", "a floor's depth"),
        FieldId::Barrow => ("Barrow or trolley, how wide", "a barrow's width"),
        FieldId::Doors => ("Doors", "doors"),
        FieldId::DoorAlong(_) => ("along the wall", "a door"),
        FieldId::DoorWidth(_) => ("width", "a door's width"),
        FieldId::Rack => ("Rack", "rack"),
        FieldId::RackName => ("Name of the rack", "a rack's name"),
        FieldId::RackX => ("From the left wall", "how far a rack is from the left wall"),
        FieldId::RackY => ("From the back wall", "how far a rack is from the back wall"),
        FieldId::RacksOnPlan => ("Racks on the floor", "racks on one floor"),
        FieldId::Shelf => ("Shelf", "shelf"),
        FieldId::ShelfWidth => ("Width", "a shelf's width"),
        FieldId::ShelfDepth => ("Depth", "a shelf's depth"),
        FieldId::ShelfHeight => ("Clear height", "clear height"),
        FieldId::ShelfOverhang => ("May stick out", "overhang"),
        FieldId::ShelfAllowance => ("Kept free, in %", "the packing allowance"),
        FieldId::ShelfClosed => ("Closed between these dates", "closed days"),
        FieldId::ZoneX(_) => ("from the left", "a zone's place"),
        FieldId::ZoneY(_) => ("from the back", "a zone's place"),
        FieldId::ZoneWidth(_) => ("width", "a zone's width"),
        FieldId::ZoneDepth(_) => ("depth", "a zone's depth"),
        FieldId::Crop => ("Crop", "crop"),
        FieldId::CropName => ("Name of the crop", "a crop's name"),
        FieldId::CropMark => ("Mark", "a crop's mark"),
        FieldId::CropGermination => ("Germination, %", "germination"),
        FieldId::CropLegalGermination => ("Legal minimum, %", "the legal minimum"),
        FieldId::CropEmergence => ("Days to emerge", "days"),
        FieldId::CropEmergenceWarmth => ("Warmth to emerge", "temperatures"),
        FieldId::CropLeafWarmth => ("Warmth for a leaf", "temperatures"),
        FieldId::CropMovingOn => ("Days to the next container", "days"),
        FieldId::CropWeeksOut => ("Weeks to planting out", "weeks to planting out"),
        FieldId::CropWeeksToSale => ("Weeks to sale", "weeks to sale"),
        FieldId::CropLatest => ("Weeks at most", "weeks at most in a container"),
        FieldId::CropGerminates(_) => ("Germinates at", "temperatures"),
        FieldId::WhatIfName => ("Name", "the name of a what-if"),
        FieldId::WhatIfDays => ("Days later", "days"),
        FieldId::HardenDays => ("Days of hardening off", "days of hardening off"),
        FieldId::CropHardening => ("Days of hardening off", "days of hardening off"),
        FieldId::CropFirstNight => ("First night out after days", "days until the first night out"),
        FieldId::CropSeedsPerGram => ("Seeds to the gram", "seeds to the gram"),
        FieldId::CropWeeksFromFrost => ("Weeks from the frost", "weeks after the frost"),
        FieldId::CropInOpenFlat => ("Plants to an open flat", "plants to an open flat"),
        FieldId::CropLight => ("Light", "light"),
        FieldId::HeightWeek(_) => ("week", "weeks"),
        FieldId::HeightSize(_) => ("height", "a height"),
        FieldId::SpreadWeek(_) => ("week", "weeks"),
        FieldId::SpreadSize(_) => ("spread", "a spread"),
        FieldId::Container => ("Container", "container"),
        FieldId::ContainerName => ("Name", "a container's name"),
        FieldId::ContainerNote => ("Note", "a container's note"),
        FieldId::ContainerHeight => ("Height", "a container's height"),
        FieldId::ContainerDome => ("Height under a dome", "the height under a dome"),
        FieldId::ContainerWidth => ("Outer size", "a container's width"),
        FieldId::ContainerDepth => ("Outer size", "a container's depth"),
        FieldId::FloorWidth => ("Floor inside", "a floor"),
        FieldId::FloorDepth => ("Floor inside", "a floor's depth"),
        FieldId::Pockets => ("Places for pots", "places for pots"),
        FieldId::Cells => ("Cells in all", "the number of cells"),
        FieldId::CellRows => ("Rows of cells", "rows and columns"),
        FieldId::CellWidth => ("Width of a cell", "a cell's width"),
        FieldId::CellVolume => ("Volume of one", "a volume"),
        FieldId::PotWidth => ("Across the rim", "a pot's width"),
        FieldId::PotBase => ("Across the base", "a pot's base"),
        FieldId::PotVolume => ("Volume of one", "a volume"),
        FieldId::ClassVolumes => ("Volumes", "the volumes of a class"),
        FieldId::Sowing => ("Sowing", "sowing"),
        FieldId::Variety => ("Variety", "a variety's name"),
        FieldId::SowingNote => ("Note", "a sowing's note"),
        FieldId::SowingPlants => ("Plants wanted", "the number of plants"),
        FieldId::OutDays => ("Days out", "day on which plants are planted out or sold"),
        FieldId::OutPlants(_) => ("Plants wanted", "the number of plants"),
        FieldId::OutDate(_) => ("Plant out or sell on", "a year"),
        FieldId::OutFrostDays(_) => ("Weeks from the frost", "days from the frost"),
        FieldId::OutMonth(_) => ("Month out", "a month"),
        FieldId::OutNth(_) => ("Which of the month", "which of its weekdays"),
        FieldId::OutWeek(_) => ("Week out", "a week"),
        FieldId::SowingGermination => ("Germination, %", "germination"),
        FieldId::SowingLosses => ("Losses, %", "losses"),
        FieldId::SeedsPerCell => ("Seeds per cell", "seeds to a cell"),
        FieldId::BegunOn => ("Seen so on", "a year"),
        FieldId::BegunLeaves => ("True leaves", "the number of true leaves"),
        FieldId::StackDays => ("Days in a stack", "days in a stack"),
        FieldId::StackHigh => ("Trays to a stack", "trays in a stack"),
        FieldId::Record(_) => ("Record", "record"),
        FieldId::RecordDate(_) => ("Day", "a year"),
        FieldId::RecordSown(_) => ("Cells sown", "the number sown"),
        FieldId::RecordUp(_) => ("Cells with a plant", "the number up"),
        FieldId::RecordLeaves(_) => ("True leaves", "the number of true leaves"),
        FieldId::RecordPlants(_) => ("Plants", "the number of plants"),
        FieldId::Steps => ("Stages", "stage"),
        FieldId::Step(_) => ("Stage", "step"),
        FieldId::StepDate(_) => ("Date of the stage", "a year"),
        FieldId::StepPerTray(_) => ("Plants per tray", "plants to a tray"),
        FieldId::StepEarly(_) => ("Days early", "days early"),
        FieldId::StepLate(_) => ("Days late", "days late"),
        FieldId::StepPitch(_) => ("Spaced to", "a spacing"),
        FieldId::Lots => ("Batches", "batch"),
        FieldId::Lot(_) => ("Batch", "lot"),
        FieldId::LotShare(_) => ("Share", "a batch's share"),
        FieldId::Guest => ("Other plants", "guest"),
        FieldId::GuestName => ("What it is", "a name for other plants"),
        FieldId::GuestWidth => ("Room for each", "the width of other plants"),
        FieldId::GuestDepth => ("Room for each", "the depth of other plants"),
        FieldId::GuestNumber => ("How many", "the number of other plants"),
        FieldId::GuestFrom => ("Here from", "a year"),
        FieldId::GuestUntil => ("Gone on", "a year"),
        FieldId::Tray => ("Tray", "tray"),
        FieldId::TrayMark => ("Mark", "a tray's mark"),
        FieldId::TrayRows => ("Rows", "rows of a tray"),
        FieldId::SpotX => ("From the left", "a spot's place"),
        FieldId::SpotY => ("From the back", "a spot's place"),
        FieldId::SpotUntil => ("Taken up on", "the day a tray is taken up"),
        FieldId::Number => ("Number", "an id"),
    }
}
