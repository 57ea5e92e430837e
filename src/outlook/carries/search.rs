//! The largest number that fits, and the smallest that is too many.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Scenario, drawn};
use crate::outlook::{Crunch, Effort, Keep, ProblemHash, Verdict, look_ahead, problem_hash};
use crate::season::{Library, Season};

use super::asked::Scaled;

/// What a number of plants comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Most {
    /// The largest number that was laid out; `None` where not even none fits.
    pub fits: Option<Fits>,
    /// The smallest number that is proven too many; `None` where no season may be as large.
    pub too_many: Option<TooMany>,
    /// Where lamps are drawn: the largest number that was laid out with nothing beyond them on any day.
    pub well_lit: Option<Fits>,
    /// Above what fits are numbers that are neither, up to the largest that a season may have.
    pub open_above: bool,
}

/// So many fit on every day: a layout of all of them was accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fits {
    /// Per cent of the whole season, or plants of the crop.
    pub number: u32,
    pub plants: u32,
    /// Of the step in which they have most, for all sowings that were scaled; stacks and blocks of pots are one each.
    pub trays: u32,
}

/// So many are too many: the worst of the days that are proven too full.
#[derive(Clone, Debug, PartialEq)]
pub struct TooMany {
    pub number: u32,
    pub plants: u32,
    pub crunch: Crunch,
    /// The season with so many, which the crunch is of.
    pub season: Season,
    pub forecast: Forecast,
}

impl Most {
    /// Whether no number lies between the one that fits and the one that is too many.
    pub fn is_exact(&self) -> bool {
        let fits = self.fits.map_or(0, |fits| fits.number + 1);
        self.too_many.as_ref().map_or(!self.open_above, |many| many.number == fits)
    }

    pub fn plants(&self) -> u32 {
        self.fits.map_or(0, |fits| fits.plants)
    }
}

/// What is known of one problem.
struct Judged {
    verdict: Verdict,
    crunch: Option<Crunch>,
    /// Beyond the lamps on the darkest day.
    over_lit: u32,
    has_lamps: bool,
}

/// How far all searches are together, counted in questions.
pub(super) struct Steps<'a> {
    progress: &'a Progress,
    done: usize,
    /// Questions that are reckoned with.
    of: usize,
}

/// Questions that one search is reckoned to take.
const QUESTIONS: usize = 24;

impl<'a> Steps<'a> {
    pub(super) fn of(progress: &'a Progress, searches: usize) -> Self {
        Self { progress, done: 0, of: searches * QUESTIONS }
    }

    fn one_more(&mut self) {
        self.done += 1;
        // work that takes longer than was reckoned creeps on
        self.progress.set(self.done, self.of.max(self.done + QUESTIONS / 4));
    }

    /// So many are over, and so many are to come.
    pub(super) fn reckon(&mut self, over: usize, to_come: usize) {
        self.of = (over + to_come) * QUESTIONS;
        self.over(over);
    }

    /// So many searches are over, whatever they took.
    pub(super) fn over(&mut self, searches: usize) {
        self.done = self.done.max(searches * QUESTIONS);
        self.progress.set(self.done, self.of.max(self.done));
    }
}

/// What is known of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Fits,
    /// Neither laid out nor proven too many.
    Open,
    TooMany,
    /// No season may be as large.
    Beyond,
}

/// One season in which the number is looked for.
pub(super) struct Search<'a, 's> {
    season: &'s Season,
    library: &'a Library,
    scaled: &'a Scaled,
    memory: &'s mut Memory,
    steps: &'s mut Steps<'a>,
    cancel: &'a Cancel,
    /// Where no more trays are filled the problem is the same.
    by_problem: BTreeMap<u128, Rc<Judged>>,
    by_number: BTreeMap<u32, Option<Rc<Judged>>>,
}

impl<'a, 's> Search<'a, 's> {
    pub(super) fn new(
        (season, library): (&'s Season, &'a Library),
        scaled: &'a Scaled,
        memory: &'s mut Memory,
        steps: &'s mut Steps<'a>,
        cancel: &'a Cancel,
    ) -> Self {
        let (by_problem, by_number) = (BTreeMap::new(), BTreeMap::new());
        Self { season, library, scaled, memory, steps, cancel, by_problem, by_number }
    }

    /// Looks from `near` on, up or down.
    pub(super) fn most(&mut self, near: u32) -> Result<Most, Cancelled> {
        let rest = self.state(0)?;
        if rest == State::TooMany {
            return Ok(Most { fits: None, too_many: self.too_many(0)?, well_lit: None, open_above: false });
        }
        let (low, high) = self.border(near.max(1), |state| state == State::Fits)?;
        let fits = if low > 0 || rest == State::Fits { self.fits(low) } else { None };
        let next = self.state(high)?;
        let too_many = match next {
            State::Beyond => None,
            State::TooMany => self.too_many(high)?,
            State::Fits | State::Open => {
                let (_, high) = self.border(high, |state| matches!(state, State::Fits | State::Open))?;
                if self.state(high)? == State::TooMany { self.too_many(high)? } else { None }
            }
        };
        let well_lit = match fits {
            Some(fits) => self.well_lit(fits)?,
            None => None,
        };
        let open_above = too_many.is_none() && next == State::Open;
        Ok(Most { fits, too_many, well_lit, open_above })
    }

