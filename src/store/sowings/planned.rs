//! What the rows become, before anything is changed.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::forecast::{self, Forecast, What};
use crate::season::{EditError, Library, OutRule, Season, SowingId};
use crate::units::LengthUnit;
use crate::words::Words;

use super::table::Table;

/// A row as the sowing that it becomes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planned {
    pub line: u64,
    pub sowing: String,
    pub plants: u32,
    pub sow: Option<NaiveDate>,
    pub out: NaiveDate,
    pub rule: OutRule,
}

impl Table {
    /// The rows in the season that takes them in; that season itself is not changed.
    ///
    /// # Errors
    /// The season would not take them.
    pub fn planned(&self, season: &Season, library: &Library) -> Result<Vec<Planned>, EditError> {
        let mut with = season.clone();
        with.apply(&self.edit(season, library))?;
        let forecast = forecast::forecast(&with, library);
        Ok(self.planned_in(&with, season.next_id(), &forecast, library))
    }

    /// The same in the season that has taken them in, its new sowings numbered from `first` on.
    pub fn planned_in(&self, with: &Season, first: u32, forecast: &Forecast, library: &Library) -> Vec<Planned> {
        let words = Words { season: with, library, forecast, unit: LengthUnit::Millimetre };
        let mut sown: BTreeMap<SowingId, NaiveDate> = BTreeMap::new();
        for course in &forecast.courses {
            if let Some(date) = course.date(What::Sown) {
                sown.entry(course.sowing).and_modify(|first| *first = date.min(*first)).or_insert(date);
            }
        }
        let new = with.sowings().map(|sowing| sowing.id).filter(|id| id.0 >= first);
        new.zip(&self.rows)
            .map(|(id, row)| Planned {
                line: row.line,
                sowing: words.sowing(id),
                plants: row.plants,
                sow: sown.get(&id).copied(),
                out: row.out,
                rule: row.rule,
            })
            .collect()
    }
}
