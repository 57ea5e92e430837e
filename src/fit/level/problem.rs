//! Batches, what each choice costs and takes, and what there is.

use std::collections::BTreeMap;

use super::super::problem::Days;

/// The most that one amount or capacity may be.
const MOST_AMOUNT: i64 = 1 << 40;
/// The most that the largest choices of all batches may use together, all days and resources in sum.
const MOST_USES: i64 = 1 << 60;
/// The most that the dearest choices of all batches may cost together.
const MOST_COST: i64 = 1 << 40;

/// Batches that each need one choice, so that no resource is over its capacity on any day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LevelProblem {
    pub resources: Vec<DailyCapacity>,
    pub batches: Vec<Batch>,
    /// What was found not to go together although each day has capacity for it.
    pub nogoods: Vec<NoGood>,
}

/// How much of something there is, day by day, in any unit (square centimetres, trays, lamps).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DailyCapacity {
    /// On every day that nothing else is said about.
    pub usual: i64,
    /// What there is on other days; of two that speak of one day, the later in the list holds.
    pub other: Vec<(Days, i64)>,
}

/// Something that happens in exactly one of several ways.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Batch {
    pub choices: Vec<Choice>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// In any unit; may be negative.
    pub cost: i64,
    pub uses: Vec<Use>,
}

/// `amount` of a resource on each of `days`; of two uses that overlap, both count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Use {
    pub resource: usize,
    pub days: Days,
    pub amount: i64,
}

/// Some choices of one batch.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Term {
    pub batch: usize,
    pub choices: Vec<usize>,
}

/// Not all of these batches may have a choice of those named.
///
/// It says the more, the more choices a term holds: where some stays have no room on a day, all choices that
/// need as much room on that day belong in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NoGood {
    pub terms: Vec<Term>,
    /// What having them all would lack, in units × days; at least 1. It counts only where nothing fits.
    pub short: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LevelError {
    #[error("batch {0} has no choice")]
    NoChoice(usize),
    #[error("resource {0} does not exist")]
    NoSuchResource(usize),
    #[error("choice {choice} of batch {batch} does not exist")]
    NoSuchChoice { batch: usize, choice: usize },
    #[error("an amount, capacity or shortfall lies between 0 and 2^40, found {0}")]
    Amount(i64),
    #[error("the choices that use most use at most 2^60 together, found more")]
    Uses,
    #[error("the dearest choices cost at most 2^40 together, found more")]
    Cost,
}

/// What a choice for every batch comes to; shares nothing with the solver but the problem.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Levels {
    pub cost: i64,
    /// In order of resource and day; no two neighbours are alike.
    pub over: Vec<Over>,
    /// The nogoods that are broken.
    pub broken: Vec<usize>,
}

/// A resource that is over its capacity by the same amount on each of some days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Over {
    pub resource: usize,
    pub days: Days,
    pub by: i64,
}

impl Levels {
    pub fn fits(&self) -> bool {
        self.over.is_empty() && self.broken.is_empty()
    }
}

impl DailyCapacity {
    pub fn on(&self, day: i32) -> i64 {
        self.other.iter().rev().find(|(days, _)| days.contains(day)).map_or(self.usual, |&(_, amount)| amount)
    }
}

impl DailyCapacity {
    /// The first day after `day`, at most `until`, from which something else may be said.
    pub(super) fn alike_until(&self, day: i32, until: i32) -> i32 {
        let bounds = self.other.iter().flat_map(|(days, _)| [days.from, days.until]);
        bounds.filter(|&bound| bound > day).min().unwrap_or(until).min(until)
    }
}

impl Term {
    fn holds(&self, chosen: &[usize]) -> bool {
        chosen.get(self.batch).is_some_and(|choice| self.choices.contains(choice))
    }
}