    /// Two neighbours, the lower of which is `below` the border; 0 is taken to be.
    fn border(&mut self, near: u32, below: fn(State) -> bool) -> Result<(u32, u32), Cancelled> {
        let mut step = (near / 8).max(1);
        let (mut low, mut high);
        if below(self.state(near)?) {
            low = near;
            high = low.saturating_add(step);
            while below(self.state(high)?) {
                low = high;
                step = step.saturating_mul(2);
                high = low.saturating_add(step);
            }
        } else {
            high = near;
            low = high.saturating_sub(step);
            while low > 0 && !below(self.state(low)?) {
                high = low;
                step = step.saturating_mul(2);
                low = high.saturating_sub(step);
            }
        }
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            if below(self.state(middle)?) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok((low, high))
    }

    fn state(&mut self, number: u32) -> Result<State, Cancelled> {
        Ok(match self.judged(number)?.as_deref().map(|judged| judged.verdict) {
            Some(Verdict::Fits) => State::Fits,
            Some(Verdict::Unsettled) => State::Open,
            Some(Verdict::Crunch) => State::TooMany,
            // without its sowings the season is smaller
            None if number == 0 => State::Open,
            None => State::Beyond,
        })
    }

    /// `None` where no season may have so many.
    fn judged(&mut self, number: u32) -> Result<Option<Rc<Judged>>, Cancelled> {
        if let Some(known) = self.by_number.get(&number) {
            return Ok(known.clone());
        }
        self.cancel.check()?;
        self.steps.one_more();
        let judged = match self.at(number) {
            Some((season, forecast)) => Some(self.ask(&season, &forecast)?),
            None => None,
        };
        self.by_number.insert(number, judged.clone());
        Ok(judged)
    }

    fn at(&self, number: u32) -> Option<(Season, Forecast)> {
        let mut season = self.season.clone();
        let edit = self.scaled.edit(number, self.season, self.library);
        season.apply(&edit).ok()?;
        let forecast = drawn(&season, self.library, &Scenario::none());
        Some((season, forecast))
    }

    fn ask(&mut self, season: &Season, forecast: &Forecast) -> Result<Rc<Judged>, Cancelled> {
        let ProblemHash(problem) = problem_hash(season, forecast, Keep::Pinned);
        if let Some(known) = self.by_problem.get(&problem) {
            return Ok(Rc::clone(known));
        }
        let (effort, silent) = (Effort::default(), Progress::default());
        let outlook = look_ahead(season, forecast, Keep::Pinned, effort, self.memory, &silent, self.cancel)?;
        let judged = Rc::new(Judged {
            verdict: outlook.verdict,
            crunch: outlook.worst().map(|(_, crunch)| crunch.clone()),
            over_lit: outlook.weeks.iter().map(|week| week.over_lit).max().unwrap_or(0),
            has_lamps: outlook.weeks.iter().any(|week| week.lit.is_some()),
        });
        self.by_problem.insert(problem, Rc::clone(&judged));
        Ok(judged)
    }

    fn fits(&self, number: u32) -> Option<Fits> {
        let trays = self.trays(&self.at(number)?.1);
        Some(Fits { number, plants: self.scaled.plants_at(number), trays })
    }

    fn trays(&self, forecast: &Forecast) -> u32 {
        let of_one = |id| {
            let mut steps: BTreeMap<_, u32> = BTreeMap::new();
            for (step, trays) in forecast.courses_of(id).flat_map(|course| &course.trays) {
                let sum = steps.entry(*step).or_insert(0);
                *sum = sum.saturating_add(*trays);
            }
            steps.into_values().max().unwrap_or(0)
        };
        self.scaled.all_ids().map(of_one).fold(0, u32::saturating_add)
    }

    fn too_many(&mut self, number: u32) -> Result<Option<TooMany>, Cancelled> {
        let crunch = self.judged(number)?.and_then(|judged| judged.crunch.clone());
        let of = || {
            let (season, forecast) = self.at(number)?;
            Some(TooMany { number, plants: self.scaled.plants_at(number), crunch: crunch?, season, forecast })
        };
        Ok(of())
    }

    fn well_lit(&mut self, fits: Fits) -> Result<Option<Fits>, Cancelled> {
        let judged = self.judged(fits.number)?.filter(|judged| judged.has_lamps);
        let Some(judged) = judged else { return Ok(None) };
        if judged.over_lit == 0 {
            return Ok(Some(fits));
        }
        let (mut low, mut high) = (0, fits.number);
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            let is_lit = |judged: &Judged| judged.verdict == Verdict::Fits && judged.over_lit == 0;
            if self.judged(middle)?.as_deref().is_some_and(is_lit) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(self.fits(low))
    }
}
