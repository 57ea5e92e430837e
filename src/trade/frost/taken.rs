//! The frost that a grower takes: on a day of the grower's own, with another risk, from a table.

use chrono::NaiveDate;

use crate::season::{Frost, FrostChance};
use crate::units::{Temperature, Typed};

use super::table::{NoFrostDate, frost_from_table, with_risk};

/// What counts as a frost, and the years in 10 that may have a later one: as is reckoned with now, else
/// freezing and 1.
pub fn risk_taken(frost: Option<&Frost>) -> (Typed<Temperature>, u8) {
    let at = frost.map_or_else(Typed::<Temperature>::freezing, |frost| frost.temperature.clone());
    (at, frost.map_or(1, |frost| frost.later_in_ten.clamp(1, 9)))
}

/// The same frost on the grower's own day: what is known of a station belongs to another one.
pub fn frost_on_own_day(frost: Option<&Frost>, date: NaiveDate) -> Frost {
    let own = Frost::on(date);
    match frost {
        Some(Frost { later_in_ten, temperature, .. }) => {
            Frost { later_in_ten: *later_in_ten, temperature: temperature.clone(), ..own }
        }
        None => own,
    }
}

/// By the table where there is one; else the day stays, and the grower says what it means.
///
/// # Errors
/// As [`with_risk`].
pub fn another_risk(frost: &Frost, at: &Typed<Temperature>, later_in_ten: u8) -> Result<Frost, NoFrostDate> {
    if frost.table.is_empty() {
        return Ok(Frost { later_in_ten, temperature: at.clone(), ..frost.clone() });
    }
    with_risk(frost, at, later_in_ten)
}

/// The frost of a table at the risk reckoned with now. A table of another temperature or of other
/// chances gives its safest date, until the grower chooses.
///
/// # Errors
/// As [`with_risk`].
pub fn frost_of_table(table: Vec<FrostChance>, now: Option<&Frost>) -> Result<Frost, NoFrostDate> {
    let (at, later_in_ten) = risk_taken(now);
    match (frost_from_table(table.clone(), &at, later_in_ten), table.first()) {
        (Err(NoFrostDate::NoSuchTemperature { .. } | NoFrostDate::Outside { .. }), Some(first)) => {
            let same = table.iter().filter(|one| one.temperature.value() == at.value());
            let safest = same.min_by_key(|one| one.later_in_ten).unwrap_or(first).clone();
            frost_from_table(table, &safest.temperature, safest.later_in_ten)
        }
        (found, _) => found,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chance(at: &str, later_in_ten: u8, day: u32) -> FrostChance {
        FrostChance {
            temperature: Typed::parse_temperature(at).unwrap(),
            later_in_ten,
            date: NaiveDate::from_ymd_opt(2027, 5, day).unwrap(),
        }
    }

    #[test]
    fn a_table_gives_the_risk_reckoned_with_else_its_safest_date() {
        let both = vec![chance("0 °C", 5, 1), chance("0 °C", 1, 20)];
        let risk = |table: Vec<FrostChance>, now: Option<&Frost>| {
            let frost = frost_of_table(table, now).unwrap();
            (frost.temperature.typed().to_owned(), frost.later_in_ten, chrono::Datelike::day(&frost.date))
        };
        assert_eq!(risk(both.clone(), None), ("0 °C".to_owned(), 1, 20));
        let now = Frost { later_in_ten: 5, ..Frost::on(NaiveDate::default()) };
        assert_eq!(risk(both, Some(&now)), ("0 °C".to_owned(), 5, 1));
        // no date for 1 year in 10, and none at freezing
        assert_eq!(risk(vec![chance("0 °C", 5, 1), chance("0 °C", 3, 9)], None), ("0 °C".to_owned(), 3, 9));
        assert_eq!(risk(vec![chance("36 °F", 2, 12)], None), ("36 °F".to_owned(), 2, 12));
        assert!(frost_of_table(Vec::new(), None).is_err());
    }

    #[test]
    fn an_own_day_keeps_the_risk_and_loses_the_station() {
        let day = NaiveDate::from_ymd_opt(2027, 5, 3).unwrap();
        let station = Frost { later_in_ten: 3, station: "Hill".to_owned(), ..Frost::on(NaiveDate::default()) };
        let own = frost_on_own_day(Some(&station), day);
        assert_eq!((own.date, own.later_in_ten, own.station.as_str()), (day, 3, ""));
    }
}
