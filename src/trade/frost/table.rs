//! The frost a season reckons with, from a record or from a table.

use chrono::{Datelike as _, NaiveDate};

use crate::season::{Frost, FrostChance, FrostMethod};
use crate::units::{Temperature, Typed};

use super::chance::{NormalLaw, date_of, place};
use super::{Half, LastFrosts, Spring};

/// Freezing, and 4 °F to either side: what is tender suffers before, what is half-hardy stands a
/// little more. The columns of published tables (NOAA: 36, 32, 28 °F).
const CELSIUS: [&str; 3] = ["0 °C", "2.2 °C", "-2.2 °C"];
const FAHRENHEIT: [&str; 3] = ["32 °F", "36 °F", "28 °F"];

/// Why there is no date to reckon with.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoFrostDate {
    #[error("no spring of this record is whole enough: each of the {refused} in it lacks 10 days or more")]
    NoSpring { refused: usize },
    #[error("no night was as cold as {at} in any of {springs} springs: there is no last frost to reckon with")]
    Never { at: String, springs: usize },
    #[error(
        "a night of {at} or colder came in {with_frost} of {springs} springs, so on no day do {later_in_ten} years \
         in 10 have a later one; take a smaller risk"
    )]
    Seldom { at: String, springs: usize, with_frost: usize, later_in_ten: u8 },
    #[error(
        "in half of the {springs} springs or more, nights of {at} or colder go on into the second half of the year: \
         there is no last frost to reckon with"
    )]
    Endless { at: String, springs: usize },
    #[error("the years in 10 must be from 1 to 9, found {0}")]
    Risk(u8),
    #[error("the table has no dates at {at}; it has none at all")]
    NoDates { at: String },
    #[error("the table has no dates at {at}; it has {known}")]
    NoSuchTemperature { at: String, known: String },
    #[error("the table's dates at {at} are for {known} years in 10; {later_in_ten} lies outside of them")]
    Outside { at: String, known: String, later_in_ten: u8 },
}

/// What the grower asks of a record.
#[derive(Clone, Debug)]
pub struct FrostWish {
    /// What counts as a frost.
    pub at: Typed<Temperature>,
    /// The risk: years in 10 that may have a later one.
    pub later_in_ten: u8,
    pub method: FrostMethod,
    /// Dates are given for the spring whose last frost comes nearest to it.
    pub near: NaiveDate,
}

impl FrostWish {
    /// Freezing, 2.2 °C to either side and the grower's own, each once.
    pub fn temperatures(&self) -> Vec<Typed<Temperature>> {
        let usual = if self.at.typed().to_lowercase().ends_with('f') { FAHRENHEIT } else { CELSIUS };
        let tenths = |one: &Typed<Temperature>| (one.value().to_celsius() * 10.0).round() as i32;
        let mut all = vec![self.at.clone()];
        for one in usual.into_iter().filter_map(|text| Typed::parse_temperature(text).ok()) {
            if all.iter().all(|other| tenths(other) != tenths(&one)) {
                all.push(one);
            }
        }
        all.sort_by_key(|one| std::cmp::Reverse(one.value()));
        all
    }
}

/// The season's frost by the springs of a record: the date asked for, and all others in its table.
///
/// # Errors
/// Says why the record has no such date.
pub fn frost_from_springs(springs: &[Spring], half: Half, wish: &FrostWish) -> Result<Frost, NoFrostDate> {
    let asked = LastFrosts::of(springs, half, wish.at.value());
    let (at, later_in_ten) = (wish.at.typed().to_owned(), wish.later_in_ten);
    risk(later_in_ten)?;
    let springs_used = asked.springs();
    let (Some(first), Some(last)) = (springs.first(), springs.last()) else {
        return Err(NoFrostDate::NoSpring { refused: 0 });
    };
    if asked.is_endless() {
        return Err(NoFrostDate::Endless { at, springs: springs_used });
    }
    let Some(middle) = asked.middle() else { return Err(NoFrostDate::Never { at, springs: springs_used }) };
    let year = year_near(middle, wish.near);
    let date = asked.date(later_in_ten, wish.method, year).ok_or(NoFrostDate::Seldom {
        at,
        springs: springs_used,
        with_frost: asked.with_frost(),
        later_in_ten,
    })?;
    let mut table = Vec::new();
    for temperature in wish.temperatures() {
        let frosts = LastFrosts::of(springs, half, temperature.value());
        if frosts.is_endless() {
            continue;
        }
        table.extend((1..=9).filter_map(|later_in_ten| {
            let date = frosts.date(later_in_ten, wish.method, year)?;
            Some(FrostChance { temperature: temperature.clone(), later_in_ten, date })
        }));
    }
    let years = if first == last { first.year.to_string() } else { format!("{}–{}", first.year, last.year) };
    Ok(Frost {
        later_in_ten,
        temperature: wish.at.clone(),
        years,
        springs: u16::try_from(springs_used).ok(),
        method: wish.method,
        table,
        ..Frost::on(date)
    })
}

