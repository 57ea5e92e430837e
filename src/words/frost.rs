//! Every sentence about the last frost. No date of it stands without its risk.

use chrono::NaiveDate;

use crate::season::{Frost, FrostMethod};
use crate::trade::RefusedSpring;
use crate::units::DateSpan;

use super::{both_scales, counted, day, full_day, span};

/// What a grower should know beside any frost date. Screen and leaf: reports of weather observers;
/// the rest common practice.
pub const FROST_CAUTIONS: &str = "Odds from past years, not a forecast: watch the local one. Stations read at about 5 ft \
     (1.5 m); on a clear, calm night leaves are often 0.5 to 1.7 °C (1 to 3 °F) colder. Frozen plants are the grower’s \
     risk: local advice comes first.";

/// `5 years in 10 have a later frost`.
pub fn later_frost(years_in_ten: u8) -> String {
    format!("{years_in_ten} {} a later frost", if years_in_ten == 1 { "year in 10 has" } else { "years in 10 have" })
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

/// `1 year in 10 has a later frost of 0 °C (32 °F) or colder`.
pub fn frost_risk(frost: &Frost) -> String {
    format!("{} of {} or colder", later_frost(frost.later_in_ten), both_scales(&frost.temperature))
}

/// `USC00368449, 2001–2009: 9 springs, weak (fewer than 20), by the normal law`; `None` where nothing
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
pub fn last_frost(frost: &Frost) -> String {
    format!("{}: {}", full_day(frost.date), frost_with_basis(frost))
}

/// `Last frost 22 Apr 2027: …`.
pub fn last_frost_line(frost: &Frost) -> String {
    format!("Last frost {}", last_frost(frost))
}

/// `1 year in 10 has a later frost …; USC00368449, 2001–2009, 9 springs, …`.
pub fn frost_with_basis(frost: &Frost) -> String {
    let risk = frost_risk(frost);
    frost_basis(frost).map_or_else(|| risk.clone(), |basis| format!("{risk}; {basis}"))
}

/// Why a crop goes out then: `1 week after the last frost of 9 May (5 years in 10 have a later
/// frost)`, or on the day of the grower's own risk.
pub fn out_by_frost(out: NaiveDate, frost: &Frost) -> String {
    let even = frost.even();
    if out == frost.date && even != frost.date {
        return format!("on the day after which {}", frost_risk(frost));
    }
    let years = if even == frost.date { frost.later_in_ten } else { 5 };
    format!("{} of {} ({})", from_frost(out, even), day(even), later_frost(years))
}

pub const fn frost_method(method: FrostMethod) -> &'static str {
    match method {
        FrostMethod::Given => "as given",
        FrostMethod::Empirical => "read off the springs in order",
        FrostMethod::NormalLaw => "by the normal law",
    }
}

/// `Spring of 2000: 53 days without a reading, 1 May – 31 May the longest run`.
pub fn refused_spring(RefusedSpring { year, missing, longest: (first, last) }: &RefusedSpring) -> String {
    let run = last.succ_opt().and_then(|until| DateSpan::new(*first, until).ok());
    let run = run.map_or_else(String::new, |run| format!(", {} the longest run", span(run)));
    format!("Spring of {year}: {missing} days without a reading{run}")
}
