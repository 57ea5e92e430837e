//! From the season to its stays: who needs room, what kind, from when to when.
//!
//! Derived anew from the document each time; nothing here is stored. Says nothing about whether
//! the shelves have that room: `outlook` does.

mod course;
mod problem;
mod stay;

pub use course::{Course, Event, SowCount, What, Why};
pub use problem::Problem;
pub use stay::{Inside, Needs, Phase, Shape, Stay};

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::season::{Library, Season, SowingId, TrayKey};
use crate::units::DateSpan;

/// What the season asks of its shelves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forecast {
    /// By first day, then by tray.
    pub stays: Vec<Stay>,
    /// By sowing, then by lot.
    pub courses: Vec<Course>,
    /// Every tray's mark: `To 7`.
    pub marks: BTreeMap<TrayKey, String>,
    pub problems: Vec<Problem>,
}

impl Forecast {
    /// The stays that stand somewhere on that day.
    pub fn on(&self, date: NaiveDate) -> impl Iterator<Item = &Stay> {
        self.stays.iter().filter(move |stay| stay.span.contains(date))
    }

    pub fn courses_of(&self, sowing: SowingId) -> impl Iterator<Item = &Course> {
        self.courses.iter().filter(move |course| course.sowing == sowing)
    }

    /// All stays of one tray, by day.
    pub fn stays_of(&self, tray: TrayKey) -> impl Iterator<Item = &Stay> {
        self.stays.iter().filter(move |stay| stay.trays.contains(&tray))
    }

    pub fn mark(&self, tray: TrayKey) -> &str {
        self.marks.get(&tray).map_or("?", String::as_str)
    }

    /// From the first stay's first day to the last one's last.
    pub fn span(&self) -> Option<DateSpan> {
        let from = self.stays.iter().map(|stay| stay.span.from()).min()?;
        let until = self.stays.iter().map(|stay| stay.span.until()).max()?;
        DateSpan::new(from, until).ok()
    }
}

/// Works out every stay of the season.
pub fn forecast(season: &Season, library: &Library) -> Forecast {
    let _ = (season, library);
    Forecast::default()
}
