use chrono::{NaiveDate, TimeDelta};

use crate::units::{Temperature, Typed};

/// The last frost the season reckons with, and what else is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Frost {
    /// The grower's: a tender crop leaves on it or later.
    pub date: NaiveDate,
    /// Years in 10 that have a later one.
    pub later_in_ten: u8,
    /// What counts as a frost: a night as cold as this or colder.
    pub temperature: Typed<Temperature>,
    pub station: String,
    pub years: String,
    /// Springs of the record that could be used, where there is one.
    pub springs: Option<u16>,
    pub method: FrostMethod,
    /// All dates known, so that another risk can be chosen without the record.
    pub table: Vec<FrostChance>,
}

/// How the dates were had.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FrostMethod {
    /// Written by the grower, as read or known.
    #[default]
    Given,
    /// Read off the sorted last frosts of a record.
    Empirical,
    /// From mean and spread of the last frosts of a record.
    NormalLaw,
}

/// One date of a frost table.
#[derive(Clone, Debug, PartialEq)]
pub struct FrostChance {
    pub temperature: Typed<Temperature>,
    /// Years in 10 that have so cold a night after the date.
    pub later_in_ten: u8,
    pub date: NaiveDate,
}

impl Frost {
    /// A record of fewer springs says little about 1 year in 10.
    pub const ENOUGH_SPRINGS: u16 = 20;

    /// The grower's own date: 5 years in 10 have a later one at 0 °C.
    pub fn on(date: NaiveDate) -> Self {
        Self {
            date,
            later_in_ten: 5,
            temperature: Typed::<Temperature>::freezing(),
            station: String::new(),
            years: String::new(),
            springs: None,
            method: FrostMethod::Given,
            table: Vec::new(),
        }
    }

    /// The day after which 5 years in 10 have a later frost of 0 °C, which crops' weeks count from;
    /// the grower's date where it is not known.
    pub fn even(&self) -> NaiveDate {
        self.known(Temperature::default(), 5).unwrap_or(self.date)
    }

    /// So many days after (negative: before) [`even`](Self::even); if it `waits`, not before the date whose
    /// risk the grower takes. `None` past the calendar's end.
    pub fn out(&self, days: i16, waits: bool) -> Option<NaiveDate> {
        let out = self.even().checked_add_signed(TimeDelta::days(i64::from(days)))?;
        Some(if waits { out.max(self.date) } else { out })
    }

    /// At least, and at most, so many years in 10 have a frost of 0 °C after that day, as far as the known dates
    /// say; a date of its own counts where it is for 0 °C.
    pub fn later_than(&self, day: NaiveDate) -> (Option<u8>, Option<u8>) {
        let freezing = Temperature::default();
        let own = (self.temperature.value() == freezing).then_some((self.date, self.later_in_ten));
        let table = self.table.iter().filter(|one| one.temperature.value() == freezing);
        let known = || own.into_iter().chain(table.clone().map(|one| (one.date, one.later_in_ten)));
        let years = |is_so: fn(NaiveDate, NaiveDate) -> bool| {
            known().filter(move |(date, _)| is_so(*date, day)).map(|(_, years)| years)
        };
        (years(|date, day| date >= day).max(), years(|date, day| date <= day).min())
    }

    /// The table's date for that risk, if it has one.
    pub fn known(&self, temperature: Temperature, later_in_ten: u8) -> Option<NaiveDate> {
        let fits = |one: &&FrostChance| (one.temperature.value(), one.later_in_ten) == (temperature, later_in_ten);
        self.table.iter().find(fits).map(|one| one.date)
    }

    /// Whether it rests on too few springs; of a date without a record nothing is known.
    pub fn is_weak(&self) -> bool {
        self.springs.is_some_and(|springs| springs < Self::ENOUGH_SPRINGS)
    }
}
