//! A season file and what follows from it.

use chrono::NaiveDate;

use crate::fit::{Cancel, Memory, Progress};
use crate::forecast::{self, Forecast};
use crate::outlook::{self, Chance, Draws, Effort, Keep, Outlook, Week};
use crate::season::{Library, Season};
use crate::store;
use crate::units::LengthUnit;
use crate::words::Words;

use super::report::Failure;

/// A season file and what follows from it.
pub(super) struct Opened {
    pub(super) season: Season,
    pub(super) library: &'static Library,
    pub(super) forecast: Forecast,
    pub(super) unit: LengthUnit,
}

impl Opened {
    pub(super) fn load(path: &std::path::Path) -> Result<Self, Failure> {
        let (season, library) = (store::load(path)?, store::library());
        let forecast = forecast::forecast(&season, library);
        let unit = season.length_unit();
        Ok(Self { season, library, forecast, unit })
    }

    pub(super) fn look_ahead(&self, keep: Keep) -> Result<Outlook, Failure> {
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let effort = Effort::default();
        Ok(outlook::look_ahead(&self.season, &self.forecast, keep, effort, &mut Memory::default(), &progress, &cancel)?)
    }

    /// What each place comes to on a day.
    pub(super) fn look_at_day(&self, day: NaiveDate) -> Result<Vec<Week>, Failure> {
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let mut memory = Memory::default();
        Ok(outlook::look_at_day(&self.season, &self.forecast, day, &mut memory, &progress, &cancel)?)
    }

    /// How often each week is too full, in seasons drawn between early and late; `None` where nothing
    /// varies.
    pub(super) fn chance(&self, outlook: &Outlook, draws: Draws) -> Result<Option<Chance>, Failure> {
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let problem = outlook::chance_hash(&self.season, self.library, outlook.problem);
        let chance = outlook::chance(&self.season, self.library, draws, problem, &progress, &cancel)?;
        Ok(Some(chance).filter(|chance| chance.varies))
    }

    pub(super) const fn words(&self) -> Words<'_> {
        Words { season: &self.season, library: self.library, forecast: &self.forecast, unit: self.unit }
    }
}
