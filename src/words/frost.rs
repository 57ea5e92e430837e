//! Every sentence about the last frost. No date of it stands without its risk.

use chrono::NaiveDate;

use crate::season::{FieldId, Frost, FrostMethod};
use crate::trade::RefusedSpring;
use crate::units::{DateSpan, LengthUnit};

use super::cautions::colder_at_the_grass;
use super::refusal::field;
use super::{counted, day, full_day, plural, span, temperature};

/// What a grower should know beside any frost date. Screen and grass: as `cautions` has it.
pub fn frost_cautions(unit: LengthUnit) -> String {
    let height = if unit.is_of_inches() { "5 ft" } else { "1.5 m" };
    format!(
        "Odds from past years, not a forecast: watch the local one. Stations read at about {height}. {}. Frozen plants \
         are the grower’s risk: local advice comes first.",
        colder_at_the_grass(unit)
    )
}

pub const LAST_FROST: &str = "Last frost";
pub const OPEN: &str = "Last frost…";
pub const NOT_KNOWN: &str = "Not known yet: give a day of your own, a weather record of a station near you, or a table";
pub const DAY: &str = "Day";
pub const DAY_HINT: &str = "such as 2 May";
pub const RISK: &str = field(FieldId::FrostRisk);
pub const RISK_HINT: &str = "1 to 9";
pub const AS_COLD_AS: &str = "A frost is as cold as";
pub const KNOWN: &str = "Dates known, by the years in 10 that have a later frost; choose the risk you take";
pub const COLD_HEAD: &str = "As cold as";

pub const FROM_RECORD: &str = "From a weather record";
pub const WHAT_RECORD: &str =
    "Daily lows of a station near you, as GHCN-Daily gives them out: .csv or .dly. Twenty springs or more say enough";
pub const FILE: &str = super::files::FILE;
pub const FILE_HINT: &str = "/home/me/station.csv";
pub const CHOOSE_FILE: &str = super::files::CHOOSE;
pub const STATION: &str = "Station, if several";
pub const LOWS: &str = "Lows are in";
pub const AS_THE_FILE_TELLS: &str = "as the file tells";
pub const FAHRENHEIT: &str = "°F";
pub const CELSIUS: &str = "°C";
pub const TENTHS: &str = "tenths of °C";
pub const HAD: &str = "Dates are had";
pub const METHODS: [(FrostMethod, &str); 2] =
    [(FrostMethod::NormalLaw, "from a normal curve"), (FrostMethod::Empirical, "from the springs in order")];
pub const READ_RECORD: &str = "Read the record";
pub const READING: &str = super::files::READING;
pub const NOT_READ: &str = "The record could not be read";
pub const SOUTHERN: &str = "A southern station: its spring runs from 24 July to 23 January";

pub const FROM_TABLE: &str = "From a table";
pub const WHAT_TABLE: &str =
    "A line for each temperature, or a head of chances with a row for each; a year is not needed";
pub const TABLE: &str = "Table";
pub const TABLE_HINT: &str = "36 F: 50% 11 Apr, 10% 18 May\n32 F: 50% 10 Mar, 10% 22 Apr";
pub const CHANCES_ARE: &str = "Its chances are that";
pub const LATER_COMES: &str = "a later frost comes";
pub const IS_OVER: &str = "the last frost is over";
pub const TABLE_FIRST: &str = "Write a table above";
pub const TAKE_TABLE: &str = "Take the table";
pub const fn cold_hint(unit: LengthUnit) -> &'static str {
    if unit.is_of_inches() { "32 °F" } else { "0 °C" }
}

pub fn read_for(unit: LengthUnit) -> String {
    format!("Read for 1 year in 10 with a later frost of {}; choose another risk afterwards", cold_hint(unit))
}

pub const SAY_THE_SENSE: &str = "say what its chances are chances of: publications mean either";

pub const MOVED: &str = "What moved";
pub const MOVED_WHAT: &str =
    "Change the last frost, and what it moves is listed here. What is done, and days that you set, stay";
pub const NOTHING_MOVED: &str = "Nothing moved";

pub fn no_risk(found: &str) -> String {
    format!("found {found:?}; write a whole number, 1 to 9")
}

pub fn weak() -> String {
    format!("A weak record: fewer than {} springs say little of rare frosts", Frost::ENOUGH_SPRINGS)
}

/// Over a column of the dates known.
pub fn in_ten(years: u8) -> String {
    format!("{years} in 10")
}

/// A date known, as one of several to take.
pub fn date_and_risk(frost: &Frost, unit: LengthUnit) -> String {
    format!("{}: {}", day(frost.date), frost_risk(frost, unit))
}

pub fn not_read(why: &str) -> String {
    format!("{NOT_READ}: {why}")
}

/// What is wrong with a file, or with a place in it.
pub fn at_path(path: &str, why: &str) -> String {
    format!("{path}: {why}")
}

pub fn at_line(line: usize, column: usize, why: &str) -> String {
    format!("Line {line}, column {column}: {why}")
}

