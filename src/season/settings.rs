use chrono::NaiveDate;

use crate::units::{DateSpan, Measure};

use super::{AwayId, Frost, Matters, Unwanted, WhatIf};

/// What counts for the season as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Kept free beside every tray.
    pub gap: Measure,
    /// Kept free between the tallest leaf and the lamp.
    pub lamp_gap: Measure,
    /// How sure the number of cells must be, in per cent: 90 is nine times in ten.
    pub sure_percent: u8,
    pub weeks: WeekLabels,
    pub frost: Option<Frost>,
    /// Days that plants stand without being watered.
    pub water_every: u8,
    pub potting: Potting,
    /// What a change that makes room costs the grower.
    pub matters: Matters,
    /// Changes that are not to be offered; of what is gone they mean nothing.
    pub unwanted: Vec<Unwanted>,
    pub what_ifs: Vec<WhatIf>,
}

/// Days on which nobody sows or moves plants on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Away {
    pub id: AwayId,
    /// What for; may be empty.
    pub name: String,
    pub span: DateSpan,
    /// Who waters meanwhile; empty: nobody.
    pub waters: String,
    /// A holiday that comes again next year; a trip doesn't.
    pub every_year: bool,
}

/// How weeks are counted. A week always runs from Monday.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WeekLabels {
    /// ISO 8601.
    #[default]
    Iso,
    /// Week 1 starts on this Monday.
    From(NaiveDate),
}

/// What going into a larger container is called: it differs from country to country.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Potting {
    #[default]
    PotOn,
    PotUp,
    MoveOn,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            gap: Measure::mm(3),
            lamp_gap: Measure::mm(50),
            sure_percent: 90,
            weeks: WeekLabels::Iso,
            frost: None,
            water_every: 2,
            potting: Potting::PotOn,
            matters: Matters::default(),
            unwanted: Vec::new(),
            what_ifs: Vec::new(),
        }
    }
}