impl LevelProblem {
    /// # Errors
    /// The first number that is out of its range or names nothing.
    pub fn check(&self) -> Result<(), LevelError> {
        let is_amount = |amount: i64| {
            if (0..=MOST_AMOUNT).contains(&amount) { Ok(()) } else { Err(LevelError::Amount(amount)) }
        };
        for resource in &self.resources {
            is_amount(resource.usual)?;
            resource.other.iter().try_for_each(|&(_, amount)| is_amount(amount))?;
        }
        let (mut dearest, mut largest) = (0_i64, 0_i64);
        for (number, batch) in self.batches.iter().enumerate() {
            let most = batch.choices.iter().map(|choice| choice.cost.saturating_abs()).max();
            dearest = dearest.saturating_add(most.ok_or(LevelError::NoChoice(number))?);
            for used in batch.choices.iter().flat_map(|choice| &choice.uses) {
                self.resources.get(used.resource).ok_or(LevelError::NoSuchResource(used.resource))?;
                is_amount(used.amount)?;
            }
            let used = |choice: &Choice| choice.uses.iter().fold(0_i64, |sum, used| sum.saturating_add(used.amount));
            largest = largest.saturating_add(batch.choices.iter().map(used).max().unwrap_or(0));
        }
        if largest > MOST_USES {
            return Err(LevelError::Uses);
        }
        for nogood in &self.nogoods {
            is_amount(nogood.short)?;
            self.check_terms(&nogood.terms)?;
        }
        if dearest > MOST_COST { Err(LevelError::Cost) } else { Ok(()) }
    }

    fn check_terms(&self, terms: &[Term]) -> Result<(), LevelError> {
        for term in terms {
            let choices = self.batches.get(term.batch).map_or(0, |batch| batch.choices.len());
            if let Some(&choice) = term.choices.iter().find(|&&choice| choice >= choices) {
                return Err(LevelError::NoSuchChoice { batch: term.batch, choice });
            }
        }
        Ok(())
    }

    /// What any choices use of a resource on a day, each batch at its least.
    pub(super) fn least_used(&self, resource: usize, day: i32) -> i64 {
        let used = |choice: &Choice| -> i64 {
            let uses = choice.uses.iter().filter(|used| used.resource == resource && used.days.contains(day));
            uses.map(|used| used.amount).sum()
        };
        self.batches.iter().filter_map(|batch| batch.choices.iter().map(used).min()).sum()
    }

    /// What `chosen`, one choice a batch, comes to. A choice that does not exist costs and uses nothing.
    pub fn levels(&self, chosen: &[usize]) -> Levels {
        let taken = || self.batches.iter().zip(chosen).filter_map(|(batch, &choice)| batch.choices.get(choice));
        let mut over = Vec::new();
        for (resource, capacity) in self.resources.iter().enumerate() {
            let uses: Vec<&Use> =
                taken().flat_map(|choice| &choice.uses).filter(|used| used.resource == resource).collect();
            over_one(resource, capacity, &uses, &mut over);
        }
        let broken = (0..self.nogoods.len())
            .filter(|&nogood| self.nogoods[nogood].terms.iter().all(|term| term.holds(chosen)))
            .collect();
        Levels { cost: taken().map(|choice| choice.cost).sum(), over, broken }
    }
}

fn over_one(resource: usize, capacity: &DailyCapacity, uses: &[&Use], over: &mut Vec<Over>) {
    let mut steps: BTreeMap<i32, i64> = BTreeMap::new();
    for used in uses.iter().filter(|used| used.days.from < used.days.until) {
        *steps.entry(used.days.from).or_default() += used.amount;
        *steps.entry(used.days.until).or_default() -= used.amount;
    }
    for (days, _) in &capacity.other {
        steps.entry(days.from).or_default();
        steps.entry(days.until).or_default();
    }
    let bounds: Vec<(i32, i64)> = steps.into_iter().collect();
    let mut level = 0;
    for pair in bounds.windows(2) {
        let days = Days::new(pair[0].0, pair[1].0);
        level += pair[0].1;
        let by = level - capacity.on(days.from);
        match over.last_mut() {
            _ if by <= 0 => {}
            Some(last) if (last.resource, last.days.until, last.by) == (resource, days.from, by) => {
                last.days.until = days.until;
            }
            _ => over.push(Over { resource, days, by }),
        }
    }
}