/// `5 years in 10 have a later frost`.
pub fn later_frost(years_in_ten: u8) -> String {
    format!("{years_in_ten} {} a later frost", if years_in_ten == 1 { "year in 10 has" } else { "years in 10 have" })
}

/// `5 years in 10 have a later frost`, for a day between known ones too; `None` where nothing is known.
pub(super) fn frost_after(frost: &Frost, day: NaiveDate) -> Option<String> {
    Some(match frost.later_than(day) {
        (Some(least), Some(most)) if least >= most => later_frost(most),
        (Some(least), Some(most)) => format!("{least} to {most} years in 10 have a later frost"),
        (Some(least), None) => {
            format!(
                "{least} {} in 10 or more {} a later frost",
                plural(least, "year", "years"),
                plural(least, "has", "have")
            )
        }
        (None, Some(most)) => format!(
            "{most} {} in 10 at most {} a later frost",
            plural(most, "year", "years"),
            plural(most, "has", "have")
        ),
        (None, None) => return None,
    })
}

/// `1 week after the last frost`; days where they are no whole weeks.
pub fn from_frost(date: NaiveDate, frost: NaiveDate) -> String {
    let days = (date - frost).num_days();
    let far = days.unsigned_abs();
    let (number, what) = if far.is_multiple_of(7) { (far / 7, "week") } else { (far, "day") };
    let end = if number == 1 { "" } else { "s" };
    match days {
        0 => "on the day of the last frost".to_owned(),
        1.. => format!("{number} {what}{end} after the last frost"),
        _ => format!("{number} {what}{end} before the last frost"),
    }
}

/// `1 year in 10 has a later frost of 0 °C or colder`.
pub fn frost_risk(frost: &Frost, unit: LengthUnit) -> String {
    format!("{} of {} or colder", later_frost(frost.later_in_ten), temperature(&frost.temperature, unit))
}

/// `USC00368449, 2001–2009: 9 springs, weak (fewer than 20), from a normal curve`; `None` where nothing
/// is known of where the date is from.
pub fn frost_basis(frost: &Frost) -> Option<String> {
    let mut said = [frost.station.as_str(), frost.years.as_str()].map(str::trim).to_vec();
    said.retain(|part| !part.is_empty());
    said.dedup();
    let mut said = vec![said.join(", ")];
    if let Some(springs) = frost.springs {
        said.push(counted(springs, "spring", "springs"));
    }
    if frost.is_weak() {
        said.push(format!("weak: fewer than {}", Frost::ENOUGH_SPRINGS));
    }
    if frost.method != FrostMethod::Given {
        said.push(frost_method(frost.method).to_owned());
    } else if !frost.table.is_empty() {
        let known = frost.known(frost.temperature.value(), frost.later_in_ten) == Some(frost.date);
        said.push(if known { "from a table" } else { "between the dates of a table" }.to_owned());
    }
    said.retain(|part| !part.is_empty());
    (!said.is_empty()).then(|| said.join(", "))
}

/// `22 Apr 2027: 1 year in 10 has a later frost …`, with all that is known of it.
pub fn last_frost(frost: &Frost, unit: LengthUnit) -> String {
    format!("{}: {}", full_day(frost.date), frost_with_basis(frost, unit))
}

/// `Last frost 22 Apr 2027: …`.
pub fn last_frost_line(frost: &Frost, unit: LengthUnit) -> String {
    format!("Last frost {}", last_frost(frost, unit))
}

/// `1 year in 10 has a later frost …; USC00368449, 2001–2009, 9 springs, …`.
pub fn frost_with_basis(frost: &Frost, unit: LengthUnit) -> String {
    let risk = frost_risk(frost, unit);
    frost_basis(frost).map_or_else(|| risk.clone(), |basis| format!("{risk}; {basis}"))
}

/// Why a crop goes out then: `1 week after the last frost of 9 May (5 years in 10 have a later
/// frost)`, or on the day of the grower's own risk.
pub fn out_by_frost(out: NaiveDate, frost: &Frost, unit: LengthUnit) -> String {
    let even = frost.even();
    if out == frost.date && even != frost.date {
        return format!("on the day after which {}", frost_risk(frost, unit));
    }
    let years = if even == frost.date { frost.later_in_ten } else { 5 };
    format!("{} of {} ({})", from_frost(out, even), day(even), later_frost(years))
}

const fn frost_method(method: FrostMethod) -> &'static str {
    match method {
        FrostMethod::Given => "as given",
        FrostMethod::Empirical => "read from the springs in order",
        FrostMethod::NormalLaw => "from a normal curve",
    }
}

/// `Spring of 2000: 53 days without a reading, 1 May – 31 May the longest run`.
pub fn refused_spring(RefusedSpring { year, missing, longest: (first, last) }: &RefusedSpring) -> String {
    let run = last.succ_opt().and_then(|until| DateSpan::new(*first, until).ok());
    let run = run.map_or_else(String::new, |run| format!(", {} the longest run", span(run)));
    format!("Spring of {year}: {missing} days without a reading{run}")
}