/// The season's frost by a table that the grower has.
///
/// # Errors
/// As [`with_risk`].
pub fn frost_from_table(
    table: Vec<FrostChance>,
    at: &Typed<Temperature>,
    later_in_ten: u8,
) -> Result<Frost, NoFrostDate> {
    let date = table.first().map_or_else(NaiveDate::default, |one| one.date);
    with_risk(&Frost { table, ..Frost::on(date) }, at, later_in_ten)
}

/// The same frost with another risk or temperature, by its table.
///
/// A chance between two that the table has lies between their dates, as the normal law through both
/// says.
///
/// # Errors
/// Says what the table has instead.
pub fn with_risk(frost: &Frost, at: &Typed<Temperature>, later_in_ten: u8) -> Result<Frost, NoFrostDate> {
    risk(later_in_ten)?;
    let known: Vec<&FrostChance> = frost.table.iter().filter(|one| one.temperature.value() == at.value()).collect();
    if known.is_empty() {
        let mut all: Vec<&str> = frost.table.iter().map(|one| one.temperature.typed()).collect();
        all.dedup();
        let at = at.typed().to_owned();
        return Err(if all.is_empty() {
            NoFrostDate::NoDates { at }
        } else {
            NoFrostDate::NoSuchTemperature { at, known: all.join(", ") }
        });
    }
    let date = frost.known(at.value(), later_in_ten).or_else(|| between(&known, later_in_ten)).ok_or_else(|| {
        let mut chances: Vec<u8> = known.iter().map(|one| one.later_in_ten).collect();
        chances.sort_unstable();
        let known = chances.iter().map(u8::to_string).collect::<Vec<_>>().join(", ");
        NoFrostDate::Outside { at: at.typed().to_owned(), known, later_in_ten }
    })?;
    Ok(Frost { date, later_in_ten, temperature: at.clone(), ..frost.clone() })
}

fn risk(later_in_ten: u8) -> Result<(), NoFrostDate> {
    if (1..=9).contains(&later_in_ten) { Ok(()) } else { Err(NoFrostDate::Risk(later_in_ten)) }
}

fn between(known: &[&FrostChance], later_in_ten: u8) -> Option<NaiveDate> {
    let smaller = known.iter().filter(|one| one.later_in_ten < later_in_ten).max_by_key(|one| one.later_in_ten)?;
    let larger = known.iter().filter(|one| one.later_in_ten > later_in_ten).min_by_key(|one| one.later_in_ten)?;
    let year = larger.date.year();
    let at = |one: &FrostChance| (place(one.date, year), f64::from(one.later_in_ten) / 10.0);
    let law = NormalLaw::through(at(larger), at(smaller))?;
    date_of(law.place(f64::from(later_in_ten) / 10.0)?, year)
}

/// The year in which the place comes nearest to that day.
fn year_near(place: f64, near: NaiveDate) -> i32 {
    let year = near.year();
    let far = |year: &i32| date_of(place, *year).map_or(i64::MAX, |date| (date - near).num_days().abs());
    [year, year - 1, year + 1].into_iter().min_by_key(far).unwrap_or(year)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::springs;
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn temperature(text: &str) -> Typed<Temperature> {
        Typed::parse_temperature(text).unwrap()
    }

    fn wish(at: &str, later_in_ten: u8, near: &str) -> FrostWish {
        let method = FrostMethod::Empirical;
        FrostWish { at: temperature(at), later_in_ten, method, near: date(near) }
    }

    /// Ten whole years with 8 °C every night but one, of that low, on a day of April.
    fn record(low: impl Fn(i32) -> i16) -> BTreeMap<NaiveDate, i16> {
        let days = date("2001-01-01").iter_days().take_while(|day| day.year() < 2011);
        days.map(|day| {
            let frost = (day.month(), i32::try_from(day.day()).unwrap()) == (4, day.year() - 2000);
            (day, if frost { low(day.year()) } else { 80 })
        })
        .collect()
    }

    fn of(lows: &BTreeMap<NaiveDate, i16>, wish: &FrostWish) -> Result<Frost, NoFrostDate> {
        let (springs, _) = springs(lows, Half::North);
        frost_from_springs(&springs, Half::North, wish)
    }

    #[test]
    fn a_record_gives_the_date_asked_for_and_its_table() {
        let frost = of(&record(|_| -10), &wish("0 °C", 1, "2027-05-01")).unwrap();
        // 1 to 10 April: a tenth of the way down from the last
        assert_eq!((frost.date, frost.later_in_ten), (date("2027-04-09"), 1));
        assert_eq!(frost.even(), date("2027-04-06"));
        assert_eq!((frost.years.as_str(), frost.springs, frost.is_weak()), ("2001–2010", Some(10), true));
        assert_eq!(frost.known(temperature("2.2 °C").value(), 9), Some(date("2027-04-02")));
        assert_eq!(frost.known(temperature("-2.2 °C").value(), 1), None);
        assert_eq!(with_risk(&frost, &temperature("0 °C"), 5).map(|frost| frost.date), Ok(date("2027-04-06")));
    }

    #[test]
    fn the_dates_are_those_of_the_season_that_is_near() {
        let lows = record(|_| -10);
        for (near, wanted) in [("2027-01-10", 2027), ("2027-08-01", 2027), ("2026-11-20", 2027), ("2028-02-29", 2028)] {
            assert_eq!(of(&lows, &wish("0 °C", 5, near)).unwrap().date.year(), wanted, "{near}");
        }
    }

    #[test]
    fn without_a_date_the_reason_is_said() {
        let lows = record(|year| if year < 2004 { -10 } else { 10 });
        let fails = |at: &str, later| of(&lows, &wish(at, later, "2027-05-01")).map(|frost| frost.date).unwrap_err();
        assert!(of(&lows, &wish("0 °C", 2, "2027-05-01")).is_ok());
        let seldom = NoFrostDate::Seldom { at: "0 °C".to_owned(), springs: 10, with_frost: 3, later_in_ten: 5 };
        assert_eq!(fails("0 °C", 5), seldom);
        assert_eq!(fails("-5 °C", 1), NoFrostDate::Never { at: "-5 °C".to_owned(), springs: 10 });
        assert_eq!(fails("9 °C", 1), NoFrostDate::Endless { at: "9 °C".to_owned(), springs: 10 });
        assert_eq!(fails("0 °C", 0), NoFrostDate::Risk(0));
        assert_eq!(fails("0 °C", 10), NoFrostDate::Risk(10));
    }

    #[test]
    fn thresholds_are_told_in_the_growers_scale_and_once() {
        let typed = |at: &str| {
            let all = wish(at, 1, "2027-05-01").temperatures();
            all.iter().map(|one| one.typed().to_owned()).collect::<Vec<_>>()
        };
        assert_eq!(typed("0 °C"), ["2.2 °C", "0 °C", "-2.2 °C"]);
        assert_eq!(typed("36 F"), ["36 F", "32 °F", "28 °F"]);
        assert_eq!(typed("-4 °C"), ["2.2 °C", "0 °C", "-2.2 °C", "-4 °C"]);
    }

    #[test]
    fn a_chance_between_two_of_the_table_lies_between_their_dates() {
        let chance =
            |later_in_ten, day: &str| FrostChance { temperature: temperature("32 F"), later_in_ten, date: date(day) };
        let table = vec![chance(5, "2025-03-10"), chance(1, "2025-04-22")];
        let at = temperature("0 °C");
        let day = |later| frost_from_table(table.clone(), &at, later).map(|frost| frost.date);
        assert_eq!(day(5), Ok(date("2025-03-10")));
        assert_eq!(day(1), Ok(date("2025-04-22")));
        // 43 days for 1.2816 deviations; 3 in 10 is 0.5244 of them
        assert_eq!(day(3), Ok(date("2025-03-28")));
        let outside = NoFrostDate::Outside { at: "0 °C".to_owned(), known: "1, 5".to_owned(), later_in_ten: 7 };
        assert_eq!(day(7), Err(outside));
        let other = frost_from_table(table.clone(), &temperature("36 F"), 1).unwrap_err();
        assert_eq!(other.to_string(), "the table has no dates at 36 F; it has 32 F");
    }
}
